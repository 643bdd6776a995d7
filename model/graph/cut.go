package graph

import (
	"errors"
	"fmt"
	"math"
)

// Uncuttable is the cost of an edge that must not be cut. Any larger cost means the
// same.
const Uncuttable = math.MaxInt64 / 4

// ErrCost says that a cost is negative, or that the costs add up to [Uncuttable] or
// more, so that they can no longer be told from it.
var ErrCost = errors.New("cost out of range")

// Cut is the answer of [Graph.MinCut].
type Cut struct {
	// Possible is false when some way from a source to a sink has only uncuttable
	// edges, or a node is both source and sink. Value and Edges are then empty.
	Possible bool
	// Value is the sum of the costs of the edges in the cut. It is also the
	// largest flow from the sources to the sinks if costs are read as capacities.
	Value int64
	// Edges are the edges to cut, in rising order.
	Edges []int
}

// MinCut returns the cheapest set of open edges whose removal leaves no way from
// any source to any sink; of several, the one nearest the sinks. A one-way edge is
// passed from U to V only. cost has one entry per edge and is not negative; an edge
// of [Uncuttable] cost is never cut. The error wraps [ErrCost].
//
// It is the method of E. A. Dinic, "Algorithm for solution of a problem of maximum
// flow in networks with power estimation", Soviet Mathematics Doklady 11, 1970.
func (g *Graph) MinCut(open []bool, sources, sinks []int, cost []int64) (*Cut, error) {
	g.mustEdges("open", len(open), open == nil)
	g.mustEdges("cost", len(cost), false)
	g.mustNode(sources...)
	g.mustNode(sinks...)
	total, err := sumCosts(open, cost)
	if err != nil {
		return nil, err
	}
	if g.joined(open, sources, sinks, cost) {
		return &Cut{}, nil
	}
	f := newFlow(g, open, sources, sinks, cost, total+1)
	c := &Cut{Possible: true}
	for f.levels() {
		c.Value += f.saturate()
	}
	c.Edges = f.cut(open, sources)
	return c, nil
}

// sumCosts adds up the costs of the open edges that can be cut.
func sumCosts(open []bool, cost []int64) (int64, error) {
	total := int64(0)
	for e, c := range cost {
		if open != nil && !open[e] || c >= Uncuttable {
			continue
		}
		if c < 0 {
			return 0, fmt.Errorf("graph: cost %d of edge %d: %w", c, e, ErrCost)
		}
		if total += c; total >= Uncuttable {
			return 0, fmt.Errorf("graph: costs add up to %d or more: %w", int64(Uncuttable), ErrCost)
		}
	}
	return total, nil
}

// joined reports whether uncuttable edges alone lead from a source to a sink.
func (g *Graph) joined(open []bool, sources, sinks []int, cost []int64) bool {
	hard := make([]bool, len(cost))
	for e, c := range cost {
		hard[e] = c >= Uncuttable && (open == nil || open[e])
	}
	reach := g.Reach(hard, sources, Downstream, nil)
	for _, t := range sinks {
		if reach[t] {
			return true
		}
	}
	return false
}

// flow is a flow being raised to its maximum. Edge e has two arcs: 2e from U to V
// and 2e+1 back; what one carries is added to the room of the other.
type flow struct {
	g       *Graph
	sources []int
	sink    []bool
	room    []int64 // per arc
	level   []int32 // edges from a source; -1 unreached
	next    []int32 // per node, next arc to try
	queue   []int32
	path    []int32 // arcs
}

// newFlow starts without any flow. An uncuttable edge has the given room, which is
// more than any cut can cost.
func newFlow(g *Graph, open []bool, sources, sinks []int, cost []int64, endless int64) *flow {
	n := g.Nodes()
	f := &flow{
		g: g, sources: sources, sink: make([]bool, n),
		room:  make([]int64, 2*len(g.edges)),
		level: make([]int32, n), next: make([]int32, n),
	}
	for _, t := range sinks {
		f.sink[t] = true
	}
	for e, c := range cost {
		if open != nil && !open[e] {
			continue
		}
		c = min(c, endless)
		f.room[2*e] = c
		if !g.edges[e].OneWay {
			f.room[2*e+1] = c
		}
	}
	return f
}

// arc returns the arc of an edge that leaves node u.
func (f *flow) arc(e, u int32) int32 {
	if f.g.edges[e].U == int(u) {
		return 2 * e
	}
	return 2*e + 1
}

// levels measures the distance of each node from the sources over arcs with room,
// and reports whether a sink was reached.
func (f *flow) levels() bool {
	for i := range f.level {
		f.level[i] = -1
	}
	f.queue = f.queue[:0]
	for _, s := range f.sources {
		if f.level[s] < 0 {
			f.level[s] = 0
			f.queue = append(f.queue, int32(s))
		}
	}
	found := false
	for i := 0; i < len(f.queue); i++ {
		u := f.queue[i]
		if f.sink[u] {
			found = true
			continue
		}
		for _, a := range f.g.Incident(int(u)) {
			if f.level[a.Node] < 0 && f.room[f.arc(a.Edge, u)] > 0 {
				f.level[a.Node] = f.level[u] + 1
				f.queue = append(f.queue, a.Node)
			}
		}
	}
	return found
}

// saturate pushes flow along ways of rising level until none is left, and returns
// how much.
func (f *flow) saturate() int64 {
	copy(f.next, f.g.start)
	total := int64(0)
	for _, s := range f.sources {
		for p := f.push(int32(s)); p > 0; p = f.push(int32(s)) {
			total += p
		}
	}
	return total
}

// push finds one way from s to a sink and fills it; zero if there is none.
func (f *flow) push(s int32) int64 {
	f.path = f.path[:0]
	u := s
	for !f.sink[u] {
		if a, v, ok := f.step(u); ok {
			f.path = append(f.path, a)
			u = v
			continue
		}
		if len(f.path) == 0 {
			return 0
		}
		// u is a dead end: go back and try the next arc.
		a := f.path[len(f.path)-1]
		f.path = f.path[:len(f.path)-1]
		u = int32(f.g.Other(int(a/2), int(u)))
		f.next[u]++
	}
	amount := f.room[f.path[0]]
	for _, a := range f.path {
		amount = min(amount, f.room[a])
	}
	for _, a := range f.path {
		f.room[a] -= amount
		f.room[a^1] += amount
	}
	return amount
}

// step returns the next arc from u with room that leads one level on.
func (f *flow) step(u int32) (arc, to int32, ok bool) {
	for ; f.next[u] < f.g.start[u+1]; f.next[u]++ {
		a := f.g.arcs[f.next[u]]
		if arc = f.arc(a.Edge, u); f.level[a.Node] == f.level[u]+1 && f.room[arc] > 0 {
			return arc, a.Node, true
		}
	}
	return 0, 0, false
}

// cut returns the open edges that lead into the nodes from which a sink still has
// room, of those that a source still reaches.
func (f *flow) cut(open []bool, sources []int) []int {
	near := make([]bool, f.g.Nodes())
	f.queue = f.queue[:0]
	for n, sink := range f.sink {
		if sink {
			near[n] = true
			f.queue = append(f.queue, int32(n))
		}
	}
	for i := 0; i < len(f.queue); i++ {
		v := f.queue[i]
		for _, a := range f.g.Incident(int(v)) {
			if !near[a.Node] && f.room[f.arc(a.Edge, a.Node)] > 0 {
				near[a.Node] = true
				f.queue = append(f.queue, a.Node)
			}
		}
	}
	// A source never lies near. An edge of no cost may lead there from a node that
	// no source reaches and need not be cut.
	far := f.g.Reach(open, sources, Downstream, near)
	var edges []int
	for e, d := range f.g.edges {
		if open != nil && !open[e] {
			continue
		}
		if far[d.U] && !near[d.U] && near[d.V] || !d.OneWay && far[d.V] && !near[d.V] && near[d.U] {
			edges = append(edges, e)
		}
	}
	return edges
}
