package lineup

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

// Heating gives the valves that must be moved so that steam gets to the heaters
// which the flow of a route passes: those on the way that moves the fewest. A heater
// that no way leads to from a steam supply is listed in cold. A heater without a
// steam side, such as an electric one, needs no valve.
func Heating(p *network.Plant, r *network.Route) (moved map[model.ID]string, cold []model.ID) {
	moved = map[model.ID]string{}
	f := &field{p: p, g: p.Graph()}
	f.gate, f.mask, f.base = make([]int32, len(p.Edges)), make([]uint64, len(p.Edges)), make([]bool, len(p.Edges))
	for e := range p.Edges {
		f.gate[e], f.base[e] = -1, true
	}
	f.findValves(p.LineUp(nil))
	for _, part := range p.Circuit.Parts() {
		k := p.Catalogue.Kind(part.Meta().Kind)
		if k == nil || !k.Has(catalogue.TraitSteamHeated) || !flows(p, part.RecordID(), r) {
			continue
		}
		if !f.steamTo(part, k, r, moved) {
			cold = append(cold, part.RecordID())
		}
	}
	return moved, cold
}

func flows(p *network.Plant, id model.ID, r *network.Route) bool {
	return slices.ContainsFunc(p.PartEdges(id), func(e int) bool { return r.InFlow[e] })
}

// steamTo opens the way that moves the fewest valves from any steam supply to the
// steam port of a heater.
func (f *field) steamTo(part model.Part, k *catalogue.Kind, r *network.Route, moved map[model.ID]string) bool {
	via := make([]int32, len(f.p.Nodes))
	seen := make([]bool, len(f.p.Nodes))
	type seed struct{ node, via int32 }
	var now, later []seed
	for _, t := range f.p.Circuit.Parts() {
		if t.Class() == model.ClassTerminal && holds(t) == model.Steam {
			for _, n := range f.p.PartNodes(t.RecordID()) {
				now = append(now, seed{int32(n), -1})
			}
		}
	}
	for len(now) > 0 {
		for i := 0; i < len(now); i++ {
			u := now[i].node
			if seen[u] {
				continue
			}
			seen[u], via[u] = true, now[i].via
			for _, a := range f.g.Incident(int(u)) {
				e := int(a.Edge)
				d := f.g.Edge(e)
				if seen[a.Node] || d.OneWay && d.U != int(u) || r.Wet[e] || r.InFlow[e] {
					continue
				}
				if v := f.gate[e]; v >= 0 && f.mask[e]>>f.valves[v].normal&1 == 0 {
					later = append(later, seed{a.Node, a.Edge})
				} else {
					now = append(now, seed{a.Node, a.Edge})
				}
			}
		}
		now, later = later, nil
	}
	for _, port := range k.Ports {
		n, ok := f.p.PortNode(part.RecordID(), port.Name)
		if port.Service != "steam" || !ok || !seen[n] {
			continue
		}
		for via[n] >= 0 {
			e := int(via[n])
			if v := f.gate[e]; v >= 0 && f.mask[e]>>f.valves[v].normal&1 == 0 {
				moved[f.valves[v].id] = f.valves[v].positions[f.choice(int(v), f.mask[e])]
			}
			n = f.g.Other(e, n)
		}
		return true
	}
	return false
}
