package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
	"rinsewright/model/vessel"
)

var ruleRecoveryOverflows = &Rule{
	Name: "recovery-overflows",
	Doc: Doc{
		Title: "More sent to a tank than it holds",
		Why:   "What the tank cannot hold runs over, and what was to save water floods the floor. Routine operation must not use the overflow.",
		How: "Through each programme in order, for each storing tank that a step sends another tank's or supply's liquid to: the content at the start (its level, by the shape of the tank), plus what each step sends (its end volume, else flow times time), less what steps draw. " +
			"It must not pass the working volume. Steps that draw from and return to the same tank change nothing.",
		Blind:    "Programmes that run one after the other before the tank is used; what stays in the lines; steps that end earlier than their time.",
		Remedy:   "Send only the last part of the rinse to the tank, take a larger one, or begin with a lower level.",
		Cites:    []Citation{handbook27},
		Severity: Fix,
	},
	Run: runRecoveryOverflows,
}

func runRecoveryOverflows(p *Pass) {
	for _, steps := range p.programmes() {
		for _, part := range p.ofTrait(catalogue.TraitStorage) {
			if tank, ok := part.(*model.Vessel); ok {
				p.judgeFilling(tank, steps)
			}
		}
	}
}

func (p *Pass) judgeFilling(tank *model.Vessel, steps []*model.Step) {
	filled := false
	for _, step := range steps {
		filled = filled || moves(step) && step.Destination == tank.ID && step.Source != tank.ID
	}
	if !filled {
		return
	}
	at := model.PlaceOf(tank.ID)
	holds, missing := contentOf(tank)
	room, told := tank.Working.Get()
	if !told {
		missing = append(missing, missingKey(tank, "working_volume_L"))
	}
	var fills []model.Place
	most, when := holds, (*model.Step)(nil)
	for _, step := range steps {
		if step.Source == step.Destination || step.Source != tank.ID && step.Destination != tank.ID {
			continue
		}
		if step.Purpose.Or("") == model.Drain || step.Purpose.Or("") == model.Prepare {
			if step.Source == tank.ID {
				holds = 0 // emptied
			}
			if step.Purpose.Or("") == model.Prepare {
				continue // made up to its level, whatever it held
			}
		}
		if !moves(step) {
			continue
		}
		v, lacks := sent(step)
		missing = append(missing, lacks...)
		if step.Source == tank.ID {
			holds = max(holds-v, 0)
			continue
		}
		holds += v
		fills = append(fills, model.PlaceOf(step.ID))
		if holds > most {
			most, when = holds, step
		}
	}
	if len(missing) > 0 {
		p.NotAssessed(at, missing...)
		return
	}
	if when == nil || !above(float64(most), float64(room)) {
		return
	}
	p.Report(Finding{At: at, Places: append([]model.Place{at}, fills...), Steps: []model.ID{when.ID}, Measured: Of(most), Limit: Of(room),
		Message: Say("%v comes to %v in %v and holds %v: %v run over", p.Name(tank.ID), Of(most), p.Name(when.ID), Of(room), Of(most-room))})
}

// contentOf gives what a tank holds at the start of a programme.
func contentOf(tank *model.Vessel) (quantity.Volume, []network.Missing) {
	level, known := tank.Level.Get()
	if !known {
		return 0, []network.Missing{missingKey(tank, "level_m")}
	}
	if level == 0 {
		return 0, nil
	}
	body, keys, err := vessel.Of(tank)
	var missing []network.Missing
	for _, key := range keys {
		missing = append(missing, missingKey(tank, key))
	}
	if err != nil {
		missing = append(missing, missingKey(tank, "height_m"))
	}
	if len(missing) > 0 {
		return 0, missing
	}
	return body.At(level), nil
}
