package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

var ruleNoRecovery = &Rule{
	Name: "no-recovery",
	Doc: Doc{
		Title:    "Clean rinse sent to sewer beside a recovery tank",
		Why:      "The water of a final rinse serves well as the next first rinse.",
		How:      "A final rinse whose destination is a sewer drain while a tank for recovered water is joined to the circuit that no final rinse of the programme returns to.",
		Blind:    "Whether the tank has room, and whether the rinse is clean enough.",
		Remedy:   "Send the later part of the final rinse to the recovery tank.",
		Cites:    []Citation{foodSanitation},
		Severity: Note,
	},
	Run: runNoRecovery,
}

func runNoRecovery(p *Pass) {
	for _, steps := range p.programmes() {
		recovers := false
		for _, step := range steps {
			to := p.Circuit.Part(step.Destination)
			recovers = recovers || step.Purpose.Or("") == model.FinalRinse && to != nil && holds(to).Or("") == model.Recovered
		}
		for _, step := range steps {
			if recovers || step.Purpose.Or("") != model.FinalRinse || step.Medium.Or(model.Water) != model.Water || !p.Has(p.Circuit.Part(step.Destination), catalogue.TraitSewer) {
				continue
			}
			tank := p.recoveryTankNear(step.Destination)
			if tank == "" {
				continue
			}
			at := model.PlaceOf(step.ID)
			p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(tank)},
				Message: Say("%v sends clean water to %v while %v stands by", p.Name(step.ID), p.Name(step.Destination), p.Name(tank))})
		}
	}
}

// recoveryTankNear gives the first tank for recovered water that runs join to a
// part, or "".
func (p *Pass) recoveryTankNear(id model.ID) model.ID {
	g := groupsOf.Of(p.Snapshot)
	for _, part := range p.ofClass(model.ClassVessel) {
		if holds(part).Or("") == model.Recovered && g.of[part.RecordID()] == g.of[id] {
			return part.RecordID()
		}
	}
	return ""
}
