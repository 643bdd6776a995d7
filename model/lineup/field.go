package lineup

import (
	"fmt"
	"maps"
	"math/bits"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/graph"
	"rinsewright/model/network"
)

// field is the plant prepared for one ask: what can be passed, which valve
// decides it, what it costs and what must stay dry.
type field struct {
	p    *network.Plant
	g    *graph.Graph
	ask  Ask
	step *model.Step

	valves []valve
	of     map[model.ID]int32 // valve by part
	gate   []int32            // by edge: the valve that opens it, or -1
	mask   []uint64           // by edge with a gate: positions in which it is open
	start  []uint64           // by valve: positions allowed at all

	base   []bool    // by edge: passable whatever the valves do
	shut   []bool    // by edge: no way may lead through it, though liquid may stand at it
	back   []bool    // by edge: one-way for standing liquid
	metres []float64 // by edge
	bar    []int32   // by edge: index in bars of what must stay dry, or -1
	bars   []bar
	hit    []int8 // by edge: index in ask.Through of what is passed with it, or -1
	stop   []bool // by node: inside of a vessel

	source, dest int
	air          bool // the source gives air, which wets nothing
	layers       int
}

// valve is a part with positions.
type valve struct {
	id        model.ID
	positions []string
	normal    int
	told      bool  // the normal position is known
	gates     []int // edges
	series    float64
}

// bar is a part or run that must stay dry, and why.
type bar struct {
	id  model.ID
	why string
}

func newField(p *network.Plant, ask Ask) (*field, error) {
	f := &field{p: p, g: p.Graph(), ask: ask, step: &model.Step{Source: ask.Source, Destination: ask.Destination}}
	if err := f.check(); err != nil {
		return nil, err
	}
	n := len(p.Edges)
	f.gate, f.mask = make([]int32, n), make([]uint64, n)
	f.shut, f.back, f.metres = make([]bool, n), make([]bool, n), make([]float64, n)
	f.bar, f.hit = make([]int32, n), make([]int8, n)
	for e := range n {
		f.gate[e], f.bar[e], f.hit[e] = -1, -1, -1
	}
	l := p.LineUp(f.step)
	f.source, f.dest = l.Source, l.Dest
	f.base = l.Open
	f.findValves(p.LineUp(nil))
	f.edges()
	f.findBars()
	if err := f.findThrough(); err != nil {
		return nil, err
	}
	return f, f.pin()
}

// check refuses an ask that names what is not in the circuit.
func (f *field) check() error {
	c := f.p.Circuit
	for _, id := range slices.Concat(f.ask.Through, f.ask.May, f.ask.Avoid) {
		if c.Part(id) == nil && c.Run(id) == nil {
			return fmt.Errorf("lineup: %s is not in the circuit", id)
		}
	}
	most := MostFree
	if f.ask.Ordered {
		most = MostOrdered
	}
	if len(f.ask.Through) > most {
		return fmt.Errorf("lineup: %d things to pass, at most %d", len(f.ask.Through), most)
	}
	for i, id := range f.ask.Through {
		if slices.Contains(f.ask.Avoid, id) {
			return fmt.Errorf("lineup: %s is to be passed and to be avoided", f.name(id))
		}
		if slices.Contains(f.ask.Through[:i], id) {
			return fmt.Errorf("lineup: %s is to be passed twice", f.name(id))
		}
	}
	return nil
}

func (f *field) findValves(normal *network.LineUp) {
	f.of = map[model.ID]int32{}
	unknown := map[model.ID]bool{}
	for _, id := range normal.Unknown {
		unknown[id] = true
	}
	for _, part := range f.p.Circuit.Parts() {
		id := part.RecordID()
		at, has := normal.Positions[id]
		if !has {
			continue
		}
		k := f.p.Catalogue.Kind(part.Meta().Kind)
		v := valve{id: id, positions: k.Positions[:min(len(k.Positions), 64)], told: !unknown[id]}
		v.normal = max(0, slices.Index(v.positions, at))
		opens := make([]int, len(v.positions))
		for _, e := range f.p.PartEdges(id) {
			path := f.p.Edges[e].Path
			if path < 0 || len(k.Paths[path].OpenIn) == 0 {
				continue
			}
			f.gate[e] = int32(len(f.valves))
			f.base[e] = false
			v.gates = append(v.gates, e)
			for i, pos := range v.positions {
				if slices.Contains(k.Paths[path].OpenIn, pos) {
					f.mask[e] |= 1 << i
					opens[i]++
				}
			}
		}
		v.series = float64(max(1, slices.Max(opens)))
		f.of[id] = int32(len(f.valves))
		f.valves = append(f.valves, v)
		f.start = append(f.start, 1<<len(v.positions)-1)
	}
}

// Lengths that stand in for one that nobody told, in m.
const (
	unknownRun  = 1.0
	unknownPath = 0.2
)

// edges fills in what is passable and what it costs.
func (f *field) edges() {
	f.air = f.givesAir(f.source)
	displaces := map[string]bool{}
	for e := range f.p.Edges {
		d := &f.p.Edges[e]
		if f.p.Dry(e) && !f.air {
			f.base[e], f.gate[e] = false, -1
		}
		f.back[e] = f.g.Edge(e).OneWay
		if f.back[e] && d.Part != "" {
			if pump, ok := f.p.Circuit.Part(d.Part).(*model.Pump); ok {
				kind := pump.Kind
				if _, known := displaces[kind]; !known {
					k := f.p.Catalogue.Kind(kind)
					displaces[kind] = k != nil && k.Has(catalogue.TraitDisplacement)
				}
				f.back[e] = displaces[kind]
			}
		}
		l, known := d.Length.Get()
		switch {
		case known:
			f.metres[e] = float64(l)
		case d.Part == "":
			f.metres[e] = unknownRun
		default:
			f.metres[e] = unknownPath
		}
	}
	f.stop = make([]bool, len(f.p.Nodes))
	for n := range f.p.Nodes {
		f.stop[n] = f.p.Nodes[n].Role == catalogue.RoleVessel
	}
}

// givesAir says whether all ways at a node are for steam or air.
func (f *field) givesAir(node int) bool {
	if node < 0 {
		return false
	}
	arcs := f.g.Incident(node)
	for _, a := range arcs {
		if !f.p.Dry(int(a.Edge)) {
			return false
		}
	}
	return len(arcs) > 0
}

// findBars notes what liquid must not reach: vessels, terminals and objects that
// nobody asked for, unless they hold the same medium, and what is to be avoided.
func (f *field) findBars() {
	own := map[model.ID]bool{f.ask.Source: true, f.ask.Destination: true}
	for _, id := range f.ask.Through {
		own[id] = true
	}
	for _, id := range f.ask.May {
		for _, e := range f.p.PartEdges(id) {
			f.shut[e] = f.shut[e] || !own[id]
		}
	}
	for _, id := range f.ask.May {
		own[id] = true
	}
	medium := f.ask.Medium
	if medium == "" {
		medium = holds(f.p.Circuit.Part(f.ask.Source))
	}
	for _, part := range f.p.Circuit.Parts() {
		id := part.RecordID()
		if own[id] {
			continue
		}
		held := holds(part)
		switch {
		case slices.Contains(f.ask.Avoid, id):
			if _, isValve := f.of[id]; !isValve {
				f.addBar(id, "is to be avoided", f.p.PartEdges(id))
			}
		case part.Class() == model.ClassObject:
			f.addBar(id, "is not to be washed", f.p.PartEdges(id))
		case part.Class() == model.ClassVessel && (held == "" || held != medium):
			f.addBar(id, holding(held), f.p.PartEdges(id))
		case part.Class() == model.ClassTerminal && (held == "" || held != medium):
			if k := f.p.Catalogue.Kind(part.Meta().Kind); k != nil && !k.Has(catalogue.TraitVent) {
				f.addBar(id, holding(held), f.p.PartEdges(id))
			}
		}
	}
	for _, id := range f.ask.Avoid {
		if f.p.Circuit.Run(id) != nil {
			f.addBar(id, "is to be avoided", f.p.RunEdges(id))
		}
	}
}

func holding(m model.Medium) string {
	switch m {
	case "":
		return "holds nobody knows what"
	case model.Sewage:
		return "leads to sewer"
	}
	return "holds " + string(m)
}

func holds(p model.Part) model.Medium {
	switch p := p.(type) {
	case *model.Vessel:
		return p.Holds.Or("")
	case *model.Terminal:
		return p.Medium.Or("")
	}
	return ""
}

func (f *field) addBar(id model.ID, why string, edges []int) {
	for _, e := range edges {
		if !f.p.Dry(e) {
			f.bar[e] = int32(len(f.bars))
		}
	}
	f.bars = append(f.bars, bar{id, why})
}

// findThrough marks the edges with which the flow passes what was asked for. Into
// a vessel with spray devices ways lead by these only.
func (f *field) findThrough() error {
	through := f.ask.Through[:0:0]
	for _, id := range f.ask.Through {
		vessel, isVessel := f.p.Circuit.Part(id).(*model.Vessel)
		if isVessel {
			f.onlyBySpray(vessel.ID)
		}
		if id == f.ask.Source || id == f.ask.Destination {
			continue // the way begins or ends in it
		}
		edges := f.p.RunEdges(id)
		if f.p.Circuit.Part(id) != nil {
			edges = f.p.PartEdges(id)
		}
		found := false
		for _, e := range edges {
			if isVessel && f.p.Edges[e].Path >= 0 {
				continue
			}
			f.hit[e], found = int8(len(through)), true
		}
		if !found {
			return fmt.Errorf("lineup: %s has no way through", f.name(id))
		}
		through = append(through, id)
	}
	f.ask.Through = through
	f.layers = 1 << len(through)
	if f.ask.Ordered {
		f.layers = len(through) + 1
	}
	return nil
}

// onlyBySpray shuts the inlets of a vessel that have no spray device, if some have.
func (f *field) onlyBySpray(id model.ID) {
	var plain []int
	sprayed := false
	inside, ok := f.p.PortNode(id, network.Inside)
	if !ok {
		return
	}
	for _, e := range f.p.PartEdges(id) {
		d := &f.p.Edges[e]
		if d.Path < 0 || d.From != inside && d.To != inside {
			continue
		}
		if f.spraysInto(id, f.p.Nodes[f.p.Other(e, inside)].Point) {
			sprayed = true
		} else {
			plain = append(plain, e)
		}
	}
	for _, e := range plain {
		f.shut[e] = sprayed
	}
}

// spraysInto says whether a spray device is mounted on a port.
func (f *field) spraysInto(part model.ID, port string) bool {
	for _, r := range f.p.Circuit.RunsAt(part) {
		for _, ends := range [2][2]model.End{{r.From, r.To}, {r.To, r.From}} {
			_, spray := f.p.Circuit.Part(ends[1].Part).(*model.Spray)
			if ends[0].Part == part && ends[0].Port == port && spray {
				return true
			}
		}
	}
	return false
}

// pin fixes the valves whose position is given or that are to be left alone.
func (f *field) pin() error {
	for _, id := range slices.Sorted(maps.Keys(f.ask.Keep)) {
		at := f.ask.Keep[id]
		v, ok := f.of[id]
		if !ok {
			return fmt.Errorf("lineup: %s has no positions to keep", f.name(id))
		}
		i := slices.Index(f.valves[v].positions, at)
		if i < 0 {
			return fmt.Errorf("lineup: %s has no position %q", f.name(id), at)
		}
		f.start[v] = 1 << i
	}
	for _, id := range f.ask.Avoid {
		v, ok := f.of[id]
		if !ok {
			continue
		}
		at := uint64(1) << f.valves[v].normal
		if _, kept := f.ask.Keep[id]; kept && f.start[v] != at {
			return fmt.Errorf("lineup: %s is to be left alone and to stand %s", f.name(id), f.ask.Keep[id])
		}
		f.start[v] = at
		for _, e := range f.valves[v].gates {
			f.shut[e] = true
		}
	}
	return nil
}

// moves says whether no allowed position is the normal one.
func (f *field) moves(v int32, allowed uint64) bool { return allowed>>f.valves[v].normal&1 == 0 }

// choice is where a valve stands that nothing else decides.
func (f *field) choice(v int, allowed uint64) int {
	if n := f.valves[v].normal; allowed>>n&1 == 1 {
		return n
	}
	return bits.TrailingZeros64(allowed)
}

// name gives the tag of a part or run, else its kind.
func (f *field) name(id model.ID) string { return name(f.p, id) }

func name(p *network.Plant, id model.ID) string {
	if part := p.Circuit.Part(id); part != nil {
		m := part.Meta()
		if m.Tag != "" {
			return m.Tag
		}
		if k := p.Catalogue.Kind(m.Kind); k != nil {
			return k.Title + " " + string(id)
		}
	}
	if r := p.Circuit.Run(id); r != nil && r.Tag != "" {
		return r.Tag
	}
	return string(id)
}
