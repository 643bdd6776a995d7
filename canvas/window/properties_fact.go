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
