package checks

import (
	"rinsewright/model"
)

var ruleStrengthOutOfBand = &Rule{
	Name: "strength-out-of-band",
	Doc: Doc{
		Title: "Strength outside the usual band",
		Why:   "Too weak does not clean. Stronger is not better: dairy deposits come off fastest near 0.5 % sodium hydroxide, and what is too strong attacks seals and walls and takes long to rinse.",
		How: "The strength of each step with a chemical is compared with a table by purpose, chemical and the soil of what it washes; where no soil is told, with the band for any soil. Below half the lower end or above twice the upper one it is a fault. " +
			"What the material of the wall stands is compared as well, where it is told.",
		Blind:    "Blended products, whose active share differs; wetting agents; the time, which makes up for strength.",
		Remedy:   "Set the strength into the band, after the supplier's data and a trial.",
		Cites:    []Citation{commonPractice, handbook27, {Source: "Handbook of Hygiene Control in the Food Industry", Clause: "chapter 29, optimum of sodium hydroxide", Standing: StandingRead}},
		Severity: Note,
		Merge:    AnyStep,
	},
	Run: runStrengthOutOfBand,
}

func runStrengthOutOfBand(p *Pass) {
	step := p.Step
	if cleans, _ := cleaningStep(step); !cleans || !chemical(step.Medium.Or("")) {
		return
	}
	at := model.PlaceOf(step.ID)
	agent, missing := agentOf(step)
	strength, known := step.Strength.Get()
	if !known {
		missing = append(missing, missingKey(step, "strength_pct"))
	}
	if len(missing) > 0 {
		p.NotAssessed(at, missing...)
		return
	}
	things := p.washedIn(step)
	for _, w := range append(things, washed{}) {
		if w.id == "" && len(things) > 0 {
			continue // for any soil only where nothing is named
		}
		places := []model.Place{at}
		if w.id != "" {
			places = append(places, model.PlaceOf(w.id))
		}
		if row, ok := chemistryData().wallStands(w.material, agent); ok && above(float64(strength), float64(row.strength())) {
			p.ReportAs(Fix, Finding{At: at, Places: places, Measured: Of(strength), Limit: Of(row.strength()), Source: row.Citation,
				Message: Say("%v of %v in %v is more than %v of %v stands, %v%v", Of(strength), chemicalName(agent), p.Name(step.ID), string(w.material), p.Name(w.id), Of(row.strength()), because(row))})
			continue
		}
		b, ok := chemistryData().bandOf(step.Purpose.Or(""), agent, w.soil)
		if !ok || b.Strength == nil {
			continue
		}
		least, most := percents(*b.Strength)
		side := outside(float64(strength), float64(least), float64(most))
		if side == 0 {
			continue
		}
		severity, limit, word := Note, least, "below"
		if side > 0 {
			limit, word = most, "above"
		}
		if below(float64(strength), float64(least)/2) || above(float64(strength), float64(most)*2) {
			severity = Fix
		}
		p.ReportAs(severity, Finding{At: at, Places: places, Measured: Of(strength), Limit: Of(limit), Source: b.Citation,
			Message: Say("%v of %v in %v is %v the band of %v for %v", Of(strength), chemicalName(agent), p.Name(step.ID), word, bandText(least, most), soilWords(b.Soil))})
	}
}

// wallStands gives what the material of a wall stands of an agent.
func (c *chemistry) wallStands(material model.Material, agent string) (stands, bool) {
	for _, row := range c.materials {
		if material != "" && row.Material == material && string(row.Chemical) == agent {
			return row, true
		}
	}
	return stands{}, false
}

func because(row stands) string {
	if row.Why == "" {
		return ""
	}
	return ": " + row.Why
}
