package network

import (
	"math"
	"slices"

	. "rinsewright/model/quantity"
)

// pools gathers the edges that keep liquid into bodies of liquid: two belong
// together where the point between them lies below the surface, and all that no
// drain is open to belongs together where it is joined.
func (d *drainage) pools() []Pool {
	g := d.p.rest
	taken := make([]bool, len(d.state))
	var out []Pool
	for first, s := range d.state {
		if s != held && s != trapped || taken[first] {
			continue
		}
		taken[first] = true
		edges := []int{first}
		for i := 0; i < len(edges); i++ {
			e := edges[i]
			for _, n := range [2]int{d.p.Edges[e].From, d.p.Edges[e].To} {
				if s == held && !(d.level[e] > d.height[n]+tolerance) {
					continue
				}
				for _, a := range g.Incident(n) {
					if f := int(a.Edge); !taken[f] && d.joins(e, f, n) {
						taken[f] = true
						edges = append(edges, f)
					}
				}
			}
		}
		slices.Sort(edges)
		if p := d.pool(edges, s == trapped); p.Volume != Some(Volume(0)) {
			out = append(out, p)
		}
	}
	return out
}

// joins says whether the liquid of edge e and that of edge f are one at node n.
func (d *drainage) joins(e, f, n int) bool {
	if d.state[e] != d.state[f] {
		return false
	}
	if d.state[f] == held {
		// Across a check valve liquid may stand at two levels.
		if d.level[e] != d.level[f] || !(d.level[f] > d.height[n]+tolerance) {
			return false
		}
	}
	return d.joined(e) && d.joined(f)
}

// joined says whether liquid passes an edge from end to end at rest. With no
// drain line-up at all nothing is known to be shut.
func (d *drainage) joined(e int) bool { return d.open[e] || len(d.trees) == 0 || d.p.Edges[e].Path < 0 }

// pool describes one body of liquid.
func (d *drainage) pool(edges []int, noDrain bool) Pool {
	p := Pool{Edges: edges, Lowest: d.lowest(edges), Over: -1, NoDrain: noDrain}
	if !noDrain {
		level := math.Inf(-1)
		for _, e := range edges {
			level = max(level, d.level[e])
		}
		p.Level = Some(Length(level))
		d.sill(&p, level)
	}
	sum, known := 0.0, true
	for _, e := range edges {
		v, missing := d.stays(e)
		if math.IsNaN(v) {
			known = false
			for _, m := range missing {
				if !slices.Contains(p.Missing, m) {
					p.Missing = append(p.Missing, m)
				}
			}
			continue
		}
		sum += v
	}
	if known {
		p.Volume = Some(Volume(sum))
	}
	return p
}

// lowest gives the lowest node of some edges from which their liquid would get
// out; of unknown heights, the first node.
func (d *drainage) lowest(edges []int) int {
	best := d.p.Edges[edges[0]].To
	for _, e := range edges {
		ends := []int{d.p.Edges[e].From, d.p.Edges[e].To}
		if d.p.rest.Edge(e).OneWay {
			ends = ends[1:]
		}
		for _, n := range ends {
			if z := d.height[n]; z < d.height[best] || math.IsNaN(d.height[best]) && !math.IsNaN(z) {
				best = n
			}
		}
	}
	return best
}

// sill follows the way out from the lowest point up to the point that the liquid
// would have to pass over.
func (d *drainage) sill(p *Pool, level float64) {
	n := p.Lowest
	if d.by[n] < 0 {
		return
	}
	tree := d.trees[d.by[n]]
	for {
		if d.height[n] >= level-1e-9 {
			p.Over = n
			return
		}
		e := tree.Parent[n]
		if e < 0 {
			p.Way = nil
			return
		}
		p.Way = append(p.Way, int(e))
		n = d.p.Other(int(e), n)
	}
}

// stays gives the m³ that stay in an edge; NaN, and what is missing, where that
// is unknown.
func (d *drainage) stays(e int) (float64, []Missing) {
	edge := &d.p.Edges[e]
	if edge.Path < 0 && d.state[e] == held {
		body, missing := body(d.p.Circuit.Part(edge.Part))
		if missing != nil {
			return nan, missing
		}
		return float64(body.At(Length(d.level[e] - d.height[edge.From]))), nil
	}
	v, known := edge.Volume.Get()
	if !known {
		return nan, edge.Missing
	}
	if d.state[e] == trapped {
		return float64(v), nil
	}
	return float64(v) * d.share(e), nil
}

// share gives how much of an edge lies below the liquid in it, along its axis.
func (d *drainage) share(e int) float64 {
	edge := &d.p.Edges[e]
	a, b := d.height[edge.From], d.height[edge.To]
	if a > b {
		a, b = b, a
	}
	if w := d.p.wayOf(e); b-a <= tolerance || w != nil && !w.tube {
		return 1
	}
	return min(1, max(0, (d.level[e]-a)/(b-a)))
}
