package checks

import "rinsewright/model"

var ruleWashThroughRecovery = &Rule{
	Name: "wash-through-recovery",
	Doc: Doc{
		Title:    "Wash that circulates through a tank for recovered water",
		Why:      "The whole content of the tank is heated and made strong with every wash, and what stays in it goes out with the next first rinse.",
		How:      "A step that sends alkali, acid or disinfectant must neither draw from nor go to a vessel that is told to hold water or recovered water, unless a step of the programme before it prepares that vessel with a chemical.",
		Blind:    "Small amounts at the change from one medium to the next.",
		Remedy:   "Circulate past the tank, or give the chemical a tank of its own.",
		Cites:    []Citation{handbook27},
		Severity: Fix,
	},
	Run: runWashThroughRecovery,
}

func runWashThroughRecovery(p *Pass) {
	for _, steps := range p.programmes() {
		prepared := map[model.ID]bool{}
		for _, step := range steps {
			if step.Purpose.Or("") == model.Prepare && chemical(step.Medium.Or("")) {
				prepared[step.Destination] = true
			}
			if !moves(step) || !chemical(step.Medium.Or("")) {
				continue
			}
			for _, id := range []model.ID{step.Source, step.Destination} {
				tank, ok := p.Circuit.Part(id).(*model.Vessel)
				if !ok || prepared[id] || !water(tank.Holds.Or("")) {
					continue
				}
				at := model.PlaceOf(step.ID)
				p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(id)}, Steps: []model.ID{step.ID},
					Message: Say("%v runs %v through %v, which holds %v", p.Name(step.ID), string(step.Medium.Or("")), p.Name(id), string(tank.Holds.Or("")))})
				break
			}
		}
	}
}
