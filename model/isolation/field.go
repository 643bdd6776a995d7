package isolation

import (
	"fmt"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/graph"
	"rinsewright/model/network"
)

// field is the plant as energy sees it: every edge passable both ways, the two
// sides of an exchanger joined, and one node that stands for all sources.
type field struct {
	p       *network.Plant
	ask     Ask
	g       *graph.Graph
	plain   int         // edges of the plant; beyond them lie walls and sources
	walls   int         // edges from plain to walls join the sides of exchangers
	root    int         // node that stands for all sources
	sources []Source    // by edge, beginning at walls
	cost    []int64     // by edge
	why     []string    // by edge of the plant: why its valve cannot be relied on
	work    []int       // nodes
	holds   []bool      // by node: inside of a vessel, an object or a terminal, or open to the air: nothing passes
	at      map[int]int // source by its node
	clash   model.ID    // first valve that would have had to stand in two positions at once
}

func newField(p *network.Plant, ask Ask) (*field, error) {
	f := &field{p: p, ask: ask, plain: len(p.Edges), root: len(p.Nodes), holds: make([]bool, len(p.Nodes)+1), at: map[int]int{}}
	if err := f.working(); err != nil {
		return nil, err
	}
	edges := make([]graph.Edge, 0, len(p.Edges)+16)
	for n := range p.Nodes {
		f.holds[n] = f.mouth(n)
	}
	for _, e := range p.Edges {
		x := graph.Edge{U: e.From, V: e.To, OneWay: f.oneWay(e)}
		switch { // what leaves to the air does not come back
		case f.mouth(e.To):
			x.OneWay = true
		case f.mouth(e.From):
			x = graph.Edge{U: e.To, V: e.From, OneWay: true}
		}
		edges = append(edges, x)
	}
	edges = append(edges, f.sides()...)
	f.walls = len(edges)
	for _, part := range p.Circuit.Parts() {
		if node, s, ok := f.source(part); ok {
			f.at[node] = len(f.sources)
			f.sources = append(f.sources, s)
			edges = append(edges, graph.Edge{U: f.root, V: node, OneWay: true})
		}
	}
	g, err := graph.New(len(p.Nodes)+1, edges)
	if err != nil {
		return nil, fmt.Errorf("isolation: %w", err)
	}
	f.g = g
	f.price()
	return f, nil
}

// mouth says whether a node is open to the air.
func (f *field) mouth(node int) bool { return f.p.Nodes[node].Role == catalogue.RoleAir }

// oneWay says whether energy passes an edge one way only: a check valve that the
// policy trusts, and an inlet of a vessel that is open to the air.
func (f *field) oneWay(e network.Edge) bool {
	if e.Part == "" || e.Path < 0 {
		return false
	}
	k := f.kindOf(e.Part)
	if k.Has(catalogue.TraitCheck) {
		return f.ask.Policy.Check
	}
	v, ok := f.p.Circuit.Part(e.Part).(*model.Vessel)
	if !ok || !v.Vented.Or(false) {
		return false
	}
	port, ok := k.Port(f.p.Nodes[e.From].Point)
	return ok && port.Role == "in"
}

var noKind = &catalogue.Kind{}

// kindOf gives the kind of a part; an empty one where there is none.
func (f *field) kindOf(id model.ID) *catalogue.Kind {
	if part := f.p.Circuit.Part(id); part != nil {
		if k := f.p.Catalogue.Kind(part.Meta().Kind); k != nil {
			return k
		}
	}
	return noKind
}

// working finds the nodes of what is worked on.
func (f *field) working() error {
	if len(f.ask.Work) == 0 {
		return fmt.Errorf("isolation: nothing is named that is to be worked on")
	}
	for _, id := range f.ask.Work {
		var nodes []int
		for _, e := range f.p.RunEdges(id) {
			nodes = append(nodes, f.p.Edges[e].From, f.p.Edges[e].To)
		}
		nodes = append(nodes, f.p.PartNodes(id)...)
		if len(nodes) == 0 {
			return fmt.Errorf("isolation: %s is no part or run that liquid passes", f.name(id))
		}
		f.work = append(f.work, nodes...)
	}
	slices.Sort(f.work)
	f.work = slices.Compact(f.work)
	for _, id := range slices.Concat(f.ask.Pin, f.ask.Forbid) {
		if v, ok := f.p.Circuit.Part(id).(*model.Valve); !ok || len(f.kindOf(v.ID).Positions) < 2 {
			return fmt.Errorf("isolation: %s is no valve that can be shut", f.name(id))
		}
	}
	for _, id := range f.ask.Pin {
		if slices.Contains(f.ask.Forbid, id) {
			return fmt.Errorf("isolation: %s cannot be both wanted and not relied on", f.name(id))
		}
	}
	if f.ask.After != "" && f.p.Circuit.Step(f.ask.After) == nil {
		return fmt.Errorf("isolation: there is no step %q", f.ask.After)
	}
	return nil
}

// sides joins the ways through every exchanger: heat passes its wall.
func (f *field) sides() []graph.Edge {
	var out []graph.Edge
	for _, part := range f.p.Circuit.Parts() {
		if part.Class() != model.ClassExchanger {
			continue
		}
		edges := f.p.PartEdges(part.RecordID())
		for i := 1; i < len(edges); i++ {
			out = append(out, graph.Edge{U: f.p.Edges[edges[0]].From, V: f.p.Edges[edges[i]].From})
		}
	}
	return out
}

// source tells whether a part is a source, and at which node.
func (f *field) source(part model.Part) (int, Source, bool) {
	id, k := part.RecordID(), f.kindOf(part.RecordID())
	nodes := f.p.PartNodes(id)
	if len(nodes) == 0 {
		return 0, Source{}, false
	}
	s := Source{Part: id}
	node := nodes[0]
	switch part := part.(type) {
	case *model.Vessel:
		if n, ok := f.p.PortNode(id, network.Inside); ok {
			node = n
			f.holds[n] = true
		}
		s.Medium, s.Forms = part.Holds.Or(""), []Form{FormLiquid}
		if g, ok := part.GasPressure.Get(); ok && g != 0 {
			s.Forms = append(s.Forms, FormPressure, FormGas)
		}
		if t, ok := part.StartTemperature.Get(); ok && t > Coolest {
			s.Forms = append(s.Forms, FormHeat)
		}
	case *model.Object:
		for _, n := range nodes {
			f.holds[n] = true
		}
		s.Medium, s.Forms = model.Product, []Form{FormLiquid}
	case *model.Terminal:
		if k.Has(catalogue.TraitSewer) || k.Has(catalogue.TraitVent) {
			return 0, Source{}, false
		}
		for _, n := range nodes {
			f.holds[n] = true
		}
		s.Medium, s.Forms = given(part, k)
	default:
		return 0, Source{}, false
	}
	return node, s, !slices.Contains(f.ask.Work, id)
}

// given tells what a terminal can put into the circuit.
func given(t *model.Terminal, k *catalogue.Kind) (model.Medium, []Form) {
	medium, told := t.Medium.Get()
	if !told && len(k.Ports) > 0 {
		switch k.Ports[0].Service {
		case "steam":
			medium = model.Steam
		case "condensate":
			medium = model.Condensate
		case "air":
			medium = model.Air
		}
	}
	switch medium {
	case model.Steam:
		return medium, []Form{FormPressure, FormHeat, FormGas}
	case model.Condensate:
		return medium, []Form{FormLiquid, FormPressure, FormHeat}
	case model.Air, model.Gas:
		return medium, []Form{FormPressure, FormGas}
	}
	return medium, []Form{FormLiquid, FormPressure}
}

// price sets what it costs to shut each edge.
func (f *field) price() {
	f.cost = make([]int64, f.g.Len())
	f.why = make([]string, f.plain)
	for e := range f.cost {
		f.cost[e] = graph.Uncuttable
	}
	for _, part := range f.p.Circuit.Parts() {
		id, k := part.RecordID(), f.kindOf(part.RecordID())
		if part.Class() != model.ClassValve || slices.Contains(f.ask.Work, id) {
			continue
		}
		cost, why := suitable(part, k, f.ask.Policy)
		switch {
		case slices.Contains(f.ask.Forbid, id):
			cost, why = graph.Uncuttable, "it is not to be relied on"
		case cost < graph.Uncuttable && slices.Contains(f.ask.Pin, id):
			cost = 0
		}
		for _, e := range f.p.PartEdges(id) {
			if f.shuts(e, k) {
				f.cost[e] = cost
			}
			f.why[e] = why
		}
	}
	for i, s := range f.sources {
		switch part := f.p.Circuit.Part(s.Part); part.Class() {
		case model.ClassVessel:
			f.cost[f.walls+i] = costEmpty
			if f.kindOf(s.Part).Has(catalogue.TraitStorage) {
				f.cost[f.walls+i] = costTank
			}
		case model.ClassObject:
			f.cost[f.walls+i] = costEmpty
		case model.ClassTerminal:
			if s.Medium == model.Condensate {
				f.cost[f.walls+i] = costCondensate
			}
		}
	}
}

// shuts says whether some position of a valve shuts one of its edges.
func (f *field) shuts(edge int, k *catalogue.Kind) bool {
	path := f.p.Edges[edge].Path
	if path < 0 || path >= len(k.Paths) {
		return false
	}
	open := k.Paths[path].OpenIn
	return len(open) > 0 && len(open) < len(k.Positions)
}

// shutting gives the first position of a valve that shuts all of some edges.
func (f *field) shutting(k *catalogue.Kind, edges []int) (string, bool) {
	for _, pos := range k.Positions {
		all := true
		for _, e := range edges {
			all = all && !slices.Contains(k.Paths[f.p.Edges[e].Path].OpenIn, pos)
		}
		if all {
			return pos, true
		}
	}
	return "", false
}

func (f *field) name(id model.ID) string { return nameOf(f.p, id) }

// nameOf gives the tag of a record, else its kind.
func nameOf(p *network.Plant, id model.ID) string {
	if part := p.Circuit.Part(id); part != nil {
		if tag := part.Meta().Tag; tag != "" {
			return tag
		}
		if k := p.Catalogue.Kind(part.Meta().Kind); k != nil {
			return k.Title + " " + string(id)
		}
	}
	if r := p.Circuit.Run(id); r != nil {
		if r.Tag != "" {
			return r.Tag
		}
		return "run " + string(id)
	}
	if s := p.Circuit.Step(id); s != nil && s.Name != "" {
		return s.Name
	}
	return string(id)
}
