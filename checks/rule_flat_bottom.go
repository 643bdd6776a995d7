package checks

import "rinsewright/model"

var ruleFlatBottom = &Rule{
	Name: "flat-bottom",
	Doc: Doc{
		Title:    "Vessel with a flat bottom",
		Why:      "A flat bottom keeps a film and the solids that sink into it; spraying moves them round the outlet instead of out of it.",
		How:      "The bottom of every vessel must be told as a cone or dished.",
		Blind:    "A flat bottom built with a fall of 3° or more towards its outlet: tell it as a cone.",
		Remedy:   "Take a dished or conical bottom, or set the vessel with a fall of at least 3° to its outlet.",
		Cites:    []Citation{commonPractice, {Source: "EHEDG", Clause: "slope of bottoms", Standing: StandingMemory}},
		Severity: Note,
	},
	Run: runFlatBottom,
}

func runFlatBottom(p *Pass) {
	for _, part := range p.ofClass(model.ClassVessel) {
		v := part.(*model.Vessel)
		bottom, known := v.Bottom.Get()
		at := model.PlaceOf(v.ID)
		switch {
		case !known:
			p.NotAssessed(at, missingKey(v, "bottom"))
		case bottom == model.Flat:
			p.Report(Finding{At: at, Message: Say("the bottom of %v is flat and does not drain", p.Name(v.ID))})
		}
	}
}
