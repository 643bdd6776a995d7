package heat

import (
	"fmt"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
	"rinsewright/model/thermal"
)

// leak is what an edge or vessel loses for each kelvin above the air.
type leak struct {
	conductance float64 // W/K
	unknown     bool
}

// leaks works out what the runs and vessels of the way lose near the hottest temperature
// of the step. Nothing that is no warmer than the air loses anything.
func (w *work) leaks() {
	w.edgeLeak, w.vesselLeak = map[int]leak{}, map[model.ID]leak{}
	if w.hot <= w.opt.Air {
		return
	}
	bareRuns, lagged := 0, false
	for e := range w.p.Edges {
		edge := &w.p.Edges[e]
		if edge.Run == "" || !w.flows(e) {
			continue
		}
		length, known := edge.Length.Get()
		if known && length == 0 {
			continue
		}
		run := w.p.Circuit.Run(edge.Run)
		tube, sized := w.p.Catalogue.Tube(run.Size.Or(""))
		if !known || !sized {
			key := "size"
			if !known {
				key = "stretches"
			}
			w.need("heat lost on the way", network.Missing{Record: edge.Run, Key: key})
			w.edgeLeak[e] = leak{unknown: true}
			continue
		}
		thick, told := run.Insulation.Get()
		if !told && edge.Stretch == 0 {
			bareRuns++
			w.bare = run.ID
		}
		lagged = lagged || thick > 0
		l, err := thermal.Tube{Outside: tube.Outside, Insulation: Length(thick), Conductivity: w.opt.Insulation, Emissivity: w.opt.Emissivity}.Loss(w.hot, w.opt.Air)
		if err != nil {
			w.failOnce(model.PlaceOf(run.ID), err)
			w.edgeLeak[e] = leak{unknown: true}
			continue
		}
		w.edgeLeak[e] = leak{conductance: float64(l.Conductance(length, w.hot, w.opt.Air))}
	}
	w.assumeBare("run", "insulation_mm", bareRuns, w.bare)
	bareVessels := 0
	for _, v := range w.vessels {
		if !v.Insulation.Known() {
			bareVessels++
			w.bare = v.ID
		}
		lagged = lagged || v.Insulation.Or(0) > 0
		w.vesselLeak[v.ID] = w.leakOf(v)
	}
	w.assumeBare("vessel", "insulation_mm", bareVessels, w.bare)
	w.assume(flow.Assume(Say("%v, still", w.opt.Air), flow.Assumption{What: "air about the plant", Basis: practice}))
	w.assume(flow.Assumption{What: "heat lost by valves, pumps, fittings and drops", Value: "not counted", Basis: "it comes on top"})
	w.assume(flow.Assumption{What: "emissivity of steel and sheet", Value: fmt.Sprintf("%.2f", w.opt.Emissivity), Basis: practice})
	if lagged {
		w.assume(flow.Assumption{What: "conductivity of insulation", Value: fmt.Sprintf("%.3f W/(m·K)", w.opt.Insulation), Basis: "mineral wool at 50 °C; " + practice})
	}
}

// assumeBare says of runs or vessels of which no insulation was told that they were
// taken as bare: once for all of them.
func (w *work) assumeBare(sort, key string, n int, one model.ID) {
	a := flow.Assumption{What: "insulation", Value: "none, bare steel", Basis: "never told"}
	switch n {
	case 0:
		return
	case 1:
		a.Record, a.Key = one, key
	default:
		a.What = fmt.Sprintf("insulation of %d %ss", n, sort)
	}
	w.assume(a)
}

func (w *work) leakOf(v *model.Vessel) leak {
	area, missing := shellOf(v)
	if len(missing) > 0 {
		w.need("heat lost by the vessel", missing...)
		return leak{unknown: true}
	}
	height := Length(v.Height.Or(0))
	l, err := thermal.Wall{Height: height, Insulation: Length(v.Insulation.Or(0)), Conductivity: w.opt.Insulation, Emissivity: w.opt.Emissivity}.Loss(w.hot, w.opt.Air)
	if err != nil {
		w.failOnce(model.PlaceOf(v.ID), err)
		return leak{unknown: true}
	}
	w.assume(flow.Assumption{What: "wall of vessels", Value: "all of it as warm as the liquid", Basis: practice})
	return leak{conductance: float64(l.Conductance(area, w.hot, w.opt.Air))}
}

// reportLosses tells what runs and vessels lose in the field of the running wash.
func (w *work) reportLosses() {
	if w.hot <= w.opt.Air {
		w.out.Lost = Some(Power(0))
		return
	}
	all := true
	add := func(l Loss) {
		if p, known := l.Power.Get(); known {
			w.out.KnownLost += p
		} else {
			all = false
		}
		w.out.Losses = append(w.out.Losses, l)
	}
	for _, part := range w.p.Circuit.Parts() {
		v, ok := part.(*model.Vessel)
		if !ok {
			continue
		}
		if _, of := w.vesselLeak[v.ID]; of {
			add(w.lossOfVessel(v))
		}
	}
	for _, run := range w.p.Circuit.Runs() {
		if l, ok := w.lossOfRun(run); ok {
			add(l)
		}
	}
	if all {
		w.out.Lost = Some(w.out.KnownLost)
	}
}

func (w *work) lossOfRun(run *model.Run) (Loss, bool) {
	l := Loss{Record: run.ID, Insulation: run.Insulation, Length: run.Length()}
	sum, known, any := 0.0, true, false
	edges := w.p.RunEdges(run.ID)
	for _, e := range edges {
		if _, leaks := w.edgeLeak[e]; !leaks {
			continue
		}
		any = true
		lost, ok := w.lostIn(e)
		known = known && ok
		sum += lost
	}
	if !any {
		return l, false
	}
	if known {
		l.Power = Some(Power(sum))
	}
	in, out := w.p.Edges[edges[0]].From, w.p.Edges[edges[len(edges)-1]].To
	if w.sol.Edges[edges[0]].Flow.Or(0) < 0 {
		in, out = out, in
	}
	l.In, l.Out = w.out.Nodes[in], w.out.Nodes[out]
	// A node in which flows meet is as warm as the mix, so the end of the run is told of
	// what comes out of it.
	last := edges[len(edges)-1]
	if out != w.p.Edges[last].To {
		last = edges[0]
	}
	if t, ok := w.comesOut(last); ok {
		l.Out = Some(t)
	}
	return l, true
}

// lossOfVessel tells what a vessel loses: the tank that is drawn from at the temperature
// of what it holds, a washed vessel from what passes it.
func (w *work) lossOfVessel(v *model.Vessel) Loss {
	area, missing := shellOf(v)
	l := Loss{Record: v.ID, Insulation: v.Insulation}
	if len(missing) == 0 {
		l.Area = Some(area)
	}
	k := w.vesselLeak[v.ID]
	for _, e := range w.p.PartEdges(v.ID) {
		if w.p.Edges[e].Path >= 0 || !w.flows(e) {
			continue
		}
		l.In, l.Out = w.out.Nodes[w.p.Edges[e].From], w.out.Nodes[w.p.Edges[e].To]
		if lost, ok := w.lostIn(e); ok {
			l.Power = Some(Power(lost))
		}
		return l
	}
	if t, known := w.out.Nodes[w.sol.Route.LineUp.Source].Get(); known && !k.unknown && v.ID == w.step.Source {
		l.In, l.Out = Some(t), Some(t)
		l.Power = Some(Power(k.conductance * max(0, float64(t-w.opt.Air))))
	}
	return l
}
