package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/network"
)

var ruleAirPocket = &Rule{
	Name: "air-pocket",
	Doc: Doc{
		Title: "High point that no vent reaches",
		Why:   "Air that cannot get out keeps the liquid off the wall above it: that place is never cleaned and never gets warm.",
		How: "When liquid fills what the cleaning steps wet, air at each point must find a way to a vent, a vented vessel or an open end without going down. " +
			"What stays in all of these line-ups, in places that no step sends its flow through, is told with its volume. Places with flow, which may carry the air along, are judged by air-not-carried.",
		Blind:    "Air that dissolves or is drawn out by the flow beside a short leg; the room above the axis in a tube that lies level.",
		Remedy:   "Turn the branch to the side, or put a vent on the high point.",
		Cites:    []Citation{handbook27, commonPractice},
		Severity: Fix,
		Limits:   []string{"air-pocket-most"},
	},
	Run: runAirPocket,
}

// Ventings tells where air is trapped while the cleaning steps fill what they wet.
var Ventings = NewFact("venting", func(s *Snapshot) *ventings { return newVentings(s).fill(s) }).
	keeping(func(f *Fact[*ventings], s *Snapshot) (*ventings, bool) {
		was, ok := f.was(s)
		if !ok || !changesOf.Of(s).shownOnly {
			return nil, false
		}
		if now := newVentings(s); !slices.Equal(was.wet, now.wet) || !slices.EqualFunc(was.lineUps, now.lineUps, sameWays) {
			return now.fill(s), true
		}
		return was, true
	})

// ventings is where air is trapped, and of what.
type ventings struct {
	*network.Venting
	lineUps []*network.LineUp // each different one once
	wet     []bool            // by edge
}

func newVentings(s *Snapshot) *ventings {
	plant := Plant.Of(s)
	out := &ventings{}
	var routes []*network.Route
	done := map[*model.Step]bool{}
	for _, step := range s.Circuit.Steps() {
		like := lineUps.Of(s).like[step]
		if cleans, _ := cleaningStep(step); !cleans || done[like] {
			continue
		}
		done[like] = true
		if r := Route.Of(s, like); r.Found {
			out.lineUps, routes = append(out.lineUps, r.LineUp), append(routes, r)
		}
	}
	if len(out.lineUps) > 0 {
		out.wet = plant.Wetted(routes)
		for e := range out.wet {
			out.wet[e] = out.wet[e] && !plant.Dry(e)
		}
	}
	return out
}

// fill finds where the air is trapped.
func (v *ventings) fill(s *Snapshot) *ventings {
	v.Venting = &network.Venting{}
	if len(v.lineUps) > 0 {
		v.Venting = Plant.Of(s).Venting(Heights.Of(s), v.wet, v.lineUps)
	}
	return v
}

// everFlows tells, by edge, what the flow of some step passes.
var everFlows = NewFact("ever flows", func(s *Snapshot) []bool {
	out := make([]bool, len(Plant.Of(s).Edges))
	for _, r := range routesOf(s) {
		for e, in := range r.InFlow {
			out[e] = out[e] || in
		}
	}
	return out
})

func runAirPocket(p *Pass) {
	plant, flows := p.Plant(), everFlows.Of(p.Snapshot)
	most := p.Limit("air-pocket-most")
	v := Ventings.Of(p.Snapshot)
	for _, pocket := range v.Pockets {
		if pocket.Highest < 0 || slices.ContainsFunc(pocket.Edges, func(e int) bool { return flows[e] }) {
			continue
		}
		at := NodePlace(plant, pocket.Highest)
		volume, known := pocket.Volume.Get()
		if !known {
			p.NotAssessed(at, pocket.Missing...)
			continue
		}
		if !above(float64(volume), most.Is()) {
			continue
		}
		p.Report(Finding{At: at, Places: EdgePlaces(plant, pocket.Edges), Way: EdgePlaces(plant, pocket.Way), Measured: Of(volume), LimitName: "air-pocket-most",
			Message: Say("%v of air stay at %v: nothing flows there and no vent is above it", Of(volume), p.Where(at))})
	}
	for _, e := range v.Vague {
		if !flows[e] {
			p.NotAssessed(EdgePlace(plant, e), v.Missing...)
			return // once for all: the same heights are missing
		}
	}
}
