package checks

import (
	"rinsewright/model"
	"rinsewright/model/network"
)

var ruleSplitFlow = &Rule{
	Name: "split-flow",
	Doc: Doc{
		Title:    "Flow that divides",
		Why:      "Where two ways are open at once the flow takes the easier; nobody knows whether the other one is swept.",
		How:      "In each cleaning step, the points where the whole flow comes in and more than one open way leads on. Several spray devices of one vessel are told as a note: they are meant to work together.",
		Blind:    "How the flow divides: that needs the pressure losses solved, and then each branch is to be held against the least velocity.",
		Remedy:   "Wash the ways one after the other, or meter and balance each.",
		Cites:    []Citation{handbook27},
		Severity: Fix,
		Merge:    AnyStep,
	},
	Run: runSplitFlow,
}

func runSplitFlow(p *Pass) {
	r, plant := p.Route(), p.Plant()
	if !p.sweeps() || !r.Found {
		return
	}
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
		ways := p.waysOn(r, n)
		if len(ways) < 2 {
			continue
		}
		at := model.PlaceOf(plant.Nodes[n].Part)
		if plant.Nodes[n].Part == "" {
			at = NodePlace(plant, n)
		}
		severity := Fix
		if p.allToSprays(r, n, ways) {
			severity = Note
		}
		p.ReportAs(severity, Finding{At: at, Places: append([]model.Place{at}, EdgePlaces(plant, ways)...), Measured: Number(float64(len(ways))),
			Message: Say("the flow divides at %v into %v open ways; how it divides is unknown", p.Where(at), len(ways))})
	}
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
