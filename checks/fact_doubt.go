package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// Doubts are, of each step, what of its route depends on valves whose position
// nobody told; nil where nothing does.
var Doubts = NewStepFact("doubt", func(s *Snapshot, step *model.Step) *network.Doubt {
	return Plant.Of(s).Doubt(lineUps.Of(s).of[step])
}).keptWith()

// inDoubt gives the positions that are missing to judge some places in the step of
// the pass; nothing where none is. A place is in doubt where it depends on them
// what flows there or what is wet. Not so a port, or the valve itself, to which
// liquid comes in any case; nor a vessel for one of its nozzles.
func (p *Pass) inDoubt(places []model.Place) []network.Missing {
	if p.Step == nil {
		return nil
	}
	doubt := Doubts.Of(p.Snapshot, p.Step)
	if doubt == nil {
		return nil
	}
	for _, at := range places {
		edges := p.edgesOf(at)
		in := func(set []bool) bool { return slices.ContainsFunc(edges, func(e int) bool { return set[e] }) }
		if !in(doubt.Edges) {
			continue
		}
		if at.Port != "" || slices.Contains(doubt.Valves, at.Element) {
			certain := func(e int) bool { return doubt.Wet[e] && !doubt.Edges[e] }
			if slices.ContainsFunc(edges, certain) {
				continue
			}
		}
		return positionsOf(doubt.Valves)
	}
	return nil
}

// edgesOf gives the edges of a place: those of a run or part, of a port those that
// meet there. A vessel has none but at its ports.
func (p *Pass) edgesOf(at model.Place) []int {
	plant := p.Plant()
	part := p.Circuit.Part(at.Element)
	switch {
	case part == nil:
		return plant.RunEdges(at.Element)
	case at.Port != "":
		var out []int
		for _, n := range plant.PartNodes(at.Element) {
			if plant.Nodes[n].Point == at.Port {
				out = append(out, plant.IncidentEdges(n)...)
			}
		}
		return out
	case part.Class() == model.ClassVessel:
		return nil
	}
	return plant.PartEdges(at.Element)
}

func positionsOf(valves []model.ID) []network.Missing {
	var out []network.Missing
	for _, id := range valves {
		out = append(out, Missing(id, "normal"))
	}
	return out
}

// unsureLegs takes away the length of the dead legs that end at a valve of unknown
// position: open, it would make them longer. What is known of it stays.
func unsureLegs(plant *network.Plant, legs []network.Leg, doubt *network.Doubt) []network.Leg {
	if doubt == nil {
		return legs
	}
	out := slices.Clone(legs)
	for _, valve := range doubt.Valves {
		nodes := plant.PartNodes(valve)
		for i := range out {
			leg := &out[i]
			if !slices.ContainsFunc(leg.Edges, func(e int) bool {
				return slices.Contains(nodes, plant.Edges[e].From) || slices.Contains(nodes, plant.Edges[e].To)
			}) {
				continue
			}
			leg.Length = quantity.Opt[quantity.Length]{}
			leg.Missing = append(slices.Clone(leg.Missing), Missing(valve, "normal"))
		}
	}
	return out
}
