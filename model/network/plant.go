package network

import (
	"cmp"
	"slices"
	"sync"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/graph"
)

// Plant is a circuit as a multigraph. It never changes once built and is safe
// for concurrent readers.
//
// The nodes of a part stand together, as do its edges and the edges of a run.
type Plant struct {
	Circuit   *model.Circuit
	Catalogue *catalogue.Catalogue
	Nodes     []Node
	Edges     []Edge
	*layout
}

// layout is what beside nodes and edges is worked out once from the circuit.
type layout struct {
	flow *graph.Graph // what moves: one-way parts pass one way, and no liquid leaves a vessel by its inlets
	rest *graph.Graph // what stands or sinks: as flow, but also back through a centrifugal pump

	partAt   map[model.ID]int32
	shapes   []*shape // by part; nil for an unknown kind
	partNode []int32  // nodes of part i are partNode[i]..partNode[i+1]
	partEdge []int32
	runEdge  []int32
	runOf    []int32       // by edge, from the first of a run on
	extra    map[end]int32 // ports that runs name and the kind does not have
	mark     []mark        // by node
	partOf   []int32       // by node; -1 for joints and loose ends
	dry      []bool        // by edge: holds steam, condensate or air, no liquid

	resting sync.Once
	atRest  *LineUp // every valve in its normal position; see [Plant.LineUp]
}

// With gives the plant of another circuit whose parts and runs differ from those of
// the plant's own only in tags, notes and what else the drawing alone shows: in
// nothing that [Build] reads. The two share what was worked out.
func (p *Plant) With(c *model.Circuit) *Plant {
	return &Plant{Circuit: c, Catalogue: p.Catalogue, Nodes: p.Nodes, Edges: p.Edges, layout: p.layout}
}

// end is a port as a run names it.
type end struct {
	part int32
	port string
}

// mark tells what a node is.
type mark uint8

const (
	isDry    mark = 1 << iota // port for steam, condensate, air or signals, or an overflow
	isVessel                  // "inside" or "draw"
	isAir                     // open to the air
	isClosed                  // closed end: seat, instrument's face, cap, loose end
	isTee                     // crossing of a tee
	isMouth                   // of a terminal
	isDrain                   // takes liquid away: mouth of a sewer drain, leak outlet
)

// Graph gives the multigraph with the node and edge numbers of the plant. Its
// one-way edges are those of the parts; beside them no way leads from a vessel
// out through a port of role "in".
func (p *Plant) Graph() *graph.Graph { return p.flow }

// PortNode gives the node of a port or inner point of a part; "inside" and
// "draw" for a vessel.
func (p *Plant) PortNode(part model.ID, port string) (int, bool) {
	i, ok := p.partAt[part]
	if !ok {
		return 0, false
	}
	if s := p.shapes[i]; s != nil {
		if k := s.point(port); k >= 0 {
			return int(p.partNode[i]) + k, true
		}
	}
	n, ok := p.extra[end{i, port}]
	return int(n), ok
}

// RunEdges gives the edges of a run in order of its stretches.
func (p *Plant) RunEdges(run model.ID) []int {
	i, ok := slices.BinarySearchFunc(p.Circuit.Runs(), run, func(r *model.Run, id model.ID) int { return cmp.Compare(r.ID, id) })
	if !ok {
		return nil
	}
	return upTo(p.runEdge[i], p.runEdge[i+1])
}

// PartNodes gives the nodes of a part: its ports, then its inner points.
func (p *Plant) PartNodes(part model.ID) []int {
	i, ok := p.partAt[part]
	if !ok {
		return nil
	}
	nodes := upTo(p.partNode[i], p.partNode[i+1])
	var more []int
	for e, n := range p.extra {
		if e.part == i {
			more = append(more, int(n))
		}
	}
	slices.Sort(more)
	return append(nodes, more...)
}

// PartEdges gives the edges of a part: its paths, then the liquid of a vessel.
func (p *Plant) PartEdges(part model.ID) []int {
	i, ok := p.partAt[part]
	if !ok {
		return nil
	}
	return upTo(p.partEdge[i], p.partEdge[i+1])
}

// FirstNode gives the first node of the i-th part of the circuit. The nodes of its
// ports follow in the order of its kind; a part of an unknown kind has none there.
func (p *Plant) FirstNode(i int) int { return int(p.partNode[i]) }

// PartOfNode gives the part that a node belongs to; nil for joints and loose ends.
func (p *Plant) PartOfNode(node int) model.Part {
	if i := p.partOf[node]; i >= 0 {
		return p.Circuit.Parts()[i]
	}
	return nil
}

// PartAt gives the place of the part that a node belongs to among the circuit's
// parts; -1 for joints and loose ends.
func (p *Plant) PartAt(node int) int { return int(p.partOf[node]) }

// PartOfEdge gives the part that an edge is a path of; nil for a stretch.
func (p *Plant) PartOfEdge(edge int) model.Part {
	if e := &p.Edges[edge]; e.Part != "" {
		return p.PartOfNode(e.From)
	}
	return nil
}

// RunOfEdge gives the run that an edge is a stretch of; nil for a path.
func (p *Plant) RunOfEdge(edge int) *model.Run {
	if i := edge - int(p.runEdge[0]); i >= 0 {
		return p.Circuit.Runs()[p.runOf[i]]
	}
	return nil
}

// KindOfNode gives the kind of the part that a node belongs to; nil where there is
// none, or none of the part's class.
func (p *Plant) KindOfNode(node int) *catalogue.Kind {
	if i := p.partOf[node]; i >= 0 && p.shapes[i] != nil {
		return p.shapes[i].kind
	}
	return nil
}

// IncidentEdges gives the edges at a node in rising order.
func (p *Plant) IncidentEdges(node int) []int {
	arcs := p.flow.Incident(node)
	out := make([]int, len(arcs))
	for i, a := range arcs {
		out[i] = int(a.Edge)
	}
	return out
}

// Other gives the end of an edge that is not node.
func (p *Plant) Other(edge, node int) int { return p.flow.Other(edge, node) }

// Dry says whether an edge holds steam, condensate or air, or is an overflow: liquid
// of a step never reaches it.
func (p *Plant) Dry(edge int) bool { return p.dry[edge] }

func (p *Plant) is(node int, m mark) bool { return p.mark[node]&m != 0 }

func upTo(from, to int32) []int {
	out := make([]int, 0, to-from)
	for i := from; i < to; i++ {
		out = append(out, int(i))
	}
	return out
}

// stretches gives the stretches of the run that an edge is part of.
func (p *Plant) stretches(edge int) []model.Stretch {
	return p.Circuit.Runs()[p.runOf[edge-int(p.runEdge[0])]].Stretches
}
