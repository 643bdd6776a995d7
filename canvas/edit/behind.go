package edit

import (
	"cmp"
	"fmt"
	"slices"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

// How far a part that is placed behind another stands off, in mm of run, at
// least and at most.
const (
	leastBehind = 15.0
	mostBehind  = 120.0
)

// PlaceBehind adds a part of a kind behind another part, turned so that the two
// face each other, and joins them by a run: an outlet to an inlet rather than
// ports that are either. It takes the nearest place where no other part stands.
func (d *Drawing) PlaceBehind(kind string, after model.ID) (model.Edit, error) {
	k, err := d.kindNamed(kind)
	if err != nil {
		return model.Edit{}, err
	}
	before := d.circuit.Part(after)
	if before == nil {
		return model.Edit{}, fmt.Errorf("there is no part %s", after)
	}
	type pair struct {
		from place.Port
		to   int // of the kind's ports
		cost float64
	}
	var pairs []pair
	for _, p := range place.Ports(before, d.kindOf(before)) {
		if !d.PortFree(after, p.Name) {
			continue
		}
		for i, q := range k.Ports {
			if p.Service != q.Service {
				continue
			}
			cost := wrongWay(p.Role, "out") + wrongWay(q.Role, "in")
			if !p.Required {
				cost += 5
			}
			if !q.Required {
				cost += 5
			}
			pairs = append(pairs, pair{p, i, cost})
		}
	}
	if len(pairs) == 0 {
		return model.Edit{}, fmt.Errorf("%s has no free port that a %s could be joined to", d.name(before), lowerFirst(k.Title))
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return cmp.Compare(a.cost, b.cost) })
	best := pairs[0]
	f := d.draft()
	p, err := k.New(f.newID("p"), model.Point{})
	if err != nil {
		return model.Edit{}, err
	}
	m := p.Meta()
	m.Tag = f.nextTag(k.Prefix)
	face := best.from.Faces
	for turn := range model.Turn(4) {
		m.Turn, m.At = turn, model.Point{}
		if at := place.Ports(p, k)[best.to]; at.Faces.X == -face.X && at.Faces.Y == -face.Y {
			break
		}
	}
	inlet := place.Ports(p, k)[best.to].Place
	for gap := leastBehind; ; gap += 2 * Grid {
		m.At = best.from.Place.Add(scaled(face, gap)).Sub(inlet)
		if gap >= mostBehind || !d.crowded(place.Box(p, k).Grown(Grid), after) {
			break
		}
	}
	f.put(p)
	r := &model.Run{ID: f.newID("r")}
	if err := f.connect(r, OnPort(after, best.from.Name), OnPort(m.ID, k.Ports[best.to].Name)); err != nil {
		return model.Edit{}, err
	}
	return f.edit("place " + d.called(k, m.Tag) + " behind " + d.name(before)), nil
}

// crowded says whether a part other than one stands in a box.
func (d *Drawing) crowded(box place.Rect, but model.ID) bool {
	for _, p := range d.circuit.Parts() {
		if p.Class() != model.ClassFrame && p.RecordID() != but && d.Box(p).Touches(box) {
			return true
		}
	}
	return false
}

// Reverse turns runs round: what was their To end becomes their From end, with
// stretches, rises and bends to match.
func (d *Drawing) Reverse(ids []model.ID) model.Edit {
	f := d.draft()
	for _, id := range ids {
		if r := d.circuit.Run(id); r != nil {
			f.put(reversed(model.Clone(r)))
		}
	}
	return f.edit("turn " + d.names(ids) + " round")
}
