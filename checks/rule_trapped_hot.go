package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

var ruleTrappedHot = &Rule{
	Name: "trapped-hot",
	Doc: Doc{
		Title:    "Liquid shut in a heater that is on",
		Why:      "Liquid that cannot leave and is heated grows and, with steam behind it, boils: the pressure bursts plates, gaskets or a sight glass, and hot caustic with them.",
		How:      "In each step, from the liquid side of each heater that is on (steam open to it; or, electric or with no steam drawn, a step with a temperature), all open ways are followed. One must come to a vessel, an open end, a supply or outlet, or a relief valve. Liquid leaves a check valve forward only.",
		Blind:    "Hot tube or heat tracing beside a stretch that is shut in, and the sun; heat left in a heater that was just shut off; interlocks of the control, which a relief valve does not need.",
		Remedy:   "Fit a relief valve between the heater and the first valve, or keep a way open while it is on.",
		Cites:    []Citation{{Source: "PED and ASME VIII", Standing: StandingMemory}},
		Severity: Stop,
		Merge:    AnyStep,
	},
	Run: runTrappedHot,
}

func runTrappedHot(p *Pass) {
	l := lineUps.Of(p.Snapshot).of[p.Step]
	wetted := Wetted.Of(p.Snapshot)
	for _, part := range p.ofClass(model.ClassExchanger) {
		x := part.(*model.Exchanger)
		kind := p.Kind(x)
		if kind == nil || !heats(kind) || !passes(p.Plant(), x.ID, wetted) || !p.heaterOn(x, l) {
			continue
		}
		if edges, shut := p.shutIn(x, l.Open); shut {
			at := model.PlaceOf(x.ID)
			p.Report(Finding{At: at, Places: append([]model.Place{at}, EdgePlaces(p.Plant(), edges)...),
				Message: Say("in %v the liquid of %v is shut in while it is heated, and no relief valve is open to it", p.Name(p.Step.ID), p.Name(x.ID))})
		}
	}
}

// heaterOn says whether a heater gives heat in the step of the pass.
func (p *Pass) heaterOn(x *model.Exchanger, l *network.LineUp) bool {
	plant := p.Plant()
	port, _ := p.steamPorts(x)
	n, ok := plant.PortNode(x.ID, port)
	if port == "" || !ok || p.runOn(x.ID, port) == nil {
		return p.Step.Temperature.Known()
	}
	seen := map[int]bool{n: true}
	queue := []int{n}
	for i := 0; i < len(queue); i++ {
		if t, is := p.partOfNode(queue[i]).(*model.Terminal); is && p.Has(t, catalogue.TraitSupply) {
			return true
		}
		for _, a := range plant.Graph().Incident(queue[i]) {
			if !seen[int(a.Node)] && l.Open[a.Edge] && plant.Edges[a.Edge].Part != x.ID {
				seen[int(a.Node)] = true
				queue = append(queue, int(a.Node))
			}
		}
	}
	return false
}

// shutIn says whether no open way leads from the liquid side of an exchanger to
// where liquid can go, and gives what is shut in with it.
func (p *Pass) shutIn(x *model.Exchanger, open []bool) ([]int, bool) {
	plant := p.Plant()
	seen := map[int]bool{}
	var queue, edges []int
	for _, e := range plant.PartEdges(x.ID) {
		if !plant.Dry(e) {
			for _, n := range [2]int{plant.Edges[e].From, plant.Edges[e].To} {
				if !seen[n] {
					seen[n] = true
					queue = append(queue, n)
				}
			}
		}
	}
	took := map[int]bool{}
	for i := 0; i < len(queue); i++ {
		n := queue[i]
		part := p.partOfNode(n)
		if part != nil {
			_, terminal := part.(*model.Terminal)
			relief := p.Has(part, catalogue.TraitRelief) && !p.Has(part, catalogue.TraitVent)
			if terminal || relief || part.Class() == model.ClassVessel || plant.Nodes[n].Role == catalogue.RoleAir {
				return nil, false
			}
		}
		for _, a := range plant.Graph().Incident(n) {
			e := int(a.Edge)
			edge := &plant.Edges[e]
			if !open[e] || plant.Dry(e) || edge.OneWay && edge.From != n && p.nothingBack(p.partOfEdge(e)) {
				continue
			}
			if !took[e] {
				took[e] = true
				edges = append(edges, e)
			}
			if !seen[int(a.Node)] {
				seen[int(a.Node)] = true
				queue = append(queue, int(a.Node))
			}
		}
	}
	return edges, true
}

// nothingBack says whether a one-way part lets nothing back at rest.
func (p *Pass) nothingBack(part model.Part) bool {
	return p.Has(part, catalogue.TraitCheck) || p.Has(part, catalogue.TraitDisplacement)
}
