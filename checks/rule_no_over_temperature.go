package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

var ruleNoOverTemperature = &Rule{
	Name: "no-over-temperature",
	Doc: Doc{
		Title:    "Heater without an independent temperature limit",
		Why:      "When the control fails or the flow stops, the heater goes on heating what stands in it.",
		How:      "Every heater has a limit that acts by itself, apart from the control.",
		Blind:    "At what temperature it trips and what it shuts.",
		Remedy:   "Fit a temperature limiter that shuts the heat off by itself.",
		Cites:    []Citation{handbook27},
		Severity: Stop,
	},
	Run: runNoOverTemperature,
}

func runNoOverTemperature(p *Pass) {
	for _, part := range p.ofClass(model.ClassExchanger) {
		heater, ok := part.(*model.Exchanger)
		if !ok || !heats(p.Kind(heater)) {
			continue
		}
		at := model.PlaceOf(heater.ID)
		limit, known := heater.OverTemperature.Get()
		switch {
		case !known:
			p.NotAssessed(at, missingKey(heater, "over_temperature_limit"))
		case !limit:
			after := model.Clone(heater)
			after.OverTemperature = quantity.Some(true)
			p.Report(Finding{At: at, Message: Say("%v has no temperature limit of its own apart from the control", p.Name(heater.ID)),
				Fixes: []Remedy{{Message: "fit an independent limit",
					Edit: model.Edit{Label: "limit on " + p.Name(heater.ID), Changes: []model.Change{model.Replacing(heater, after)}}}}})
		}
	}
}

// heats says whether a kind of exchanger heats: by steam, or with a limit among
// its properties.
func heats(k *catalogue.Kind) bool {
	if k == nil {
		return false
	}
	_, hasLimit := k.Property("over_temperature_limit")
	return hasLimit || k.Has(catalogue.TraitSteamHeated)
}
