package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/flow"
	"rinsewright/model/hydraulic"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var ruleValveSlams = &Rule{
	Name: "valve-slams",
	Doc: Doc{
		Title: "Quick valve that stops a long, fast column",
		Why:   "The column runs up against the shut valve: the knock loosens joints, breaks gauges and tears gaskets.",
		How: "For each pneumatic valve of two ports that the whole flow of a cleaning step passes: the solved pressure before it and the rise when it shuts. The rise is ρ a v (Joukowsky), the wave speed a from bore and wall of the tube; " +
			"less where the column back to the tank, or to the vessel before it, is so short that the wave is back before the valve has shut: 2 ρ L v / t. The sum is held against the lowest rated pressure that a part of the column tells, at most the limit. Divert valves only turn the flow over.",
		Blind:    "The side behind the valve, where the column tears off; how the valve really shuts; a pump's check valve; air, which softens the blow.",
		Remedy:   "Slow the valve, stop the pump first, or let the flow over to another way.",
		Cites:    []Citation{{Source: "Joukowsky 1898, Michaud 1878", Standing: StandingMemory}, byComputation},
		Severity: Note,
		Merge:    AnyStep,
		Limits:   []string{"surge-pressure", "valve-shuts-in"},
	},
	Run: runValveSlams,
}

func runValveSlams(p *Pass) {
	sol := p.flowing()
	if sol == nil {
		return
	}
	r, plant := p.Route(), p.Plant()
	for i, e := range r.Ways {
		valve, ok := p.partOfEdge(e).(*model.Valve)
		if !ok || !r.Whole[e] || i > 0 && plant.Edges[r.Ways[i-1]].Part == valve.ID || !p.stopsFlow(valve) {
			continue
		}
		p.judgeSlam(sol, valve, i)
	}
}

// stopsFlow says whether a valve shuts quickly by itself and stops the flow.
func (p *Pass) stopsFlow(valve *model.Valve) bool {
	k := p.Kind(valve)
	return valve.Actuation.Or("") == model.Pneumatic && k != nil && len(k.Ports) == 2 &&
		!k.Has(catalogue.TraitRegulating) && !k.Has(catalogue.TraitRelief) && !k.Has(catalogue.TraitCheck)
}

// judgeSlam judges a valve that begins with the edge of a number on the way.
func (p *Pass) judgeSlam(sol *flow.Solution, valve *model.Valve, number int) {
	plant, ways := p.Plant(), p.Route().Ways
	at := model.PlaceOf(valve.ID)
	tube, known := p.Catalogue.Tube(valve.Size.Or(""))
	if !known {
		p.NotAssessed(at, missingKey(valve, "size"))
		return
	}
	v, solved := sol.Edges[ways[number]].Velocity.Get()
	before := plant.Edges[ways[number]].From
	if p.Route().Forward[ways[number]] < 0 {
		before = plant.Edges[ways[number]].To
	}
	pressure, told := sol.Nodes[before].Pressure.Get()
	properties, liquid := sol.Properties.Get()
	if !solved || !told || !liquid {
		p.unsolved(at, sol)
		return
	}
	column, rated, weakest, missing := p.columnBefore(number)
	limit := p.Limit("surge-pressure")
	density := float64(properties.Density)
	wave := hydraulic.WaveSpeed(density, tube.Inside(), tube.Wall)
	rise := hydraulic.Surge(density, wave, magnitude(v), column, quantity.Duration(p.Limit("valve-shuts-in").Is()))
	f := Finding{At: at, Places: []model.Place{at}, Measured: Of(pressure + rise), LimitName: "surge-pressure"}
	stands := "the usual rating"
	if weakest != "" && float64(rated) < limit.Is() {
		f.Limit, f.Places = Of(rated), append(f.Places, model.PlaceOf(weakest))
		stands = "what " + p.Name(weakest) + " is rated for"
	} else {
		f.Limit = limit.Value
	}
	if !above(float64(pressure+rise), f.Limit.SI()) {
		p.NotAssessed(at, missing...)
		return
	}
	f.Message = Say("when %v stops %v of liquid at %v, the pressure before it rises by %v to %v, above the %v that is %v", p.Name(valve.ID), Of(column), Of(magnitude(v)), Of(rise), Of(pressure+rise), f.Limit, stands)
	p.Report(f)
}

// columnBefore gives the length of tube from the last vessel or supply on the way to
// an edge of it, as far as it is known, and the lowest pressure that a part on it is
// rated for.
func (p *Pass) columnBefore(number int) (column quantity.Length, rated quantity.Pressure, weakest model.ID, missing []network.Missing) {
	plant, ways := p.Plant(), p.Route().Ways
	for i := number - 1; i >= 0; i-- {
		part := p.partOfEdge(ways[i])
		if part != nil && (part.Class() == model.ClassVessel || part.Class() == model.ClassTerminal) {
			break
		}
		edge := &plant.Edges[ways[i]]
		if l, known := edge.Length.Get(); known {
			column += l
		} else {
			missing = append(missing, edge.Missing...)
		}
		if x, ok := part.(*model.Exchanger); ok {
			if bar, told := x.RatedPressure.Get(); told && (weakest == "" || bar < rated) {
				rated, weakest = bar, x.ID
			}
		}
	}
	return column, rated, weakest, missing
}
