package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

var ruleUncleanablePart = &Rule{
	Name: "uncleanable-part",
	Doc: Doc{
		Title:    "Part that cleaning in place does not clean",
		Why:      "Ball, plug, gate and globe valves, threads and sliding seals trap liquid where no flow comes.",
		How:      "Parts whose kind is marked as not cleanable and that the liquid of a cleaning step reaches.",
		Blind:    "The make of a part: a kind stands for its usual build.",
		Remedy:   "Use a valve made for cleaning in place.",
		Cites:    []Citation{handbook16},
		Severity: Fix,
		Merge:    AnyStep,
	},
	Run: runUncleanablePart,
}

func runUncleanablePart(p *Pass) {
	if !p.sweeps() {
		return
	}
	r := p.Route()
	for _, part := range p.ofTrait(catalogue.TraitUncleanable) {
		if passes(p.Plant(), part.RecordID(), r.Wet) {
			p.Report(Finding{At: model.PlaceOf(part.RecordID()), Fixes: p.cleanableInstead(part),
				Message: Say("%v is a %v in a cleaned line", p.Name(part.RecordID()), lower(p.Kind(part).Title))})
		}
	}
}

// cleanableInstead swaps a valve for the first cleanable kind with the same
// ports and positions that does nothing else beside.
func (p *Pass) cleanableInstead(part model.Part) []Remedy {
	old := p.Kind(part)
	for _, kind := range p.Catalogue.Kinds() {
		if kind.Class != part.Class() || len(kind.Traits) != 1 || !kind.Has(catalogue.TraitCleanable) || !slices.Equal(kind.Positions, old.Positions) || !samePorts(kind, old) {
			continue
		}
		after := model.Clone(part)
		after.Meta().Kind = kind.Name
		return []Remedy{{Message: "swap for a " + lower(kind.Title),
			Edit: model.Edit{Label: "swap " + p.Name(part.RecordID()), Changes: []model.Change{model.Replacing(part, after)}}}}
	}
	return nil
}

func samePorts(a, b *catalogue.Kind) bool {
	return slices.EqualFunc(a.Ports, b.Ports, func(x, y catalogue.Port) bool {
		return x.Name == y.Name && x.Service == y.Service && x.Role == y.Role
	})
}
