package network

import (
	"reflect"
	"sync"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/graph"
	. "rinsewright/model/quantity"
)

// Build makes the multigraph of a circuit. It never fails: a part of an unknown
// kind, and a port that its kind does not have, give nodes for the ports that
// runs name and no ways through; a run end on nothing becomes a loose end.
//
// Lengths are in m along the axis of the tube (of a branch: from the inner wall
// of its main), bores inside diameters in m, volumes in m³. A path for which its
// kind names no length has none: 0. What was never entered stays unknown and is
// named in [Edge].Missing.
func Build(c *model.Circuit, cat *catalogue.Catalogue) *Plant {
	b := &builder{
		Plant: &Plant{Circuit: c, Catalogue: cat, layout: &layout{partAt: make(map[model.ID]int32, len(c.Parts())), extra: map[end]int32{}}},
		kinds: map[string]*shape{},
	}
	b.parts()
	b.runs()
	b.finish()
	return b.Plant
}

type builder struct {
	*Plant
	kinds map[string]*shape
	rests []bool // by edge: one-way also for what stands
	flows []bool // by edge: one-way for what moves
}

func (b *builder) shape(kind string) *shape {
	s, ok := b.kinds[kind]
	if !ok {
		if k := b.Catalogue.Kind(kind); k != nil {
			s = shapeOf(k)
		}
		b.kinds[kind] = s
	}
	return s
}

// shapes holds what was made of each kind: a kind never changes.
var shapes sync.Map // from *catalogue.Kind to *shape

func shapeOf(k *catalogue.Kind) *shape {
	s, ok := shapes.Load(k)
	if !ok {
		s, _ = shapes.LoadOrStore(k, newShape(k))
	}
	return s.(*shape)
}

func (b *builder) parts() {
	parts, runs := b.Circuit.Parts(), b.Circuit.Runs()
	b.shapes = make([]*shape, len(parts))
	b.partNode = make([]int32, len(parts)+1)
	b.partEdge = make([]int32, len(parts)+1)
	nodes, edges := 0, 0
	for i, p := range parts {
		b.partAt[p.RecordID()] = int32(i)
		if s := b.shape(p.Meta().Kind); s != nil && s.kind.Class == p.Class() {
			b.shapes[i] = s
			nodes += len(s.points)
			edges += len(s.ways) + len(s.joins)
		}
		b.partNode[i+1], b.partEdge[i+1] = int32(nodes), int32(edges)
	}
	for _, r := range runs {
		nodes += len(r.Stretches)
		edges += max(1, len(r.Stretches))
	}
	b.Nodes = make([]Node, 0, nodes+8)
	b.mark = make([]mark, 0, nodes+8)
	b.partOf = make([]int32, 0, nodes+8)
	b.Edges = make([]Edge, 0, edges)
	b.flows = make([]bool, 0, edges)
	b.rests = make([]bool, 0, edges)
	for i, p := range parts {
		if s := b.shapes[i]; s != nil {
			b.part(int32(i), p, s)
		}
	}
}

func (b *builder) part(i int32, p model.Part, s *shape) {
	id, base := p.RecordID(), len(b.Nodes)
	for k := range s.points {
		pt := &s.points[k]
		b.node(Node{Part: id, Point: pt.name, Role: pt.role}, i, pt.mark)
	}
	fields := reflect.ValueOf(p).Elem()
	for k := range s.ways {
		w := &s.ways[k]
		e := Edge{From: base + w.from, To: base + w.to, Part: id, Path: k, OneWay: w.path.OneWay, Branch: w.path.Branch}
		b.measure(&e, w, s.read, fields)
		b.edge(e, w.flow, w.rest)
	}
	for _, j := range s.joins {
		e := Edge{From: base + j[0], To: base + j[1], Part: id, Path: -1, Length: Some(Length(0))}
		e.Volume, e.Missing = full(p)
		b.edge(e, false, false)
	}
}

// measure fills in length, bore and volume of a path.
func (b *builder) measure(e *Edge, w *way, read *reader, fields reflect.Value) {
	miss := func(key string) { e.Missing = append(e.Missing, Missing{Record: e.Part, Key: key}) }
	e.Length = Some(Length(0))
	if key := w.path.Length; key != "" {
		e.Length = Opt[Length]{}
		if x, known := read.number(fields, key); known {
			if w.path.Factor != 0 {
				x *= w.path.Factor
			}
			e.Length = Some(Length(x))
		} else {
			miss(key)
		}
	}
	if w.boreKey != "" {
		if e.Bore = read.bore(fields, w.boreKey, b.Catalogue); !e.Bore.Known() {
			miss(w.boreKey)
		}
	}
	if key := w.path.Volume; key != "" {
		if x, known := read.number(fields, key); known {
			e.Volume = Some(Volume(x))
			return
		}
		if !w.tube {
			miss(key)
			return
		}
	}
	e.Volume = tubeVolume(e.Length, e.Bore)
}

// tubeVolume is what a length of tube holds; nothing where it has no length.
func tubeVolume(length Opt[Length], bore Opt[Bore]) Opt[Volume] {
	l, knownLength := length.Get()
	d, knownBore := bore.Get()
	switch {
	case knownLength && l == 0:
		return Some(Volume(0))
	case knownLength && knownBore:
		return Some(Volume(float64(l) * catalogue.BoreArea(d)))
	}
	return Opt[Volume]{}
}

func (b *builder) runs() {
	runs := b.Circuit.Runs()
	b.runEdge = make([]int32, len(runs)+1)
	for i, r := range runs {
		b.runEdge[i] = int32(len(b.Edges))
		b.run(r)
		for range len(b.Edges) - int(b.runEdge[i]) {
			b.runOf = append(b.runOf, int32(i))
		}
	}
	b.runEdge[len(runs)] = int32(len(b.Edges))
}

func (b *builder) run(r *model.Run) {
	n := max(1, len(r.Stretches))
	at := b.endNode(r, r.From, 0)
	last := b.endNode(r, r.To, n)
	bore := tubeBore(r.Size, b.Catalogue)
	for k := range n {
		e := Edge{From: at, To: last, Run: r.ID, Stretch: k, Bore: bore}
		if len(r.Stretches) > 0 {
			e.Length = r.Stretches[k].Length
		}
		if k < n-1 {
			e.To = b.node(Node{Run: r.ID, Joint: k + 1}, -1, 0)
		}
		if !e.Length.Known() {
			e.Missing = append(e.Missing, Missing{Record: r.ID, Key: "stretches"})
		}
		if !bore.Known() && e.Length != Some(Length(0)) {
			e.Missing = append(e.Missing, Missing{Record: r.ID, Key: "size"})
		}
		e.Volume = tubeVolume(e.Length, bore)
		b.edge(e, false, false)
		at = e.To
	}
}

// endNode gives the node of a run's end, made where there is none.
func (b *builder) endNode(r *model.Run, e model.End, joint int) int {
	i, ok := b.partAt[e.Part]
	if !ok {
		return b.node(Node{Run: r.ID, Joint: joint}, -1, isClosed)
	}
	if s := b.shapes[i]; s != nil {
		if k := s.point(e.Port); k >= 0 && k < len(s.kind.Ports) {
			return int(b.partNode[i]) + k
		}
	}
	key := end{i, e.Port}
	n, ok := b.extra[key]
	if !ok {
		n = int32(b.node(Node{Part: e.Part, Point: e.Port}, i, 0))
		b.extra[key] = n
	}
	return int(n)
}

func (b *builder) node(n Node, part int32, m mark) int {
	b.Nodes = append(b.Nodes, n)
	b.mark = append(b.mark, m)
	b.partOf = append(b.partOf, part)
	return len(b.Nodes) - 1
}

func (b *builder) edge(e Edge, flow, rest bool) {
	b.Edges = append(b.Edges, e)
	b.flows = append(b.flows, flow)
	b.rests = append(b.rests, rest)
}

func (b *builder) finish() {
	b.flow, b.rest = b.graph(b.flows), b.graph(b.rests)
	b.dry = make([]bool, len(b.Edges))
	for i := range b.Edges {
		e := &b.Edges[i]
		b.dry[i] = b.is(e.From, isDry) || b.is(e.To, isDry)
	}
	// A run with a steam or air port at one end is dry all along.
	for i := range b.Circuit.Runs() {
		from, to := b.runEdge[i], b.runEdge[i+1]
		if b.dry[from] || b.dry[to-1] {
			for e := from; e < to; e++ {
				b.dry[e] = true
			}
		}
	}
}

func (b *builder) graph(oneWay []bool) *graph.Graph {
	edges := make([]graph.Edge, len(b.Edges))
	for i := range b.Edges {
		edges[i] = graph.Edge{U: b.Edges[i].From, V: b.Edges[i].To, OneWay: oneWay[i]}
	}
	g, err := graph.New(len(b.Nodes), edges)
	if err != nil {
		panic("network: " + err.Error()) // every end was made above
	}
	return g
}
