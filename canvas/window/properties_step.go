package window

import (
	"slices"
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
	"rinsewright/checks/listing"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// stepRows tells what a part does in the step that is shown, and in which steps
// it does anything.
func (p *propertyPanel) stepRows(part model.Part) {
	if part.Class() == model.ClassFrame {
		return
	}
	f, id := p.form, part.RecordID()
	if p.on.shownStep() != nil {
		f.heading("In the step shown")
		f.fact("Fed by", func() string { return p.neighbours(id, false) })
		f.fact("Feeds", func() string { return p.neighbours(id, true) })
		f.fact("Medium", func() string { return p.mediumIn(id) })
		f.fact("Temperature", func() string {
			if !p.holdsLiquid(id) {
				return noneHere
			}
			return quantity.OptText(p.on.shownStep().Temperature, p.on.units())
		})
		f.fact("Flow", func() string { return p.flowThrough(id) })
		if prop, ok := model.FindProperty(part, "size"); ok && prop.Key == "size" && part.Class() != model.ClassVessel {
			f.fact("Velocity", func() string { return p.velocityIn(id) })
		}
		p.partFlowRows(part)
	}
	switch part.(type) {
	case *model.Valve:
		f.listing("Moved in", func() string {
			return p.stepsIn(func(s *model.Step) bool { return movedInAny(p.part(id), p.on.cat, []*model.Step{s}) })
		})
	case *model.Pump:
		f.listing("Runs in", func() string {
			return p.stepsIn(func(s *model.Step) bool { return slices.Contains(s.Running, id) })
		})
	case *model.Vessel, *model.Object:
		f.listing("Washed in", func() string {
			return p.stepsIn(func(s *model.Step) bool { return slices.Contains(s.Cleans, id) })
		})
	}
}

// stateRow sets what a valve or a pump does in the step that is shown.
func (p *propertyPanel) stateRow(part model.Part) {
	if p.on.shownStep() == nil {
		return
	}
	switch part := part.(type) {
	case *model.Valve:
		if kind := p.on.cat.Kind(part.Kind); kind != nil && len(kind.Positions) > 1 {
			p.positionRow(part.ID)
		}
	case *model.Pump:
		p.runningRow(part.ID)
	}
}

const noneHere = "none in this step"

func (p *propertyPanel) part(id model.ID) model.Part { return p.on.circuit().Part(id) }

func (p *propertyPanel) stepsIn(ok func(*model.Step) bool) string {
	var in []model.ID
	for _, s := range p.on.circuit().Steps() {
		if ok(s) {
			in = append(in, s.ID)
		}
	}
	if len(in) == 0 {
		return "no step"
	}
	return listing.StepNames(p.on.circuit(), in)
}

// neighbours names the parts that a part is fed by in the step shown, or that it
// feeds.
func (p *propertyPanel) neighbours(id model.ID, feeds bool) string {
	var names []string
	open := false
	for _, r := range p.on.circuit().RunsAt(id) {
		out := r.From.Part == id
		here := r.From
		if !out {
			here = r.To
		}
		switch p.on.lines.options.Flow[r.ID] {
		case draw.Forward:
		case draw.Backward:
			out = !out
		case draw.Undecided:
			open = true
			continue
		default:
			continue
		}
		if out != feeds {
			continue
		}
		if tag := p.on.drawing().Beyond(id, here.Port); tag != "" && !slices.Contains(names, tag) {
			names = append(names, tag)
		}
	}
	slices.Sort(names)
	switch {
	case len(names) > 0:
		return strings.Join(names, ", ")
	case open:
		return "either way"
	}
	return "nothing"
}

// holdsLiquid says whether something flows or stands in a part in the step shown.
func (p *propertyPanel) holdsLiquid(id model.ID) bool {
	for _, r := range p.on.circuit().RunsAt(id) {
		if p.on.lines.options.Flow[r.ID] != draw.Dry {
			return true
		}
	}
	return false
}

func (p *propertyPanel) mediumIn(id model.ID) string {
	if m := p.on.lines.options.Media[id]; m != "" {
		return plainWords(string(m))
	}
	if !p.holdsLiquid(id) {
		return noneHere
	}
	if m, ok := p.on.shownStep().Medium.Get(); ok {
		return plainWords(string(m))
	}
	return unknownWord
}

// share tells how much of the flow of the step shown passes a part.
func (p *propertyPanel) share(id model.ID) passes {
	if !p.on.lines.found() {
		return passesUnknown
	}
	out := passesNothing
	for _, r := range p.on.circuit().RunsAt(id) {
		out = max(out, p.on.lines.passes(r.ID))
	}
	return out
}

func (p *propertyPanel) flowThrough(id model.ID) string {
	if t, ok := p.greatest(id, scene.Flow); ok {
		return t
	}
	switch p.share(id) {
	case passesUnknown:
		return "no route in this step"
	case passesNothing:
		return "no flow in this step"
	case passesShare:
		return "a share of the flow"
	}
	return quantity.OptText(p.on.shownStep().Flow, p.on.units())
}

func (p *propertyPanel) velocityIn(id model.ID) string {
	if t, ok := p.greatest(id, scene.Velocity); ok {
		return t
	}
	part := p.part(id)
	if part == nil || p.share(id) != passesWhole {
		return p.flowThrough(id)
	}
	flow, known := p.on.shownStep().Flow.Get()
	if !known {
		return "flow of the step unknown"
	}
	bore, sized := p.on.cat.Bore(part, "size").Get()
	if !sized {
		return "size unknown"
	}
	return quantity.Text(quantity.Velocity(float64(flow)/catalogue.BoreArea(bore)), p.on.units())
}
