package network

import "rinsewright/model/graph"

// wet marks what liquid reaches: all that flows, and all that stands beside it
// behind open ways. Liquid that reaches a vessel in which nothing flows stays
// there, as does that which has come to its destination.
func (p *Plant) wet(r *Route, open []bool) {
	l := r.LineUp
	if l.Source < 0 || p.givesDry(l.Source) {
		return
	}
	stop := make([]bool, len(p.Nodes))
	for n, m := range p.mark {
		stop[n] = m&isVessel != 0
	}
	from := []int{l.Source}
	seen := make([]bool, len(p.Nodes))
	for e, in := range r.InFlow {
		if !in {
			continue
		}
		for _, n := range [2]int{p.Edges[e].From, p.Edges[e].To} {
			stop[n] = false
			if !seen[n] {
				seen[n] = true
				from = append(from, n)
			}
		}
	}
	stop[l.Source] = false
	if l.Dest >= 0 {
		stop[l.Dest] = true
		from = without(from, l.Dest)
	}
	reached := p.rest.Reach(open, from, graph.Downstream, stop)
	for e := range r.Wet {
		if r.InFlow[e] {
			r.Wet[e] = true
			continue
		}
		g := p.rest.Edge(e)
		from, to := reached[g.U] && !stop[g.U], reached[g.V] && !stop[g.V]
		r.Wet[e] = open[e] && (from || to && !g.OneWay)
	}
}

func without(list []int, x int) []int {
	out := list[:0]
	for _, v := range list {
		if v != x {
			out = append(out, v)
		}
	}
	return out
}

// Wetted gives, by edge, whether liquid reaches it in any of the routes.
func (p *Plant) Wetted(routes []*Route) []bool {
	out := make([]bool, len(p.Edges))
	for _, r := range routes {
		for e, wet := range r.Wet {
			out[e] = out[e] || wet
		}
	}
	return out
}
