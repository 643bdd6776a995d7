package graph

import (
	"math"
	"slices"
)

// Reached is the answer of [Graph.Farthest].
type Reached struct {
	// Low and High bound the length of the shortest way to each node: Low if every
	// unknown length is zero, High if every one is endless. Where they are equal
	// the length is known. Both are +Inf at a node that is not reached.
	Low, High []float64
	// Parent is the edge by which each node is reached, on the shortest way of
	// known lengths if there is one; -1 at the start and where nothing leads.
	Parent []int32
	// Node is the farthest node: the one with the largest Low, then the largest
	// High, then the lowest id. It is the start itself when nothing else is reached.
	Node int
	// Path are the edges from the start to Node.
	Path []int
	// Length is the length of the way to the farthest node. If Unknown is set it is
	// only a lower bound: some missing length could make it more.
	Length  float64
	Unknown bool
}

// Distance returns the length of the shortest way to a node and whether it is
// known. It is NaN when unknown and +Inf, known, when the node is not reached.
func (r *Reached) Distance(node int) (length float64, known bool) {
	if r.Low[node] == r.High[node] {
		return r.Low[node], true
	}
	return math.NaN(), false
}

// Farthest measures the shortest way over open edges, passable both ways, from one
// node to every other, and picks the farthest. length has one entry per edge, in
// any unit; NaN, and a negative length, which cannot be, are unknown; an edge of
// length +Inf is not passed. A node marked in stop (nil for none) is reached but
// not passed, unless it is the start. In a ring the point farthest away may lie
// inside an edge; only nodes are measured.
func (g *Graph) Farthest(open []bool, from int, length []float64, stop []bool) *Reached {
	g.mustEdges("open", len(open), open == nil)
	g.mustEdges("length", len(length), false)
	g.mustNodes("stop", len(stop), stop == nil)
	g.mustNode(from)
	if slices.ContainsFunc(length, func(l float64) bool { return l < 0 }) {
		length = slices.Clone(length)
		for i, l := range length {
			if l < 0 {
				length[i] = math.NaN()
			}
		}
	}
	high, unknown := fillNaN(length, inf)
	up := g.shortest(open, from, high, stop)
	r := &Reached{Low: up.key, High: up.key, Parent: up.parent, Node: from}
	if unknown {
		low, _ := fillNaN(length, 0)
		down := g.shortest(open, from, low, stop)
		r.Low, r.Parent = down.key, merge(up, down)
	}
	r.pick(g)
	return r
}

func (g *Graph) shortest(open []bool, from int, length []float64, stop []bool) ways {
	return g.search(open, []int{from}, Either, stop,
		func(int) float64 { return 0 },
		func(key float64, a Arc) float64 { return key + length[a.Edge] })
}

// pick chooses the farthest node and the way to it.
func (r *Reached) pick(g *Graph) {
	most := 0.0
	for n, l := range r.Low {
		if math.IsInf(l, 1) {
			continue
		}
		most = max(most, r.High[n])
		if b := r.Node; l > r.Low[b] || l == r.Low[b] && r.High[n] > r.High[b] {
			r.Node = n
		}
	}
	r.Length = r.Low[r.Node]
	r.Unknown = most != r.Length
	for n := r.Node; r.Parent[n] >= 0; {
		e := int(r.Parent[n])
		r.Path = append(r.Path, e)
		n = g.Other(e, n)
	}
	slices.Reverse(r.Path)
}
