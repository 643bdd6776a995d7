package isolation

import (
	"cmp"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/graph"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// Coolest is the temperature to which a part is cooled before it is opened: 45 °C
// (common practice 40 to 45 °C, no source).
const Coolest = Temperature(45 + ZeroCelsius)

// finish fills in what follows from the barriers of a plan.
func (f *field) finish(pl *Plan, h *network.Heights) {
	pl.Sources = f.joined()
	f.zone(pl)
	f.holding(pl)
	f.emptying(pl, h)
	f.drives(pl)
	f.steps(pl)
	f.proofs(pl)
	f.untold(pl)
	f.order(pl)
}

// positions gives where the barriers of a plan stand.
func (pl *Plan) positions() map[model.ID]string {
	at := map[model.ID]string{}
	for _, b := range slices.Concat(pl.Barriers, pl.Second) {
		at[b.Valve] = b.Position
	}
	return at
}

// zone finds what lies inside the barriers.
func (f *field) zone(pl *Plan) {
	open := f.noWalls(f.opened(pl.positions()))
	closed := f.closedTo(pl.Empty)
	pl.Nodes = f.g.Reach(open, f.work, graph.Either, closed)[:len(f.p.Nodes)]
	for n, in := range pl.Nodes {
		if in && closed[n] && !f.mouth(n) && !slices.Contains(f.work, n) {
			pl.Nodes[n] = false // an open inlet: the zone ends at the vessel's wall
			if id := f.p.Nodes[n].Part; !slices.Contains(pl.Borders, id) {
				pl.Borders = append(pl.Borders, id)
			}
		}
	}
	slices.Sort(pl.Borders)
	pl.Zone = make([]bool, f.plain)
	inside := map[model.ID]bool{}
	for e := range pl.Zone {
		x := f.p.Edges[e]
		pl.Zone[e] = open[e] && pl.Nodes[x.From] && pl.Nodes[x.To]
	}
	for n, in := range pl.Nodes {
		if in && f.p.Nodes[n].Part != "" {
			inside[f.p.Nodes[n].Part] = true
		}
	}
	pl.Inside = sorted(inside)
}

// holding adds up what the zone holds and what the steps may have left in it.
func (f *field) holding(pl *Plan) {
	for e, in := range pl.Zone {
		if !in || f.p.Dry(e) {
			continue
		}
		if v, ok := f.p.Edges[e].Volume.Get(); ok {
			pl.Held += v
		} else {
			pl.Unknown = append(pl.Unknown, f.p.Edges[e].Missing...)
		}
	}
	pl.Unknown = distinct(pl.Unknown)
	for _, s := range f.p.Circuit.Steps() {
		if f.ask.After != "" && s.ID != f.ask.After {
			continue
		}
		r := f.p.Route(f.p.LineUp(s))
		if !r.Found {
			continue
		}
		c := Content{Step: s.ID, Medium: s.Medium.Or(""), Strength: s.Strength, Temperature: s.Temperature}
		wet := false
		for e, in := range pl.Zone {
			if in && r.Wet[e] {
				wet = true
				c.Volume += f.p.Edges[e].Volume.Or(0)
			}
		}
		if wet {
			pl.Contents = append(pl.Contents, c)
		}
	}
	slices.SortStableFunc(pl.Contents, func(a, b Content) int {
		return cmp.Or(cmp.Compare(b.Temperature.Or(0), a.Temperature.Or(0)), cmp.Compare(danger(a.Medium), danger(b.Medium)))
	})
}

func distinct(list []network.Missing) []network.Missing {
	slices.SortFunc(list, func(a, b network.Missing) int {
		return cmp.Or(cmp.Compare(a.Record, b.Record), cmp.Compare(a.Key, b.Key))
	})
	return slices.Compact(list)
}

// emptying finds how the zone drains and vents with its valves open.
func (f *field) emptying(pl *Plan, h *network.Heights) {
	at := pl.positions()
	step := &model.Step{Name: "isolated", Positions: map[model.ID]string{}}
	for _, part := range f.p.Circuit.Parts() {
		id, k := part.RecordID(), f.kindOf(part.RecordID())
		if len(k.Positions) == 0 {
			continue
		}
		if pos, ok := at[id]; ok {
			step.Positions[id] = pos
			continue
		}
		if slices.Contains(pl.Inside, id) {
			best, most := "", -1
			for _, pos := range k.Positions {
				if n := waysOpen(f, id, pos); n > most {
					best, most = pos, n
				}
			}
			step.Positions[id] = best
		}
	}
	wetted := make([]bool, f.plain)
	for e, in := range pl.Zone {
		wetted[e] = in && !f.p.Dry(e)
	}
	l := f.p.LineUp(step)
	drained := f.p.Draining(h, wetted, []*network.LineUp{l})
	vented := f.p.Venting(h, wetted, []*network.LineUp{l})
	pl.Stays = drained.Pools
	opened := map[model.ID]bool{}
	pl.Drains = f.outlets(pl, drained.Drained, drained.Toward, opened)
	pl.Vents = f.outlets(pl, vented.Vented, vented.Toward, opened)
	if own := slices.DeleteFunc(slices.Clone(pl.Vents), func(id model.ID) bool { return slices.Contains(pl.Drains, id) }); len(own) > 0 {
		pl.Vents = own
	}
	for _, id := range sorted(opened) {
		v, ok := f.p.Circuit.Part(id).(*model.Valve)
		if _, shut := at[id]; shut || !ok || v.Normal == Some(step.Positions[id]) {
			continue
		}
		pl.Open = append(pl.Open, Opening{Valve: id, Position: step.Positions[id]})
	}
}

// outlets follows the ways out of the zone to the parts where they end, and notes
// the valves on them that can be shut.
func (f *field) outlets(pl *Plan, out []bool, toward []int32, opened map[model.ID]bool) []model.ID {
	ends := map[model.ID]bool{}
	seen := make([]bool, len(pl.Nodes))
	for n, in := range pl.Nodes {
		if !in || !out[n] || seen[n] {
			continue
		}
		var way []model.ID
		for pl.Nodes[n] {
			seen[n] = true
			e := toward[n]
			if e < 0 {
				if id := f.p.Nodes[n].Part; id != "" {
					ends[id] = true
				}
				for _, id := range way {
					opened[id] = true
				}
				break
			}
			if id := f.p.Edges[e].Part; id != "" && f.shuts(int(e), f.kindOf(id)) {
				way = append(way, id)
			}
			n = f.p.Other(int(e), n)
		}
	}
	return sorted(ends)
}

// drives finds the machines that are stopped and locked off: those inside, and
// the pumps that push against a barrier.
func (f *field) drives(pl *Plan) {
	var outside []int
	for _, b := range pl.Barriers {
		outside = append(outside, b.Outside...)
	}
	open := f.noWalls(f.opened(pl.positions()))
	pushed := make([]bool, f.g.Nodes())
	if len(outside) > 0 {
		pushed = f.g.Reach(open, outside, graph.Either, f.holds)
	}
	for _, part := range f.p.Circuit.Parts() {
		id, k := part.RecordID(), f.kindOf(part.RecordID())
		electric := part.Class() == model.ClassExchanger && !k.Has(catalogue.TraitSteamHeated) && len(k.Ports) == 2
		if part.Class() != model.ClassPump && !k.Has(catalogue.TraitAgitator) && !electric {
			continue
		}
		inside := slices.Contains(pl.Inside, id)
		touches := slices.ContainsFunc(f.p.PartNodes(id), func(n int) bool { return pushed[n] })
		if inside || touches && part.Class() == model.ClassPump {
			pl.Drives = append(pl.Drives, Drive{Part: id, Inside: inside})
		}
	}
}

// steps finds which steps cannot run while the work goes on.
func (f *field) steps(pl *Plan) {
	shut := map[int]model.ID{}
	for _, b := range slices.Concat(pl.Barriers, pl.Second) {
		for _, e := range f.shutIn(b.Valve, b.Position) {
			shut[e] = b.Valve
		}
	}
	for _, s := range f.p.Circuit.Steps() {
		r := f.p.Route(f.p.LineUp(s))
		if !r.Found {
			continue
		}
		if b, blocked := f.blocked(pl, s, r, shut); blocked {
			pl.Blocked = append(pl.Blocked, b)
			continue
		}
		for e := range shut {
			if x := f.p.Edges[e]; f.wetAt(r, x.From) || f.wetAt(r, x.To) {
				pl.Against = append(pl.Against, s.ID)
				break
			}
		}
	}
}

func (f *field) wetAt(r *network.Route, node int) bool {
	return slices.ContainsFunc(f.p.IncidentEdges(node), func(e int) bool { return r.Wet[e] })
}

func (f *field) needs(id model.ID) string {
	if isBend(f.kindOf(id)) {
		return "it needs " + f.name(id) + " mounted"
	}
	return "it needs " + f.name(id) + " open"
}

func (f *field) blocked(pl *Plan, s *model.Step, r *network.Route, shut map[int]model.ID) (Blocked, bool) {
	for e, in := range r.InFlow {
		if id, ok := shut[e]; in && ok {
			return Blocked{s.ID, f.needs(id), id}, true
		}
	}
	for e, in := range r.InFlow {
		if in && pl.Zone[e] {
			id := cmp.Or(f.p.Edges[e].Part, f.p.Edges[e].Run)
			return Blocked{s.ID, "its flow passes " + f.name(id), id}, true
		}
	}
	for e, wet := range r.Wet {
		if wet && pl.Zone[e] {
			id := cmp.Or(f.p.Edges[e].Part, f.p.Edges[e].Run)
			return Blocked{s.ID, "its liquid reaches " + f.name(id), id}, true
		}
	}
	for _, d := range pl.Drives {
		if slices.Contains(s.Running, d.Part) {
			return Blocked{s.ID, "it runs " + f.name(d.Part), d.Part}, true
		}
	}
	return Blocked{}, false
}

// proofs finds where it can be shown that nothing is left inside.
func (f *field) proofs(pl *Plan) {
	for _, id := range pl.Inside {
		k := f.kindOf(id)
		for _, of := range []struct{ trait, words string }{
			{catalogue.TraitPressure, "pressure"}, {catalogue.TraitTemperature, "temperature"}, {catalogue.TraitLevel, "level"},
		} {
			if k.Has(of.trait) {
				pl.Proofs = append(pl.Proofs, Proof{id, of.words})
			}
		}
	}
	for _, id := range pl.Drains {
		pl.Proofs = append(pl.Proofs, Proof{id, "open drain"})
	}
	for _, d := range pl.Drives {
		pl.Proofs = append(pl.Proofs, Proof{d.Part, "no start"})
	}
}

// untold lists what the plan would have wanted to know.
func (f *field) untold(pl *Plan) {
	for _, b := range slices.Concat(pl.Barriers, pl.Second) {
		if !b.Lockable.Known() && !isBend(f.kindOf(b.Valve)) {
			pl.Missing = append(pl.Missing, network.Missing{Record: b.Valve, Key: "lockable"})
		}
	}
	for _, s := range pl.Sources {
		if s.Medium == "" {
			key := "medium"
			if f.p.Circuit.Part(s.Part).Class() == model.ClassVessel {
				key = "holds"
			}
			pl.Missing = append(pl.Missing, network.Missing{Record: s.Part, Key: key})
		}
	}
	pl.Missing = distinct(pl.Missing)
}
