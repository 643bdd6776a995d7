package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var ruleFlowMeterUpset = &Rule{
	Name: "flow-meter-upset",
	Doc: Doc{
		Title:    "Too little straight tube at a flow meter",
		Why:      "A bend, valve or reducer close by twists the flow, and the meter reads wrong.",
		How:      "The straight stretch on either side of a flow meter is compared with the limit times the bore of the meter. Which side is before tells the first step whose flow passes it, else its port a.",
		Blind:    "Meters that need less by their make. A stretch counts as straight; a union or sight glass in it counts as its end.",
		Remedy:   "Move the meter, or lengthen the straight tube.",
		Cites:    []Citation{commonPractice},
		Severity: Note,
		Limits:   []string{"straight-before-flow-meter", "straight-after-flow-meter"},
	},
	Run: runFlowMeterUpset,
}

func runFlowMeterUpset(p *Pass) {
	for _, part := range p.ofTrait(catalogue.TraitFlow) {
		meter, ok := part.(*model.Instrument)
		kind := p.Kind(part)
		if !ok || len(kind.Ports) != 2 {
			continue
		}
		before, after := kind.Ports[0].Name, kind.Ports[1].Name
		if p.flowsBack(meter.ID) {
			before, after = after, before
		}
		p.judgeStraight(meter, before, "before", "straight-before-flow-meter")
		p.judgeStraight(meter, after, "after", "straight-after-flow-meter")
	}
}

// flowsBack says whether the flow passes a two-port part from its second port
// to its first, in the first step in which that is decided.
func (p *Pass) flowsBack(id model.ID) bool {
	plant := p.Plant()
	for _, step := range p.Circuit.Steps() {
		r := Route.Of(p.Snapshot, step)
		for _, e := range plant.PartEdges(id) {
			if r.InFlow[e] && r.Forward[e] != 0 {
				return r.Forward[e] < 0
			}
		}
	}
	return false
}

func (p *Pass) judgeStraight(meter *model.Instrument, port, side, name string) {
	at, limit := model.PlaceOfPort(meter.ID, port), p.Limit(name)
	bore, known := p.Catalogue.Bore(meter, "size").Get()
	if !known {
		p.NotAssessed(at, missingKey(meter, "size"))
		return
	}
	for _, run := range p.Circuit.RunsAt(meter.ID) {
		index, fits := 0, false
		switch {
		case run.From.Part == meter.ID && run.From.Port == port:
			fits = true
		case run.To.Part == meter.ID && run.To.Port == port:
			index, fits = len(run.Stretches)-1, true
		}
		if !fits {
			continue
		}
		if len(run.Stretches) == 0 {
			p.NotAssessed(at, network.Missing{Record: run.ID, Key: "stretches"})
			return
		}
		length, known := run.Stretches[index].Length.Get()
		if !known {
			p.NotAssessed(at, network.Missing{Record: run.ID, Key: "stretches"})
			return
		}
		need := quantity.Length(limit.Is() * float64(bore))
		if !below(float64(length), float64(need)) {
			return
		}
		after := model.Clone(run)
		after.Stretches[index].Length = quantity.Some(need)
		p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOfStretch(run.ID, index)}, Measured: Diameters(float64(length) / float64(bore)), LimitName: name,
			Message: Say("%v of straight tube %v %v, %v; %v are wanted", Of(quantity.Bore(length)), side, p.Name(meter.ID), Diameters(float64(length)/float64(bore)), limit.Value),
			Fixes: []Remedy{remedy(Say("lengthen the straight tube to %v", Of(quantity.Bore(need))),
				model.Edit{Label: "lengthen the tube at " + p.Name(meter.ID), Changes: []model.Change{model.Replacing(run, after)}})}})
		return
	}
}
