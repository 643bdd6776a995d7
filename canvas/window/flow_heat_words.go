package window

import (
	"fmt"

	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/heat"
	"rinsewright/model/quantity"
)

// titled is a text with what it tells of.
type titled struct{ title, text string }

// exchangerWords tells what an exchanger has to do and can do.
func (w *Window) exchangerWords(x *heat.Exchanger) string {
	s := w.system
	if x.Idle {
		return "nothing to do, the liquid comes at " + quantity.OptText(x.Inlet, s)
	}
	does := "heating"
	if x.Cools {
		does = "cooling"
	}
	return fmt.Sprintf("%s %s from %s to %s in one pass takes %s; it gives %s and reaches %s", does, quantity.OptText(x.Flow, s), quantity.OptText(x.Inlet, s), quantity.OptText(x.Asked, s),
		quantity.OptText(x.Needed, s), quantity.OptText(x.Gives, s), quantity.OptText(x.Reaches, s))
}

// exchangerMore tells what stands beneath an exchanger: its surface, its steam or cooling
// water, and what it could do.
func (w *Window) exchangerMore(x *heat.Exchanger) []titled {
	s := w.system
	var out []titled
	if x.Idle {
		return nil
	}
	if q, ok := x.OnceThrough.Get(); ok {
		out = append(out, titled{"One pass", "brings at most " + quantity.Text(q, s) + " from " + quantity.OptText(x.Inlet, s) + " to " + quantity.OptText(x.Asked, s)})
	}
	if x.MeanDifference.Known() {
		out = append(out, titled{"Surface", fmt.Sprintf("%s needed at %s mean difference, has %s", quantity.OptText(x.NeededArea, s), quantity.OptText(x.MeanDifference, s), quantity.OptText(x.Area, s))},
			titled{"Transfer", fmt.Sprintf("%s, %s transfer units, effectiveness %s", quantity.OptText(x.Conductance, s), quantity.OptText(x.TransferUnits, s), quantity.OptText(x.Effectiveness, s))})
	}
	if m := x.Steam; m != nil {
		out = append(out, w.steamWords(m)...)
	}
	if c := x.Cooling; c != nil {
		out = append(out, titled{"Cooling water", fmt.Sprintf("%s at %s, leaves at %s", quantity.OptText(c.Flow, s), quantity.OptText(c.Inlet, s), quantity.OptText(c.Outlet, s))})
	}
	return out
}

func (w *Window) steamWords(m *heat.Steam) []titled {
	s := w.system
	if m.Supply == "" {
		return []titled{{"Steam", "no supply of steam is joined to it"}}
	}
	text := quantity.OptText(m.Flow, s) + ", as much condensate"
	if hold, ok := m.Hold.Get(); ok {
		text += "; " + quantity.Text(hold, s) + " while it runs"
	}
	return []titled{{"Steam", text}, {"Steam side", fmt.Sprintf("%s gauge, %s absolute, condenses at %s", quantity.OptText(m.Gauge, s), quantity.OptText(m.Absolute, s), quantity.OptText(m.Saturation, s))}}
}

// warmUpWords tells how long a tank and its circuit take to get hot, and what gets hot.
func (w *Window) warmUpWords(u *heat.WarmUp) (time, content string) {
	s := w.system
	way := fmt.Sprintf("%s from %s to %s", nameOf(w.circuit().Record(u.Tank), w.cat), quantity.Text(u.From, s), quantity.Text(u.To, s))
	content = fmt.Sprintf("%s in the tank, %s in the circuit, %s of steel", quantity.OptText(u.Liquid, s), quantity.Text(u.Held, s), quantity.Text(u.Steel, s))
	if u.Never {
		return "never, it comes to " + quantity.OptText(u.Tends, s) + ": " + way, content
	}
	time = warmUpShort(u, s) + ": " + way
	if hot, ok := u.Outlet.Get(); ok && hot > u.To+heat.SteadyShort {
		time += "; that leaves the heater at up to " + quantity.Text(hot, s)
		if steady, ok := u.Steady.Get(); ok {
			time += ", held at " + quantity.Text(u.To, s) + " it takes " + quantity.Text(steady, s)
		}
	}
	return time, content
}

// runningWords tells the temperatures while the wash runs.
func (w *Window) runningWords(h *heat.State) string {
	lost := "more than " + quantity.Text(h.KnownLost, w.system)
	if p, ok := h.Lost.Get(); ok {
		lost = quantity.Text(p, w.system)
	}
	return fmt.Sprintf("%s leaves, %s at the end of the way, %s lost", degrees(h.Supplied, w.system), degrees(h.Back, w.system), lost)
}

// lossWords tells what a run or vessel loses.
func (w *Window) lossWords(l heat.Loss) string {
	text := quantity.OptText(l.Power, w.system)
	if length, ok := l.Length.Get(); ok && length > 0 {
		text += " along " + quantity.Text(length, w.system)
	}
	return text + ", " + insulation(l.Insulation, w.system)
}

// exchangerRows tell of a heater or cooler what it does in the step shown.
func (p *propertyPanel) exchangerRows(id model.ID) {
	w := p.on
	of := func(text func(x *heat.Exchanger) string) func() (string, bool) {
		return func() (string, bool) {
			h := w.heated()
			if h == nil {
				return "", false
			}
			for i := range h.Exchangers {
				if x := &h.Exchangers[i]; x.Exchanger == id {
					if x.Idle {
						return "nothing to do", true
					}
					return text(x), true
				}
			}
			return "", false
		}
	}
	u := p.on.units
	p.toldRow("Comes at", of(func(x *heat.Exchanger) string { return quantity.OptText(x.Inlet, u()) }))
	p.toldRow("Heat needed", of(func(x *heat.Exchanger) string { return quantity.OptText(x.Needed, u()) }))
	p.toldRow("Gives at most", of(func(x *heat.Exchanger) string { return quantity.OptText(x.Gives, u()) }))
	p.toldRow("Reaches", of(func(x *heat.Exchanger) string { return quantity.OptText(x.Reaches, u()) }))
	p.toldRow("In one pass", of(func(x *heat.Exchanger) string { return quantity.OptText(x.OnceThrough, u()) }))
	p.toldRow("Mean difference", of(func(x *heat.Exchanger) string { return quantity.OptText(x.MeanDifference, u()) }))
	p.toldRow("Area needed", of(func(x *heat.Exchanger) string { return quantity.OptText(x.NeededArea, u()) }))
	p.toldRow("Steam", of(func(x *heat.Exchanger) string {
		if x.Steam == nil {
			return "none"
		}
		return quantity.OptText(x.Steam.Flow, u())
	}))
	p.toldRow("While it runs", of(func(x *heat.Exchanger) string { return quantity.OptText(x.Holds, u()) }))
	p.toldRow("Tank hot after", of(func(*heat.Exchanger) string {
		return warmUpShort(w.heated().WarmUp, u())
	}))
}

// warmUpShort tells the time of warming alone.
func warmUpShort(u *heat.WarmUp, s quantity.System) string {
	switch {
	case u == nil:
		return "no tank to heat"
	case u.Never:
		return "never"
	case u.AtLeast && u.Time.Known():
		return "at least " + quantity.OptText(u.Time, s)
	}
	return quantity.OptText(u.Time, s)
}

// lossRow tells of a run or vessel what it loses in the step shown.
func (p *propertyPanel) lossRow(id model.ID) {
	p.toldRow("Heat lost", func() (string, bool) {
		h := p.on.heated()
		if h == nil {
			return "", false
		}
		if l, ok := p.on.lossOf(id); ok {
			text := quantity.OptText(l.Power, p.on.units())
			switch thick, told := l.Insulation.Get(); {
			case !told:
				text += ", as bare" // the whole is told in the Flow tab
			case thick == 0:
				text += ", bare"
			}
			return text, true
		}
		return "none", true
	})
}

// warmthOf tells the temperature of the liquid in a run.
func (p *propertyPanel) warmthOf(id model.ID) (string, bool) {
	h := p.on.heated()
	if h == nil {
		return "", false
	}
	return scene.Warmth(h, id, p.on.units())
}
