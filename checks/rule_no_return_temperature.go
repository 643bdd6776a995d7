package checks

import "rinsewright/model/catalogue"

var ruleNoReturnTemperature = &Rule{
	Name: "no-return-temperature",
	Doc: Doc{
		Title:    "No temperature sensor in the return",
		Why:      "The time of a hot step counts from when the return is hot; before that the far end is still cold.",
		How:      "In each cleaning step with a chemical or a told temperature, a temperature transmitter sees the whole flow between what is cleaned last and the destination.",
		Blind:    "Instruments on a branch with a valve of its own, and whether the instrument is calibrated. Indicators that only show.",
		Remedy:   "Fit a temperature transmitter in the return, before it divides to tank, recovery and drain.",
		Cites:    []Citation{commonPractice, {Source: "3-A 605 and EHEDG", Standing: StandingMemory}},
		Severity: Fix,
		Merge:    AnyStep,
	},
	Run: func(p *Pass) {
		if warm(p.Step) {
			p.onReturn("temperature", catalogue.TraitTemperature)
		}
	},
}
