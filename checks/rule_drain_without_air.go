package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

var ruleDrainWithoutAir = &Rule{
	Name: "drain-without-air",
	Doc: Doc{
		Title:    "Open drain without an air inlet",
		Why:      "Liquid leaves only as fast as air comes in. A closed line hangs full above an open drain, a closed vessel is sucked in.",
		How:      "In each drain step, whatever is open to a sewer drain must also be open to air: a vent, a vacuum breaker, or a vessel that is vented. What drains with air in another drain step is left out.",
		Blind:    "Where the air comes in: it must be above the liquid. Air that bubbles up a wide drain. A tail of tube, fittings and valves with no vessel, object or machine on it is left out.",
		Remedy:   "Open a vent at the highest point in the drain step.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
		Merge:    AnyStep,
	},
	Run: runDrainWithoutAir,
}

// airing is what a drain step joins to air and to sewers.
type airing struct {
	of      []int32 // by node: group of joined nodes
	open    []bool  // by edge
	air     []bool  // by group: open to air
	sewer   []bool  // by group: open to a sewer
	unknown [][]network.Missing
}

var airingOf = NewStepFact("air in a drain step", func(s *Snapshot, step *model.Step) *airing {
	plant := Plant.Of(s)
	out := &airing{open: slices.Clone(lineUps.Of(s).of[step].Open)}
	for e := range out.open {
		out.open[e] = out.open[e] || plant.Edges[e].Path < 0 && plant.Edges[e].Part != ""
	}
	var count int
	out.of, count = plant.Graph().Components(out.open)
	out.air, out.sewer, out.unknown = make([]bool, count), make([]bool, count), make([][]network.Missing, count)
	for n := range plant.Nodes {
		group, part, role := out.of[n], s.partOfNode(n), plant.Nodes[n].Role
		switch {
		case role == catalogue.RoleAir && s.Has(part, catalogue.TraitVent):
			out.air[group] = true
		case role == catalogue.RoleAir && s.Has(part, catalogue.TraitSewer):
			out.sewer[group] = true
		case role == catalogue.RoleVessel:
			vessel := part.(*model.Vessel)
			vented, known := vessel.Vented.Get()
			out.air[group] = out.air[group] || vented
			if !known {
				out.unknown[group] = append(out.unknown[group], missingKey(vessel, "vented"))
			}
		}
	}
	return out
})

// airedOf tells, by edge, what drains to a sewer with air in some drain step.
var airedOf = NewFact("drained with air", func(s *Snapshot) []bool {
	plant := Plant.Of(s)
	out := make([]bool, len(plant.Edges))
	for _, step := range s.Circuit.Steps() {
		if step.Purpose.Or("") != model.Drain {
			continue
		}
		a := airingOf.Of(s, step)
		for e := range out {
			group := a.of[plant.Edges[e].From]
			out[e] = out[e] || a.open[e] && a.air[group] && a.sewer[group]
		}
	}
	return out
})

func runDrainWithoutAir(p *Pass) {
	if p.Step.Purpose.Or("") != model.Drain {
		return
	}
	plant, a := p.Plant(), airingOf.Of(p.Snapshot, p.Step)
	told := make([]bool, len(a.air))
	for n := range plant.Nodes {
		group, part := a.of[n], p.partOfNode(n)
		if a.air[group] || told[group] || plant.Nodes[n].Role != catalogue.RoleAir || !p.Has(part, catalogue.TraitSewer) || !p.drainsMore(a, group) {
			continue
		}
		told[group] = true
		at := model.PlaceOf(part.RecordID())
		if len(a.unknown[group]) > 0 {
			p.NotAssessed(at, a.unknown[group]...)
			continue
		}
		p.Report(Finding{At: at, Message: Say("what drains to %v has no inlet for air in %v", p.Name(part.RecordID()), p.Name(p.Step.ID))})
	}
}

// drainsMore says whether a group of joined nodes holds more to be drained, and
// drained with air in no other step, than the tail between a shut valve and the
// mouth of the drain: tube, fittings and valves only, open at the lower end.
func (p *Pass) drainsMore(a *airing, group int32) bool {
	plant, aired := p.Plant(), airedOf.Of(p.Snapshot)
	for e, wet := range Drainings.Of(p.Snapshot).wetted {
		if !wet || aired[e] || !a.open[e] || a.of[plant.Edges[e].From] != group {
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
