package network

import (
	"math"
	"slices"

	"rinsewright/model/graph"
	. "rinsewright/model/quantity"
)

// Draining finds what stays behind of the wetted edges when the plant is emptied
// through the drain line-ups, one after the other.
//
// Liquid at a point gets out if it can rise to the spill level there: the lowest
// possible highest point on the way to a drain. A drain is the mouth of a sewer
// drain or an open leak outlet that the line-up reaches, or the destination of its
// step. Of several line-ups the lower spill level holds. Check valves and
// positive-displacement pumps let nothing back; centrifugal pumps do.
//
// Heights are those of the tube axis. What lies more than 1 mm below its spill
// level stays: of a stretch, the share of its length that is lower, as if it were
// straight; of a vessel, the volume at that level; of a part with a hold-up and no
// length, all of it. An edge that is shut in every line-up is taken with the side that keeps more.
//
// h must be that of this plant and wetted have one entry per edge.
func (p *Plant) Draining(h *Heights, wetted []bool, drains []*LineUp) *Draining {
	d := newDrainage(p, h, wetted)
	for _, l := range drains {
		open := p.standing(l)
		d.through(open, p.ends(l, open, isDrain))
	}
	d.judge()
	out := &Draining{Spill: make([]Opt[Length], len(p.Nodes)), Drained: make([]bool, len(p.Nodes)), Toward: d.toward}
	for n := range out.Spill {
		out.Drained[n] = !math.IsInf(d.low[n], 1)
		if out.Drained[n] && d.low[n] == d.high[n] {
			out.Spill[n] = Some(Length(d.low[n]))
		}
	}
	out.Pools = d.pools()
	out.Vague, out.Missing = d.vague()
	out.Slopes = d.slopes()
	return out
}

// drainage is the work of one call of Draining, or of Venting with all heights
// turned upside down.
type drainage struct {
	p      *Plant
	h      *Heights
	wetted []bool
	height []float64 // by node; NaN unknown

	low, high []float64 // by node: bounds of the spill level
	toward    []int32   // by node
	by        []int32   // by node: line-up that gives the spill level, -1 for none
	trees     []*graph.Spill
	open      []bool // by edge: open in some line-up

	state []state   // by edge
	level []float64 // by edge: to which liquid stands, where held
}

type state uint8

const (
	empty   state = iota
	held          // some of it stays
	trapped       // no way leads to a drain
	unsure        // heights are missing
)

func newDrainage(p *Plant, h *Heights, wetted []bool) *drainage {
	n := len(p.Nodes)
	d := &drainage{
		p: p, h: h, wetted: wetted, height: slices.Repeat([]float64{nan}, n),
		low: slices.Repeat([]float64{math.Inf(1)}, n), high: slices.Repeat([]float64{math.Inf(1)}, n),
		toward: slices.Repeat([]int32{-1}, n), by: slices.Repeat([]int32{-1}, n), open: make([]bool, len(p.Edges)),
	}
	for i := range d.height {
		if z, ok := h.Of[i].Get(); ok {
			d.height[i] = float64(z)
		}
	}
	return d
}

// through lowers the spill levels to those of one more line-up.
func (d *drainage) through(open []bool, outs []int) {
	for e, o := range open {
		d.open[e] = d.open[e] || o
	}
	s := d.p.rest.Minimax(open, d.height, outs)
	k := int32(len(d.trees))
	d.trees = append(d.trees, s)
	for i := range d.low {
		// The better line-up is the one with the lower certain level, then the
		// lower possible one.
		better := s.High[i] < d.high[i] || s.High[i] == d.high[i] && s.Low[i] < d.low[i]
		if better || d.by[i] < 0 && !math.IsInf(s.Low[i], 1) {
			d.by[i], d.toward[i] = k, s.Parent[i]
		}
		d.low[i] = min(d.low[i], s.Low[i])
		d.high[i] = min(d.high[i], s.High[i])
	}
}

// standing is what standing liquid may pass in a line-up: the liquid of a vessel
// is one body then, whatever the step does with it.
func (p *Plant) standing(l *LineUp) []bool {
	open := make([]bool, len(l.Open))
	for e, o := range l.Open {
		open[e] = (o || p.Edges[e].Path < 0) && !p.dry[e]
	}
	return open
}

// ends gives the nodes with a mark, and the step's destination, that a line-up
// leaves open, in rising order.
func (p *Plant) ends(l *LineUp, open []bool, m mark) []int {
	var out []int
	for n := range p.Nodes {
		if !p.is(n, m) && n != l.Dest {
			continue
		}
		if slices.ContainsFunc(p.rest.Incident(n), func(a graph.Arc) bool { return open[a.Edge] }) {
			out = append(out, n)
		}
	}
	return out
}

// judge decides for each wetted edge whether liquid stays in it.
func (d *drainage) judge() {
	d.state = make([]state, len(d.p.Edges))
	d.level = make([]float64, len(d.p.Edges))
	for e := range d.p.Edges {
		if d.wetted[e] {
			d.state[e], d.level[e] = d.edge(e)
		}
	}
}

func (d *drainage) edge(e int) (state, float64) {
	u, v := d.p.Edges[e].From, d.p.Edges[e].To
	low, high := min(d.low[u], d.low[v]), min(d.high[u], d.high[v])
	switch {
	case !d.open[e] && d.p.Edges[e].Path >= 0:
		low, high = max(d.low[u], d.low[v]), max(d.high[u], d.high[v])
	case d.p.rest.Edge(e).OneWay:
		low, high = d.low[v], d.high[v]
	}
	if math.IsInf(low, 1) {
		return trapped, low
	}
	bottom := min(d.height[u], d.height[v]) // NaN if either is unknown
	switch {
	case low > bottom+tolerance && low == high:
		return held, low
	case high <= bottom+tolerance:
		return empty, 0
	}
	// With an unknown height the edge is still empty if nothing can hold liquid in
	// it; a bound that does not settle it leaves it open.
	return unsure, 0
}

// vague lists the edges that could not be judged and what is missing for them:
// the heights of the groups that lie on their way out.
func (d *drainage) vague() ([]int, []Missing) {
	var edges []int
	groups := make([]bool, len(d.h.Underived))
	seen := make([]bool, len(d.p.Nodes))
	note := func(n int) {
		for n >= 0 && !seen[n] {
			seen[n] = true
			if g := d.h.Group[n]; g >= 0 {
				groups[g] = true
			}
			e := d.toward[n]
			if e < 0 {
				return
			}
			n = d.p.Other(int(e), n)
		}
	}
	for e, s := range d.state {
		if s == unsure {
			edges = append(edges, e)
			note(d.p.Edges[e].From)
			note(d.p.Edges[e].To)
		}
	}
	var missing []Missing
	for g, m := range d.h.Underived {
		if groups[g] {
			missing = append(missing, m)
		}
	}
	return edges, missing
}

// upright is the share of rise to length above which a stretch counts as a
// vertical one, about 78°: its fall is not asked for.
const upright = 0.98

// slopes gives the fall of the wetted stretches towards the drain.
func (d *drainage) slopes() []Slope {
	var out []Slope
	for e := range d.p.Edges {
		length, ok := d.p.Edges[e].Length.Get()
		if !d.wetted[e] || d.p.Edges[e].Part != "" || !ok || length <= 0 {
			continue
		}
		rise, ok := d.p.rise(e)
		if !ok {
			rise = d.height[d.p.Edges[e].To] - d.height[d.p.Edges[e].From]
		}
		if math.IsNaN(rise) || math.Abs(rise) > upright*float64(length) {
			continue
		}
		if fall, ok := d.fall(e, rise); ok {
			out = append(out, Slope{Edge: e, Fall: fall / float64(length), Length: length})
		}
	}
	return out
}

// fall turns the rise of a stretch into the fall in the direction in which it
// drains. Where liquid leaves it at both ends it drains downhill.
func (d *drainage) fall(e int, rise float64) (float64, bool) {
	u, v := d.p.Edges[e].From, d.p.Edges[e].To
	switch {
	case d.toward[u] == int32(e):
		return -rise, true
	case d.toward[v] == int32(e):
		return rise, true
	case d.by[u] < 0 || d.by[v] < 0 || !d.open[e]:
		return 0, false
	}
	return math.Abs(rise), true
}
