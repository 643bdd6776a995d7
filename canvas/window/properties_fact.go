package window

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

func (p *propertyPanel) bore(r *model.Run) quantity.Opt[quantity.Bore] {
	if size, ok := r.Size.Get(); ok {
		if t, ok := p.on.cat.Tube(size); ok {
			return quantity.Some(t.Inside())
		}
	}
	return quantity.Opt[quantity.Bore]{}
}

// holdUp is bore area times length.
func (p *propertyPanel) holdUp(r *model.Run) quantity.Opt[quantity.Volume] {
	bore, okB := p.bore(r).Get()
	length, okL := r.Length().Get()
	if !okB || !okL {
		return quantity.Opt[quantity.Volume]{}
	}
	return quantity.Some(quantity.Volume(catalogue.BoreArea(bore) * float64(length)))
}

// velocity says what the flow of the shown step makes in the run, where the
// whole of it passes.
func (p *propertyPanel) velocity(r *model.Run) string {
	step := p.on.shownStep()
	if step == nil {
		return "no step shown"
	}
	flow, ok := step.Flow.Get()
	if !ok {
		return "flow of the step unknown"
	}
	bore, ok := p.bore(r).Get()
	if !ok {
		return "size unknown"
	}
	switch p.on.lines.passes(r.ID) {
	case passesNothing:
		return "no flow in this step"
	case passesShare:
		return "a share of the flow"
	case passesUnknown:
		return "no route in this step"
	}
	return quantity.Text(quantity.Velocity(float64(flow)/catalogue.BoreArea(bore)), p.on.units())
}
