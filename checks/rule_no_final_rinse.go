package checks

import "rinsewright/model"

var ruleNoFinalRinse = &Rule{
	Name: "no-final-rinse",
	Doc: Doc{
		Title:    "Programme that ends on a chemical",
		Why:      "What is not rinsed out goes into the first product.",
		How:      "After the last step of a programme that sends alkali or acid, a step sends water; fresh water, for recovered water carries soil. A programme that ends on a disinfectant is told as a note: some are meant to stay.",
		Blind:    "Whether the rinse is long enough; whether the law of the place lets a disinfectant stay.",
		Remedy:   "End the programme with a rinse of fresh water.",
		Cites:    []Citation{foodSanitation},
		Severity: Stop,
	},
	Run: runNoFinalRinse,
}

func runNoFinalRinse(p *Pass) {
	for _, steps := range p.programmes() {
		var last *model.Step // that sends a chemical, not rinsed since
		var by model.Medium  // that rinsed it
		for _, step := range steps {
			if !moves(step) {
				continue
			}
			medium, known := step.Medium.Get()
			switch {
			case !known && last != nil:
				p.NotAssessed(model.PlaceOf(step.ID), missingKey(step, "medium"))
			case chemical(medium):
				last, by = step, ""
			case medium == model.Water || medium == model.Recovered && by == "":
				by = medium
			}
		}
		if last == nil || by == model.Water {
			continue
		}
		at, medium := model.PlaceOf(last.ID), last.Medium.Or("")
		switch {
		case by == model.Recovered:
			p.ReportAs(Fix, Finding{At: at, Message: Say("the %v of %v is rinsed out with recovered water only", string(medium), p.Name(last.ID))})
		case medium == model.Disinfect:
			p.ReportAs(Note, Finding{At: at, Message: Say("the programme ends on the disinfectant of %v", p.Name(last.ID))})
		default:
			p.Report(Finding{At: at, Message: Say("no rinse follows the %v of %v", string(medium), p.Name(last.ID)), Fixes: p.addRinse(last)})
		}
	}
}

// addRinse adds a final rinse over the same route, from a water source that
// there is, where there is just one.
func (p *Pass) addRinse(last *model.Step) []Remedy {
	var source model.ID
	for _, part := range p.ofClass(model.ClassVessel) {
		if holds(part).Or("") == model.Water {
			if source != "" {
				return nil
			}
			source = part.RecordID()
		}
	}
	if source == "" {
		return nil
	}
	order := last.Order
	for _, s := range p.Circuit.Steps() {
		if s.Programme == last.Programme {
			order = max(order, s.Order)
		}
	}
	rinse := model.Clone(last)
	rinse.ID, rinse.Order, rinse.Name, rinse.Note, rinse.EndsOn = model.NewID("s"), order+1, "Final rinse", "", ""
	rinse.Source = source
	rinse.Purpose.Set(model.FinalRinse)
	rinse.Medium.Set(model.Water)
	rinse.Strength, rinse.Temperature = model.Step{}.Strength, model.Step{}.Temperature
	return []Remedy{{Message: "add a final rinse with water", Edit: model.Edit{Label: "add a final rinse", Changes: []model.Change{model.Adding(rinse)}}}}
}
