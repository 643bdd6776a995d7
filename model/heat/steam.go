package heat

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

// SupplyOf gives the supply that a service port of an exchanger is joined to, or nil:
// along tube, fittings and instruments, and across valves that regulate, hold back or do
// not normally stand closed.
func SupplyOf(p *network.Plant, exchanger model.ID, port string) *model.Terminal {
	n, ok := p.PortNode(exchanger, port)
	if !ok {
		return nil
	}
	seen := map[int]bool{n: true}
	for queue := []int{n}; len(queue) > 0; queue = queue[1:] {
		n := queue[0]
		if t, ok := p.Circuit.Part(p.Nodes[n].Part).(*model.Terminal); ok {
			if kind := p.Catalogue.Kind(t.Kind); kind != nil && kind.Has(catalogue.TraitSupply) {
				return t
			}
		}
		for _, a := range p.Graph().Incident(n) {
			id := p.Edges[a.Edge].Part
			if seen[int(a.Node)] || id == exchanger || id != "" && !carries(p, p.Circuit.Part(id)) {
				continue
			}
			seen[int(a.Node)] = true
			queue = append(queue, int(a.Node))
		}
	}
	return nil
}

// carries says whether a service may pass a part in operation.
func carries(p *network.Plant, part model.Part) bool {
	switch part := part.(type) {
	case *model.Fitting, *model.Instrument, *model.Terminal:
		return true
	case *model.Valve:
		kind := p.Catalogue.Kind(part.Kind)
		if kind == nil {
			return false
		}
		return kind.Has(catalogue.TraitRegulating) || kind.Has(catalogue.TraitCheck) ||
			part.Normal.Or("") != "closed" && !kind.Has(catalogue.TraitRelief)
	}
	return false
}

// servicePort gives the first port of a kind through which its service comes in: of
// steam where there is one, else the port s of a second liquid side.
func servicePort(k *catalogue.Kind) string {
	for _, port := range k.Ports {
		if port.Service == "steam" {
			return port.Name
		}
	}
	if len(k.Ports) > 2 {
		return k.Ports[2].Name
	}
	return ""
}

// Heats says whether exchangers of a kind heat.
func Heats(k *catalogue.Kind) bool {
	if k == nil {
		return false
	}
	_, hasLimit := k.Property("over_temperature_limit")
	return hasLimit || k.Has(catalogue.TraitSteamHeated)
}
