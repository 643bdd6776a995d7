package heat

import (
	"cmp"
	"slices"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/fluid"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// work is one computation in the making.
type work struct {
	sol    *flow.Solution
	p      *network.Plant
	step   *model.Step
	opt    Options
	out    *State
	liquid fluid.Liquid

	density, capacity float64     // of the step's liquid, kg/m³ and J/(kg·K); 0 while not known
	hot               Temperature // the hottest that the step comes to

	exchangerAt map[int]*Exchanger      // by edge
	able        map[model.ID]Capability // of heaters
	vessels     []*model.Vessel         // that get hot: the tank that is drawn from, and those on the way
	edgeLeak    map[int]leak            // by edge of a run that flows
	vesselLeak  map[model.ID]leak
	bare        model.ID // the last record that was taken as bare

	into        [][]int // by node: edges that bring liquid
	first, last []int   // by edge that flows: where it begins and ends
	order       []int   // nodes, in the order of the flow
}

// Of works out the heat side of a step that was solved. What hinders it stands in the
// state, with all that could be found without it.
func Of(sol *flow.Solution, opt Options) *State {
	w := &work{sol: sol, p: sol.Plant, step: sol.Step, opt: opt.withDefaults(), exchangerAt: map[int]*Exchanger{}, able: map[model.ID]Capability{}}
	w.out = &State{Step: sol.Step, Solution: sol, Asked: sol.Step.Temperature, Air: w.opt.Air, Nodes: make([]Opt[Temperature], len(sol.Plant.Nodes)), Edges: make([]Edge, len(sol.Plant.Edges))}
	if !sol.Route.Found {
		return w.out
	}
	w.out.Round = w.step.Source == w.step.Destination
	liquid, missing, err := flow.LiquidOf(w.step)
	if err != nil {
		w.out.Failures = append(w.out.Failures, flow.Failure{Text: err.Error(), At: model.PlaceOf(w.step.ID)})
	}
	w.liquid = liquid
	if p, known := sol.Properties.Get(); known {
		w.density, w.capacity = float64(p.Density), float64(p.HeatCapacity)
	}
	w.find()
	if len(w.out.Exchangers) > 0 {
		w.need("all that is heat", missing...)
	}
	if !w.out.Asked.Known() {
		w.sort()
		return w.out
	}
	w.begins()
	w.hot = max(w.out.Asked.Or(0), w.out.Start.Or(0))
	w.hold()
	w.ways()
	w.leaks()
	if w.density > 0 {
		w.pass()
		w.running()
	}
	w.reportLosses()
	w.warm()
	w.steamWhileRunning()
	w.sort()
	return w.out
}

// begins finds the temperature at the start. What no heater or cooler changes comes as
// the step asks for it, where nothing else is told.
func (w *work) begins() {
	s := StartOf(w.p, w.step, w.opt.Air)
	if len(w.out.Exchangers) > 0 || len(s.Assumed) == 0 && len(s.Missing) == 0 {
		w.out.Start = s.Temperature
		w.need("inlet of the exchangers", s.Missing...)
		for _, a := range s.Assumed {
			w.assume(a)
		}
		return
	}
	w.out.Start = w.out.Asked
}

// runsFrom gives the temperature in K of what is drawn while the wash runs, at first.
func (w *work) runsFrom() (float64, bool) {
	t, known := w.out.Start.Get()
	if asked, told := w.out.Asked.Get(); told && w.out.Round && (w.heated() || !known) {
		return float64(asked), true
	}
	return float64(t), known
}

// heated says whether a heater lies on the way that has something to do.
func (w *work) heated() bool {
	return slices.ContainsFunc(w.out.Exchangers, func(x Exchanger) bool { return !x.Cools && !x.Idle })
}

// hold lists the vessels that get hot with the circuit.
func (w *work) hold() {
	for _, part := range w.p.Circuit.Parts() {
		v, ok := part.(*model.Vessel)
		if !ok {
			continue
		}
		on := v.ID == w.step.Source
		for _, e := range w.p.PartEdges(v.ID) {
			on = on || w.p.Edges[e].Path < 0 && w.sol.Route.InFlow[e]
		}
		if on {
			w.vessels = append(w.vessels, v)
		}
	}
}

// steamWhileRunning tells the steam of what heaters give while the wash runs.
func (w *work) steamWhileRunning() {
	for i := range w.out.Exchangers {
		x := &w.out.Exchangers[i]
		if p, known := x.Holds.Get(); known && x.Steam != nil && !x.Idle {
			x.Steam.Hold = steamFlow(float64(p), x.Steam)
		}
	}
	if slices.ContainsFunc(w.out.Exchangers, func(x Exchanger) bool { return x.Steam != nil && !x.Idle && x.Steam.Saturation.Known() }) {
		w.assume(flow.Assumption{What: "steam in the heater", Value: "dry and saturated, at the pressure of its supply", Basis: "what the control valve takes is not counted"})
	}
}

func (w *work) heatCapacity() fluid.HeatCapacity { return fluid.HeatCapacity(w.capacity) }

func (w *work) need(what string, missing ...network.Missing) {
	for _, m := range missing {
		if !slices.ContainsFunc(w.out.Missing, func(x Missing) bool { return x.Missing == m }) {
			w.out.Missing = append(w.out.Missing, Missing{m, what})
		}
	}
}

func (w *work) assume(a flow.Assumption) {
	if !slices.ContainsFunc(w.out.Assumptions, func(b flow.Assumption) bool {
		return a.Record == b.Record && a.Key == b.Key && a.What == b.What
	}) {
		w.out.Assumptions = append(w.out.Assumptions, a)
	}
}

// failOnce notes why something could not be computed; the same reason stands once.
func (w *work) failOnce(at model.Place, err error) {
	text := err.Error()
	if !slices.ContainsFunc(w.out.Failures, func(f flow.Failure) bool { return f.Text == text }) {
		w.out.Failures = append(w.out.Failures, flow.Failure{Text: text, At: at})
	}
}

func (w *work) sort() {
	slices.SortFunc(w.out.Assumptions, func(a, b flow.Assumption) int {
		return cmp.Or(cmp.Compare(a.Record, b.Record), cmp.Compare(a.Key, b.Key), cmp.Compare(a.What, b.What))
	})
	slices.SortFunc(w.out.Missing, func(a, b Missing) int {
		return cmp.Or(cmp.Compare(a.Record, b.Record), cmp.Compare(a.Key, b.Key))
	})
}
