package window

import (
	"fmt"
	"math"

	"rinsewright/canvas/scene"
	"rinsewright/model"
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
	f.fact("Head lost", func() string { return p.headLost(run().ID) })
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

// headLost adds up the loss along a run or through a part.
func (p *propertyPanel) headLost(id model.ID) string {
	edges := p.on.edgesOf(id)
	if len(edges) == 0 {
		return notSolved
	}
	sum := quantity.Length(0)
	for _, e := range edges {
		loss, known := p.on.solution.Edges[e].Loss.Get()
		if q, flows := p.on.solution.Edges[e].Flow.Get(); flows && q == 0 {
			continue
		} else if !known {
			return notSolved
		}
		sum += quantity.Length(math.Abs(float64(loss)))
	}
	return quantity.Text(sum, p.on.units())
}

// partFlowRows adds what a pump, a spray device or a washed vessel does in the
// solved flow of the step shown.
func (p *propertyPanel) partFlowRows(part model.Part) {
	if p.on.shownStep() == nil {
		return
	}
	f, id := p.form, part.RecordID()
	told := func(title string, text func() (string, bool)) {
		f.fact(title, func() string {
			switch {
			case p.on.solution == nil && p.on.unsolved == nil && p.on.lines.found():
				return stillSolving
			case p.on.solution == nil:
				return notSolved
			}
			if t, ok := text(); ok {
				return t
			}
			return notFlowing
		})
	}
	switch part.(type) {
	case *model.Pump:
		for _, line := range pumpLines {
			told(line.title, func() (string, bool) { return p.on.pumpLine(id, line) })
		}
	case *model.Spray:
		told("Pressure", func() (string, bool) {
			for _, s := range p.on.solution.Sprays {
				if s.Spray == id {
					return quantity.OptText(s.Pressure, p.on.units()), true
				}
			}
			return "", false
		})
	case *model.Vessel:
		told("Return", func() (string, bool) {
			for _, v := range p.on.solution.Vessels {
				if v.Vessel == id {
					return p.on.vesselWords(v), true
				}
			}
			return "not washed in this step", true
		})
	case *model.Valve:
		told("Head lost", func() (string, bool) { return p.headLost(id), true })
	}
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
