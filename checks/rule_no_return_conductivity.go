package checks

import "rinsewright/model/catalogue"

var ruleNoReturnConductivity = &Rule{
	Name: "no-return-conductivity",
	Doc: Doc{
		Title:    "No conductivity sensor in the return",
		Why:      "Conductivity in the return tells chemical from rinse: without it the divert to recovery or drain and the end of the rinse are guesses by the clock.",
		How:      "In each cleaning step a conductivity transmitter sees the whole flow between what is cleaned last and the destination, whichever way the return is diverted.",
		Blind:    "Instruments on a branch with a valve of its own, and whether the instrument is calibrated.",
		Remedy:   "Fit a conductivity transmitter in the return, before it divides to tank, recovery and drain.",
		Cites:    []Citation{foodSanitation},
		Severity: Fix,
		Merge:    AnyStep,
	},
	Run: func(p *Pass) { p.onReturn("conductivity", catalogue.TraitConductivity) },
}
