package edit

import (
	"cmp"
	"math"
	"slices"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

// Edge is a side, or a middle, to which parts are aligned.
type Edge int

const (
	EdgeLeft   Edge = iota // the leftmost symbol's left side
	EdgeCentre             // upright above or below the first part
	EdgeRight
	EdgeTop
	EdgeMiddle // level with the first part
	EdgeBottom
)

// Align brings parts to one side of their symbols: that of the one that lies
// farthest to it. By centre and middle their reference points, and so the ports
// of parts that stand in a line, come level with the first of them or upright
// above each other. What is mounted on a part goes with it and is not aligned by
// itself. Parts stay on the grid where they were on it.
func (d *Drawing) Align(ids []model.ID, edge Edge) model.Edit {
	units := d.units(ids)
	if len(units) < 2 {
		return model.Edit{}
	}
	side := func(u *unit) float64 {
		switch edge {
		case EdgeLeft:
			return u.box.Min.X
		case EdgeCentre:
			return u.at.X
		case EdgeRight:
			return -u.box.Max.X
		case EdgeTop:
			return u.box.Min.Y
		case EdgeMiddle:
			return u.at.Y
		}
		return -u.box.Max.Y
	}
	goal := side(&units[0])
	if edge != EdgeCentre && edge != EdgeMiddle {
		for i := range units {
			goal = min(goal, side(&units[i]))
		}
	}
	for i := range units {
		by := goal - side(&units[i])
		switch edge {
		case EdgeLeft, EdgeRight, EdgeTop, EdgeBottom:
			by = onGrid(by) // symbols differ in size by less than the grid
		}
		switch edge {
		case EdgeLeft, EdgeCentre:
			units[i].by.X = by
		case EdgeRight:
			units[i].by.X = -by
		case EdgeTop, EdgeMiddle:
			units[i].by.Y = by
		case EdgeBottom:
			units[i].by.Y = -by
		}
	}
	return d.arranged(units, "align "+d.names(ids))
}

// Distribute makes the gaps between the symbols of three parts or more alike,
// from left to right or from top to bottom; the outermost two stay. Parts come
// to the grid, so gaps may differ by its step.
func (d *Drawing) Distribute(ids []model.ID, level bool) model.Edit {
	units := d.units(ids)
	if len(units) < 3 {
		return model.Edit{}
	}
	span := func(u *unit) (lo, hi float64) {
		if level {
			return u.box.Min.X, u.box.Max.X
		}
		return u.box.Min.Y, u.box.Max.Y
	}
	slices.SortStableFunc(units, func(a, b unit) int {
		al, ah := span(&a)
		bl, bh := span(&b)
		return cmp.Or(cmp.Compare(al+ah, bl+bh), cmp.Compare(a.ids[0], b.ids[0]))
	})
	first, _ := span(&units[0])
	_, last := span(&units[len(units)-1])
	room := last - first
	for i := range units {
		lo, hi := span(&units[i])
		room -= hi - lo
	}
	gap := room / float64(len(units)-1)
	next := first
	for i := range units {
		lo, hi := span(&units[i])
		by := onGrid(next - lo)
		if i == 0 || i == len(units)-1 {
			by = 0
		}
		if level {
			units[i].by.X = by
		} else {
			units[i].by.Y = by
		}
		next += hi - lo + gap
	}
	return d.arranged(units, "distribute "+d.names(ids))
}

// onGrid gives the distance of whole steps of the grid nearest to one.
func onGrid(by float64) float64 { return math.Round(by/Grid) * Grid }

// unit is a part with what is mounted on it, and how far it is to go.
type unit struct {
	ids []model.ID // the part first
	at  model.Point
	box place.Rect
	by  model.Point
}

// units gives the parts among ids that are not mounted on another of them, in
// order.
func (d *Drawing) units(ids []model.ID) []unit {
	var out []unit
	mounted := map[model.ID]bool{}
	seen := map[model.ID]bool{}
	for _, id := range ids {
		if d.circuit.Part(id) == nil || seen[id] {
			continue
		}
		seen[id] = true
		all := d.WithMounted([]model.ID{id})
		for _, m := range all[1:] {
			mounted[m] = true
		}
		p := d.circuit.Part(id)
		out = append(out, unit{ids: all, at: p.Meta().At, box: d.Box(p)})
	}
	return slices.DeleteFunc(out, func(u unit) bool { return mounted[u.ids[0]] })
}

// arranged moves each unit its own way. The bends of a run go along where both
// its ends go the same way.
func (d *Drawing) arranged(units []unit, label string) model.Edit {
	f := d.draft()
	by := map[model.ID]model.Point{}
	var moved []model.ID
	for _, u := range units {
		if u.by == (model.Point{}) {
			continue
		}
		for _, id := range u.ids {
			if _, twice := by[id]; twice {
				continue
			}
			by[id] = u.by
			moved = append(moved, id)
			next := model.Clone(d.circuit.Part(id))
			next.Meta().At = next.Meta().At.Add(u.by)
			f.put(next)
		}
	}
	for _, r := range d.circuit.Runs() {
		from, ok1 := by[r.From.Part]
		to, ok2 := by[r.To.Part]
		if !ok1 || !ok2 || from != to || len(r.Bends) == 0 {
			continue
		}
		next := model.Clone(r)
		for i, b := range next.Bends {
			next.Bends[i] = b.Add(from)
		}
		f.put(next)
	}
	f.pullApart(moved)
	return f.edit(label)
}
