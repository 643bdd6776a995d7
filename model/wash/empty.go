package wash

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// drain empties what the step's line-up lets run to a drain. What stands in a pool
// stays, the whole of each edge that is part of it. How long it takes is not computed.
func (s *sim) drain(r *Step) *failure {
	st := r.Step
	l := s.p.LineUp(st)
	r.Simulated, r.Time = true, st.Time.Or(0)
	if !st.Time.Known() {
		r.Missing = append(r.Missing, network.Missing{Record: st.ID, Key: "time_min"})
	}
	if t := s.tank(st.Source); t != nil {
		route := s.p.Route(l)
		if !route.Found {
			r.Simulated, r.Time = false, 0
			return &failure{why: route.Why, at: route.At}
		}
		r.Use.Drawn += Volume(t.holds[volume])
		s.ends(r, st.Destination, t.holds.take(math.Inf(1)))
	}
	wetted := make([]bool, len(s.p.Edges))
	for e := range wetted {
		wetted[e] = l.Open[e] && s.liquidIn(e) > 0
	}
	d := s.p.Draining(s.h, wetted, []*network.LineUp{l})
	stays := make([]bool, len(wetted))
	for _, pool := range d.Pools {
		for _, e := range pool.Edges {
			stays[e] = true
		}
	}
	for _, e := range d.Vague {
		stays[e] = true
	}
	if len(d.Missing) > 0 {
		r.Missing = append(r.Missing, d.Missing...)
		r.note(Say("what of the line drains is not known everywhere; there liquid is kept"))
	}
	for e := range wetted {
		edge := &s.p.Edges[e]
		if !wetted[e] || stays[e] || !d.Drained[edge.From] && !d.Drained[edge.To] {
			continue
		}
		s.empty(r, e, st.Destination)
	}
	s.assume("time of draining", "that of the step", practice, st.ID, "")
	return nil
}

// liquidIn is the liquid in an edge, m³.
func (s *sim) liquidIn(e int) float64 {
	edge := &s.p.Edges[e]
	if edge.Path < 0 {
		if t, ok := s.tanks[edge.Part]; ok {
			return t.holds[volume]
		}
		return 0
	}
	v := 0.0
	for _, a := range s.held[e] {
		v += a[volume] - a[air]
	}
	return v
}

// empty lets the liquid of an edge run to a destination; air takes its place.
func (s *sim) empty(r *Step, e int, to model.ID) {
	edge := &s.p.Edges[e]
	if edge.Path < 0 {
		if t, ok := s.tanks[edge.Part]; ok {
			s.ends(r, to, t.holds.take(math.Inf(1)))
		}
		return
	}
	var sum amount
	for i := range s.held[e] {
		sum.add(&s.held[e][i])
	}
	v := sum[volume]
	vent(&sum)
	s.ends(r, to, sum)
	if v > 0 {
		s.held[e] = []amount{airOf(v)}
	}
}

// blow pushes what stands on the way of the air to the destination.
func (s *sim) blow(r *Step) *failure {
	route := s.p.Route(s.p.LineUp(r.Step))
	if !route.Found {
		return &failure{why: route.Why, at: route.At}
	}
	t, ok := r.Step.Time.Get()
	if !ok {
		r.Missing = append(r.Missing, network.Missing{Record: r.Step.ID, Key: "time_min"})
	}
	r.Simulated, r.Time = true, t
	for e, in := range route.InFlow {
		if in && s.liquidIn(e) > 0 {
			s.empty(r, e, r.Step.Destination)
		}
	}
	s.assume("air-blow", "empties its route wholly", practice, r.Step.ID, "")
	return nil
}

// ends takes an amount to where it ends.
func (s *sim) ends(r *Step, to model.ID, a amount) {
	vent(&a)
	if a[volume] <= 0 {
		return
	}
	v := Volume(a[volume])
	u := &r.Use
	if t := s.tank(to); t != nil {
		t.holds.add(&a)
		s.spill(r, t)
		prepares := r.Step.Purpose == Some(model.Prepare)
		switch {
		case to == r.Step.Source && prepares:
			u.Returned += v
		case to == r.Step.Source:
			u.Returned += v
			s.circulated.add(&a)
		case prepares:
			u.Filled += v
		default:
			u.Recovered += v
			s.recovered.add(&a)
		}
		return
	}
	s.left.add(&a)
	if s.isSewer(to) {
		u.Sewer += v
	} else {
		u.Elsewhere += v
	}
}

// isSewer says whether a part is a drain; a leak outlet is one too.
func (s *sim) isSewer(id model.ID) bool {
	part := s.p.Circuit.Part(id)
	if part == nil {
		return false
	}
	if t, ok := part.(*model.Terminal); ok {
		return t.Medium.Or("") == model.Sewage
	}
	return part.Class() == model.ClassValve
}
