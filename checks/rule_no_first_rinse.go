package checks

import "rinsewright/model"

var ruleNoFirstRinse = &Rule{
	Name: "no-first-rinse",
	Doc: Doc{
		Title:    "Wash without a rinse before it",
		Why:      "A first rinse takes away most of the loose soil; without it the alkali tank takes all of it, is spent and must be thrown away.",
		How:      "In each programme, the first step that sends alkali or acid round to the tank it came from must come after a step that sends water.",
		Blind:    "Whether that rinse is long enough, and plant that is only soiled with scale.",
		Remedy:   "Begin the programme with a rinse to sewer, from recovered water where there is some.",
		Cites:    []Citation{foodSanitation},
		Severity: Note,
	},
	Run: runNoFirstRinse,
}

func runNoFirstRinse(p *Pass) {
	for _, steps := range p.programmes() {
		for _, step := range steps {
			medium, known := step.Medium.Get()
			if !moves(step) {
				continue
			}
			if !known {
				p.NotAssessed(model.PlaceOf(step.ID), missingKey(step, "medium"))
				break
			}
			if water(medium) {
				break
			}
			if (medium == model.Alkali || medium == model.Acid) && step.Source == step.Destination && step.Source != "" {
				at := model.PlaceOf(step.ID)
				p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(step.Source)}, Steps: []model.ID{step.ID},
					Message: Say("%v sends %v over unrinsed soil and back to %v", p.Name(step.ID), string(medium), p.Name(step.Source))})
				break
			}
		}
	}
}
