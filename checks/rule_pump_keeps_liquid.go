package checks

import (
	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var rulePumpKeepsLiquid = &Rule{
	Name: "pump-keeps-liquid",
	Doc: Doc{
		Title:    "Pump casing that keeps liquid",
		Why:      "A casing with its outlet up stays full when the line is drained.",
		How:      "A pump has a casing drain, or its outlet points down.",
		Blind:    "Whether the casing drain is opened, and by whom.",
		Remedy:   "Fit a casing drain, or turn the casing so that its outlet points down.",
		Cites:    []Citation{commonPractice},
		Severity: Note,
	},
	Run: runPumpKeepsLiquid,
}

// pointsWords tells where a discharge points.
var pointsWords = map[model.Way]string{model.Up: "points up", model.Side: "points to the side", model.Down: "points down"}

func runPumpKeepsLiquid(p *Pass) {
	for _, part := range p.ofClass(model.ClassPump) {
		pump, ok := part.(*model.Pump)
		if !ok {
			continue
		}
		kind := p.Kind(pump)
		if kind == nil {
			continue // told by open-end
		}
		if _, has := kind.Property("casing_drain"); !has {
			continue // a kind without a casing to drain: a dosing pump
		}
		at := model.PlaceOf(pump.ID)
		drain, knownDrain := pump.CasingDrain.Get()
		way, knownWay := pump.OutletWay.Get()
		if drain || way == model.Down {
			continue
		}
		var missing []network.Missing
		if !knownDrain {
			missing = append(missing, missingKey(pump, "casing_drain"))
		}
		if !knownWay {
			missing = append(missing, missingKey(pump, "outlet_way"))
		}
		if len(missing) > 0 {
			p.NotAssessed(at, missing...)
			continue
		}
		drained, turned := model.Clone(pump), model.Clone(pump)
		drained.CasingDrain, turned.OutletWay = quantity.Some(true), quantity.Some(model.Down)
		p.Report(Finding{At: at, Message: Say("%v has no casing drain and its outlet %v", p.Name(pump.ID), pointsWords[way]),
			Fixes: []Remedy{
				{Message: "fit a casing drain", Edit: model.Edit{Label: "casing drain on " + p.Name(pump.ID), Changes: []model.Change{model.Replacing(pump, drained)}}},
				{Message: "turn the outlet down", Edit: model.Edit{Label: "turn the outlet of " + p.Name(pump.ID), Changes: []model.Change{model.Replacing(pump, turned)}}},
			}})
	}
}
