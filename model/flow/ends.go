package flow

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// findEnd notes what holds the head at a node of a live edge, if anything does.
func (w *work) findEnd(e, n int) {
	if !w.isEnd(n) {
		return
	}
	node := w.p.Nodes[n]
	vessel, inVessel := w.p.PartOfNode(n).(*model.Vessel)
	if inVessel && w.isVessel(n) && !isDraw(node) {
		w.addMouth(e, n, vessel)
		return
	}
	if w.ends[n] != nil {
		return
	}
	x := &end{node: n, record: node.Part}
	w.ends[n] = x
	var z float64
	z, x.missing = w.z(n)
	x.level = z
	if n == w.route.LineUp.Source {
		x.kind = endSource
	}
	switch {
	case inVessel:
		w.drawn(x, z, vessel)
	case node.Role == catalogue.RoleAir:
	default:
		if t, ok := w.p.PartOfNode(n).(*model.Terminal); ok {
			w.atTerminal(x, t)
		}
	}
}

// drawn sets the level that liquid is drawn from.
func (w *work) drawn(x *end, z float64, v *model.Vessel) {
	x.gas = w.gas(v)
	if w.through[v.ID] && x.kind != endSource && v.ID != w.step.Source && v.ID != w.step.Destination {
		x.kind = endDraw
		return
	}
	level, told := v.Level.Get()
	if !told && x.kind != endSource {
		w.assume(Assumption{What: "level in the vessel", Value: "empty down to its outlet", Basis: "the step does not lead through it", Record: v.ID, Key: "level_m"})
	} else if !told {
		height, known := v.Height.Get()
		if !known {
			x.missing = append(x.missing, network.Missing{Record: v.ID, Key: "level_m"})
			return
		}
		level = height / 2
		w.assume(Assume(Say("%v, half its height", level), Assumption{What: "level in the source", Basis: practice, Record: v.ID, Key: "level_m"}))
	}
	if height, known := v.Height.Get(); known && level > height {
		w.fail(model.PlaceOf(v.ID), "the level in %s stands %v above its outlet, its inside is %v high", w.name(v.ID), level, height)
		x.broken = true
		return
	}
	x.level = z + float64(level)
}

// gas gives the pressure above the liquid of a vessel.
func (w *work) gas(v *model.Vessel) Pressure {
	p, told := v.GasPressure.Get()
	if !told {
		basis := "the vessel is vented"
		if vented, known := v.Vented.Get(); !known || !vented {
			basis = "taken as open to air; " + practice
		}
		w.assume(Assume(Say("%v gauge", Pressure(0)), Assumption{What: "gas pressure in the vessel", Basis: basis, Record: v.ID, Key: "gas_bar"}))
	}
	return p
}

// addMouth makes the open mouth of an inlet: a node of its own at the height of the
// nozzle, or at the liquid's level where that stands higher.
func (w *work) addMouth(e, inside int, v *model.Vessel) {
	if _, twice := w.inlets[e]; twice {
		return
	}
	nozzle := w.p.Other(e, inside)
	m := mouth{edge: e, vessel: v.ID, inside: inside}
	m.node, m.record, m.gas = len(w.p.Nodes)+len(w.mouths), v.ID, w.gas(v)
	m.level, m.missing = w.z(nozzle)
	if !w.through[v.ID] {
		if level, told := v.Level.Get(); told {
			if z, missing := w.z(inside); missing == nil {
				m.level = max(m.level, z+float64(level))
			}
		}
	}
	w.inlets[e] = m.node
	w.mouths = append(w.mouths, m)
}

// opensToAir says whether a terminal is an open mouth, not one under a told pressure.
func (w *work) opensToAir(t *model.Terminal, edge *network.Edge) bool {
	kind := w.p.Catalogue.Kind(t.Kind)
	if kind.Has(catalogue.TraitSewer) {
		return true
	}
	return !kind.Has(catalogue.TraitSupply) && !t.Pressure.Known()
}

func (w *work) atTerminal(x *end, t *model.Terminal) {
	kind := w.p.Catalogue.Kind(t.Kind)
	p, told := t.Pressure.Get()
	switch {
	case kind.Has(catalogue.TraitSewer):
	case told:
		x.gas = p
	case kind.Has(catalogue.TraitSupply):
		x.missing = append(x.missing, network.Missing{Record: t.ID, Key: "pressure_bar"})
	default:
		w.assume(Assume(Say("%v gauge, an open outlet", Pressure(0)), Assumption{What: "pressure at the terminal", Basis: practice, Record: t.ID, Key: "pressure_bar"}))
	}
}
