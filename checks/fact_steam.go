package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// reached is what a walk from a port comes to.
type reached struct {
	parts     []model.Part      // in order of the walk
	terminals []*model.Terminal // among them
}

// has says whether a part with a trait is among what was reached.
func (r reached) has(s *Snapshot, trait string) bool {
	for _, part := range r.parts {
		if s.Has(part, trait) {
			return true
		}
	}
	return false
}

// supply gives the first supply among the terminals, or nil.
func (r reached) supply(s *Snapshot) *model.Terminal {
	for _, t := range r.terminals {
		if s.Has(t, catalogue.TraitSupply) {
			return t
		}
	}
	return nil
}

// fromPort walks from a port of an exchanger away from it: along tube, fittings,
// instruments and valves, but across nothing that stop holds back, no part of
// another class and no valve that normally stands closed, save regulating ones.
func (s *Snapshot) fromPort(exchanger model.ID, port string, stop func(model.Part) bool) reached {
	plant := Plant.Of(s)
	var out reached
	n, ok := plant.PortNode(exchanger, port)
	if !ok {
		return out
	}
	seen := map[int]bool{n: true}
	met := map[model.ID]bool{exchanger: true}
	queue := []int{n}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		if part := s.partOfNode(n); part != nil && !met[part.RecordID()] {
			met[part.RecordID()] = true
			out.parts = append(out.parts, part)
			if t, ok := part.(*model.Terminal); ok {
				out.terminals = append(out.terminals, t)
			}
		}
		for _, a := range plant.Graph().Incident(n) {
			part := s.partOfEdge(int(a.Edge))
			if seen[int(a.Node)] || part != nil && (part.RecordID() == exchanger || stop(part) || !s.carriesSteam(part)) {
				continue
			}
			seen[int(a.Node)] = true
			queue = append(queue, int(a.Node))
		}
	}
	return out
}

// carriesSteam says whether steam or condensate may pass a part in operation.
func (s *Snapshot) carriesSteam(part model.Part) bool {
	switch part := part.(type) {
	case *model.Fitting, *model.Instrument:
		return true
	case *model.Valve:
		return s.Has(part, catalogue.TraitRegulating) || s.Has(part, catalogue.TraitCheck) ||
			part.Normal.Or("") != "closed" && !s.Has(part, catalogue.TraitRelief)
	}
	return false
}

// steamPorts gives the ports of an exchanger for steam and for condensate; empty
// where its kind has none.
func (s *Snapshot) steamPorts(x *model.Exchanger) (steam, condensate string) {
	k := s.Kind(x)
	if k == nil {
		return "", ""
	}
	for _, port := range k.Ports {
		switch port.Service {
		case "steam":
			steam = port.Name
		case "condensate":
			condensate = port.Name
		}
	}
	return steam, condensate
}

// nothing holds no part back.
func nothing(model.Part) bool { return false }
