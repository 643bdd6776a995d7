package checks

import "rinsewright/model"

var ruleLastRinseRecovered = &Rule{
	Name: "last-rinse-recovered",
	Doc: Doc{
		Title:    "Final rinse with recovered water",
		Why:      "Recovered water carries soil, traces of chemical and germs: the last liquid that touches the plant decides how clean it is.",
		How:      "A final rinse must not send recovered water, nor draw from a tank that holds it.",
		Blind:    "Recovered water that is treated to drinking quality: tell it as water.",
		Remedy:   "Draw the final rinse from fresh water, and use the recovered water for the first rinse.",
		Cites:    []Citation{foodSanitation},
		Severity: Fix,
		Merge:    AnyStep,
	},
	Run: runLastRinseRecovered,
}

func runLastRinseRecovered(p *Pass) {
	if p.Step.Purpose.Or("") != model.FinalRinse {
		return
	}
	source := p.Circuit.Part(p.Step.Source)
	from := source != nil && holds(source).Or("") == model.Recovered
	medium, known := p.Step.Medium.Get()
	at := model.PlaceOf(p.Step.ID)
	switch {
	case from || medium == model.Recovered:
		f := Finding{At: at, Message: Say("%v sends recovered water", p.Name(p.Step.ID))}
		if from {
			f.Places = []model.Place{at, model.PlaceOf(p.Step.Source)}
			f.Message = Say("%v sends recovered water of %v", p.Name(p.Step.ID), p.Name(p.Step.Source))
		}
		p.Report(f)
	case !known:
		p.NotAssessed(at, missingKey(p.Step, "medium"))
	}
}
