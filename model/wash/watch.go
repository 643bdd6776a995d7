package wash

import (
	"math"

	. "rinsewright/model/quantity"
)

// watch looks at the last point of a step: when strength and temperature come, and how
// long the mixed phase takes.
type watch struct {
	c        *circulation
	r        *Step
	spot     spot
	set      float64 // °C; NaN: not asked
	margin   float64
	chemical int
	strength float64

	tells  int // part of an amount by which the liquids are told apart, or -1
	x0, x1 float64
	t, x   float64
	ended  bool
}

func (c *circulation) watch(r *Step, list []place) *watch {
	w := &watch{c: c, r: r, set: math.NaN(), margin: float64(c.s.opt.Margin), chemical: chemicalIn(c.step), tells: -1}
	if len(list) == 0 {
		w.ended = true
		r.Interface.Why = "nothing on the way tells the return"
		return w
	}
	last := c.lastPoint(list)
	r.Return, w.spot = last.at, last.spot
	if k, ok := stepTemperature(c.step); ok && c.heated() {
		w.set = k
	}
	w.strength = float64(c.step.Strength.Or(0))
	w.choose()
	return w
}

// choose finds what tells the new liquid from the one before.
func (w *watch) choose() {
	here, _ := w.c.at(w.spot)
	var comes *amount
	for k := range w.c.nodes {
		n := &w.c.nodes[k]
		switch {
		case !n.isSource || comes != nil:
		case n.drawn != nil:
			a := n.drawn.holds
			comes = &a
		case n.supply != nil:
			a := w.c.supplied(n.supply, 1)
			comes = &a
		}
	}
	i := &w.r.Interface
	switch {
	case comes == nil:
		i.Why = "nothing flows in"
		return
	case here.share(air) > 0.5:
		i.Why = "the line held air"
		return
	}
	for _, t := range []struct {
		part  int
		of    string
		least float64
	}{{alkali, "alkali", 1e-4}, {acid, "acid", 1e-4}, {disinfect, "disinfectant", 1e-5}, {phosphoric, "acid", 1e-4}, {product, "product", 0.1}, {recovered, "recovered water", 0.1}} {
		x0, x1 := w.value(here, t.part), w.value(comes, t.part)
		if math.Abs(x1-x0) > t.least && math.Abs(x1-x0) > math.Abs(w.x1-w.x0) {
			w.tells, w.x0, w.x1, i.Of = t.part, x0, x1, t.of
		}
	}
	if w.tells < 0 {
		i.Why = "the two liquids cannot be told apart"
		return
	}
	w.x = 0
}

func (w *watch) value(a *amount, part int) float64 {
	if part == product || part == recovered {
		return a.share(part)
	}
	return a.solute(part)
}

// look notes what is reached after t seconds of the step.
func (w *watch) look(t float64) {
	if w.ended {
		return
	}
	a, _ := w.c.at(w.spot)
	r := w.r
	if !r.ReachedHeat.Known() && !math.IsNaN(w.set) && a.celsius() >= w.set-w.margin {
		r.ReachedHeat = Some(Duration(t))
	}
	if !r.ReachedStrength.Known() && w.chemical >= 0 && w.strength > 0 && a.solute(w.chemical) >= reachedShare*w.strength {
		r.ReachedStrength = Some(Duration(t))
	}
	if w.tells >= 0 && !r.Interface.To.Known() {
		x := (w.value(a, w.tells) - w.x0) / (w.x1 - w.x0)
		w.pass(&r.Interface.From, 0.1, x, t)
		w.pass(&r.Interface.To, 0.9, x, t)
		w.x = x
	}
	w.t = t
}

// pass notes when a share is passed, between the last look and this one.
func (w *watch) pass(at *Opt[Duration], share, x, t float64) {
	if at.Known() || x < share {
		return
	}
	moment := t
	if x > w.x {
		moment = w.t + (t-w.t)*max(0, share-w.x)/(x-w.x)
	}
	*at = Some(Duration(moment))
}

func (w *watch) finish() {
	if w.ended {
		return
	}
	a, q := w.c.at(w.spot)
	r := w.r
	if t := a.celsius(); !math.IsNaN(t) {
		r.ReturnTemperature = Some(Celsius(t))
	}
	r.ReturnAt25 = w.c.s.conductivity(a, 25)
	if w.chemical >= 0 {
		r.ReturnStrength = Some(Strength(a.solute(w.chemical)))
	} else if a[mass] > 0 {
		_, x := w.c.s.classify(a)
		if x < 1e-12 {
			x = 0 // nothing could measure it
		}
		r.ReturnStrength = Some(Strength(x))
	}
	i := &r.Interface
	from, okFrom := i.From.Get()
	to, okTo := i.To.Get()
	switch {
	case okFrom && okTo:
		i.Volume = Some(Volume(q * float64(to-from)))
	case w.tells >= 0:
		i.Why = "nine tenths of the change did not come within the step"
	}
}
