package scene

import (
	"cmp"
	"slices"

	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/network"
)

// drain shows what of the wet parts is open to a drain and the way on to it, each
// edge with the way in which it empties, and as standing what no way leads out of. Wet is what the
// other steps of the programme wet before; where there is none, all that is
// open to a drain.
func (s *scene) drain() {
	left := s.left()
	wetted := make([]bool, len(left))
	some := false
	for e, m := range left {
		wetted[e] = m.wet
		some = some || m.wet
	}
	d := s.plant.Draining(s.plant.Heights(), wetted, []*network.LineUp{s.lineUp})
	for e := range wetted {
		edge := &s.plant.Edges[e]
		shut := edge.Path >= 0 && !s.lineUp.Open[e] // the liquid of a vessel is one body, whatever flows
		out := !shut && !s.plant.Dry(e) && (d.Drained[edge.From] || d.Drained[edge.To])
		switch {
		case out && (wetted[e] || !some):
			medium := s.step.Medium.Or(left[e].medium)
			s.put(e, falling(d, e, edge), medium)
			s.onward(d, edge.From, medium)
			s.onward(d, edge.To, medium)
		case wetted[e]:
			s.put(e, draw.Still, left[e].medium)
		}
	}
}

// onward shows the way from a node to its drain.
func (s *scene) onward(d *network.Draining, n int, medium model.Medium) {
	for e := int(d.Toward[n]); e >= 0; e = int(d.Toward[n]) {
		if f := s.flow[e]; f != draw.Dry && f != draw.Still {
			return // and so the rest of its way
		}
		s.put(e, falling(d, e, &s.plant.Edges[e]), medium)
		n = s.plant.Other(e, n)
	}
}

// falling gives the way in which an edge empties; a summit empties to both ends.
func falling(d *network.Draining, e int, edge *network.Edge) draw.Flow {
	switch {
	case int(d.Toward[edge.From]) == e:
		return draw.Forward
	case int(d.Toward[edge.To]) == e:
		return draw.Backward
	}
	return draw.Undecided
}

// leftover is what the steps before have left in an edge.
type leftover struct {
	wet    bool
	medium model.Medium // of the last of them
}

// left gives, by edge, what the steps of the programme leave behind: those before
// this one, or all others if it is the first.
func (s *scene) left() []leftover {
	out := make([]leftover, len(s.plant.Edges))
	for _, step := range s.before() {
		r := s.plant.Route(s.plant.LineUp(step))
		for e, wet := range r.Wet {
			if wet {
				out[e] = leftover{true, step.Medium.Or(out[e].medium)}
			}
		}
	}
	return out
}

func (s *scene) before() []*model.Step {
	var before, others []*model.Step
	for _, o := range s.plant.Circuit.Steps() {
		if o.Programme != s.step.Programme || o.ID == s.step.ID || o.Purpose.Or("") == model.Drain {
			continue
		}
		others = append(others, o)
		if o.Order < s.step.Order {
			before = append(before, o)
		}
	}
	if len(before) == 0 {
		before = others
	}
	slices.SortStableFunc(before, func(a, b *model.Step) int { return cmp.Compare(a.Order, b.Order) })
	return before
}
