package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/graph"
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
	at := p.supplyPlace(s)
	where := "before " + p.Name(s.cleaned[0])
	if after != "" && p.Circuit.Part(at.Element).Class() == after {
		where = "after " + p.Name(at.Element) + " and " + where
	}
	p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(s.cleaned[0])}, Way: EdgePlaces(p.Plant(), edgesOf(p.Route().Ways, s.supply.in)),
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

func (p *Pass) reportReturn(s *sides, says string) {
	for _, id := range s.lastCleaned {
		at := model.PlaceOf(id)
		p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(p.Step.Destination)}, Way: EdgePlaces(p.Plant(), edgesOf(p.Route().Ways, s.back.in)),
			Message: Say("%v in the return from %v to %v", says, p.Name(id), p.Name(p.Step.Destination))})
	}
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
// heater, else the pump, of the supply, else at the source.
func (p *Pass) supplyPlace(s *sides) model.Place {
	at := model.PlaceOf(p.Step.Source)
	best := 0
	for _, e := range p.Route().Ways {
		part := p.partOfEdge(e)
		if part == nil || !s.supply.in[e] {
			continue
		}
		rank := map[model.Class]int{model.ClassPump: 1, model.ClassExchanger: 2}[part.Class()]
		if rank > 0 && rank >= best {
			at, best = model.PlaceOf(part.RecordID()), rank
		}
	}
	return at
}

// behind gives those of some instruments that the flow does not reach without
// passing a part of a class. Where the supply holds no such part, all count.
func (p *Pass) behind(class model.Class, s *sides, ids []model.ID) []model.ID {
	plant, r := p.Plant(), p.Route()
	open := slices.Clone(s.supply.in)
	found := false
	for _, part := range p.ofClass(class) {
		for _, e := range plant.PartEdges(part.RecordID()) {
			found = found || open[e]
			open[e] = false
		}
	}
	if !found {
		return ids
	}
	early := plant.Graph().Reach(open, []int{r.LineUp.Source}, graph.Downstream, nil)
	var out []model.ID
	for _, id := range ids {
		late := false
		for _, n := range contacts(p.Snapshot, r, id) {
			late = late || s.supply.nodes[n] && !early[n]
		}
		if late {
			out = append(out, id)
		}
	}
	return out
}

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
