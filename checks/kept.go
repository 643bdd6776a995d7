package checks

import (
	"reflect"
	"slices"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/network"
)

// changes is what tells a circuit from the one judged last.
type changes struct {
	sameShape bool              // the networks have the same nodes, edges and ways
	shownOnly bool              // and parts and runs differ in nothing but tags, notes and places on the drawing
	renamed   bool              // some tag differs
	valves    bool              // a part that has positions differs in more
	sameSteps bool              // the steps are the very same
	parts     map[model.ID]bool // parts and runs that differ in more
}

// changesOf is asked only while there is a snapshot judged before.
var changesOf = NewFact("changes", func(s *Snapshot) *changes {
	was, is := s.before.Circuit, s.Circuit
	out := &changes{sameSteps: slices.Equal(was.Steps(), is.Steps()), parts: map[model.ID]bool{}}
	if len(was.Parts()) != len(is.Parts()) || len(was.Runs()) != len(is.Runs()) {
		return out
	}
	for i, part := range is.Parts() {
		old := was.Parts()[i]
		switch {
		case part == old:
			continue
		case part.RecordID() != old.RecordID() || part.Meta().Kind != old.Meta().Kind || part.Class() != old.Class():
			return out
		}
		out.renamed = out.renamed || part.Meta().Tag != old.Meta().Tag
		if !samePart(part, old) {
			out.parts[part.RecordID()] = true
			kind := s.Kind(part)
			out.valves = out.valves || kind != nil && len(kind.Positions) > 0
		}
	}
	for i, run := range is.Runs() {
		old := was.Runs()[i]
		switch {
		case run == old:
			continue
		case run.ID != old.ID || run.From.Part != old.From.Part || run.From.Port != old.From.Port ||
			run.To.Part != old.To.Part || run.To.Port != old.To.Port || len(run.Stretches) != len(old.Stretches):
			return out
		}
		out.renamed = out.renamed || run.Tag != old.Tag
		if !sameRun(run, old) {
			out.parts[run.ID] = true
		}
	}
	out.sameShape = true
	out.shownOnly = len(out.parts) == 0
	return out
})

// samePart says whether two parts of a class differ in nothing but what the drawing
// alone shows.
func samePart(a, b model.Part) bool {
	x := model.Clone(a)
	to, from := x.Meta(), b.Meta()
	to.Tag, to.Note, to.At, to.Turn, to.Mirrored, to.Label = from.Tag, from.Note, from.At, from.Turn, from.Mirrored, from.Label
	return reflect.DeepEqual(x, b)
}

func sameRun(a, b *model.Run) bool {
	x := *a
	x.Tag, x.Note, x.From.At, x.To.At, x.Bends, x.Label = b.Tag, b.Note, b.From.At, b.To.At, b.Bends, b.Label
	return reflect.DeepEqual(&x, b)
}

// changedEdges are, by edge, those of parts and runs that changed.
var changedEdges = NewFact("changed edges", func(s *Snapshot) []bool {
	plant, ch := Plant.Of(s), changesOf.Of(s)
	out := make([]bool, len(plant.Edges))
	for id := range ch.parts {
		for _, e := range plant.PartEdges(id) {
			out[e] = true
		}
		for _, e := range plant.RunEdges(id) {
			out[e] = true
		}
	}
	return out
})

// keptRoute gives the route of a step with the same ways, judged last.
func keptRoute(f *StepFact[*network.Route], s *Snapshot, step *model.Step) (*network.Route, bool) {
	ch, set := changesOf.Of(s), lineUps.Of(s)
	before, ok := lineUps.was(s)
	if !ok || !ch.sameShape {
		return nil, false
	}
	then := before.first[set.key[step]]
	was, ok := f.was(s, then)
	switch {
	case !ok || !was.Found && (then != step || !ch.shownOnly || ch.renamed):
		return nil, false // why there is no way names parts
	case was.LineUp == set.of[step]:
		return was, true
	}
	own := *was
	own.LineUp = set.of[step]
	return &own, true
}

// keptFlow gives what flowed in a step that sent the same through the same ways, judged
// last, where nothing changed in what its liquid may come to.
func keptFlow(f *StepFact[*flow.Solution], s *Snapshot, step *model.Step) (*flow.Solution, bool) {
	ch := changesOf.Of(s)
	if !ch.sameShape {
		return nil, false
	}
	was, ok := flowLike(f, s, step)
	if !ok || ch.renamed && len(was.Failures) > 0 || !ch.shownOnly && s.touches(step, was) {
		return nil, false
	}
	return was.As(Plant.Of(s), Route.Of(s, step)), true
}

// flowLike looks among the steps judged last for one that sent the same through the
// same ways.
func flowLike(f *StepFact[*flow.Solution], s *Snapshot, step *model.Step) (*flow.Solution, bool) {
	before, ok := lineUps.was(s)
	if !ok {
		return nil, false
	}
	key, sent := lineUps.Of(s).key[step], sendingOf(step)
	for _, then := range s.before.Circuit.Steps() {
		if before.key[then] != key || sendingOf(then) != sent {
			continue
		}
		if was, ok := f.was(s, then); ok {
			return was, true
		}
	}
	return nil, false
}

// touches says whether a change may show in what flows in a step: it is in what
// liquid may come to through open ways, in the height of it, or in a pump that runs.
func (s *Snapshot) touches(step *model.Step, was *flow.Solution) bool {
	ch, plant, r := changesOf.Of(s), Plant.Of(s), Route.Of(s, step)
	for _, id := range step.Running {
		if ch.parts[id] {
			return true
		}
	}
	changed := changedEdges.Of(s)
	for e, c := range changed {
		if a, b := was.Plant.Edges[e].Bore, plant.Edges[e].Bore; c && (a.Or(0) > 0) != (b.Or(0) > 0) {
			return true // what stands has a velocity only where there is a bore
		}
	}
	old, ok := Heights.was(s)
	if !ok {
		return true
	}
	now := Heights.Of(s)
	height := func(h *network.Heights, n int) network.Missing {
		if g := h.Group[n]; g >= 0 {
			return h.Underived[g]
		}
		return network.Missing{}
	}
	seen := make([]bool, len(plant.Nodes))
	queue := make([]int32, 0, len(plant.Nodes))
	reach := func(n int) {
		if !seen[n] {
			seen[n] = true
			queue = append(queue, int32(n))
		}
	}
	for e, wet := range r.Wet {
		if wet {
			reach(plant.Edges[e].From)
			reach(plant.Edges[e].To)
		}
	}
	for i := 0; i < len(queue); i++ {
		n := int(queue[i])
		if old.Of[n] != now.Of[n] || height(old, n) != height(now, n) || ch.parts[plant.Nodes[n].Part] {
			return true
		}
		for _, a := range plant.Graph().Incident(n) {
			if changed[a.Edge] {
				return true
			}
			if r.LineUp.Open[a.Edge] && !plant.Dry(int(a.Edge)) {
				reach(int(a.Node))
			}
		}
	}
	return false
}
