package edit

import (
	"math"
	"slices"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Move moves parts by a distance, with what is mounted on them (see
// [Drawing.WithMounted]). The bends and loose ends of a run move along
// when the whole run does: both its ends are on moved parts, or it is one of the
// ids or has one end on a moved part and the other loose. A run that is fixed
// at one end keeps its bends.
func (d *Drawing) Move(ids []model.ID, by model.Point) model.Edit {
	if by == (model.Point{}) {
		return model.Edit{}
	}
	all := d.WithMounted(ids)
	f := d.shifted(all, func(p model.Point) model.Point { return p.Add(by) }, nil)
	f.pullApart(all)
	return f.edit("move " + d.names(ids))
}

// WithMounted gives ids and the parts that are mounted on them: what hangs on a
// part by a run of no length and on nothing else (a spray device, a hatch, a
// level switch, a gauge), and the vents of a vessel.
func (d *Drawing) WithMounted(ids []model.ID) []model.ID {
	out := slices.Clone(ids)
	in := make(map[model.ID]bool, len(ids))
	for _, id := range ids {
		in[id] = true
	}
	for _, id := range ids {
		p := d.circuit.Part(id)
		if p == nil {
			continue
		}
		for _, r := range d.circuit.RunsAt(id) {
			there := r.To
			if there.Part == id {
				there = r.From
			}
			if q := d.circuit.Part(there.Part); q != nil && !in[there.Part] && d.mounted(r, p, q) {
				in[there.Part] = true
				out = append(out, there.Part)
			}
		}
	}
	return out
}

// longestVent is how long in m a tube may be by which a vent still counts as
// mounted on its vessel.
const longestVent = 1.0

// mounted says whether part q hangs on part p by a run.
func (d *Drawing) mounted(r *model.Run, p, q model.Part) bool {
	k := d.kindOf(q)
	if k == nil || len(k.Ports) != 1 && q.Class() != model.ClassSpray || q.Class() == model.ClassVessel {
		return false
	}
	if pk := d.kindOf(p); pk == nil || len(pk.Ports) == 1 {
		return false
	}
	if noLength(r) {
		return true
	}
	length, known := r.Length().Get()
	return p.Class() == model.ClassVessel && k.Has(catalogue.TraitVent) && known && float64(length) <= longestVent
}

// pullApart makes unknown again the length of runs that joined two ports face to
// face, where one of the two has been moved away, and none where they have come
// back.
func (f *draft) pullApart(moved []model.ID) {
	for _, id := range moved {
		for _, r := range f.circuit.RunsAt(id) {
			now := f.run(r.ID)
			if now == nil || now.From != r.From || now.To != r.To || !noLength(now) && len(now.Stretches) > 0 {
				continue
			}
			before, after := f.faced(f.circuit, r), f.faced(f.after().circuit, r)
			if before == after || after == noLength(now) {
				continue
			}
			next := model.Clone(now)
			next.Stretches = nil
			if after {
				next.Stretches = ofNoLength()
			}
			f.put(next)
		}
	}
}

// faced says whether the ends of a run lie at one place in a circuit.
func (d *Drawing) faced(c *model.Circuit, r *model.Run) bool {
	a, okA := place.EndOf(c, d.cat, r.From)
	b, okB := place.EndOf(c, d.cat, r.To)
	return okA && okB && samePlace(a.At, b.At)
}

// Turn turns parts by quarter turns clockwise, several about their common
// centre, which is taken to the grid, one about its own reference point.
func (d *Drawing) Turn(ids []model.ID, quarters model.Turn) model.Edit {
	quarters = (quarters%4 + 4) % 4
	if quarters == 0 {
		return model.Edit{}
	}
	c := d.pivot(ids)
	f := d.shifted(d.WithMounted(ids), func(p model.Point) model.Point {
		return model.Turned(p.Sub(c), quarters, false).Add(c)
	}, func(m *model.Item) {
		m.Turn = (m.Turn + quarters) % 4
		m.Label = changedLabel(m.Label, func(p model.Point) model.Point { return model.Turned(p, quarters, false) })
	})
	return f.edit("turn " + d.names(ids))
}

// Mirror mirrors parts left to right as they lie on the drawing, about the same
// centre as [Drawing.Turn].
func (d *Drawing) Mirror(ids []model.ID) model.Edit {
	c := d.pivot(ids)
	f := d.shifted(d.WithMounted(ids), func(p model.Point) model.Point {
		return model.Point{X: 2*c.X - p.X, Y: p.Y}
	}, func(m *model.Item) {
		// Mirroring what is turned by t is turning the mirrored by -t.
		m.Turn, m.Mirrored = (4-m.Turn%4)%4, !m.Mirrored
		m.Label = changedLabel(m.Label, func(p model.Point) model.Point { return model.Point{X: -p.X, Y: p.Y} })
	})
	return f.edit("mirror " + d.names(ids))
}

// Upset mirrors parts top to bottom as they lie on the drawing, about the same
// centre as [Drawing.Turn].
func (d *Drawing) Upset(ids []model.ID) model.Edit {
	c := d.pivot(ids)
	f := d.shifted(d.WithMounted(ids), func(p model.Point) model.Point {
		return model.Point{X: p.X, Y: 2*c.Y - p.Y}
	}, func(m *model.Item) {
		// As mirroring left to right, and then half a turn.
		m.Turn, m.Mirrored = (6-m.Turn%4)%4, !m.Mirrored
		m.Label = changedLabel(m.Label, func(p model.Point) model.Point { return model.Point{X: p.X, Y: -p.Y} })
	})
	return f.edit("turn " + d.names(ids) + " upside down")
}

// changedLabel takes the place of a tag that was put by hand along.
func changedLabel(label *model.Point, change func(model.Point) model.Point) *model.Point {
	if label == nil {
		return nil
	}
	to := change(*label)
	return &to
}

// pivot gives the point about which parts are turned.
func (d *Drawing) pivot(ids []model.ID) model.Point {
	var parts []model.Part
	low, high := model.Point{X: math.Inf(1), Y: math.Inf(1)}, model.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, id := range ids {
		if p := d.circuit.Part(id); p != nil {
			parts = append(parts, p)
			at := p.Meta().At
			low = model.Point{X: min(low.X, at.X), Y: min(low.Y, at.Y)}
			high = model.Point{X: max(high.X, at.X), Y: max(high.Y, at.Y)}
		}
	}
	switch len(parts) {
	case 0:
		return Snapped(d.Bounds(ids...).Centre())
	case 1:
		return parts[0].Meta().At
	}
	return Snapped(scaled(low.Add(high), 0.5))
}

// shifted moves all points of parts and their runs by a function.
func (d *Drawing) shifted(ids []model.ID, shift func(model.Point) model.Point, turn func(*model.Item)) *draft {
	f := d.draft()
	chosen := map[model.ID]bool{}
	var touched []model.ID // runs
	for _, id := range ids {
		switch r := d.circuit.Record(id).(type) {
		case model.Part:
			if chosen[id] {
				continue
			}
			next := model.Clone(r)
			m := next.Meta()
			m.At = shift(m.At)
			if turn != nil {
				turn(m)
			}
			f.put(next)
			for _, run := range d.circuit.RunsAt(id) {
				touched = append(touched, run.ID)
			}
		case *model.Run:
			touched = append(touched, id)
		}
		chosen[id] = true
	}
	slices.Sort(touched)
	for _, id := range slices.Compact(touched) {
		r := d.circuit.Run(id)
		goes := func(e model.End) bool { return e.Loose() || chosen[e.Part] }
		if !goes(r.From) || !goes(r.To) || len(r.Bends) == 0 && !r.From.Loose() && !r.To.Loose() {
			continue
		}
		next := model.Clone(r)
		for i, b := range next.Bends {
			next.Bends[i] = shift(b)
		}
		next.From, next.To = shiftedEnd(r.From, shift), shiftedEnd(r.To, shift)
		f.put(next)
	}
	return f
}

func shiftedEnd(e model.End, shift func(model.Point) model.Point) model.End {
	if e.Loose() && e.At != nil {
		at := shift(*e.At)
		e.At = &at
	}
	return e
}
