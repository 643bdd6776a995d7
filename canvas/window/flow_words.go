package window

import (
	"errors"
	"fmt"
	"strings"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// pumpLine is one thing that is told of a running pump.
type pumpLine struct {
	title string
	text  func(p flow.Pump, s quantity.System) string
}

var pumpLines = []pumpLine{
	{"Duty", func(p flow.Pump, s quantity.System) string {
		return quantity.OptText(p.Flow, s) + " at " + quantity.OptText(p.Head, s)
	}},
	{"Speed", func(p flow.Pump, _ quantity.System) string {
		text := percent(p.Speed)
		if p.Regulated {
			text += ", found"
		}
		if p.OutOfCurve {
			text += ", beyond its curve"
		}
		return text
	}},
	{"Shaft power", func(p flow.Pump, s quantity.System) string { return quantity.OptText(p.Power, s) }},
	{"NPSH available", func(p flow.Pump, s quantity.System) string { return quantity.OptText(p.Available, s) }},
	{"NPSH required", func(p flow.Pump, s quantity.System) string { return quantity.OptText(p.Required, s) }},
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

// copes tells in short how the return of a washed vessel copes.
func copes(v flow.Vessel) string {
	switch {
	case v.Balance == flow.BowlFills:
		return "bowl fills"
	case v.PartFull:
		return "runs part-full"
	case v.Balance == flow.LevelFound:
		return "puddle stands"
	case v.Balance == flow.DrawsAir && v.Regulated:
		return "pump slowed, bowl empty"
	case v.Balance == flow.DrawsAir:
		return "bowl empty"
	}
	return notSolved
}

// vesselWords tells how the return of a washed vessel copes.
func (w *Window) vesselWords(v flow.Vessel) string {
	text := quantity.OptText(v.Inflow, w.system) + " comes in; "
	switch {
	case v.Balance == flow.BowlFills:
		text += "the bowl fills: the return takes " + quantity.OptText(v.Capacity, w.system)
	case v.PartFull:
		text += "the return runs part-full by gravity, " + percent(v.Filling) + " of the bore deep"
	case v.Balance == flow.LevelFound:
		text += "puddle " + quantity.OptText(v.Level, w.system)
	case v.Balance == flow.DrawsAir && v.Regulated:
		text += "the return pump is slowed to keep the bowl just empty; at full speed it could take " + quantity.OptText(v.Capacity, w.system)
	case v.Balance == flow.DrawsAir:
		text += "the return keeps the bowl empty and could take " + quantity.OptText(v.Capacity, w.system)
	default:
		text += "the return is not solved"
	}
	return text
}

// flowSentence tells the supply of the step shown, or why there is no flow, and
// where to look.
func (w *Window) flowSentence() (text string, at model.Place) {
	s := w.solution
	switch {
	case w.shownStep() == nil:
		return "No step is shown. Choose one above the board: its flow is solved and told here.", at
	case w.unsolved != nil:
		return "The flow could not be solved: " + w.unsolved.Error(), at
	case !w.lines.found():
		_, full, at := w.lines.trouble()
		if full == "" {
			full = "This step drains: no flow goes from a source to a destination, so there is nothing to solve."
		}
		return full, at
	case s == nil:
		return "Solving…", at
	case !s.Supply.Flow.Known():
		return "The supply is not solved: what hinders it is listed below.", at
	}
	return w.supplyWords(s), at
}

func (w *Window) supplyWords(s *flow.Solution) string {
	u := s.Supply
	text := quantity.OptText(u.Flow, w.system) + " flows"
	if asked, ok := u.Asked.Get(); ok {
		text += ", " + quantity.Text(asked, w.system) + " asked for"
	}
	if u.Pump != "" && u.Speed.Known() {
		text += "; " + nameOf(w.circuit().Record(u.Pump), w.cat) + " at " + percent(u.Speed) + " of its rated speed"
	}
	text += "."
	if short, ok := u.Short.Get(); ok {
		text += " Short by " + quantity.Text(short, w.system)
		if need, ok := u.Needed.Get(); ok {
			text += fmt.Sprintf(": %.0f %% speed would be needed", 100*float64(need))
		}
		text += "."
	}
	if over, ok := u.Over.Get(); ok {
		text += " That is " + quantity.Text(over, w.system) + " too much: nothing is left to slow."
	}
	if lost, ok := u.Lost.Get(); ok && float64(lost) > 1e-9 {
		text += " " + quantity.Text(lost, w.system) + " leaves the route on the way."
	}
	return text
}

// names tells records and properties in words.
func (w *Window) names() *checks.Snapshot {
	return &checks.Snapshot{Circuit: w.circuit(), Catalogue: w.cat}
}

// placeOfNode gives the place on the drawing of a node of the solved plant.
func (w *Window) placeOfNode(node int) model.Place {
	n := w.solution.Plant.Nodes[node]
	if n.Run != "" {
		return model.PlaceOf(n.Run)
	}
	return model.PlaceOfPort(n.Part, n.Point)
}

// nodeName tells a node of the solved plant in words.
func (w *Window) nodeName(node int) string {
	if n := w.solution.Plant.Nodes[node]; n.Point == network.Inside || n.Point == network.Draw {
		return sentence(w.names().Name(n.Part))
	}
	return sentence(w.names().Where(w.placeOfNode(node)))
}

// splitWords tells how the flow divides: "60 % towards V-1, 40 % towards V-2".
func (w *Window) splitWords(split flow.Split) string {
	var out []string
	for _, b := range split.Branches {
		text := percent(quantity.Some(b.Share))
		if to := w.towards(split.Node, b.Edge); to != "" {
			text += " towards " + to
		}
		out = append(out, text)
	}
	return strings.Join(out, ", ")
}

// towards names what a way of the solved plant leads to from a node.
func (w *Window) towards(node, edge int) string {
	p := w.solution.Plant
	e := p.Edges[edge]
	if run := w.circuit().Run(e.Run); run != nil {
		far := run.To
		if n := p.Nodes[node]; n.Part == run.To.Part && n.Point == run.To.Port {
			far = run.From
		}
		return w.props.endName(far)
	}
	return w.drawing().Beyond(e.Part, p.Nodes[p.Other(edge, node)].Point)
}

// splitAt gives the split within a part.
func (w *Window) splitAt(part model.ID) (flow.Split, bool) {
	for _, s := range w.solution.Splits {
		if w.solution.Plant.Nodes[s.Node].Part == part {
			return s, true
		}
	}
	return flow.Split{}, false
}

// pressureDrop tells what a way through a part or along a run costs.
func (w *Window) pressureDrop(id model.ID) (string, bool) {
	props, ok := w.solution.Properties.Get()
	sum, known, flows := w.headLost(id)
	if !flows {
		return "", false
	}
	if !ok || !known {
		return notSolved, true
	}
	const gravity = 9.80665 // m/s², standard
	bar := quantity.Pressure(float64(sum) * float64(props.Density) * gravity)
	return quantity.Text(bar, w.system) + ", " + quantity.Text(sum, w.system), true
}

// flowErrorWords tells an error in a reader's units, without the names of the packages
// that it came from.
func flowErrorWords(err error, s quantity.System) string {
	var told interface{ Told(quantity.System) string }
	if errors.As(err, &told) {
		return told.Told(s)
	}
	return plainFlowError(err).Error()
}

// plainFlowError leaves out the names of the packages that an error came from.
func plainFlowError(err error) error {
	text := err.Error()
	for _, prefix := range []string{"flow: ", "hydraulic: "} {
		text = strings.TrimPrefix(text, prefix)
	}
	return errors.New(text)
}

// assumptionWords tells what stands in for what was never told, in a reader's units.
func (w *Window) assumptionWords(a flow.Assumption) string {
	a.Value = a.Told(w.system)
	return sentence(a.What) + ": " + a.Value + " (" + a.Basis + ")"
}
