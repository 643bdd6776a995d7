package hydraulic

import (
	"fmt"
	"slices"

	"rinsewright/model/hydraulic/sparse"
)

// Solver holds a network and all that depends on its topology alone: which nodes
// are joined and which are fixed. Settings of links and nodes may change between
// solves. Not for use from several goroutines at once; see [Solver.Clone].
type Solver struct {
	net     Network
	unknown []int32 // of a node: its unknown, -1 when fixed
	edge    []int32 // of a link: its edge in the matrix, -1 when an end is fixed
	pattern *sparse.Pattern
	matrix  *sparse.Matrix

	elements    []element
	bound       conditions // that the elements are bound to; the zero value for none
	changed     []bool     // of a link: set anew since it was bound
	points      []point    // of a node
	demand      []float64  // of a node, with what constant flows take
	right, move []float64  // of an unknown: right-hand side of the step, and the change of head
	change      []float64  // of a link: change of flow, where a step is shortened
	parts       parts
}

// NewSolver takes a network, which it copies, and looks at its topology. The error
// is an [InputError] that names the first node or link that cannot be.
func NewSolver(n Network) (*Solver, error) {
	s := &Solver{net: Network{slices.Clone(n.Nodes), slices.Clone(n.Links)}}
	if err := s.net.check(); err != nil {
		return nil, err
	}
	s.unknown = make([]int32, len(n.Nodes))
	count := int32(0)
	for i := range s.net.Nodes {
		s.unknown[i] = -1
		if !s.net.Nodes[i].Fixed {
			s.unknown[i] = count
			count++
		}
	}
	s.edge = make([]int32, len(n.Links))
	var edges [][2]int32
	for i := range s.net.Links {
		s.edge[i] = -1
		a, b := s.unknown[s.net.Links[i].From], s.unknown[s.net.Links[i].To]
		if a >= 0 && b >= 0 {
			s.edge[i] = int32(len(edges))
			edges = append(edges, [2]int32{a, b})
		}
	}
	var err error
	if s.pattern, err = sparse.Analyse(int(count), edges); err != nil {
		return nil, fmt.Errorf("hydraulic: %w", err)
	}
	s.room(int(count))
	return s, nil
}

func (s *Solver) room(unknowns int) {
	nodes, links := len(s.net.Nodes), len(s.net.Links)
	s.matrix = s.pattern.NewMatrix()
	s.elements, s.changed = make([]element, links), make([]bool, links)
	rests := make([]rest, links)
	for i := range s.elements {
		s.elements[i].rest = &rests[i]
	}
	s.points, s.demand = make([]point, nodes), make([]float64, nodes)
	s.right, s.move = make([]float64, unknowns), make([]float64, unknowns)
	s.change = make([]float64, links)
	s.parts = newParts(nodes)
}

// Clone gives a solver of the same network that may be used and set beside this
// one. What depends on the topology is shared.
func (s *Solver) Clone() *Solver {
	c := &Solver{
		net:     Network{slices.Clone(s.net.Nodes), slices.Clone(s.net.Links)},
		unknown: s.unknown, edge: s.edge, pattern: s.pattern,
	}
	c.room(len(s.right))
	return c
}

// Link gives link i as it is set now.
func (s *Solver) Link(i int) Link { return s.net.Links[i] }

// Node gives node i as it is set now.
func (s *Solver) Node(i int) Node { return s.net.Nodes[i] }

// SetLink changes the settings of link i: its law, whether it is shut, one-way ...
// The error is an [InputError]: the link cannot be so, or its ends would change;
// that is another topology and needs a new solver.
func (s *Solver) SetLink(i int, to Link) error {
	old := s.net.Links[i]
	if old.From != to.From || old.To != to.To {
		return &InputError{"link " + s.net.linkName(i), "its ends do not change in a solver"}
	}
	s.net.Links[i] = to
	if err := s.net.checkLink(i); err != nil {
		s.net.Links[i] = old
		return err
	}
	s.changed[i] = true
	return nil
}

// SetNode changes the settings of node i: its demand, level, pressure ... The
// error is an [InputError]: the node cannot be so, or its head would become fixed
// or free; that is another topology and needs a new solver.
func (s *Solver) SetNode(i int, to Node) error {
	old := s.net.Nodes[i]
	if old.Fixed != to.Fixed {
		return &InputError{"node " + s.net.nodeName(i), "whether its head is fixed does not change in a solver"}
	}
	s.net.Nodes[i] = to
	if err := s.net.checkNode(i); err != nil {
		s.net.Nodes[i] = old
		return err
	}
	return nil
}
