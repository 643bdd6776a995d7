package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

// wayOut is where a dead leg leads once its valve is opened.
type wayOut struct {
	nodes []int // of the leg, and past the valves that end it as far as no other part stands in the way
	seats []int // ways through the valves that end it
}

// wayOutOf looks past the valves that stand shut at the end of a leg: along tubes,
// fittings and instruments, to the next valve, machine, vessel or terminal.
// To a vent the tube may hold air.
func (p *Pass) wayOutOf(leg network.Leg) wayOut {
	plant, open := p.Plant(), p.Route().LineUp.Open
	var out wayOut
	seen := map[int]bool{}
	add := func(n int) {
		if !seen[n] {
			seen[n] = true
			out.nodes = append(out.nodes, n)
		}
	}
	own := map[int]bool{}
	seen[leg.Root] = true // what flows is no way out of the leg
	for _, e := range leg.Edges {
		own[e] = true
		add(plant.Edges[e].From)
		add(plant.Edges[e].To)
	}
	ends := len(out.nodes)
	for i := 0; i < len(out.nodes); i++ {
		for _, a := range plant.Graph().Incident(out.nodes[i]) {
			e := int(a.Edge)
			switch {
			case own[e]:
			case i < ends && p.shuts(e) && !open[e]:
				out.seats = append(out.seats, e)
				add(int(a.Node))
			case (i >= ends || plant.Dry(e)) && (leadsOn(p.Snapshot, plant, e) || p.insideValve(e)):
				add(int(a.Node))
			}
		}
	}
	return out
}

// shuts says whether an edge is a way that some position of its valve shuts.
func (p *Pass) shuts(edge int) bool {
	e := &p.Plant().Edges[edge]
	kind := p.Kind(p.partOfEdge(edge))
	return kind != nil && kind.Class == model.ClassValve && e.Path >= 0 && len(kind.Paths[e.Path].OpenIn) > 0
}

// insideValve says whether an edge is a way within a valve that nothing shuts.
func (p *Pass) insideValve(edge int) bool {
	part := p.partOfEdge(edge)
	return part != nil && part.Class() == model.ClassValve && !p.shuts(edge)
}

// drains says whether a way out is a drain: it leads to a sewer or into the open,
// or past a valve that a drain step opens.
func (p *Pass) drains(out wayOut) bool {
	for _, n := range out.nodes {
		part := p.partOfNode(n)
		if p.Has(part, catalogue.TraitSewer) || p.Plant().Nodes[n].Role == catalogue.RoleAir && !p.Has(part, catalogue.TraitVent) {
			return true
		}
	}
	d := Drainings.Of(p.Snapshot)
	for _, l := range d.lineUps {
		for _, e := range out.seats {
			if d.told && l.Open[e] {
				return true
			}
		}
	}
	return false
}

// vents says whether a way out lets air in and out: a vent, a vacuum breaker, a
// valve to the open.
func (p *Pass) vents(out wayOut) bool {
	for _, n := range out.nodes {
		part := p.partOfNode(n)
		if p.Has(part, catalogue.TraitVent) || p.Plant().Nodes[n].Role == catalogue.RoleAir && !p.Has(part, catalogue.TraitSewer) {
			return true
		}
	}
	return false
}
