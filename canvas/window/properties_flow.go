package window

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/quantity"
)

const (
	stillSolving = "being solved"
	notSolved    = "not solved, see Flow"
	notFlowing   = "no flow in this step"
)

// runFlowRows adds what the solved flow of the step shown makes in a run.
func (p *propertyPanel) runFlowRows(run func() *model.Run) {
	f := p.form
	if p.on.shownStep() == nil {
		f.fact("Velocity", func() string { return "no step shown" })
		return
	}
	f.heading("In the step shown")
	for _, v := range []scene.Value{scene.Flow, scene.Velocity, scene.Reynolds, scene.Shear, scene.Pressure} {
		title := v.Title()
		if v == scene.Pressure {
			title = "Pressure, in to out"
		}
		f.fact(title, func() string { return p.valueOf(run().ID, v) })
	}
	p.toldRow("Loss", func() (string, bool) { return p.on.pressureDrop(run().ID) })
	if len(run().Stretches) > 1 {
		p.toldRow("Velocity by stretch", func() (string, bool) { return p.on.byStretch(run().ID) })
	}
	p.toldRow("Temperature", func() (string, bool) { return p.warmthOf(run().ID) })
	p.lossRow(run().ID)
	p.standRows(run().ID)
}

// toldRow adds a row that is told from the solved flow; not ok for what does not
// flow.
func (p *propertyPanel) toldRow(title string, text func() (string, bool)) {
	p.form.fact(title, func() string {
		switch {
		case p.on.solution == nil && p.on.unsolved == nil && p.on.lines.found():
			return stillSolving
		case p.on.solution == nil || !p.on.lines.found():
			return notSolved
		}
		if t, ok := text(); ok {
			return t
		}
		return notFlowing
	})
}

// valueOf tells a value of a run, or why there is none.
func (p *propertyPanel) valueOf(id model.ID, v scene.Value) string {
	s := p.on.solution
	switch {
	case s == nil && p.on.unsolved != nil:
		return notSolved
	case s == nil && p.on.shownStep() != nil && p.on.lines.found():
		return stillSolving
	case s == nil:
		return "no route in this step"
	}
	switch text := scene.Values(s, v, p.on.units())[id]; text {
	case "":
		return notFlowing
	case "?":
		return notSolved
	default:
		return text
	}
}

// byStretch tells the velocity in each stretch of a run, where they differ.
func (w *Window) byStretch(run model.ID) (string, bool) {
	var out []string
	alike, flows := true, false
	first := ""
	for i, e := range w.solution.Plant.RunEdges(run) {
		edge := w.solution.Edges[e]
		if q, known := edge.Flow.Get(); !known || q != 0 {
			flows = true
		}
		text := scene.StateText(edge, scene.Velocity, w.system)
		if text == "" {
			text = "?"
		}
		if i == 0 {
			first = text
		}
		alike = alike && text == first
		out = append(out, fmt.Sprintf("%d: %s", i+1, text))
	}
	if alike {
		return "the same in all", flows
	}
	return strings.Join(out, ", "), flows
}

// headLost adds up the loss along a run or along the ways of a part in which liquid
// moves. Flows says whether it does in any.
func (w *Window) headLost(id model.ID) (sum quantity.Length, known, flows bool) {
	known = true
	for _, e := range w.edgesOf(id) {
		edge := w.solution.Edges[e]
		q, told := edge.Flow.Get()
		if told && q == 0 || !told && !w.solution.Route.InFlow[e] {
			continue
		}
		flows = true
		loss, ok := edge.Loss.Get()
		known = known && ok
		sum += quantity.Length(math.Abs(float64(loss)))
	}
	return sum, known, flows
}

// partFlowRows adds what a part does in the solved flow of the step shown.
func (p *propertyPanel) partFlowRows(part model.Part) {
	id := part.RecordID()
	switch part := part.(type) {
	case *model.Pump:
		for _, line := range pumpLines {
			p.toldRow(line.title, func() (string, bool) { return p.on.pumpLine(id, line) })
		}
	case *model.Spray:
		p.toldRow("Pressure", func() (string, bool) {
			for _, s := range p.on.solution.Sprays {
				if s.Spray == id {
					return quantity.OptText(s.Pressure, p.on.units()), true
				}
			}
			return "", false
		})
	case *model.Vessel:
		p.vesselRows(id)
	case *model.Terminal, *model.Frame:
		return
	case *model.Exchanger:
		p.toldRow("Pressure drop", func() (string, bool) { return p.on.pressureDrop(id) })
		p.exchangerRows(id)
	default:
		p.toldRow("Pressure drop", func() (string, bool) { return p.on.pressureDrop(id) })
		if k := p.on.cat.Kind(part.Meta().Kind); k != nil && len(k.Ports) > 2 {
			p.splitRow(id)
		}
	}
	p.standRows(id)
}

// vesselRows tell of a washed vessel how its return copes, and of a tank what is
// drawn from it and comes back.
func (p *propertyPanel) vesselRows(id model.ID) {
	u := p.on.units
	if step := p.on.shownStep(); step.Source == id || step.Destination == id {
		p.toldRow("Drawn from it", func() (string, bool) {
			if p.on.shownStep().Source != id {
				return "", false
			}
			return p.throughEnd(p.on.solution.Route.LineUp.Source, true)
		})
		p.toldRow("Comes back", func() (string, bool) {
			if p.on.shownStep().Destination != id {
				return "", false
			}
			return p.throughEnd(p.on.solution.Route.LineUp.Dest, false)
		})
		if step.Source == id {
			p.toldRow("Hot after", func() (string, bool) {
				if h := p.on.heated(); h != nil {
					return warmUpShort(h.WarmUp, u()), true
				}
				return "", false
			})
			p.lossRow(id)
		}
		return
	}
	of := func(text func(flow.Vessel) string) func() (string, bool) {
		return func() (string, bool) {
			for _, v := range p.on.solution.Vessels {
				if v.Vessel == id {
					return text(v), true
				}
			}
			return "", false
		}
	}
	p.toldRow("In", of(func(v flow.Vessel) string { return quantity.OptText(v.Inflow, u()) }))
	p.toldRow("Out", of(func(v flow.Vessel) string { return quantity.OptText(v.Outflow, u()) }))
	p.toldRow("Puddle", of(func(v flow.Vessel) string { return quantity.OptText(v.Level, u()) }))
	p.form.listing("Return", func() string {
		if p.on.solution == nil {
			return stillSolving
		}
		if t, ok := of(p.on.vesselWords)(); ok {
			return sentence(t)
		}
		return "Not washed in this step"
	})
	p.lossRow(id)
}

// throughEnd tells what leaves the source of the step, or comes to its destination.
func (p *propertyPanel) throughEnd(node int, out bool) (string, bool) {
	s := p.on.solution
	sum := quantity.Flow(0)
	for _, e := range s.Plant.IncidentEdges(node) {
		if !s.Route.InFlow[e] {
			continue
		}
		q, known := s.Edges[e].Flow.Get()
		if !known {
			return unknownWord, true
		}
		if (s.Plant.Edges[e].From == node) != out {
			q = -q
		}
		sum += q
	}
	return quantity.Text(sum, p.on.units()), true
}

// splitRow tells how the flow divides in a part that may divide it.
func (p *propertyPanel) splitRow(id model.ID) {
	p.form.listing("The flow divides", func() string {
		if p.on.solution == nil {
			return stillSolving
		}
		if s, ok := p.on.splitAt(id); ok {
			return p.on.splitWords(s)
		}
		return "Not here in this step"
	})
}

// standRows tell on what the solved flow of a record stands: what is missing, and
// what was assumed, each with the way to its field. While the flow is solved anew
// they stay.
func (p *propertyPanel) standRows(id model.ID) {
	box, was := container.NewVBox(), "nothing yet"
	p.form.box.Add(box)
	refresh := func() {
		if p.on.solution == nil {
			return
		}
		list := p.standing(id)
		if now := fmt.Sprint(list); now != was {
			was = now
			box.RemoveAll()
			for _, x := range list {
				p.standRow(box, id, x)
			}
			box.Add(plainText(flowCautionShort))
			p.form.box.Refresh()
		}
	}
	p.form.rows = append(p.form.rows, refresh)
	refresh()
}

// stand is one thing on which the solved flow of a record stands.
type stand struct{ text, key string }

func (p *propertyPanel) standing(id model.ID) []stand {
	s := p.on.solution
	var out []stand
	for _, m := range s.Missing {
		if m.Record == id {
			out = append(out, stand{"Missing: without it the flow is not solved.", m.Key})
		}
	}
	for _, x := range s.Pumps {
		for _, m := range x.Missing {
			if x.Pump == id && m.Record == id {
				out = append(out, stand{"", m.Key})
			}
		}
	}
	for _, a := range s.Assumptions {
		if a.Record == id {
			out = append(out, stand{"Assumed. " + p.on.assumptionWords(a), a.Key})
		}
	}
	if h := p.on.heated(); h != nil {
		for _, m := range h.Missing {
			if m.Record == id {
				out = append(out, stand{"Missing for the heat: " + m.For + ".", m.Key})
			}
		}
		for _, a := range h.Assumptions {
			if a.Record == id {
				out = append(out, stand{"Assumed. " + p.on.assumptionWords(a), a.Key})
			}
		}
	}
	return out
}

func (p *propertyPanel) standRow(box *fyne.Container, id model.ID, x stand) {
	w := p.on
	if x.text != "" {
		box.Add(plainText(x.text))
	}
	if x.key == "" {
		return
	}
	b := newButton(w, "Enter "+strings.ToLower(captionOf(w.circuit().Record(id), x.key, w.cat).label), theme.NavigateNextIcon(), func() {
		w.guard("go to a property", func() { w.gotoProperty(id, x.key) })
	})
	b.Alignment = widget.ButtonAlignLeading
	box.Add(b)
}

func percent(r quantity.Opt[quantity.Ratio]) string {
	x, ok := r.Get()
	if !ok {
		return unknownWord
	}
	return fmt.Sprintf("%.0f %%", 100*float64(x))
}

// greatest tells the greatest flow or velocity in a part in the solved flow; not
// ok where nothing flows or nothing is solved.
func (p *propertyPanel) greatest(id model.ID, v scene.Value) (string, bool) {
	best, text := 0.0, ""
	for _, e := range p.on.edgesOf(id) {
		edge := p.on.solution.Edges[e]
		x := float64(edge.Flow.Or(0))
		if v == scene.Velocity {
			x = float64(edge.Velocity.Or(0))
		}
		if math.Abs(x) > best {
			best, text = math.Abs(x), scene.StateText(edge, v, p.on.units())
		}
	}
	return text, text != ""
}
