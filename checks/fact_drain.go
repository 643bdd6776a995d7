package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

// drainings is how the circuit drains.
type drainings struct {
	*network.Draining
	lineUps []*network.LineUp
	told    bool   // there is a drain step; if not, every valve was taken as open
	wetted  []bool // by edge: what is to be drained
}

// Drainings tells what stays behind when the circuit is drained through the
// line-ups of its drain steps. Without a drain step every valve is taken as
// open, which flatters the circuit: what stays even then stays always. The
// liquid of storing tanks is meant to stay and is left out.
var Drainings = NewFact("draining", func(s *Snapshot) *drainings { return newDrainings(s).fill(s) }).
	keeping(func(f *Fact[*drainings], s *Snapshot) (*drainings, bool) {
		was, ok := f.was(s)
		if !ok || !changesOf.Of(s).shownOnly {
			return nil, false
		}
		if now := newDrainings(s); was.told != now.told || !slices.Equal(was.wetted, now.wetted) || !slices.EqualFunc(was.lineUps, now.lineUps, sameWays) {
			return now.fill(s), true
		}
		return was, true
	})

func newDrainings(s *Snapshot) *drainings {
	plant := Plant.Of(s)
	out := &drainings{told: true}
	for _, step := range s.Circuit.Steps() {
		if step.Purpose.Or("") == model.Drain {
			out.lineUps = append(out.lineUps, lineUps.Of(s).of[step])
		}
	}
	if len(out.lineUps) == 0 {
		out.told = false
		all := plant.LineUp(nil)
		for e := range all.Open {
			all.Open[e] = true
		}
		out.lineUps = []*network.LineUp{all}
	}
	out.wetted = append([]bool(nil), Wetted.Of(s)...)
	for _, part := range s.ofTrait(catalogue.TraitStorage) {
		for _, e := range plant.PartEdges(part.RecordID()) {
			out.wetted[e] = false
		}
	}
	return out
}

// fill finds what stays behind.
func (d *drainings) fill(s *Snapshot) *drainings {
	d.Draining = Plant.Of(s).Draining(Heights.Of(s), d.wetted, d.lineUps)
	return d
}

// sameWays says whether two line-ups of one plant open the same ways between the same
// ends.
func sameWays(a, b *network.LineUp) bool {
	return a == b || a.Source == b.Source && a.Dest == b.Dest && slices.Equal(a.Open, b.Open)
}

// ofTank says whether a body of liquid stands on the nozzle of a storing tank
// and so is held back with the tank's own liquid.
func (s *Snapshot) ofTank(pool network.Pool) bool {
	plant := Plant.Of(s)
	for _, e := range pool.Edges {
		for _, n := range [2]int{plant.Edges[e].From, plant.Edges[e].To} {
			if s.Has(s.partOfNode(n), catalogue.TraitStorage) {
				return true
			}
		}
	}
	return false
}

// drainWords tells under which line-up the circuit was drained.
func (d *drainings) words() string {
	if d.told {
		return "in the drain steps"
	}
	return "even with every valve open (no step drains)"
}
