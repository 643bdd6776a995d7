package wash

import (
	"rinsewright/model/fluid"
	. "rinsewright/model/quantity"
)

// tellBoiling notes the vented vessels whose content came to where water boils under the
// air: what boils off, and the heat that goes with it, is not reckoned. Solutions boil a
// little above water, so the note comes early rather than late.
func (s *sim) tellBoiling(c *circulation, r *Step) {
	atm := s.opt.Flow.Atmosphere
	if !(atm > 0) {
		atm = fluid.Atmosphere
	}
	boils, err := fluid.SaturatedAt(atm)
	if err != nil {
		return // an atmosphere that no table knows
	}
	for _, t := range s.order {
		on := t.id == r.Step.Source || t.id == r.Step.Destination
		for i := range c.elements {
			b := c.elements[i].bowl
			on = on || b != nil && b.id == t.id
		}
		if on && t.vessel.Vented.Or(false) && t.holds[volume] > 0 && t.holds.celsius() >= boils.Temperature.Celsius() {
			r.note(Say("%s is vented and comes to %v: water boils at %v there, which is not reckoned; hot liquid and steam scald", s.name(t.id), Celsius(t.holds.celsius()), boils.Temperature))
		}
	}
}
