package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// onSupply is what the rules on instruments of the supply side have in common:
// in every cleaning step some instrument with one of the traits sees the whole
// flow between source and what is cleaned. After, if given, names a class of
// part behind which it must stand where there is one.
func (p *Pass) onSupply(after model.Class, what string, traits ...string) {
	s := p.judgedSides()
	if s == nil {
		return
	}
	seen := p.withTrait(s.supplyInstr, traits...)
	if after != "" {
		seen = p.behind(after, s, seen)
	}
	if len(seen) > 0 {
		return
	}
	at := p.supplyPlace(after, s)
	where := "before " + p.Name(s.cleaned[0])
	if after != "" && p.Circuit.Part(at.Element).Class() == after {
		where = "after " + p.Name(at.Element) + " and " + where
	}
	p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(s.cleaned[0])}, Way: supplyWay.Of(p.Snapshot, p.Step),
		Message: Say("nothing measures %v in the supply %v", what, where)})
}

// onReturn is the same for the return side.
func (p *Pass) onReturn(what string, traits ...string) {
	s := p.judgedSides()
	if s == nil || s.returnIsOutside || len(p.withTrait(s.returnInstr, traits...)) > 0 {
		return
	}
	p.reportReturn(s, "nothing measures "+what)
}

// reportReturn reports what the return lacks: at its pump, which all that is cleaned
// may share, else at what is cleaned last.
func (p *Pass) reportReturn(s *sides, says string) {
	way := returnWay.Of(p.Snapshot, p.Step)
	if pump := p.returnPump(s); pump != "" {
		at := model.PlaceOf(pump)
		places := []model.Place{at}
		for _, id := range s.lastCleaned {
			places = append(places, model.PlaceOf(id))
		}
		p.Report(Finding{At: at, Places: append(places, model.PlaceOf(p.Step.Destination)), Way: way,
			Message: Say("%v in the return through %v", says, p.Name(pump))})
		return
	}
	for _, id := range s.lastCleaned {
		at := model.PlaceOf(id)
		p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(p.Step.Destination)}, Way: way,
			Message: Say("%v in the return from %v to %v", says, p.Name(id), p.Name(p.Step.Destination))})
	}
}

// returnPump gives the pump that the whole return passes, if there is one.
func (p *Pass) returnPump(s *sides) model.ID {
	var pump model.ID
	for _, e := range p.Route().Ways { // holds every edge that the whole flow passes
		if part, ok := p.partOfEdge(e).(*model.Pump); ok && s.back.in[e] && p.Route().Whole[e] {
			pump = part.ID
		}
	}
	return pump
}

// judgedSides gives the supply and return of a cleaning step, or nil where
// there is nothing to judge.
func (p *Pass) judgedSides() *sides {
	if !p.sweeps() {
		return nil
	}
	s := Sides.Of(p.Snapshot, p.Step)
	p.NotAssessed(model.PlaceOf(p.Step.ID), s.missing...)
	if s.notApplicable || len(s.missing) > 0 {
		return nil
	}
	return s
}

// supplyPlace is where a missing instrument of the supply is told: at the last
// part of a class, else the last pump or heater, of the supply, else at the source.
func (p *Pass) supplyPlace(after model.Class, s *sides) model.Place {
	along := p.along()
	for _, class := range []model.Class{after, model.ClassPump, model.ClassExchanger} {
		last, at := -1, model.Place{}
		for _, part := range p.ofClass(class) {
			for _, e := range p.Plant().PartEdges(part.RecordID()) {
				if here := along(e); s.supply.in[e] && here > last {
					last, at = here, model.PlaceOf(part.RecordID())
				}
			}
		}
		if last >= 0 {
			return at
		}
	}
	return model.PlaceOf(p.Step.Source)
}

// behind gives those of some instruments that stand, where the whole flow passes,
// further along than the first part of a class. Where the supply holds no such
// part, all count.
func (p *Pass) behind(class model.Class, s *sides, ids []model.ID) []model.ID {
	plant, r := p.Plant(), p.Route()
	along := p.along()
	first, found := 0, false
	for _, part := range p.ofClass(class) {
		for _, e := range plant.PartEdges(part.RecordID()) {
			if at := along(e); s.supply.in[e] && at >= 0 && (!found || at < first) {
				first, found = at, true
			}
		}
	}
	if !found {
		return ids
	}
	var out []model.ID
	for _, id := range ids {
		late := false
		for _, n := range contacts(p.Snapshot, r, id) {
			for _, a := range plant.Graph().Incident(n) {
				e := int(a.Edge)
				late = late || r.Whole[e] && s.supply.in[e] && along(e) > first
			}
		}
		if late {
			out = append(out, id)
		}
	}
	return out
}

// supplyWay and returnWay are the way from source to destination as far as it lies on
// either side of what is cleaned. They belong to all findings that show them.
var (
	supplyWay = NewStepFact("way of the supply", func(s *Snapshot, step *model.Step) []model.Place {
		return slices.Clip(EdgePlaces(Plant.Of(s), edgesOf(Route.Of(s, step).Ways, Sides.Of(s, step).supply.in)))
	}).keptWith()
	returnWay = NewStepFact("way of the return", func(s *Snapshot, step *model.Step) []model.Place {
		return slices.Clip(EdgePlaces(Plant.Of(s), edgesOf(Route.Of(s, step).Ways, Sides.Of(s, step).back.in)))
	}).keptWith()
)

// along tells how far along the route an edge lies, see [alongOf].
func (p *Pass) along() func(edge int) int {
	at := alongOf.Of(p.Snapshot, p.Step)
	return func(e int) int { return int(at[e]) }
}

// alongOf tells, by edge, how far along the route of a step it lies: edges that the
// whole flow passes come one after the other; all ways between two of them, as a bypass
// and what it goes round, lie equally far. It is -1 for an edge without flow.
var alongOf = NewStepFact("places along the route", func(s *Snapshot, step *model.Step) []int32 {
	plant, r := Plant.Of(s), Route.Of(s, step)
	divided := make([]bool, len(plant.Edges))
	for e := range divided {
		divided[e] = r.InFlow[e] && !r.Whole[e]
	}
	of, count := plant.Graph().Components(divided)
	rank := make([]int32, count) // by component of divided ways
	for i := range rank {
		rank[i] = -1
	}
	out := make([]int32, len(plant.Edges))
	for e := range out {
		out[e] = -1
	}
	at, node := int32(0), r.LineUp.Source
	for _, e := range r.Ways { // holds every edge that the whole flow passes, in order
		rank[of[node]] = at
		if r.Whole[e] {
			out[e] = at + 1
			at += 2
		}
		node = plant.Other(e, node)
	}
	for e := range out {
		if divided[e] {
			out[e] = rank[of[plant.Edges[e].From]]
		}
	}
	return out
}).keptWith()

// edgesOf gives those of some edges that are in a set.
func edgesOf(edges []int, in []bool) []int {
	var out []int
	for _, e := range edges {
		if in[e] {
			out = append(out, e)
		}
	}
	return out
}

// warm says whether the temperature of a step matters: it is told, or the step
// sends a chemical.
func warm(step *model.Step) bool {
	return step.Temperature.Known() || chemical(step.Medium.Or(""))
}

// flowTraits are those of instruments that prove a flow.
var flowTraits = []string{catalogue.TraitFlow, catalogue.TraitFlowSwitch}
