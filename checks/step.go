package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

// cleaningStep says whether a step sends a cleaning medium to sweep the
// circuit. Of a step that tells neither purpose nor medium it is not known.
func cleaningStep(step *model.Step) (cleans bool, missing []network.Missing) {
	if purpose, known := step.Purpose.Get(); known {
		switch purpose {
		case model.FirstRinse, model.AlkaliWash, model.RinseBetween, model.AcidWash, model.Disinfection, model.FinalRinse:
			return true, nil
		}
		return false, nil
	}
	if medium, known := step.Medium.Get(); known {
		return medium.Cleaning(), nil
	}
	return false, []network.Missing{{Record: step.ID, Key: "purpose"}}
}

// sweeps says whether the step of the pass sweeps the circuit, and notes where
// that is not known.
func (p *Pass) sweeps() bool {
	cleans, missing := cleaningStep(p.Step)
	p.NotAssessed(model.PlaceOf(p.Step.ID), missing...)
	return cleans
}

// chemical says whether a medium must be rinsed out again.
func chemical(m model.Medium) bool {
	return m == model.Alkali || m == model.Acid || m == model.Disinfect
}

// side is a stretch of the route before what is cleaned, or after it.
type side struct {
	in    []bool // by edge
	nodes []bool // by node: touched by an edge of the side
}

// sides are the supply and the return of a step.
type sides struct {
	cleaned         []model.ID // what the step cleans, as far as the flow passes it
	supply, back    side
	lastCleaned     []model.ID // where the return begins
	supplyInstr     []model.ID // instruments that see the whole supply flow
	returnInstr     []model.ID // instruments that see the whole return flow
	returnSampled   bool       // a sampling valve is on the return
	missing         []network.Missing
	notApplicable   bool // no route
	returnIsOutside bool // the route ends in what is cleaned
}

// Sides are the supply and return of a step: the route before the first and
// after the last vessel or object that the step cleans.
var Sides = NewStepFact("supply and return", func(s *Snapshot, step *model.Step) *sides {
	plant, r := Plant.Of(s), Route.Of(s, step)
	out := &sides{}
	if !r.Found {
		out.notApplicable = true
		return out
	}
	out.cleaned = cleanedInFlow(s, step, r)
	if len(out.cleaned) == 0 {
		out.missing = []network.Missing{{Record: step.ID, Key: "cleans"}}
		return out
	}
	stop := make([]bool, len(plant.Nodes))
	for _, id := range out.cleaned {
		for _, n := range plant.PartNodes(id) {
			stop[n] = true
		}
	}
	stop[r.LineUp.Source], stop[r.LineUp.Dest] = false, true
	out.supply = sideFrom(plant, r, r.LineUp.Source, stop)
	stop[r.LineUp.Source], stop[r.LineUp.Dest] = true, false
	out.back = sideFrom(plant, r, r.LineUp.Dest, stop)
	for _, id := range out.cleaned {
		for _, n := range plant.PartNodes(id) {
			if out.back.nodes[n] {
				out.lastCleaned = append(out.lastCleaned, id)
				break
			}
		}
	}
	for _, id := range out.cleaned {
		if plant.Nodes[r.LineUp.Dest].Part == id {
			out.lastCleaned = nil // what is cleaned keeps the liquid
		}
	}
	out.returnIsOutside = len(out.lastCleaned) == 0
	sense(s, r, out)
	return out
}).keptWith()

// cleanedInFlow gives what the step says it cleans and the flow passes; where
// the step says nothing, the objects and vessels to be cleaned that it passes.
func cleanedInFlow(s *Snapshot, step *model.Step, r *network.Route) []model.ID {
	plant := Plant.Of(s)
	flows := func(id model.ID) bool { return passes(plant, id, r.InFlow) }
	var out []model.ID
	for _, id := range step.Cleans {
		if flows(id) {
			out = append(out, id)
		}
	}
	if len(step.Cleans) > 0 {
		return out
	}
	for _, p := range slices.Concat(s.ofClass(model.ClassObject), s.ofTrait(catalogue.TraitCleaned)) {
		if flows(p.RecordID()) {
			out = append(out, p.RecordID())
		}
	}
	return out
}

func sideFrom(plant *network.Plant, r *network.Route, from int, stop []bool) side {
	out := side{make([]bool, len(plant.Edges)), make([]bool, len(plant.Nodes))}
	seen := make([]bool, len(plant.Nodes))
	seen[from] = true
	queue := []int{from}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		if stop[n] {
			continue
		}
		for _, a := range plant.Graph().Incident(n) {
			if !r.InFlow[a.Edge] {
				continue
			}
			out.in[a.Edge] = true
			out.nodes[n], out.nodes[a.Node] = true, true
			if !seen[a.Node] {
				seen[a.Node] = true
				queue = append(queue, int(a.Node))
			}
		}
	}
	return out
}

// sense finds the instruments and sampling valves that stand on either side
// where the whole flow passes: in the line, or on a branch without a valve.
func sense(s *Snapshot, r *network.Route, out *sides) {
	plant := Plant.Of(s)
	for _, p := range slices.Concat(s.ofClass(model.ClassInstrument), s.ofTrait(catalogue.TraitSample)) {
		id := p.RecordID()
		supply, back := false, false
		for _, n := range contacts(s, r, id) {
			for _, a := range plant.Graph().Incident(n) {
				if r.Whole[a.Edge] {
					supply = supply || out.supply.in[a.Edge]
					back = back || out.back.in[a.Edge]
				}
			}
		}
		switch {
		case s.Has(p, catalogue.TraitSample):
			out.returnSampled = out.returnSampled || back
		default:
			if supply {
				out.supplyInstr = append(out.supplyInstr, id)
			}
			if back {
				out.returnInstr = append(out.returnInstr, id)
			}
		}
	}
}

// contacts gives the nodes where a part touches what flows, across runs,
// fittings and instruments but no valve.
//
// A part with two ports sees only what flows through itself.
func contacts(s *Snapshot, r *network.Route, id model.ID) []int {
	plant := Plant.Of(s)
	if kind := s.Kind(s.Circuit.Part(id)); kind == nil || len(kind.Ports) > 1 {
		var out []int
		for _, e := range plant.PartEdges(id) {
			if r.InFlow[e] {
				out = append(out, plant.Edges[e].From, plant.Edges[e].To)
			}
		}
		return out
	}
	var out []int
	queue := plant.PartNodes(id) // few: a stub and what stands on it
	for i := 0; i < len(queue); i++ {
		n := queue[i]
		touches := false
		for _, a := range plant.Graph().Incident(n) {
			touches = touches || r.InFlow[a.Edge]
		}
		if touches {
			out = append(out, n)
			continue
		}
		for _, a := range plant.Graph().Incident(n) {
			if leadsOn(s, plant, int(a.Edge)) && !slices.Contains(queue, int(a.Node)) {
				queue = append(queue, int(a.Node))
			}
		}
	}
	return out
}

// leadsOn says whether an edge is tube, fitting or instrument: nothing that can
// shut.
func leadsOn(s *Snapshot, plant *network.Plant, edge int) bool {
	switch s.partOfEdge(edge).(type) {
	case nil, *model.Fitting, *model.Instrument:
		return true
	}
	return false
}

// withTrait gives those of some parts whose kind has one of the traits.
func (s *Snapshot) withTrait(ids []model.ID, traits ...string) []model.ID {
	var out []model.ID
	for _, id := range ids {
		for _, t := range traits {
			if s.Has(s.Circuit.Part(id), t) {
				out = append(out, id)
				break
			}
		}
	}
	return out
}
