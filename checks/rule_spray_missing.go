package checks

import "rinsewright/model"

var ruleSprayMissing = &Rule{
	Name: "spray-missing",
	Doc: Doc{
		Title:    "Vessel cleaned without a spray device",
		Why:      "Liquid that runs in through a nozzle wets a strip of the wall and the bottom; the rest stays soiled.",
		How:      "A vessel that a cleaning step cleans has a spray device joined to it, and in at least one of these steps the flow passes it.",
		Blind:    "Vessels cleaned by filling them; whether the device reaches the whole wall.",
		Remedy:   "Mount a spray device in the top and lead the cleaning supply to it.",
		Cites:    []Citation{{Source: "Clean-In-Place for Biopharmaceutical Processes", Clause: "chapter on spray cleaning", Standing: StandingRead}},
		Severity: Stop,
		Merge:    EveryStep,
	},
	Run: runSprayMissing,
}

func runSprayMissing(p *Pass) {
	if !p.sweeps() {
		return
	}
	r, plant := p.Route(), p.Plant()
	for _, id := range p.Step.Cleans {
		vessel, ok := p.Circuit.Part(id).(*model.Vessel)
		if !ok {
			continue
		}
		at := model.PlaceOf(id)
		p.Judged(at)
		sprays := spraysOf(p.Snapshot, vessel.ID)
		if len(sprays) == 0 {
			p.Report(Finding{At: at, Message: Say("%v is cleaned but has no spray device", p.Name(id))})
			continue
		}
		if !r.Found {
			continue // told by no-route
		}
		fed := false
		for _, spray := range sprays {
			for _, e := range plant.PartEdges(spray.ID) {
				fed = fed || r.InFlow[e]
			}
		}
		if !fed {
			p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(sprays[0].ID)},
				Message: Say("%v is cleaned but no flow comes to its spray device %v", p.Name(id), p.Name(sprays[0].ID))})
		}
	}
}
