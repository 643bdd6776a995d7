package checks

import (
	"rinsewright/model"
	"rinsewright/model/quantity"
)

var ruleDiaphragmKeepsLiquid = &Rule{
	Name: "diaphragm-keeps-liquid",
	Doc: Doc{
		Title:    "Diaphragm valve not turned to its drain mark",
		Why:      "The weir of a diaphragm valve that lies level holds liquid back unless its body is turned to the angle marked on it.",
		How:      "Every diaphragm valve that liquid reaches in a step must be told to stand at its mark.",
		Blind:    "The angle itself; valves in upright lines, which drain anyway: tell them as turned.",
		Remedy:   "Turn the body to its mark.",
		Cites:    []Citation{handbook16},
		Severity: Fix,
	},
	Run: runDiaphragmKeepsLiquid,
}

func runDiaphragmKeepsLiquid(p *Pass) {
	wetted := Wetted.Of(p.Snapshot)
	for _, part := range p.ofClass(model.ClassValve) {
		v := part.(*model.Valve)
		if !p.hasProperty(v, "turned_to_drain") || !passes(p.Plant(), v.ID, wetted) {
			continue
		}
		at := model.PlaceOf(v.ID)
		turned, known := v.Drains.Get()
		switch {
		case !known:
			p.NotAssessed(at, missingKey(v, "turned_to_drain"))
		case !turned:
			after := model.Clone(v)
			after.Drains = quantity.Some(true)
			p.Report(Finding{At: at, Message: Say("the body of %v is not turned to its mark and keeps liquid before its weir", p.Name(v.ID)),
				Fixes: []Remedy{{Message: "turn it to its mark", Edit: model.Edit{Label: "turn " + p.Name(v.ID) + " to its mark", Changes: []model.Change{model.Replacing(v, after)}}}}})
		}
	}
}
