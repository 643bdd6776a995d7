package checks

import (
	"rinsewright/model"
	"rinsewright/model/flow"
)

var ruleWeakShear = &Rule{
	Name: "weak-shear",
	Doc: Doc{
		Title: "Wall shear too weak to clean",
		Why:   "It is the shear of the flow that takes soil off the wall; the velocity only stands for it.",
		How: "Wall shear f ρ v²/8 of the solved flow, with the density and viscosity of the step's liquid, in every run on the route of a cleaning step, those among which the flow divides included. " +
			"In the tubes of the tables 1.5 m/s give more than 3 Pa up to 95 °C: so this tells which of the slow runs are bad, and tells of runs that run part-full.",
		Blind:    "Valves, plates and tees, where shear is uneven: the threshold was found in such equipment, not in straight tube. Soil that holds harder.",
		Remedy:   "Raise the flow, or take a smaller tube.",
		Cites:    []Citation{{Source: "Jensen and Friis, Chem. Eng. Process. 43 (2004) 831", Clause: "3 Pa passed the EHEDG cleanability test", Standing: StandingRead}},
		Severity: Note,
		Merge:    AnyStep,
		Limits:   []string{"shear-least"},
	},
	Run: runWeakShear,
}

func runWeakShear(p *Pass) {
	sol := p.flowing()
	if sol == nil {
		return
	}
	least := p.Limit("shear-least")
	speeds := Speeds.Of(p.Snapshot, p.Step)
	unknown := false
	for _, v := range speeds.known {
		tau, known := v.shear.Get()
		if unknown = unknown || !known; !known || !below(float64(tau), least.Is()) {
			continue
		}
		filled := ""
		if v.partFull {
			filled = ", run part-full,"
		}
		p.Report(Finding{At: v.at, Measured: Shear(tau), LimitName: "shear-least",
			Message: p.orShort(Say("%v: %v at %v%v shear the wall with %v, weaker than %v", p.Name(v.run.ID), Of(v.flow), Of(v.is), filled, Shear(tau), least.Value))})
	}
	p.unjudgedRuns(sol, speeds, unknown)
}

// unjudgedRuns says that runs on the route could not be judged.
func (p *Pass) unjudgedRuns(sol *flow.Solution, speeds speedsOfStep, unknown bool) {
	for _, at := range speeds.places {
		p.NotAssessed(at, speeds.missing[at]...)
	}
	if unknown || speeds.divided {
		p.unsolved(model.PlaceOf(p.Step.ID), sol)
	}
}
