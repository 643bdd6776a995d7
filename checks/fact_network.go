package checks

import (
	"rinsewright/model"
	"rinsewright/model/network"
)

// The facts that most rules share. All belong to the snapshot; none may be
// changed by a rule.
var (
	// Plant is the circuit as a multigraph.
	Plant = NewFact("plant", func(s *Snapshot) *network.Plant {
		if s.plant != nil {
			return s.plant
		}
		return network.Build(s.Circuit, s.Catalogue)
	}).keeping(func(f *Fact[*network.Plant], s *Snapshot) (*network.Plant, bool) {
		was, ok := f.was(s)
		if !ok || s.plant != nil || !changesOf.Of(s).shownOnly {
			return nil, false
		}
		return was.With(s.Circuit), true
	})

	// Heights are the elevations of all nodes.
	Heights = NewFact("heights", func(s *Snapshot) *network.Heights {
		return Plant.Of(s).Heights()
	}).keeping(func(f *Fact[*network.Heights], s *Snapshot) (*network.Heights, bool) {
		if !changesOf.Of(s).shownOnly {
			return nil, false
		}
		return f.was(s)
	})

	// lineUps are the line-ups of all steps. Steps that open the same ways
	// between the same ends share what is worked out from them.
	lineUps = NewFact("line-ups", func(s *Snapshot) *lineUpSet {
		set := newLineUpSet()
		for _, step := range s.Circuit.Steps() {
			l := Plant.Of(s).LineUp(step)
			set.add(step, l, lineUpKey(l))
		}
		return set
	}).keeping(func(f *Fact[*lineUpSet], s *Snapshot) (*lineUpSet, bool) {
		was, ok := f.was(s)
		if ch := changesOf.Of(s); !ok || !ch.sameShape || ch.valves {
			return nil, false
		}
		set := newLineUpSet()
		for _, step := range s.Circuit.Steps() {
			if l := was.of[step]; l != nil {
				set.add(step, l, was.key[step])
				continue
			}
			l := Plant.Of(s).LineUp(step)
			set.add(step, l, lineUpKey(l))
		}
		return set, true
	})

	// Route is how liquid flows in a step.
	Route = NewStepFact("route", func(s *Snapshot, step *model.Step) *network.Route {
		set := lineUps.Of(s)
		r := sharedRoute.Of(s, set.like[step])
		if set.like[step] != step {
			own := *r
			own.LineUp = set.of[step]
			return &own
		}
		return r
	})
	sharedRoute = NewStepFact("route of a line-up", func(s *Snapshot, step *model.Step) *network.Route {
		return Plant.Of(s).Route(lineUps.Of(s).of[step])
	}).keeping(keptRoute)

	// Legs are the dead legs of a step.
	Legs = NewStepFact("dead legs", func(s *Snapshot, step *model.Step) []network.Leg {
		return sharedLegs.Of(s, lineUps.Of(s).like[step])
	})
	sharedLegs = NewStepFact("dead legs of a line-up", func(s *Snapshot, step *model.Step) []network.Leg {
		plant := Plant.Of(s)
		return unsureLegs(plant, plant.DeadLegs(Route.Of(s, step)), Doubts.Of(s, step))
	}).keptWith()

	// Wetted tells, by edge, what liquid reaches in any step.
	Wetted = NewFact("wetted", func(s *Snapshot) []bool {
		return Plant.Of(s).Wetted(routesOf(s))
	}).keeping(func(f *Fact[[]bool], s *Snapshot) ([]bool, bool) {
		if ch := changesOf.Of(s); !ch.sameShape || ch.valves || !ch.sameSteps {
			return nil, false
		}
		return f.was(s)
	})
)

type lineUpSet struct {
	of    map[*model.Step]*network.LineUp
	key   map[*model.Step]string
	first map[string]*model.Step      // by key
	like  map[*model.Step]*model.Step // first step with the same ways
}

func newLineUpSet() *lineUpSet {
	return &lineUpSet{map[*model.Step]*network.LineUp{}, map[*model.Step]string{}, map[string]*model.Step{}, map[*model.Step]*model.Step{}}
}

func (set *lineUpSet) add(step *model.Step, l *network.LineUp, key string) {
	if set.first[key] == nil {
		set.first[key] = step
	}
	set.of[step], set.key[step], set.like[step] = l, key, set.first[key]
}

func lineUpKey(l *network.LineUp) string {
	b := make([]byte, 0, len(l.Open)/8+len(l.Step.Source)+len(l.Step.Destination)+3)
	b = append(b, l.Step.Source...)
	b = append(b, 0)
	b = append(b, l.Step.Destination...)
	b = append(b, 0)
	for _, id := range l.Unknown { // the same ways may be open for want of knowing better
		b = append(b, id...)
		b = append(b, 0)
	}
	var bits byte
	for i, open := range l.Open {
		bits <<= 1
		if open {
			bits |= 1
		}
		if i%8 == 7 {
			b, bits = append(b, bits), 0
		}
	}
	return string(append(b, bits))
}

// routesOf gives the routes of all steps, each different one once.
func routesOf(s *Snapshot) []*network.Route {
	var out []*network.Route
	for _, step := range s.Circuit.Steps() {
		if lineUps.Of(s).like[step] == step {
			out = append(out, Route.Of(s, step))
		}
	}
	return out
}

// Plant gives the circuit as a multigraph.
func (p *Pass) Plant() *network.Plant { return Plant.Of(p.Snapshot) }

// Route gives how liquid flows in the step of the pass.
func (p *Pass) Route() *network.Route {
	if p.route == nil {
		p.route = Route.Of(p.Snapshot, p.Step)
	}
	return p.route
}
