package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

var ruleNoSupplyTemperature = &Rule{
	Name: "no-supply-temperature",
	Doc: Doc{
		Title:    "No temperature sensor in the supply",
		Why:      "The heater is controlled by what leaves it; without a sensor there it over- or undershoots.",
		How:      "In each cleaning step with a chemical or a told temperature, a temperature transmitter sees the whole flow behind the heater, if there is one, and before what is cleaned first.",
		Blind:    "Instruments on a branch with a valve of its own, and whether the instrument is calibrated. Indicators that only show.",
		Remedy:   "Fit a temperature transmitter behind the heater.",
		Cites:    []Citation{foodSanitation},
		Severity: Fix,
		Merge:    AnyStep,
	},
	Run: func(p *Pass) {
		if warm(p.Step) {
			p.onSupply(model.ClassExchanger, "temperature", catalogue.TraitTemperature)
		}
	},
}
