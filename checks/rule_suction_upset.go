package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var ruleSuctionUpset = &Rule{
	Name: "suction-upset",
	Doc: Doc{
		Title:    "Suction of a pump disturbed",
		Why:      "A bend or valve right before the pump feeds its wheel on one side; air that gathers in a high point of the suction breaks the flow off.",
		How:      "The last straight stretch before a centrifugal pump that runs in a cleaning step, against the limit times the bore. On the way to every pump that runs, back to the vessel, object or pump before it, no point may lie higher than both what comes before it and what follows.",
		Blind:    "Inducers and pumps built for short suctions. A union in the straight tube counts as its end. Pumps that lie beside the shortest way.",
		Remedy:   "Lengthen the straight tube; lay the suction so that it only rises to the pump, or only falls.",
		Cites:    []Citation{commonPractice, {Source: "Hydraulic Institute 9.6.6", Standing: StandingMemory}},
		Severity: Note,
		Merge:    AnyStep,
		Limits:   []string{"straight-before-pump", "height-tolerance"},
	},
	Run: runSuctionUpset,
}

func runSuctionUpset(p *Pass) {
	if !p.sweeps() || !p.Route().Found {
		return
	}
	runs := map[model.ID]bool{}
	for _, id := range p.Step.Running {
		runs[id] = true
	}
	for i, e := range p.Route().Ways {
		pump, ok := p.partOfEdge(e).(*model.Pump)
		if !ok || !runs[pump.ID] {
			continue
		}
		if !p.Has(pump, catalogue.TraitDisplacement) {
			p.shortSuction(pump)
		}
		p.highSuction(pump, i)
	}
}

// shortSuction judges the straight tube at the suction port of a pump.
func (p *Pass) shortSuction(pump *model.Pump) {
	plant, limit := p.Plant(), p.Limit("straight-before-pump")
	port := plant.Nodes[plant.Edges[plant.PartEdges(pump.ID)[0]].From].Point
	at := model.PlaceOfPort(pump.ID, port)
	bore, known := p.Catalogue.Bore(pump, "size").Get()
	if !known {
		p.NotAssessed(at, missingKey(pump, "size"))
		return
	}
	for _, run := range p.Circuit.RunsAt(pump.ID) {
		index := -1
		switch {
		case run.From.Part == pump.ID && run.From.Port == port:
			index = 0
		case run.To.Part == pump.ID && run.To.Port == port:
			index = max(len(run.Stretches)-1, 0)
		}
		if index < 0 {
			continue
		}
		var length quantity.Opt[quantity.Length]
		if len(run.Stretches) > 0 {
			length = run.Stretches[index].Length
		}
		is, told := length.Get()
		if !told {
			p.NotAssessed(at, network.Missing{Record: run.ID, Key: "stretches"})
			return
		}
		need := quantity.Length(limit.Is() * float64(bore))
		if !below(float64(is), float64(need)) {
			return
		}
		p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOfStretch(run.ID, index)}, Measured: Diameters(float64(is) / float64(bore)), LimitName: "straight-before-pump",
			Message: Say("%v of straight tube before %v, %v; %v are wanted", Of(quantity.Bore(is)), p.Name(pump.ID), Diameters(float64(is)/float64(bore)), limit.Value),
			Fixes:   p.lengthen(run, index, need)})
		return
	}
}

// lengthen makes a stretch as long as need be.
func (p *Pass) lengthen(run *model.Run, index int, need quantity.Length) []Remedy {
	after := model.Clone(run)
	after.Stretches[index].Length = quantity.Some(need)
	return []Remedy{remedy(Say("lengthen the straight tube to %v", Of(quantity.Bore(need))),
		model.Edit{Label: "lengthen " + p.Name(run.ID), Changes: []model.Change{model.Replacing(run, after)}})}
}

// highSuction looks for a high point on the way to a pump, which is the edge of a
// number on the way.
func (p *Pass) highSuction(pump *model.Pump, number int) {
	plant, heights := p.Plant(), Heights.Of(p.Snapshot)
	at := model.PlaceOf(pump.ID)
	nodes := p.suctionNodes(number)
	z := make([]float64, len(nodes)) // from the pump back
	for i, n := range nodes {
		h, told := heights.Of[n].Get()
		if !told {
			p.NotAssessed(at, p.heightMissing(n)...)
			return
		}
		z[i] = float64(h)
	}
	before := slices.Clone(z) // lowest from here back to where the suction begins
	for i := len(before) - 2; i >= 0; i-- {
		before[i] = min(before[i], before[i+1])
	}
	after, worst, top := z[0], 0.0, -1
	for i := range z {
		after = min(after, z[i])
		if up := z[i] - max(after, before[i]); up > worst {
			worst, top = up, i
		}
	}
	if top < 0 || !above(worst, p.Limit("height-tolerance").Is()) {
		return
	}
	high := NodePlace(plant, nodes[top])
	p.Report(Finding{At: at, Places: []model.Place{at, high}, Measured: Of(quantity.Length(worst)), LimitName: "height-tolerance",
		Message: Say("the suction of %v has a high point at %v, %v above what comes before and after", p.Name(pump.ID), p.Where(high), Of(quantity.Length(worst)))})
}

// suctionNodes gives the nodes from the suction of a pump back to the vessel, object,
// pump or supply before it.
func (p *Pass) suctionNodes(number int) []int {
	plant, ways := p.Plant(), p.Route().Ways
	node := plant.Edges[ways[number]].From // a pump passes one way only
	nodes := []int{node}
	for i := number - 1; i >= 0; i-- {
		switch p.partOfEdge(ways[i]).(type) {
		case *model.Vessel, *model.Pump, *model.Object, *model.Terminal:
			return nodes
		}
		node = plant.Other(ways[i], node)
		nodes = append(nodes, node)
	}
	return nodes
}

// heightMissing names what would give a node its height.
func (p *Pass) heightMissing(node int) []network.Missing {
	heights := Heights.Of(p.Snapshot)
	if g := heights.Group[node]; g >= 0 && int(g) < len(heights.Underived) {
		return []network.Missing{heights.Underived[g]}
	}
	return []network.Missing{{Record: p.Plant().Nodes[node].Part, Key: "elevation_m"}}
}
