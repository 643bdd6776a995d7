package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// speed is the velocity in one run or object in one step.
type speed struct {
	at   model.Place
	run  *model.Run // nil for an object
	flow quantity.Flow
	bore quantity.Bore
	is   quantity.Velocity
}

// Speeds are the velocities of a step in every run that the whole flow passes,
// and what is missing where they are unknown.
var Speeds = NewStepFact("velocities", func(s *Snapshot, step *model.Step) speedsOfStep {
	var out speedsOfStep
	plant, r := Plant.Of(s), Route.Of(s, step)
	if !r.Found {
		return out
	}
	for _, run := range s.runEdges() {
		if !r.InFlow[run.first] || run.face {
			continue
		}
		at := model.PlaceOf(run.ID)
		v, missing := plant.Velocity(r, run.first)
		out.add(step, speed{at: at, run: run.Run, is: v.Or(0), bore: plant.Edges[run.first].Bore.Or(0)}, v.Known(), missing)
	}
	return out
})

type speedsOfStep struct {
	known   []speed
	missing map[model.Place][]network.Missing
	places  []model.Place // of missing, in order
}

func (s *speedsOfStep) add(step *model.Step, v speed, known bool, missing []network.Missing) {
	if known {
		v.flow = step.Flow.Or(0)
		s.known = append(s.known, v)
		return
	}
	at := v.at
	kept := slices.DeleteFunc(slices.Clone(missing), func(m network.Missing) bool { return m.Key == "split" })
	if len(kept) == 0 {
		return // told by split-flow
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
