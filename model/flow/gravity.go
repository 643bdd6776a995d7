package flow

import (
	"math"

	"rinsewright/model/hydraulic"
	. "rinsewright/model/quantity"
)

// manning is the roughness n of Manning's formula for clean stainless tube, s/m^(1/3):
// 0.010, common practice, no source.
const manning = 0.010

// filled is the state of a tube that runs part-full.
type filled struct {
	area   float64 // of the liquid, m²
	radius float64 // hydraulic: area over wetted perimeter, m
	depth  float64 // over the bore
	slope  float64 // fall over length
}

// fullest is the depth over the bore at which a tube that runs part-full passes most:
// above it the flow falls, so that it rather fills.
const fullest = 0.938

// fillOf gives the state of a tube of a bore (m) that falls by a slope (m a m) while a
// flow (m³/s) runs through it by gravity, by Manning's formula
// Q = A R^(2/3) √S / n. It is not ok where the tube runs full.
func fillOf(flow, bore, slope float64) (filled, bool) {
	if !(slope > 0) || !(bore > 0) {
		return filled{}, false
	}
	at := func(depth float64) filled {
		angle := 2 * math.Acos(1-2*depth)
		area := bore * bore / 8 * (angle - math.Sin(angle))
		return filled{area, area / (bore * angle / 2), depth, slope}
	}
	passes := func(f filled) float64 {
		return f.area * math.Pow(f.radius, 2.0/3) * math.Sqrt(slope) / manning
	}
	low, high := 1e-6, fullest
	if passes(at(high)) < flow {
		return filled{}, false
	}
	for range 60 {
		mid := (low + high) / 2
		if passes(at(mid)) < flow {
			low = mid
		} else {
			high = mid
		}
	}
	return at(high), true
}

// runsPartFull says of a return by gravity alone that takes more than comes whether
// it runs part-full: every stretch of it falls and passes the flow with air above.
func (w *work) runsPartFull(s *section, taps []*tap, state []*Vessel) {
	for k := range state {
		if state[k].Balance != DrawsAir {
			return
		}
	}
	partly := map[int]filled{}
	deepest := 0.0
	for _, c := range s.chains {
		if len(c.links) == 0 {
			continue
		}
		q := s.flow(c)
		for i := range c.pieces {
			pc := &c.pieces[i]
			if pc.length == 0 || abs(q) < leastSplit {
				continue
			}
			edge := &w.p.Edges[pc.edge]
			from, to := edge.From, edge.To
			if (q > 0) != c.forward[i] {
				from, to = to, from
			}
			top, missing := w.z(from)
			bottom, missing2 := w.z(to)
			if missing != nil || missing2 != nil {
				return
			}
			if edge.Part != "" && top == bottom {
				continue // a few centimetres of a part
			}
			f, ok := fillOf(abs(q), pc.bore, (top-bottom)/pc.length)
			if !ok {
				return
			}
			partly[pc.edge] = f
			deepest = max(deepest, f.depth)
		}
	}
	if len(partly) == 0 {
		return
	}
	s.partly = partly
	for k := range state {
		state[k].PartFull, state[k].Filling = true, Some(Ratio(deepest))
	}
	w.assume(Assumption{What: "return by gravity", Value: "part-full after Manning, n 0.010", Basis: practice, Record: taps[0].end.record})
}

// reportFilled gives edges that run part-full their true velocity and wall shear, and
// their nodes the pressure of the gas above.
func (w *work) reportFilled(s *section) {
	if s.partly == nil {
		return
	}
	gas := gravityHead(s.draws()[0].end.gas, w.fluid)
	for _, c := range s.chains {
		for i := range c.pieces {
			e := c.pieces[i].edge
			for _, n := range [2]int{w.p.Edges[e].From, w.p.Edges[e].To} {
				if z, missing := w.z(n); missing == nil && !w.isVessel(n) {
					w.setHead(n, z+gas)
				}
			}
			f, ok := s.partly[e]
			if !ok {
				continue
			}
			edge := &w.sol.Edges[e]
			edge.PartFull = true
			edge.Velocity = Some(Velocity(float64(edge.Flow.Or(0)) / f.area))
			edge.Reynolds = Some(Ratio(abs(float64(edge.Velocity.Or(0))) * 4 * f.radius / w.fluid.Kinematic()))
			// The weight of the liquid down the slope rests on the wetted wall.
			edge.Shear = Some(Pressure(w.fluid.Density * hydraulic.StandardGravity * f.radius * f.slope))
		}
	}
}
