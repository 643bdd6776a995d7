package checks

import (
	"cmp"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

// boundary is a place where the liquid of a step is kept from something else.
type boundary struct {
	part   model.ID // valve or one-way part with the liquid on one side
	second model.ID // valve behind it, where a second seat parts the liquids
	safe   bool     // a mix-proof valve or a physical break, which leak to the outside
	oneWay bool     // no seat at all: only a check valve or pump
	medium model.Medium
	behind model.ID // part or run that holds it
}

// boundaries are those of a step, and the vessels behind a boundary whose
// medium nobody told.
type boundaries struct {
	list    []boundary
	unknown map[model.ID][]network.Missing // by part of the boundary
	parts   []model.ID                     // keys of unknown, in order
}

// Boundaries tells what lies behind the closed seats that the liquid of a step
// stands against: behind the first, and, where the space between is not open to
// a drain, behind the second.
var Boundaries = NewStepFact("boundaries", func(s *Snapshot, step *model.Step) *boundaries {
	out := &boundaries{unknown: map[model.ID][]network.Missing{}}
	r := Route.Of(s, step)
	if !r.Found {
		return out
	}
	b := newSeparation(s, step, r)
	for _, seat := range b.seats {
		for _, side := range [2]int{0, 1} {
			near, far := seat.ends[side], seat.ends[1-side]
			if b.wet[near] && !b.wet[far] {
				b.behind(out, seat, b.space[far])
			}
		}
	}
	slices.Sort(out.parts)
	out.parts = slices.Compact(out.parts)
	slices.SortStableFunc(out.list, func(x, y boundary) int {
		return cmp.Or(cmp.Compare(x.part, y.part), cmp.Compare(x.second, y.second), cmp.Compare(x.medium, y.medium), cmp.Compare(x.behind, y.behind))
	})
	out.list = slices.Compact(out.list)
	return out
}).keptWith()

// seat is a way through a valve or pump that can keep liquid back.
type seat struct {
	part   model.Part
	edge   int
	ends   [2]int
	safe   bool // of a mix-proof valve
	oneWay bool // by itself: a check valve, a pump
}

// seatsOf gives all ways that can keep liquid back, in order of edge.
var seatsOf = NewFact("seats", func(s *Snapshot) []seat {
	plant := Plant.Of(s)
	var out []seat
	for e := range plant.Edges {
		edge, part := &plant.Edges[e], s.partOfEdge(e)
		back := holdsBack(edge, part)
		if part == nil || plant.Dry(e) || !back && part.Class() != model.ClassValve {
			continue
		}
		out = append(out, seat{part, e, [2]int{edge.From, edge.To}, s.Has(part, catalogue.TraitMixProof), back})
	}
	return out
})

// holdingsOf gives the nodes that say what stands in a space: the inside of
// vessels, terminals, and nodes open to air.
var holdingsOf = NewFact("holdings", func(s *Snapshot) []int {
	plant := Plant.Of(s)
	var out []int
	for n := range plant.Nodes {
		role := plant.Nodes[n].Role
		if _, terminal := s.partOfNode(n).(*model.Terminal); terminal || role == catalogue.RoleVessel || role == catalogue.RoleAir {
			out = append(out, n)
		}
	}
	return out
})

// separation divides what the liquid does not reach into spaces: nodes joined
// by open ways.
type separation struct {
	s       *Snapshot
	wet     []bool  // by node
	space   []int32 // by node
	held    map[int32][]holding
	missing map[int32][]network.Missing
	drained map[int32]bool
	seats   []seat  // that are shut in this step
	head    []int32 // by space: its first side of a seat, 2 x seat + side
	next    []int32 // by side of a seat: the next of the same space, -1 for none
}

// holding is a medium in a space and what holds it.
type holding struct {
	medium model.Medium
	by     model.ID
}

func newSeparation(s *Snapshot, step *model.Step, r *network.Route) *separation {
	plant := Plant.Of(s)
	b := &separation{s: s, wet: make([]bool, len(plant.Nodes)),
		held: map[int32][]holding{}, missing: map[int32][]network.Missing{}, drained: map[int32]bool{}}
	open := make([]bool, len(plant.Edges))
	for e := range open {
		if r.Wet[e] {
			b.wet[plant.Edges[e].From], b.wet[plant.Edges[e].To] = true, true
			continue
		}
		open[e] = r.LineUp.Open[e] && !plant.Dry(e)
	}
	for _, seat := range seatsOf.Of(s) {
		if r.Wet[seat.edge] || open[seat.edge] && !seat.oneWay {
			continue
		}
		seat.oneWay = seat.oneWay && open[seat.edge]
		seat.safe = seat.safe || r.LineUp.Positions[seat.part.RecordID()] == positionAway
		open[seat.edge] = false
		b.seats = append(b.seats, seat)
	}
	var count int
	b.space, count = plant.Graph().Components(open)
	b.join(count)
	own := map[model.ID]bool{step.Source: true, step.Destination: true}
	for _, id := range step.Cleans {
		own[id] = true
		b.splash(plant, r, id)
	}
	if step.Purpose.Or("") == model.Production {
		for _, part := range s.ofClass(model.ClassVessel) {
			b.splash(plant, r, part.RecordID())
		}
	}
	for _, n := range holdingsOf.Of(s) {
		if !own[plant.Nodes[n].Part] {
			b.node(plant, n)
		}
	}
	for _, run := range s.runEdges() {
		if medium, known := run.Carries.Get(); known && !r.Wet[run.first] {
			b.hold(b.space[plant.Edges[run.first].From], medium, run.ID)
		}
	}
	return b
}

// join lists the seats by the spaces on their sides.
func (b *separation) join(spaces int) {
	b.head, b.next = make([]int32, spaces), make([]int32, 2*len(b.seats))
	for i := range b.head {
		b.head[i] = -1
	}
	for i := len(b.seats) - 1; i >= 0; i-- {
		for side, n := range b.seats[i].ends {
			k := int32(2*i + side)
			b.next[k] = b.head[b.space[n]]
			b.head[b.space[n]] = k
		}
	}
}

// holdsBack says whether a one-way path keeps liquid back: that of a check valve
// or pump does, the holes of a spray device do not.
func holdsBack(edge *network.Edge, part model.Part) bool {
	return edge.OneWay && part != nil && (part.Class() == model.ClassValve || part.Class() == model.ClassPump)
}

// splash wets what opens into a vessel that is being washed or filled: its inlets
// lie above the liquid, but the spray reaches them.
func (b *separation) splash(plant *network.Plant, r *network.Route, id model.ID) {
	if _, vessel := b.s.Circuit.Part(id).(*model.Vessel); !vessel || !passes(plant, id, r.InFlow) {
		return
	}
	queue := plant.PartNodes(id)
	for i := 0; i < len(queue); i++ {
		n := queue[i]
		b.wet[n] = true
		for _, a := range plant.Graph().Incident(n) {
			edge := &plant.Edges[a.Edge]
			if _, another := b.s.partOfEdge(int(a.Edge)).(*model.Vessel); another || b.wet[a.Node] || holdsBack(edge, b.s.partOfEdge(int(a.Edge))) || !r.LineUp.Open[a.Edge] || plant.Dry(int(a.Edge)) {
				continue
			}
			b.wet[a.Node] = true
			queue = append(queue, int(a.Node))
		}
	}
}

// positionAway is the position of a swing bend that has been taken off: a
// physical break.
const positionAway = "away"

// node notes what a node says of its space.
func (b *separation) node(plant *network.Plant, n int) {
	part, space := b.s.partOfNode(n), b.space[n]
	vent := b.s.Has(part, catalogue.TraitVent)
	if plant.Nodes[n].Role == catalogue.RoleAir {
		b.drained[space] = b.drained[space] || !vent // a sewer drain, an open leak outlet
		return
	}
	if vent || b.s.Has(part, catalogue.TraitSewer) {
		return
	}
	if medium, known := holds(part).Get(); known {
		b.hold(space, medium, part.RecordID())
	} else if m := missingKey(part, mediumKey(part)); !slices.Contains(b.missing[space], m) {
		b.missing[space] = append(b.missing[space], m)
	}
}

func (b *separation) hold(space int32, medium model.Medium, by model.ID) {
	for _, h := range b.held[space] {
		if h.medium == medium {
			return // one is enough to tell
		}
	}
	b.held[space] = append(b.held[space], holding{medium, by})
}

// behind adds what lies behind a seat, and behind the seats of an undrained
// space beyond it.
func (b *separation) behind(out *boundaries, first seat, space int32) {
	add := func(x boundary, space int32) {
		for _, h := range b.held[space] {
			x.medium, x.behind = h.medium, h.by
			out.list = append(out.list, x)
		}
		if len(b.missing[space]) > 0 && !x.safe {
			out.parts = append(out.parts, x.part)
			for _, m := range b.missing[space] {
				if !slices.Contains(out.unknown[x.part], m) {
					out.unknown[x.part] = append(out.unknown[x.part], m)
				}
			}
		}
	}
	id := first.part.RecordID()
	add(boundary{part: id, safe: first.safe, oneWay: first.oneWay}, space)
	if b.drained[space] || first.safe {
		return
	}
	for k := b.head[space]; k >= 0; k = b.next[k] {
		next := b.seats[k/2]
		far := next.ends[1-k%2]
		if b.space[far] != space && !b.wet[far] && next.part != first.part {
			add(boundary{part: id, second: next.part.RecordID(), safe: next.safe, oneWay: first.oneWay && next.oneWay}, b.space[far])
		}
	}
}
