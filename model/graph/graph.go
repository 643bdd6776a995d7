package graph

import (
	"errors"
	"fmt"
	"math"
)

// ErrNode says that an edge ends at a node that does not exist.
var ErrNode = errors.New("no such node")

// ErrSize says that a graph is negative in size or has more than 2³⁰ nodes or edges.
var ErrSize = errors.New("size out of range")

const maxSize = 1 << 30 // two arcs per edge still fit an int32

// Edge joins the nodes U and V, which may be the same node.
type Edge struct {
	U, V   int
	OneWay bool // passable only from U to V
}

// Arc is an edge as seen from one of its nodes: the edge, and the node at its
// other end.
type Arc struct {
	Edge, Node int32
}

// Graph is an immutable multigraph. The zero value is the graph without nodes.
type Graph struct {
	edges  []Edge
	start  []int32 // arcs of node n are arcs[start[n]:start[n+1]]
	arcs   []Arc
	oneWay bool // at least one edge is one-way
}

// New builds a graph of nodes 0..nodes-1 and a copy of the given edges, whose
// position becomes their id. The error wraps [ErrNode] for an edge with an end
// outside the nodes and [ErrSize] for an impossible size.
func New(nodes int, edges []Edge) (*Graph, error) {
	if nodes < 0 || nodes > maxSize || len(edges) > maxSize {
		return nil, fmt.Errorf("graph: %d nodes, %d edges: %w", nodes, len(edges), ErrSize)
	}
	g := &Graph{
		edges: append([]Edge(nil), edges...),
		start: make([]int32, nodes+1),
	}
	for i, e := range edges {
		if e.U < 0 || e.U >= nodes || e.V < 0 || e.V >= nodes {
			return nil, fmt.Errorf("graph: edge %d joins %d and %d of %d nodes: %w", i, e.U, e.V, nodes, ErrNode)
		}
		g.oneWay = g.oneWay || e.OneWay
		g.start[e.U+1]++
		if e.U != e.V {
			g.start[e.V+1]++
		}
	}
	for n := 0; n < nodes; n++ {
		g.start[n+1] += g.start[n]
	}
	g.arcs = make([]Arc, g.start[nodes])
	fill := append([]int32(nil), g.start[:nodes]...)
	for i, e := range edges {
		g.arcs[fill[e.U]] = Arc{int32(i), int32(e.V)}
		fill[e.U]++
		if e.U != e.V {
			g.arcs[fill[e.V]] = Arc{int32(i), int32(e.U)}
			fill[e.V]++
		}
	}
	return g, nil
}

// Nodes is the number of nodes.
func (g *Graph) Nodes() int { return max(0, len(g.start)-1) }

// Len is the number of edges.
func (g *Graph) Len() int { return len(g.edges) }

// Edge returns edge e.
func (g *Graph) Edge(e int) Edge { return g.edges[e] }

// Edges returns all edges by id. The slice belongs to the graph and must not be
// changed.
func (g *Graph) Edges() []Edge { return g.edges }

// Incident returns the edges at a node in rising order, each with the node at its
// other end. A self loop appears once. The slice belongs to the graph and must not
// be changed.
func (g *Graph) Incident(node int) []Arc {
	return g.arcs[g.start[node]:g.start[node+1]]
}

// Other returns the end of edge e that is not node; for a self loop, node itself.
func (g *Graph) Other(e, node int) int {
	if d := &g.edges[e]; d.U == node {
		return d.V
	}
	return g.edges[e].U
}

// Direction says how a search treats one-way edges.
type Direction int

const (
	Either     Direction = iota // every edge is passable both ways
	Downstream                  // a one-way edge is passed from U to V
	Upstream                    // a one-way edge is passed from V to U
)

// passable reports whether a search leaving node may take edge e.
func (g *Graph) passable(e, node int32, way Direction) bool {
	if way == Either || !g.oneWay {
		return true
	}
	d := &g.edges[e]
	if !d.OneWay {
		return true
	}
	if way == Downstream {
		return d.U == int(node)
	}
	return d.V == int(node)
}

// mustEdges panics unless a slice with one entry per edge is nil or of full length.
func (g *Graph) mustEdges(what string, n int, isNil bool) {
	if !isNil && n != len(g.edges) {
		panic(fmt.Sprintf("graph: %s has %d entries for %d edges", what, n, len(g.edges)))
	}
}

// mustNodes panics unless a slice with one entry per node is nil or of full length.
func (g *Graph) mustNodes(what string, n int, isNil bool) {
	if !isNil && n != g.Nodes() {
		panic(fmt.Sprintf("graph: %s has %d entries for %d nodes", what, n, g.Nodes()))
	}
}

// mustNode panics unless each node exists.
func (g *Graph) mustNode(nodes ...int) {
	for _, n := range nodes {
		if n < 0 || n >= g.Nodes() {
			panic(fmt.Sprintf("graph: node %d of %d", n, g.Nodes()))
		}
	}
}

var inf = math.Inf(1)
