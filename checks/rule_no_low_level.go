package checks

import "rinsewright/model/catalogue"

var ruleNoLowLevel = &Rule{
	Name: "no-low-level",
	Doc: Doc{
		Title:    "Tank without dry-run protection",
		Why:      "A pump that draws air loses its flow in the middle of a wash and its shaft seal soon after.",
		How:      "Every storing tank has a low-level switch joined to it, or a level transmitter with a told switching point.",
		Blind:    "Whether the switch stops the pump and the heater.",
		Remedy:   "Add a low-level switch.",
		Cites:    []Citation{handbook27},
		Severity: Fix,
	},
	Run: func(p *Pass) {
		p.tanksWithout(catalogue.TraitLevelLow, "low", "has no low-level switch against running dry", "add a low-level switch to it")
	},
}
