package checks

import "rinsewright/model/catalogue"

var ruleNoHighLevel = &Rule{
	Name: "no-high-level",
	Doc: Doc{
		Title:    "Tank without overfill protection",
		Why:      "A tank of hot caustic or acid that runs over burns people; the overflow is for the day when the protection fails.",
		How:      "Every storing tank has a high-level switch joined to it, or a level transmitter with a told switching point.",
		Blind:    "Whether the switch stops the filling, and whether it is independent of the control.",
		Remedy:   "Add a high-level switch.",
		Cites:    []Citation{handbook27},
		Severity: Stop,
	},
	Run: func(p *Pass) {
		p.tanksWithout(catalogue.TraitLevelHigh, "high", "has no high-level switch against overfilling", "add a high-level switch to it")
	},
}
