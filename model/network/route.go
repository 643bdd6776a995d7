package network

import (
	"rinsewright/model"
	"rinsewright/model/graph"
)

// Route finds how liquid flows in a line-up: every edge on some way from the
// step's source to its destination, and where liquid reaches beside it.
//
// The ways are those of [graph.Graph.Between], where also stands what is not
// decided about one-way parts inside a loop. Liquid in a vessel leaves it through
// ports of role "out" and "any"; it does not pass ports for steam, condensate or
// air, nor an overflow. If the source itself gives steam or air, then nothing
// is wet.
func (p *Plant) Route(l *LineUp) *Route {
	n := len(p.Edges)
	r := &Route{LineUp: l, InFlow: make([]bool, n), Whole: make([]bool, n), Forward: make([]int8, n), Wet: make([]bool, n)}
	open := p.passable(l)
	if l.Source >= 0 && l.Dest >= 0 && l.Source != l.Dest {
		chain := p.flow.Between(open, l.Source, l.Dest)
		r.follow(p, chain)
	}
	if !r.Found {
		p.explain(r, open)
	} else {
		r.Ways = p.shortest(r.InFlow, l.Source, l.Dest)
	}
	p.wet(r, open)
	return r
}

// passable is what liquid may pass in a line-up; what air may, from a source of air.
func (p *Plant) passable(l *LineUp) []bool {
	open := make([]bool, len(l.Open))
	air := l.Source >= 0 && p.givesDry(l.Source)
	for e, o := range l.Open {
		open[e] = o && (air || !p.dry[e])
	}
	return open
}

// givesDry says whether a node belongs to a terminal whose ports are all dry.
func (p *Plant) givesDry(node int) bool {
	for _, a := range p.flow.Incident(node) {
		if !p.dry[a.Edge] {
			return false
		}
	}
	return len(p.flow.Incident(node)) > 0
}

func (r *Route) follow(p *Plant, c *graph.Chain) {
	r.Found = c.Connected
	if r.Found {
		copy(r.Forward, c.Along)
	}
	for e := range r.InFlow {
		r.InFlow[e] = c.Contains(e)
		r.Whole[e] = c.CarriesAll(e)
	}
	for _, e := range c.Against {
		if p.Edges[e].OneWay || !r.Found {
			r.WrongWay = append(r.WrongWay, e)
		}
	}
}

// explain says why a route was not found.
func (p *Plant) explain(r *Route, open []bool) {
	l := r.LineUp
	switch {
	case l.Step == nil:
		r.Why = "no step says where the liquid comes from and goes to"
	case l.Step.Source == "":
		r.Why = "the step names no source"
	case l.Source < 0:
		r.Why = p.missing("source", l.Step.Source)
	case l.Step.Destination == "":
		r.Why = "the step names no destination"
	case l.Dest < 0:
		r.Why = p.missing("destination", l.Step.Destination)
	case l.Source == l.Dest:
		r.Why = "source and destination are the same"
	case len(r.WrongWay) > 0:
		r.Why = "one-way parts stand against the flow: " + p.names(r.WrongWay)
		r.At = p.placeOfEdge(r.WrongWay[0])
	default:
		if r.Shut = p.shut(l, open); len(r.Shut) > 0 {
			r.Why = "shut on the way: " + p.names(r.Shut)
			r.At = p.placeOfEdge(r.Shut[0])
		} else {
			p.whyNot(r, open)
		}
	}
}

func (p *Plant) placeOfEdge(e int) model.Place {
	if id := p.Edges[e].Part; id != "" {
		return model.PlaceOf(id)
	}
	return model.PlaceOf(p.Edges[e].Run)
}

func (p *Plant) missing(what string, id model.ID) string {
	if p.Circuit.Part(id) == nil {
		return "the " + what + " " + string(id) + " is not in the circuit"
	}
	return "the " + what + " " + p.name(id) + " is of an unknown kind"
}

// names lists the parts of some edges, each once.
func (p *Plant) names(edges []int) string {
	out, last := "", model.ID("")
	for _, e := range edges {
		id := p.Edges[e].Part
		if id == last {
			continue
		}
		if out != "" {
			out += ", "
		}
		out += p.name(id)
		last = id
	}
	return out
}

// shortest gives the edges of the way with the fewest edges.
func (p *Plant) shortest(open []bool, from, to int) []int {
	way, _ := p.fewest(from, to, func(e, node int) int {
		if !open[e] || p.against(e, node) {
			return never
		}
		return 0
	})
	return way
}

// shut gives the closed paths of parts on the way that needs the fewest of them
// opened.
func (p *Plant) shut(l *LineUp, open []bool) []int {
	way, _ := p.fewest(l.Source, l.Dest, func(e, node int) int {
		switch {
		case p.dry[e] && !open[e] || p.against(e, node) || p.Edges[e].Path < 0 && !open[e]:
			return never
		case open[e]:
			return 0
		}
		return 1
	})
	var out []int
	for _, e := range way {
		if !open[e] {
			out = append(out, e)
		}
	}
	return out
}

// against says whether leaving node over edge e is against a one-way edge.
func (p *Plant) against(e, node int) bool {
	g := p.flow.Edge(e)
	return g.OneWay && g.U != node
}

const never = -1

// fewest finds the way with the lowest sum of costs (0, 1 or never, told by edge
// and the node it is left from), then the fewest edges. It searches in rounds of
// equal cost.
func (p *Plant) fewest(from, to int, cost func(e, node int) int) ([]int, bool) {
	via := make([]int32, len(p.Nodes))
	seen := make([]bool, len(p.Nodes))
	for i := range via {
		via[i] = -1
	}
	type step struct{ node, via int32 }
	now, later := []step{{int32(from), -1}}, []step(nil)
	for len(now) > 0 {
		for i := 0; i < len(now); i++ {
			s := now[i]
			if seen[s.node] {
				continue
			}
			seen[s.node], via[s.node] = true, s.via
			for _, a := range p.flow.Incident(int(s.node)) {
				if seen[a.Node] {
					continue
				}
				switch cost(int(a.Edge), int(s.node)) {
				case 0:
					now = append(now, step{a.Node, a.Edge})
				case 1:
					later = append(later, step{a.Node, a.Edge})
				}
			}
		}
		now, later = later, now[:0]
	}
	if !seen[to] {
		return nil, false
	}
	return p.back(via, to), true
}

// back follows the edges by which nodes were reached from a node to the start.
func (p *Plant) back(via []int32, node int) []int {
	var out []int
	for via[node] >= 0 {
		e := int(via[node])
		out = append(out, e)
		node = p.flow.Other(e, node)
	}
	for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
		out[i], out[j] = out[j], out[i]
	}
	return out
}
