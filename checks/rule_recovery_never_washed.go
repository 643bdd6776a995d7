package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

var ruleRecoveryNeverWashed = &Rule{
	Name: "recovery-never-washed",
	Doc: Doc{
		Title:    "Tank for recovered water that is never washed",
		Why:      "Recovered water carries soil and traces of product and stands warm for hours: the tank grows a film that every first rinse spreads over the plant.",
		How:      "Each storing tank for recovered water must be named as cleaned by some step that sends alkali, acid or disinfectant, or water of at least the limit.",
		Blind:    "How often it is done.",
		Remedy:   "Wash the tank in a programme of its own, with a spray device.",
		Cites:    []Citation{handbook27},
		Severity: Fix,
		Limits:   []string{"hot-water-least"},
	},
	Run: runRecoveryNeverWashed,
}

func runRecoveryNeverWashed(p *Pass) {
	hot := p.Limit("hot-water-least").Is()
	for _, part := range p.ofTrait(catalogue.TraitStorage) {
		tank, ok := part.(*model.Vessel)
		if !ok || tank.Holds.Or("") != model.Recovered {
			continue
		}
		washed := slices.ContainsFunc(p.Circuit.Steps(), func(s *model.Step) bool {
			return slices.Contains(s.Cleans, tank.ID) && (chemical(s.Medium.Or("")) || s.Temperature.Known() && !below(float64(s.Temperature.Or(0)), hot))
		})
		if !washed {
			p.Report(Finding{At: model.PlaceOf(tank.ID), Message: Say("no step washes %v with a chemical or hot water", p.Name(tank.ID))})
		}
	}
}
