package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/hydraulic"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// speed is the velocity in one run in one step.
type speed struct {
	at    model.Place
	run   *model.Run
	flow  quantity.Flow
	bore  quantity.Bore
	is    quantity.Velocity
	whole bool // the whole flow of the route passes it

	partFull bool                            // runs part-full by gravity
	reynolds quantity.Opt[quantity.Ratio]    // unknown where the liquid is
	shear    quantity.Opt[quantity.Pressure] // of the wall
}

// Speeds are the velocities of a step in every run on its route, and what is
// missing where they are unknown. They follow from the solved flow; where that is
// not to be had, from the flow asked for where the whole of it passes.
var Speeds = NewStepFact("velocities", func(s *Snapshot, step *model.Step) speedsOfStep {
	var out speedsOfStep
	plant, r := Plant.Of(s), Route.Of(s, step)
	if !r.Found {
		return out
	}
	sol := Flows.Of(s, step)
	flows := 0
	for _, run := range s.runEdges() {
		if r.InFlow[run.first] && !run.face {
			flows++
		}
	}
	out.known = make([]speed, 0, flows)
	for _, run := range s.runEdges() {
		e := run.first
		if !r.InFlow[e] || run.face {
			continue
		}
		edge := &sol.Edges[e]
		v := speed{at: model.PlaceOf(run.ID), run: run.Run, bore: plant.Edges[e].Bore.Or(0), whole: r.Whole[e]}
		solved, known := edge.Velocity.Get()
		if known && !(v.whole && asAsked(sol, edge.Flow.Or(0))) {
			v.is, v.flow = magnitude(solved), magnitude(edge.Flow.Or(0))
			v.reynolds, v.shear, v.partFull = edge.Reynolds, edge.Shear, edge.PartFull
			out.known = append(out.known, v)
			continue
		}
		is, missing := plant.Velocity(r, e)
		if v.is, known = is.Get(); known {
			v.flow = step.Flow.Or(0)
			v.state(sol)
			out.known = append(out.known, v)
			continue
		}
		out.lacks(step, v.at, missing)
	}
	return out
})

// state works out what the flow does in the tube, where the liquid is known.
func (v *speed) state(sol *flow.Solution) {
	liquid, known := sol.Properties.Get()
	if !known || v.bore <= 0 {
		return
	}
	pipe := hydraulic.Pipe{Bore: v.bore, Roughness: flow.Roughness}
	st := pipe.At(v.flow, hydraulic.Fluid{Density: float64(liquid.Density), Viscosity: float64(liquid.Viscosity)})
	v.reynolds, v.shear = quantity.Some(st.Reynolds), quantity.Some(st.Shear)
}

// asAsked says whether a solved flow is the one asked for: to rounding, or because
// a supply that no pump regulates gives more, which is taken to be throttled.
func asAsked(sol *flow.Solution, q quantity.Flow) bool {
	asked, told := sol.Supply.Asked.Get()
	return told && (magnitude(magnitude(q)-asked) <= 1e-6*asked || sol.Supply.Over.Known())
}

type speedsOfStep struct {
	known   []speed
	missing map[model.Place][]network.Missing
	places  []model.Place // of missing, in order
	divided bool          // somewhere it is unknown how the flow divides
}

// lacks notes what is missing for the velocity at a place.
func (s *speedsOfStep) lacks(step *model.Step, at model.Place, missing []network.Missing) {
	kept := slices.DeleteFunc(slices.Clone(missing), func(m network.Missing) bool { return m.Key == "split" })
	if len(kept) == 0 {
		s.divided = true // told by split-flow
		return
	}
	if len(kept) == 1 && kept[0].Record == step.ID {
		at = model.PlaceOf(step.ID) // once for the step, not once a run
	}
	if s.missing == nil {
		s.missing = map[model.Place][]network.Missing{}
	}
	if s.missing[at] == nil {
		s.places = append(s.places, at)
	}
	for _, m := range kept {
		if !slices.Contains(s.missing[at], m) {
			s.missing[at] = append(s.missing[at], m)
		}
	}
}

// resize gives the run another tube size, as a remedy.
func resize(run *model.Run, size model.TubeSize) Remedy {
	after := model.Clone(run)
	after.Size = quantity.Some(size)
	return Remedy{Message: "make the run " + string(size),
		Edit: model.Edit{Label: "make the run " + string(size), Changes: []model.Change{model.Replacing(run, after)}}}
}

// sizeFor gives the smallest tube of the series of a size in which flow stays
// within most and reaches least; false if there is none.
func (s *Snapshot) sizeFor(size model.TubeSize, flow quantity.Flow, least, most float64) (model.TubeSize, bool) {
	for _, t := range s.Catalogue.Series(size) {
		v := float64(flow) / t.Area()
		if !above(v, most) {
			return t.Size, !below(v, least)
		}
	}
	return "", false
}

// widestFor gives the widest tube of the series of a size in which flow reaches
// least and stays within most; false if there is none.
func (s *Snapshot) widestFor(size model.TubeSize, flow quantity.Flow, least, most float64) (model.TubeSize, bool) {
	series := s.Catalogue.Series(size)
	for _, t := range slices.Backward(series) {
		v := float64(flow) / t.Area()
		if !below(v, least) {
			return t.Size, !above(v, most)
		}
	}
	return "", false
}
