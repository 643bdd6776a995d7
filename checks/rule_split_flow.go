package checks

import (
	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var ruleSplitFlow = &Rule{
	Name: "split-flow",
	Doc: Doc{
		Title: "Flow that divides",
		Why:   "Where two ways are open at once the flow takes the easier. The other gets what is left, and less still once a filter or a valve in it has changed.",
		How: "In each cleaning step, the points where the whole flow comes in and more than one open way leads on. The flow is solved; each way's share is told, and the slowest run of each, up to where the ways meet again, is held against the least velocity. " +
			"Where every way is swept the finding is a note, as it is for several spray devices of one vessel, which are meant to work together, unless one of their lines is too slow.",
		Blind:    "Ways that divide once more: there the slowest run counts, not each share. Valves throttled by hand: an open valve counts with its full Kv.",
		Remedy:   "Wash the ways one after the other, or meter and balance each.",
		Cites:    []Citation{handbook27},
		Severity: Fix,
		Merge:    AnyStep,
		Limits:   []string{"velocity-least"},
	},
	Run: runSplitFlow,
}

func runSplitFlow(p *Pass) {
	sol := p.flowing()
	if sol == nil {
		return
	}
	r, plant := p.Route(), p.Plant()
	divided := make([]bool, len(plant.Nodes)) // touched by a part of the flow
	for e, in := range r.InFlow {
		if in && !r.Whole[e] {
			divided[plant.Edges[e].From], divided[plant.Edges[e].To] = true, true
		}
	}
	for n, part := range divided {
		if !part {
			continue
		}
		if ways := p.waysOn(r, n); len(ways) >= 2 {
			p.judgeSplit(sol, n, ways)
		}
	}
}

// branchFlow is what goes into one way from a split.
type branchFlow struct {
	flow quantity.Flow
	slow quantity.Velocity // least in its runs
}

// judgeSplit judges one point where the flow divides.
func (p *Pass) judgeSplit(sol *flow.Solution, node int, ways []int) {
	plant, least := p.Plant(), p.Limit("velocity-least")
	at := model.PlaceOf(plant.Nodes[node].Part)
	if plant.Nodes[node].Part == "" {
		at = NodePlace(plant, node)
	}
	places := append([]model.Place{at}, EdgePlaces(plant, ways)...)
	severity, together := Fix, p.allToSprays(p.Route(), node, ways)
	if together {
		severity = Note
	}
	branches, known := p.branchFlows(sol, node, ways)
	if !known {
		p.ReportAs(severity, Finding{At: at, Places: places, Measured: Number(float64(len(ways))),
			Message: Say("the flow divides at %v into %v open ways; how it divides cannot be told yet", p.Where(at), len(ways))})
		p.unsolved(at, sol)
		return
	}
	var sum quantity.Flow
	slowest := branches[0].slow
	for _, b := range branches {
		sum += b.flow
		slowest = min(slowest, b.slow)
	}
	says := "each way is swept"
	if severity = Note; below(float64(slowest), least.Is()) {
		severity, says = Fix, "slower than "
	}
	shares := make([]Text, len(branches))
	for i, b := range branches {
		shares[i] = Say("%v at %v", Percent(float64(b.flow/max(sum, 1e-12))), Of(b.slow))
	}
	f := Finding{At: at, Places: places, Measured: Of(slowest), LimitName: "velocity-least",
		Message: Say("the flow divides at %v into %v open ways, %v: %v", p.Where(at), len(ways), listed(shares), says)}
	if severity == Fix {
		f.Message = p.orShort(Say("the flow divides at %v into %v open ways, %v: %v%v", p.Where(at), len(ways), listed(shares), says, least.Value))
	}
	p.ReportAs(severity, f)
}

// listed writes texts as a list: "a, b and c".
func listed(texts []Text) Text {
	switch len(texts) {
	case 0:
		return Text{}
	case 1:
		return texts[0]
	}
	out := texts[0]
	for _, t := range texts[1 : len(texts)-1] {
		out = Say("%v, %v", out, t)
	}
	return Say("%v and %v", out, texts[len(texts)-1])
}

// branchFlows gives what goes into each way from a node, in order of the ways;
// false where it is not solved.
func (p *Pass) branchFlows(sol *flow.Solution, node int, ways []int) ([]branchFlow, bool) {
	out := make([]branchFlow, len(ways))
	for i, e := range ways {
		q, known := sol.Edges[e].Flow.Get()
		slow, all := p.slowestFrom(sol, node, e)
		if !known || !all {
			return nil, false
		}
		out[i] = branchFlow{magnitude(q), slow}
	}
	return out, true
}

// slowestFrom gives the least velocity in the runs of one way from a split up to
// where the whole flow passes again; that at its beginning where it has no run.
func (p *Pass) slowestFrom(sol *flow.Solution, node, first int) (quantity.Velocity, bool) {
	plant, r := p.Plant(), p.Route()
	slow, known := sol.Edges[first].Velocity.Get()
	slow = magnitude(slow)
	found := false
	seenEdge, seen := map[int]bool{}, map[int]bool{node: true}
	var queue []int
	visit := func(e, to int) bool {
		if seenEdge[e] {
			return true
		}
		seenEdge[e] = true
		if run := plant.Edges[e].Run; run != "" && !p.isFace(run) {
			v, told := sol.Edges[e].Velocity.Get()
			if !told {
				return false
			}
			if v = magnitude(v); !found || v < slow {
				slow, found = v, true
			}
		}
		if !seen[to] {
			seen[to] = true
			queue = append(queue, to)
		}
		return true
	}
	if !visit(first, plant.Other(first, node)) {
		return 0, false
	}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		if p.wholeAt(r, n) || p.isVesselNode(n) {
			continue
		}
		for _, a := range plant.Graph().Incident(n) {
			if r.InFlow[a.Edge] && !r.Whole[a.Edge] && !visit(int(a.Edge), int(a.Node)) {
				return 0, false
			}
		}
	}
	return slow, found || known
}

// isFace says whether a run joins two parts without any tube.
func (p *Pass) isFace(id model.ID) bool {
	run := p.Circuit.Run(id)
	return run != nil && run.Length() == quantity.Some(quantity.Length(0))
}

// wholeAt says whether the whole flow passes a node.
func (p *Pass) wholeAt(r *network.Route, n int) bool {
	for _, a := range p.Plant().Graph().Incident(n) {
		if r.Whole[a.Edge] {
			return true
		}
	}
	return false
}

func (p *Pass) isVesselNode(n int) bool {
	_, ok := p.partOfNode(n).(*model.Vessel)
	return ok
}

// waysOn gives the edges that lead on from a node where the whole flow comes in
// and divides.
func (p *Pass) waysOn(r *network.Route, n int) []int {
	comesIn := n == r.LineUp.Source
	var on []int
	for _, a := range p.Plant().Graph().Incident(n) {
		e := int(a.Edge)
		from := p.Plant().Edges[e].From == n
		switch {
		case !r.InFlow[e]:
		case r.Whole[e]:
			// Forward +1 leads from From to To; 0 is not decided.
			comesIn = comesIn || r.Forward[e] == 0 || (r.Forward[e] > 0) != from
		default:
			on = append(on, e)
		}
	}
	if !comesIn {
		return nil
	}
	return on
}

// allToSprays says whether each way ends in a spray device of one vessel before
// the ways meet again.
func (p *Pass) allToSprays(r *network.Route, node int, ways []int) bool {
	plant := p.Plant()
	var vessel model.ID
	for _, first := range ways {
		found := false
		seen := map[int]bool{node: true}
		queue := []int{plant.Other(first, node)}
		for len(queue) > 0 {
			n := queue[0]
			queue = queue[1:]
			if seen[n] {
				continue
			}
			seen[n] = true
			if v, ok := p.partOfNode(n).(*model.Vessel); ok {
				if vessel != "" && vessel != v.ID {
					return false
				}
				vessel = v.ID
				continue
			}
			_, spray := p.partOfNode(n).(*model.Spray)
			found = found || spray
			for _, a := range plant.Graph().Incident(n) {
				if r.InFlow[a.Edge] && !r.Whole[a.Edge] {
					queue = append(queue, int(a.Node))
				}
			}
		}
		if !found {
			return false
		}
	}
	return vessel != ""
}
