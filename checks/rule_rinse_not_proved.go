package checks

import "rinsewright/model"

var ruleRinseNotProved = &Rule{
	Name: "rinse-not-proved",
	Doc: Doc{
		Title:    "Final rinse that ends by the clock alone",
		Why:      "Nobody knows that the chemical is out: a valve that leaks or a weaker flow makes the same time too short, and it goes into the product.",
		How:      "A final rinse after a step with a chemical in the same programme must be told to end by the conductivity of the return, or have an end condition in words.",
		Blind:    "What the words mean, and disinfectants that hardly conduct: test the rinse.",
		Remedy:   "End it when the conductivity of the return has come down to that of the water.",
		Cites:    []Citation{{Source: "Principles of Food Sanitation", Clause: "conductivity in the return", Standing: StandingRead}, commonPractice},
		Severity: Note,
	},
	Run: runRinseNotProved,
}

func runRinseNotProved(p *Pass) {
	for _, steps := range p.programmes() {
		after := (*model.Step)(nil)
		for _, step := range steps {
			if chemical(step.Medium.Or("")) && moves(step) {
				after = step
			}
			if after == nil || step.Purpose.Or("") != model.FinalRinse || step.EndConductivity.Known() || step.EndsOn != "" {
				continue
			}
			at := model.PlaceOf(step.ID)
			p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(after.ID)}, Steps: []model.ID{step.ID},
				Message: Say("%v ends by time alone: nothing tells that the %v of %v is out", p.Name(step.ID), string(after.Medium.Or("")), p.Name(after.ID))})
		}
	}
}
