package hydraulic

import (
	"math"
	"slices"

	"rinsewright/model/quantity"
)

// parts are the pieces of the network that open links hold together.
type parts struct {
	parent []int32
	held   []bool    // of a root: a fixed head is in the part
	sum    []float64 // of a root: what its nodes take
	gross  []float64 // of a root: the same without regard to sign
	adrift bool      // a part has no fixed head
	anchor []int32   // of a root of a part without fixed head: the node that holds it; -1 otherwise
}

func newParts(nodes int) parts {
	return parts{parent: make([]int32, nodes), held: make([]bool, nodes), sum: make([]float64, nodes), gross: make([]float64, nodes), anchor: make([]int32, nodes)}
}

func (p *parts) root(i int32) int32 {
	for p.parent[i] != i {
		p.parent[i] = p.parent[p.parent[i]]
		i = p.parent[i]
	}
	return i
}

// findParts finds the parts that the passing links make. A part without a fixed
// head must take nothing on the whole; otherwise the error is an [UnfedError].
func (s *Solver) findParts() error {
	p := &s.parts
	p.adrift = false
	for i := range p.parent {
		p.parent[i], p.anchor[i] = int32(i), -1
		p.held[i], p.sum[i], p.gross[i] = false, 0, 0
	}
	for i := range s.elements {
		if e := &s.elements[i]; e.passes() {
			a, b := p.root(e.from), p.root(e.to)
			p.parent[max(a, b)] = min(a, b)
		}
	}
	for i := range s.net.Nodes {
		r := p.root(int32(i))
		p.held[r] = p.held[r] || s.net.Nodes[i].Fixed
		p.sum[r] += s.demand[i]
		p.gross[r] += math.Abs(s.demand[i])
	}
	for i := range s.net.Nodes {
		if p.parent[i] != int32(i) || p.held[i] {
			continue
		}
		if math.Abs(p.sum[i]) > 1e-9*p.gross[i] {
			return s.unfed(int32(i))
		}
		p.anchor[i], p.adrift = int32(i), true
	}
	return nil
}

// unfed makes the error of a part whose nodes take a flow that cannot come.
func (s *Solver) unfed(root int32) error {
	e := &UnfedError{Demand: quantity.Flow(s.parts.sum[root])}
	for i := range s.net.Nodes {
		if s.parts.root(int32(i)) == root && s.demand[i] != 0 {
			e.Nodes = append(e.Nodes, i)
			e.Names = append(e.Names, s.net.nodeName(i))
		}
	}
	return e
}

// afloat gives the parts without a fixed head, each sorted, by their first node.
func (s *Solver) afloat() [][]int {
	if !s.parts.adrift {
		return nil
	}
	at := map[int32]int{}
	var all [][]int
	for i := range s.net.Nodes {
		r := s.parts.root(int32(i))
		if s.parts.held[r] {
			continue
		}
		k, known := at[r]
		if !known {
			k = len(all)
			at[r] = k
			all = append(all, nil)
		}
		all[k] = append(all[k], i)
	}
	return slices.Clip(all)
}
