package checks

// Rules gives all rules in the order of their documentation. The list is
// explicit: a rule that is not here does not run.
func Rules() []*Rule {
	return []*Rule{
		// Whole and joined.
		ruleOpenEnd,
		rulePortShared,
		ruleNotConnected,
		ruleTagMissing,
		ruleTagTwice,
		ruleSizeJump,
		ruleHeightsDisagree,
		ruleWrongWay,
		ruleNoRoute,
		ruleOpenToTwo,
		rulePositionUnknown,
		ruleNeedsData,

		// Cleanability.
		ruleDeadLeg,
		ruleDeadLegUpward,
		ruleDeadLegDownward,
		ruleSmallTee,
		ruleSlowRun,
		ruleWeakShear,
		ruleFastRun,
		ruleLaminarOrUnsteady,
		ruleBoreMix,
		ruleSplitFlow,
		ruleUndersizedBranch,
		ruleNeverSwept,
		ruleUncleanablePart,
		ruleAirNotCarried,
		ruleSprayMissing,
		ruleSprayStarved,
		ruleSprayUnprotected,
		ruleSprayShadow,
		ruleStrainerCoarse,
		ruleBowlFills,
		ruleProductTouchesCleaning,

		// Draining and venting.
		ruleNoDrainPath,
		ruleLiquidPocket,
		ruleAirPocket,
		ruleLittleFall,
		ruleConcentricOnLevel,
		ruleDiaphragmKeepsLiquid,
		ruleFlatBottom,
		rulePumpKeepsLiquid,
		ruleDrainWithoutAir,
		ruleDrainSlow,
		ruleWaterJoined,
		ruleChemicalsShareDrain,
		ruleConcentrateUnguarded,
		ruleSewerJoined,

		// Sensors and proof.
		ruleNoSupplyFlow,
		ruleNoSupplyTemperature,
		ruleNoSupplyPressure,
		ruleNoReturnTemperature,
		ruleNoReturnConductivity,
		ruleNoReturnFlow,
		ruleNoStrengthControl,
		ruleNoHighLevel,
		ruleNoLowLevel,
		ruleNoPositionProof,
		ruleBarrierFailsOpen,
		ruleNoOverTemperature,
		ruleFlowMeterUpset,
		ruleSensorInDeadLeg,
		ruleSensorMissesStep,
		ruleNoSamplePoint,

		// Machines and heat.
		rulePumpTooSmall,
		rulePumpOffCurve,
		rulePumpStarved,
		ruleMotorOverloaded,
		ruleReturnFallsBehind,
		ruleSuctionUpset,
		ruleHeaterTooSmall,
		ruleSteamSetIncomplete,
		ruleNoRelief,
		ruleTrappedHot,
		ruleValveSlams,
		ruleTubeStretches,

		// Vessels and chemistry.
		ruleTankTooSmall,
		ruleRecoveryOverflows,
		ruleVesselCanCollapse,
		ruleCarbonateVacuum,
		ruleVentSmall,
		ruleOverflowMissing,
		ruleStrengthOutOfBand,
		ruleTemperatureOutOfBand,
		ruleSealAttacked,
		ruleRecoveryNeverWashed,
		ruleNoFirstRinse,
		ruleNoFinalRinse,
		ruleChemicalsMeet,
		ruleRinseFromUsedTank,
		ruleLastRinseRecovered,
		ruleRinseTooShort,
		ruleRinseNotProved,
		ruleWashThroughRecovery,
		ruleNoRecovery,

		// Audit.
		ruleDeviationUnmatched,
		ruleDeviationExpired,
	}
}

// Find gives the rule of a name among rules, or nil.
func Find(rules []*Rule, name string) *Rule {
	for _, r := range rules {
		if r.Name == name {
			return r
		}
	}
	return nil
}
