package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// breathing is how air comes into a vessel and out of it.
type breathing struct {
	free    bool          // by a vent that is open or a breaker that opens by itself
	area    quantity.Area // of the narrowest place of each way, added up; known only without missing
	by      []model.ID    // vents and breakers drawn
	missing []network.Missing
}

// bore gives the bore of one round opening of the same area.
func (b breathing) bore() quantity.Bore { return boreOf(b.area) }

// breathes looks from the inside of a vessel along tube, fittings, instruments and
// open valves for vents and vacuum breakers. A vessel that is told to be vented has
// one that is not drawn, unless a vent is; its size is told by the vessel.
func (s *Snapshot) breathes(vessel *model.Vessel, open []bool) breathing {
	var out breathing
	drawn := s.airWays(vessel, open, &out)
	if drawn {
		return out
	}
	vented, known := vessel.Vented.Get()
	switch {
	case !known && !out.free:
		out.missing = append(out.missing, missingKey(vessel, "vented"))
	case vented:
		out.free = true
		if tube, ok := s.Catalogue.Tube(vessel.VentSize.Or("")); ok {
			out.area += quantity.Area(tube.Area())
		} else {
			out.missing = append(out.missing, missingKey(vessel, "vent_size"))
		}
	}
	return out
}

// airWays adds the vents and breakers that are drawn, and says whether a vent is
// among them.
func (s *Snapshot) airWays(vessel *model.Vessel, open []bool, out *breathing) bool {
	plant, kind := Plant.Of(s), s.Kind(vessel)
	if kind == nil {
		return false
	}
	vents := false
	narrow := map[int]quantity.Bore{} // by node reached: narrowest bore on the way, 0 for none yet
	lacks := map[int][]network.Missing{}
	var queue []int
	for _, port := range kind.Ports {
		if n, ok := plant.PortNode(vessel.ID, port.Name); ok && port.Role == "any" {
			narrow[n] = 0
			queue = append(queue, n)
		}
	}
	for i := 0; i < len(queue); i++ {
		n := queue[i]
		part := s.partOfNode(n)
		if part != nil && part.RecordID() != vessel.ID && s.Has(part, catalogue.TraitVent) {
			out.free, out.by = true, append(out.by, part.RecordID())
			vents = vents || part.Class() == model.ClassTerminal
			bore, known := s.Catalogue.Bore(part, "size").Get()
			if !known {
				out.missing = append(out.missing, missingKey(part, "size"))
			}
			out.missing = append(out.missing, lacks[n]...)
			out.area += quantity.Area(catalogue.BoreArea(narrower(narrow[n], bore)))
			continue
		}
		for _, a := range plant.Graph().Incident(n) {
			e, next := int(a.Edge), int(a.Node)
			edge := &plant.Edges[e]
			if _, seen := narrow[next]; seen || edge.Part == vessel.ID || !open[e] || !leadsOn(s, plant, e) && !s.isValveEdge(e) {
				continue
			}
			bore, known := edge.Bore.Get()
			narrow[next], lacks[next] = narrower(narrow[n], bore), lacks[n]
			if !known && edge.Run != "" && edge.Length != quantity.Some(quantity.Length(0)) {
				lacks[next] = append(lacks[n][:len(lacks[n]):len(lacks[n])], network.Missing{Record: edge.Run, Key: "size"})
			}
			queue = append(queue, next)
		}
	}
	return vents
}

func (s *Snapshot) isValveEdge(e int) bool {
	_, ok := s.partOfEdge(e).(*model.Valve)
	return ok
}

// narrower gives the smaller of two bores, of which 0 is none.
func narrower(a, b quantity.Bore) quantity.Bore {
	if a == 0 || b != 0 && b < a {
		return b
	}
	return a
}

// atRest is the plant with every valve in its normal position.
var atRest = NewFact("valves at rest", func(s *Snapshot) *network.LineUp { return Plant.Of(s).LineUp(nil) })

// filledBy gives the widest tube that fills a vessel: of the runs on its inlets.
func (s *Snapshot) filledBy(vessel *model.Vessel) (quantity.Opt[quantity.Bore], []network.Missing) {
	plant, kind := Plant.Of(s), s.Kind(vessel)
	var most quantity.Opt[quantity.Bore]
	if kind == nil {
		return most, nil
	}
	var missing []network.Missing
	for _, run := range s.Circuit.RunsAt(vessel.ID) {
		for _, end := range [2]model.End{run.From, run.To} {
			port, ok := kind.Port(end.Port)
			if !ok || end.Part != vessel.ID || port.Role != "in" {
				continue
			}
			bore := s.Catalogue.Bore(vessel, port.Size)
			if edges := plant.RunEdges(run.ID); len(edges) > 0 && plant.Edges[edges[0]].Bore.Known() {
				bore = plant.Edges[edges[0]].Bore
			}
			d, known := bore.Get()
			switch {
			case !known:
				missing = append(missing, network.Missing{Record: run.ID, Key: "size"})
			case d > most.Or(0):
				most = quantity.Some(d)
			}
		}
	}
	return most, missing
}
