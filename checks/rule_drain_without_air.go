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
		Blind:    "Where the air comes in: it must be above the liquid. Air that bubbles up a wide drain. The tail of tube behind a shut valve is left out.",
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
// the tail of tube between a shut valve and the mouth of the drain: that is open
// at its lower end and runs empty by itself.
func (p *Pass) drainsMore(of []int32, group int32, open, wetted []bool) bool {
	plant := p.Plant()
	for e, wet := range wetted {
		if !wet || !open[e] || of[plant.Edges[e].From] != group {
			continue
		}
		switch part := p.partOfEdge(e).(type) {
		case nil, *model.Terminal, *model.Fitting, *model.Instrument:
		case *model.Valve:
			k := p.Kind(part)
			if path := plant.Edges[e].Path; k != nil && path >= 0 && len(k.Paths[path].OpenIn) > 0 {
				return true // an open seat, with what is behind it
			}
		default:
			return true
		}
	}
	return false
}
