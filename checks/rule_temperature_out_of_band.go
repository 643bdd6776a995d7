package checks

import (
	"rinsewright/model"
	"rinsewright/model/quantity"
)

var ruleTemperatureOutOfBand = &Rule{
	Name: "temperature-out-of-band",
	Doc: Doc{
		Title: "Temperature outside the usual band",
		Why:   "A first rinse that is too hot bakes protein and starch on the wall. A wash that is too cold leaves fat, one that is too hot spends the agent and attacks seals; a disinfectant decays.",
		How: "The temperature of each first rinse, wash and disinfection is compared with a table by purpose, chemical and the soil of what it washes; where no soil is told, with the band for any soil. A first rinse that is too hot, and anything further outside than the limit, is a fault. " +
			"What the material of the wall stands is compared as well, where it is told.",
		Blind:    "Whether the temperature is reached at the far end of the circuit, and for how long; the time, which makes up for temperature.",
		Remedy:   "Set the temperature into the band, after the supplier's data and a trial.",
		Cites:    []Citation{commonPractice, handbook27},
		Severity: Note,
		Merge:    AnyStep,
		Limits:   []string{"temperature-far-outside"},
	},
	Run: runTemperatureOutOfBand,
}

func runTemperatureOutOfBand(p *Pass) {
	step := p.Step
	switch step.Purpose.Or("") {
	case model.FirstRinse, model.AlkaliWash, model.AcidWash, model.Disinfection:
	default:
		return
	}
	at := model.PlaceOf(step.ID)
	agent, missing := agentOf(step)
	t, known := step.Temperature.Get()
	if !known {
		missing = append(missing, missingKey(step, "temperature_C"))
	}
	if len(missing) > 0 {
		p.NotAssessed(at, missing...)
		return
	}
	far := p.Limit("temperature-far-outside").Is()
	things := p.washedIn(step)
	for _, w := range append(things, washed{}) {
		if w.id == "" && len(things) > 0 {
			continue
		}
		places := []model.Place{at}
		if w.id != "" {
			places = append(places, model.PlaceOf(w.id))
		}
		if row, ok := chemistryData().wallStands(w.material, agent); ok && above(float64(t), float64(row.temperature())) {
			p.ReportAs(Fix, Finding{At: at, Places: places, Measured: Of(t), Limit: Of(row.temperature()), Source: row.Citation,
				Message: Say("%v at %v in %v is hotter than %v of %v stands, %v%v", chemicalName(agent), Of(t), p.Name(step.ID), string(w.material), p.Name(w.id), Of(row.temperature()), because(row))})
			continue
		}
		b, ok := chemistryData().bandOf(step.Purpose.Or(""), agent, w.soil)
		if !ok || b.Temperature == nil {
			continue
		}
		least, most := quantity.Celsius(b.Temperature[0]), quantity.Celsius(b.Temperature[1])
		side := outside(float64(t), float64(least), float64(most))
		if side == 0 {
			continue
		}
		severity, limit, word := Note, least, "below"
		if side > 0 {
			limit, word = most, "above"
		}
		if side > 0 && step.Purpose.Or("") == model.FirstRinse || above(float64(magnitude(t-limit)), far) {
			severity = Fix
		}
		p.ReportAs(severity, Finding{At: at, Places: places, Measured: Of(t), Limit: Of(limit), Source: b.Citation,
			Message: Say("%v at %v in %v is %v the band of %v for %v", chemicalName(agent), Of(t), p.Name(step.ID), word, bandText(least, most), soilWords(b.Soil))})
	}
}
