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
})

// seat is a closed way through a part.
type seat struct {
	part   model.ID
	ends   [2]int
	safe   bool
	oneWay bool
}

// separation divides what the liquid does not reach into spaces: nodes joined
// by open ways.
type separation struct {
	s       *Snapshot
	wet     []bool  // by node
	space   []int32 // by node
	media   []map[model.Medium]model.ID
	drained []bool
	missing [][]network.Missing
	seats   []seat
	at      map[int32][]int // seats by the spaces on their sides
}

func newSeparation(s *Snapshot, step *model.Step, r *network.Route) *separation {
	plant := Plant.Of(s)
	b := &separation{s: s, wet: make([]bool, len(plant.Nodes)), at: map[int32][]int{}}
	open := make([]bool, len(plant.Edges))
	for e := range plant.Edges {
		edge := &plant.Edges[e]
		if r.Wet[e] {
			b.wet[edge.From], b.wet[edge.To] = true, true
		}
		shut := !r.LineUp.Open[e] && edge.Part != "" && edge.Path >= 0
		part := s.Circuit.Part(edge.Part)
		back := holdsBack(edge, part)
		open[e] = !shut && !r.Wet[e] && !back && !plant.Dry(e)
		if (shut || back && !r.Wet[e]) && !plant.Dry(e) {
			b.seats = append(b.seats, seat{part: edge.Part, ends: [2]int{edge.From, edge.To}, oneWay: !shut,
				safe: s.Has(part, catalogue.TraitMixProof) || r.LineUp.Positions[edge.Part] == positionAway})
		}
	}
	var count int
	b.space, count = plant.Graph().Components(open)
	b.media = make([]map[model.Medium]model.ID, count)
	b.drained = make([]bool, count)
	b.missing = make([][]network.Missing, count)
	for i, seat := range b.seats {
		for _, n := range seat.ends {
			b.at[b.space[n]] = append(b.at[b.space[n]], i)
		}
	}
	own := map[model.ID]bool{step.Source: true, step.Destination: true}
	for _, id := range step.Cleans {
		own[id] = true
		b.splash(plant, r, id)
	}
	if step.Purpose.Or("") == model.Production {
		for _, part := range s.Circuit.Parts() {
			b.splash(plant, r, part.RecordID())
		}
	}
	for n := range plant.Nodes {
		b.node(plant, n, own)
	}
	for e := range plant.Edges {
		if run := s.Circuit.Run(plant.Edges[e].Run); run != nil && !r.Wet[e] {
			if medium, known := run.Carries.Get(); known {
				b.hold(b.space[plant.Edges[e].From], medium, run.ID)
			}
		}
	}
	return b
}

// holdsBack says whether a one-way path keeps liquid back: that of a check valve
// or pump does, the holes of a spray device do not.
func holdsBack(edge *network.Edge, part model.Part) bool {
	return edge.OneWay && part != nil && (part.Class() == model.ClassValve || part.Class() == model.ClassPump)
}

// splash wets what opens into a vessel that is being washed or filled: its inlets
// lie above the liquid, but the spray reaches them.
func (b *separation) splash(plant *network.Plant, r *network.Route, id model.ID) {
	if _, vessel := b.s.Circuit.Part(id).(*model.Vessel); !vessel || !wholePasses(plant.PartEdges(id), r.InFlow) {
		return
	}
	queue := plant.PartNodes(id)
	for i := 0; i < len(queue); i++ {
		n := queue[i]
		b.wet[n] = true
		for _, a := range plant.Graph().Incident(n) {
			edge := &plant.Edges[a.Edge]
			if _, another := b.s.Circuit.Part(edge.Part).(*model.Vessel); another || b.wet[a.Node] || holdsBack(edge, b.s.Circuit.Part(edge.Part)) || !r.LineUp.Open[a.Edge] || plant.Dry(int(a.Edge)) {
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
func (b *separation) node(plant *network.Plant, n int, own map[model.ID]bool) {
	node := plant.Nodes[n]
	space := b.space[n]
	if node.Part == "" || own[node.Part] {
		return
	}
	part := b.s.Circuit.Part(node.Part)
	if node.Role == catalogue.RoleAir && !b.s.Has(part, catalogue.TraitVent) {
		b.drained[space] = true // a sewer drain, an open leak outlet
	}
	inside := node.Role == catalogue.RoleVessel
	if _, terminal := part.(*model.Terminal); !inside && !terminal {
		return
	}
	if b.s.Has(part, catalogue.TraitSewer) || b.s.Has(part, catalogue.TraitVent) {
		return
	}
	if medium, known := holds(part).Get(); known {
		b.hold(space, medium, node.Part)
	} else if m := missingKey(part, mediumKey(part)); !slices.Contains(b.missing[space], m) {
		b.missing[space] = append(b.missing[space], m)
	}
}

func (b *separation) hold(space int32, medium model.Medium, by model.ID) {
	if b.media[space] == nil {
		b.media[space] = map[model.Medium]model.ID{}
	}
	if old, ok := b.media[space][medium]; !ok || by < old {
		b.media[space][medium] = by
	}
}

// behind adds what lies behind a seat, and behind the seats of an undrained
// space beyond it.
func (b *separation) behind(out *boundaries, first seat, space int32) {
	add := func(x boundary, space int32) {
		for medium, by := range b.media[space] { // sorted by the caller
			x.medium, x.behind = medium, by
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
	add(boundary{part: first.part, safe: first.safe, oneWay: first.oneWay}, space)
	if b.drained[space] || first.safe {
		return
	}
	for _, i := range b.at[space] {
		next := b.seats[i]
		for side, n := range next.ends {
			far := next.ends[1-side]
			if b.space[n] != space || b.space[far] == space || b.wet[far] || next.part == first.part {
				continue
			}
			add(boundary{part: first.part, second: next.part, safe: next.safe, oneWay: first.oneWay && next.oneWay}, b.space[far])
		}
	}
}
