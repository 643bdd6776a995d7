package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

var ruleNoRelief = &Rule{
	Name: "no-relief",
	Doc: Doc{
		Title:    "Steam side of an exchanger without relief",
		Why:      "Steam shut in, or steam of the full supply pressure after a failed control valve, bursts the exchanger.",
		How:      "From the steam and condensate ports of an exchanger, a relief valve is looked for across tubes, fittings, instruments and regulating valves, but no valve that shuts. Its set pressure must not be above the rated pressure of the exchanger.",
		Blind:    "The size of the relief valve and where it blows to; supplies whose pressure cannot exceed the rating.",
		Remedy:   "Fit a relief valve on the steam side, set no higher than the rated pressure.",
		Cites:    []Citation{{Source: "PED and ASME VIII", Standing: StandingMemory}},
		Severity: Stop,
	},
	Run: runNoRelief,
}

func runNoRelief(p *Pass) {
	for _, part := range p.ofTrait(catalogue.TraitSteamHeated) {
		exchanger, ok := part.(*model.Exchanger)
		if !ok {
			continue
		}
		relief := p.reliefOf(exchanger)
		at := model.PlaceOf(exchanger.ID)
		if len(relief) == 0 {
			p.Report(Finding{At: at, Message: Say("no relief valve protects the steam side of %v", p.Name(exchanger.ID))})
			continue
		}
		rated, known := exchanger.RatedPressure.Get()
		if !known {
			p.NotAssessed(at, missingKey(exchanger, "rated_pressure_bar"))
			continue
		}
		p.judgeRelief(exchanger, float64(rated), relief)
	}
}

// judgeRelief demands one relief valve that opens in time.
func (p *Pass) judgeRelief(exchanger *model.Exchanger, rated float64, relief []*model.Valve) {
	var lowest *model.Valve
	for _, valve := range relief {
		set, known := valve.SetPressure.Get()
		if known && !above(float64(set), rated) {
			return
		}
		if known && (lowest == nil || set < lowest.SetPressure.Or(0)) {
			lowest = valve
		}
	}
	for _, valve := range relief {
		if !valve.SetPressure.Known() {
			p.NotAssessed(model.PlaceOf(exchanger.ID), missingKey(valve, "set_bar"))
			return
		}
	}
	at := model.PlaceOf(exchanger.ID)
	set := lowest.SetPressure.Or(0)
	after := model.Clone(lowest)
	after.SetPressure = exchanger.RatedPressure
	p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(lowest.ID)}, Measured: Of(set), Limit: Of(exchanger.RatedPressure.Or(0)),
		Message: Say("%v opens at %v, above the %v that %v is rated for", p.Name(lowest.ID), Of(set), Of(exchanger.RatedPressure.Or(0)), p.Name(exchanger.ID)),
		Fixes: []Remedy{{Message: "set it to the rated pressure",
			Edit: model.Edit{Label: "set " + p.Name(lowest.ID), Changes: []model.Change{model.Replacing(lowest, after)}}}}})
}

// reliefOf gives the relief valves that nothing can shut off from the steam side
// of an exchanger.
func (p *Pass) reliefOf(exchanger *model.Exchanger) []*model.Valve {
	plant, kind := p.Plant(), p.Kind(exchanger)
	var queue []int
	seen := map[int]bool{}
	for _, port := range kind.Ports {
		if port.Service != "steam" && port.Service != "condensate" {
			continue
		}
		if n, ok := plant.PortNode(exchanger.ID, port.Name); ok {
			queue, seen[n] = append(queue, n), true
		}
	}
	var out []*model.Valve
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		if valve, ok := p.partOfNode(n).(*model.Valve); ok && p.Has(valve, catalogue.TraitRelief) && !p.Has(valve, catalogue.TraitVent) {
			if port, isPort := p.Kind(valve).Port(plant.Nodes[n].Point); isPort && port.Role != "out" {
				out = append(out, valve)
			}
			continue
		}
		for _, a := range plant.Graph().Incident(n) {
			edge := &plant.Edges[a.Edge]
			passes := edge.Part == exchanger.ID && plant.Dry(int(a.Edge)) || leadsOn(p.Snapshot, plant, int(a.Edge)) ||
				p.Has(p.Circuit.Part(edge.Part), catalogue.TraitRegulating)
			if passes && !seen[int(a.Node)] {
				seen[int(a.Node)] = true
				queue = append(queue, int(a.Node))
			}
		}
	}
	return out
}
