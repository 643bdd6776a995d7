package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

var ruleNoSupplyPressure = &Rule{
	Name: "no-supply-pressure",
	Doc: Doc{
		Title:    "No pressure measurement in the supply",
		Why:      "Rising pressure or falling flow is how a plugged spray device and a shut valve show.",
		How:      "In each cleaning step a pressure instrument stands behind the supply pump, where the whole flow passes, and before what is cleaned first.",
		Blind:    "Instruments on a branch with a valve of its own, and whether the instrument is calibrated.",
		Remedy:   "Fit a pressure transmitter or gauge behind the supply pump.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
		Merge:    AnyStep,
	},
	Run: func(p *Pass) { p.onSupply(model.ClassPump, "pressure", catalogue.TraitPressure) },
}
