package window

import (
	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/quantity"
)

// pumpLine is one thing that is told of a running pump.
type pumpLine struct {
	title string
	short string // within a sentence
	text  func(p flow.Pump, s quantity.System) string
}

var pumpLines = []pumpLine{
	{"Duty", "duty", func(p flow.Pump, s quantity.System) string {
		return quantity.OptText(p.Flow, s) + " at " + quantity.OptText(p.Head, s)
	}},
	{"Speed", "speed", func(p flow.Pump, _ quantity.System) string {
		if p.OutOfCurve {
			return percent(p.Speed) + ", beyond its curve"
		}
		return percent(p.Speed)
	}},
	{"Shaft power", "shaft", func(p flow.Pump, s quantity.System) string { return quantity.OptText(p.Power, s) }},
	{"NPSH available", "NPSH available", func(p flow.Pump, s quantity.System) string { return quantity.OptText(p.Available, s) }},
}

// pumpLine tells one thing of a pump; not ok if it does not run.
func (w *Window) pumpLine(id model.ID, line pumpLine) (string, bool) {
	for _, p := range w.solution.Pumps {
		if p.Pump == id && p.Running {
			return line.text(p, w.system), true
		}
	}
	return "", false
}

// vesselWords tells how the return of a washed vessel copes.
func (w *Window) vesselWords(v flow.Vessel) string {
	text := quantity.OptText(v.Inflow, w.system) + " comes in; "
	switch {
	case v.Balance == flow.BowlFills:
		text += "the bowl fills: the return takes " + quantity.OptText(v.Capacity, w.system)
	case v.Balance == flow.LevelFound:
		text += "puddle " + quantity.OptText(v.Level, w.system)
	case v.PartFull:
		text += "the return runs part-full by gravity"
	case v.Balance == flow.DrawsAir:
		text += "the return keeps the bowl empty and could take " + quantity.OptText(v.Capacity, w.system)
	default:
		text += "the return is not solved"
	}
	return text
}
