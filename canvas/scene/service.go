package scene

import (
	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/graph"
)

// steam shows steam from its supplies as far as open valves let it, and behind
// heaters and traps condensate. What lies on the way from a supply to a
// condensate return flows; the rest stands.
func (s *scene) steam() {
	open, before := s.lineUp.Open, make([]bool, len(s.flow)) // valves in a steam line may be those of any line
	for e := range before {
		before[e] = open[e] && !s.condenses(e)
	}
	supplies := s.ports("out", "steam", "")
	hot := s.plant.Graph().Reach(before, supplies, graph.Downstream, nil)
	s.lines(open, supplies, s.ports("in", "condensate", ""), func(e int) model.Medium {
		edge := &s.plant.Edges[e]
		if before[e] && (hot[edge.From] || hot[edge.To]) {
			return model.Steam
		}
		return model.Condensate
	})
}

// condenses says whether steam that goes through an edge leaves it as condensate.
func (s *scene) condenses(e int) bool {
	p := s.plant.Circuit.Part(s.plant.Edges[e].Part)
	if p == nil {
		return false
	}
	k := s.plant.Catalogue.Kind(p.Meta().Kind)
	return p.Class() == model.ClassExchanger || k != nil && k.Has(catalogue.TraitSteamTrap)
}

// product shows product from its supplies as far as open valves let it.
func (s *scene) product() {
	open := make([]bool, len(s.flow))
	for e := range open {
		open[e] = s.lineUp.Open[e] && !s.plant.Dry(e)
	}
	s.lines(open, s.ports("out", "process", model.Product), s.ports("in", "process", model.Product),
		func(int) model.Medium { return model.Product })
}

// lines shows what the open edges bring from some nodes to others.
func (s *scene) lines(open []bool, from, to []int, medium func(e int) model.Medium) {
	if len(from) == 0 {
		return
	}
	g := s.plant.Graph()
	for _, a := range from {
		for _, b := range to {
			chain := g.Between(open, a, b)
			if !chain.Connected {
				continue
			}
			for e := range open {
				if chain.Contains(e) {
					s.put(e, toward(chain.Along[e]), medium(e))
				}
			}
		}
	}
	reached := g.Reach(open, from, graph.Downstream, nil)
	for e := range open {
		edge := &s.plant.Edges[e]
		if open[e] && (reached[edge.From] || reached[edge.To] && !edge.OneWay) {
			s.put(e, draw.Still, medium(e))
		}
	}
}

// ports gives the nodes of the terminals' ports of a role and service, and of a
// medium unless it is empty.
func (s *scene) ports(role, service string, medium model.Medium) []int {
	var out []int
	for _, p := range s.plant.Circuit.Parts() {
		t, ok := p.(*model.Terminal)
		if !ok || medium != "" && t.Medium.Or("") != medium {
			continue
		}
		k := s.plant.Catalogue.Kind(t.Kind)
		if k == nil {
			continue
		}
		for i := range k.Ports {
			if k.Ports[i].Role != role || k.Ports[i].Service != service {
				continue
			}
			if n, ok := s.plant.PortNode(t.ID, k.Ports[i].Name); ok {
				out = append(out, n)
			}
		}
	}
	return out
}
