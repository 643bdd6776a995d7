package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

var ruleDrainWithoutAir = &Rule{
	Name: "drain-without-air",
	Doc: Doc{
		Title:    "Open drain without an air inlet",
		Why:      "Liquid leaves only as fast as air comes in. A closed line hangs full above an open drain, a closed vessel is sucked in.",
		How:      "In each drain step, whatever is open to a sewer drain must also be open to air: a vent, a vacuum breaker, or a vessel that is vented.",
		Blind:    "Where the air comes in: it must be above the liquid. Air that bubbles up a wide drain. A tail of tube, fittings and valves with no vessel, object or machine on it is left out.",
		Remedy:   "Open a vent at the highest point in the drain step.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
		Merge:    AnyStep,
	},
	Run: runDrainWithoutAir,
}

func runDrainWithoutAir(p *Pass) {
	if p.Step.Purpose.Or("") != model.Drain {
		return
	}
	plant, l := p.Plant(), lineUps.Of(p.Snapshot).of[p.Step]
	open := append([]bool(nil), l.Open...)
	for e := range open {
		open[e] = open[e] || plant.Edges[e].Path < 0 && plant.Edges[e].Part != ""
	}
	of, count := plant.Graph().Components(open)
	air := make([]bool, count)
	unknown := make([][]network.Missing, count)
	for n := range plant.Nodes {
		part := p.partOfNode(n)
		node := plant.Nodes[n]
		switch {
		case node.Role == catalogue.RoleAir && (p.Has(part, catalogue.TraitVent)):
			air[of[n]] = true
		case node.Role == catalogue.RoleVessel:
			vessel := part.(*model.Vessel)
			vented, known := vessel.Vented.Get()
			air[of[n]] = air[of[n]] || vented
			if !known {
				unknown[of[n]] = append(unknown[of[n]], missingKey(vessel, "vented"))
			}
		}
	}
	wetted := Drainings.Of(p.Snapshot).wetted
	told := make([]bool, count)
	for n := range plant.Nodes {
		group := of[n]
		part := p.partOfNode(n)
		if air[group] || told[group] || plant.Nodes[n].Role != catalogue.RoleAir || !p.Has(part, catalogue.TraitSewer) || !p.drainsMore(of, group, open, wetted) {
			continue
		}
		told[group] = true
		at := model.PlaceOf(part.RecordID())
		if len(unknown[group]) > 0 {
			p.NotAssessed(at, unknown[group]...)
			continue
		}
		p.Report(Finding{At: at, Message: Say("what drains to %v has no inlet for air in %v", p.Name(part.RecordID()), p.Name(p.Step.ID))})
	}
}

// drainsMore says whether a group of joined nodes holds more to be drained than
// the tail between a shut valve and the mouth of the drain: tube, fittings and
// valves only, open at the lower end.
func (p *Pass) drainsMore(of []int32, group int32, open, wetted []bool) bool {
	plant := p.Plant()
	for e, wet := range wetted {
		if !wet || !open[e] || of[plant.Edges[e].From] != group {
			continue
		}
		switch p.partOfEdge(e).(type) {
		case nil, *model.Terminal, *model.Fitting, *model.Instrument, *model.Valve:
		default:
			return true
		}
	}
	return false
}
