package checks

import (
	"rinsewright/model"
	"rinsewright/model/quantity"
)

var ruleCarbonateVacuum = &Rule{
	Name: "carbonate-vacuum",
	Doc: Doc{
		Title: "Alkali sent into a vessel that holds carbon dioxide",
		Why:   "Alkali swallows carbon dioxide at once: the gas is gone, a closed vessel is sucked in, and the alkali is spent to carbonate.",
		How: "Through each programme in order, for each vessel whose gas is told as carbon dioxide: a step that sends sodium hydroxide or another alkali into it before a step has blown it out with air. " +
			"Where no vent is free in that step the vessel comes to the vapour pressure of the liquid. With a free vent it is a note: the alkali is spent all the same. Of a vessel without a free vent the gas must be told.",
		Blind:    "Whether the blowing out lasts long enough: measure the gas. Carbon dioxide in a vessel is also a danger to whoever enters it; the site's rules for confined spaces hold.",
		Remedy:   "Blow the vessel out with air before the alkali, keep the vent open, or wash with acid.",
		Cites:    []Citation{commonPractice},
		Severity: Stop,
	},
	Run: runCarbonateVacuum,
}

func runCarbonateVacuum(p *Pass) {
	for _, steps := range p.programmes() {
		for _, part := range p.ofClass(model.ClassVessel) {
			p.judgeCarbonate(part.(*model.Vessel), steps)
		}
	}
}

func (p *Pass) judgeCarbonate(v *model.Vessel, steps []*model.Step) {
	gas, known := v.Gas.Get()
	if known && gas != model.CarbonDioxide {
		return
	}
	for _, step := range steps {
		r := Route.Of(p.Snapshot, step)
		if step.Purpose.Or("") == model.AirBlow && r.Found && passes(p.Plant(), v.ID, r.InFlow) {
			return
		}
		if step.Medium.Or("") != model.Alkali || !p.washes(step, v) {
			continue
		}
		at := model.PlaceOf(v.ID)
		b := p.breathes(v, lineUps.Of(p.Snapshot).of[step].Open)
		switch {
		case !known && b.free:
			return // no vacuum, whatever the gas
		case !known:
			p.NotAssessed(at, append(b.missing, missingKey(v, "gas"))...)
		case b.free:
			p.ReportAs(Note, Finding{At: at, Places: []model.Place{at, model.PlaceOf(step.ID)}, Steps: []model.ID{step.ID},
				Message: Say("%v sends alkali into %v, which holds carbon dioxide: the vent is free, but the alkali is spent on the gas", p.Name(step.ID), p.Name(v.ID))})
		case onlyKeys(b.missing, "vented") != nil:
			p.NotAssessed(at, b.missing...)
		default:
			p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(step.ID)}, Steps: []model.ID{step.ID}, Measured: p.vacuumOfVapour(step),
				Message: Say("%v sends alkali into %v, which holds carbon dioxide and has no free vent: the gas is swallowed and the vessel sucked in", p.Name(step.ID), p.Name(v.ID))})
		}
		return
	}
}

// vacuumOfVapour gives how far below the air a vessel comes in which only vapour of
// the step's liquid is left; no value where the temperature is not known.
func (p *Pass) vacuumOfVapour(step *model.Step) Value {
	t, known := step.Temperature.Get()
	if !known {
		return Value{}
	}
	left, err := sealedPressure(quantity.Celsius(100), t)
	if err != nil {
		return Value{}
	}
	return Of(atmosphere - left)
}
