package checks

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/hydraulic"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var ruleAirNotCarried = &Rule{
	Name: "air-not-carried",
	Doc: Doc{
		Title: "High point whose air the flow does not carry away",
		Why:   "Under a bubble that stays the wall is never wetted, and the line seems narrower than it is.",
		How: "Where the line-up of a cleaning step traps air as it fills, the air has to go down with the flow behind the high point. In every run there that falls in the direction of flow, the Froude number v/√(gD) of the solved flow must reach the limit. " +
			"Air that a vent, a vented vessel or an open end lets out needs no flow.",
		Blind:    "Air that is drawn in while it runs, and the time that carrying takes.",
		Remedy:   "Raise the flow, take a smaller tube, or put a vent on the high point.",
		Cites:    []Citation{{Source: "Wisner, Mohsen and Kouwen, J. Hydraul. Div. ASCE 101 (1975)", Clause: "envelope for sweeping air down a slope", Standing: StandingMemory}},
		Severity: Fix,
		Merge:    AnyStep,
		Limits:   []string{"froude-least"},
	},
	Run: runAirNotCarried,
}

func runAirNotCarried(p *Pass) {
	sol := p.flowing()
	if sol == nil {
		return
	}
	least := p.Limit("froude-least")
	weak, unknown := p.weakFalls(sol, least.Is())
	if len(weak) == 0 && !unknown {
		return
	}
	vents := p.Plant().Venting(Heights.Of(p.Snapshot), p.Route().InFlow, []*network.LineUp{p.Route().LineUp})
	for _, pocket := range vents.Pockets {
		if pocket.Highest < 0 {
			continue
		}
		at := NodePlace(p.Plant(), pocket.Highest)
		if !p.flows(pocket) {
			continue
		}
		worst, v, found := p.worstFall(sol, pocket, weak)
		switch {
		case found:
			p.Report(Finding{At: at, Places: []model.Place{at, EdgePlace(p.Plant(), worst)}, Way: EdgePlaces(p.Plant(), pocket.Way),
				Measured: Number(weak[worst]), LimitName: "froude-least",
				Message: p.orShort(Say("air stays at %v: in %v the flow falls with %v, Froude number %v, below %v, and no vent lets the air out", p.Where(at), p.Where(EdgePlace(p.Plant(), worst)), Of(v), Number(weak[worst]), least.Value))})
		case unknown:
			p.unsolved(at, sol)
		}
	}
	if unknown || len(weak) > 0 {
		p.NotAssessed(model.PlaceOf(p.Step.ID), vents.Missing...)
	}
}

// flows says whether any edge of a pocket is on the route.
func (p *Pass) flows(pocket network.Pocket) bool {
	for _, e := range pocket.Edges {
		if p.Route().InFlow[e] {
			return true
		}
	}
	return false
}

// weakFalls gives the Froude number of every run on the route that falls with the
// flow too slowly to carry air, and whether any is unknown.
func (p *Pass) weakFalls(sol *flow.Solution, least float64) (map[int]float64, bool) {
	plant, heights := p.Plant(), Heights.Of(p.Snapshot)
	weak, unknown := map[int]float64{}, false
	for e := range plant.Edges {
		edge := &plant.Edges[e]
		if !p.Route().InFlow[e] || edge.Run == "" {
			continue
		}
		from, knownFrom := heights.Of[edge.From].Get()
		to, knownTo := heights.Of[edge.To].Get()
		if knownFrom && knownTo && from == to {
			continue
		}
		v, known := sol.Edges[e].Velocity.Get()
		d, told := edge.Bore.Get()
		if !known || !told || d <= 0 || !knownFrom || !knownTo {
			unknown = unknown || !known && knownFrom && knownTo
			continue
		}
		if falls := (v > 0) == (to < from); !falls || v == 0 {
			continue
		}
		if fr := float64(magnitude(v)) / math.Sqrt(hydraulic.StandardGravity*float64(d)); below(fr, least) {
			weak[e] = fr
		}
	}
	return weak, unknown
}

// worstFall gives the weakest falling run by which the air of a pocket would have
// to leave: in the pocket, and behind it with the flow down to where it stops
// falling.
func (p *Pass) worstFall(sol *flow.Solution, pocket network.Pocket, weak map[int]float64) (int, quantity.Velocity, bool) {
	worst, found := 0, false
	try := func(e int) {
		if fr, ok := weak[e]; ok && (!found || fr < weak[worst]) {
			worst, found = e, true
		}
	}
	for _, e := range pocket.Edges {
		try(e)
	}
	for _, e := range pocket.Way {
		try(e)
	}
	if !found {
		return 0, 0, false
	}
	return worst, magnitude(sol.Edges[worst].Velocity.Or(0)), true
}
