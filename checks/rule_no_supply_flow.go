package checks

import "rinsewright/model/catalogue"

var ruleNoSupplyFlow = &Rule{
	Name: "no-supply-flow",
	Doc: Doc{
		Title:    "No flow meter in the supply",
		Why:      "Without it nobody can prove the velocity that the wash was laid out for, nor see a blocked spray device.",
		How:      "In each cleaning step a flow meter sees the whole flow between the source and what is cleaned first.",
		Blind:    "Instruments on a branch with a valve of its own, and whether the instrument is calibrated.",
		Remedy:   "Fit a flow meter behind the supply pump.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
		Merge:    AnyStep,
	},
	Run: func(p *Pass) { p.onSupply("", "flow", catalogue.TraitFlow) },
}
