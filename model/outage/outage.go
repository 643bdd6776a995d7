// Package outage asks what happens if a part fails: a valve that stays where it
// is, a pump that does not run, an instrument that is lost. It makes the circuit
// as it then is, so that everything else that works on a circuit can be asked
// about it, and compares its steps with those before.
package outage

import (
	"fmt"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/lineup"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// Failure is a part that fails.
type Failure struct {
	Part     model.ID
	Position string // in which a valve is stuck; empty for a pump and an instrument
}

// Kinds that take the place of an instrument that is lost: they stand in the line,
// or close its port, and tell nothing.
const (
	lostInLine = "temperature-indicator"
	lostAtPort = "cap"
)

// silent gives what stands in the place of a lost instrument.
func silent(part *model.Instrument, k *catalogue.Kind) model.Part {
	if k != nil && len(k.Ports) == 1 {
		cap := &model.Fitting{Item: part.Item, Size: part.Size}
		cap.Kind = lostAtPort
		return cap
	}
	next := model.Clone(part)
	next.Kind = lostInLine
	return next
}

// Circuit gives the circuit with the failures in it. The error names a failure
// that cannot be.
func Circuit(c *model.Circuit, cat *catalogue.Catalogue, failures []Failure) (*model.Circuit, error) {
	var edit model.Edit
	steps := map[model.ID]*model.Step{}
	for _, s := range c.Steps() {
		steps[s.ID] = model.Clone(s)
	}
	for i, x := range failures {
		if slices.ContainsFunc(failures[:i], func(o Failure) bool { return o.Part == x.Part }) {
			return nil, fmt.Errorf("outage: %s fails twice", x.Part)
		}
		part := c.Part(x.Part)
		switch part := part.(type) {
		case *model.Valve:
			k := cat.Kind(part.Kind)
			if k == nil || !slices.Contains(k.Positions, x.Position) {
				return nil, fmt.Errorf("outage: %s cannot be stuck in position %q", name(c, x.Part), x.Position)
			}
			next := model.Clone(part)
			next.Normal = Some(x.Position)
			edit.Changes = append(edit.Changes, model.Replacing(part, next))
			for _, s := range steps {
				delete(s.Positions, x.Part)
			}
		case *model.Pump:
			for _, s := range steps {
				s.Running = slices.DeleteFunc(s.Running, func(id model.ID) bool { return id == x.Part })
			}
		case *model.Instrument:
			edit.Changes = append(edit.Changes, model.Replacing(part, silent(part, cat.Kind(part.Kind))))
		default:
			return nil, fmt.Errorf("outage: %s is no valve, pump or instrument", name(c, x.Part))
		}
	}
	for _, s := range c.Steps() {
		edit.Changes = append(edit.Changes, model.Replacing(s, steps[s.ID]))
	}
	edit.Label = "what if"
	return c.Apply(edit)
}

// Effect is what the failures do to one step.
type Effect struct {
	Step    model.ID
	Before  bool       // it had a way from source to destination
	After   bool       // it still has
	Drives  bool       // a pump that it runs fails
	Misses  []model.ID // lost instruments that it passes
	Reaches []model.ID // vessels, objects and terminals that its liquid reaches now and did not before
	Why     string     // it has no way any more
}

// Runs says whether the step can run as before.
func (e Effect) Runs() bool {
	return e.Before == e.After && !e.Drives && len(e.Misses) == 0 && len(e.Reaches) == 0
}

// Report compares the steps before and after.
type Report struct {
	Circuit *model.Circuit
	Effects []Effect          // one a step, in their order
	Mixes   []lineup.Conflict // supplies that stand open to one line now and did not before
}

// Of asks what the failures do. The error names a failure that cannot be.
func Of(p *network.Plant, failures []Failure) (*Report, error) {
	c, err := Circuit(p.Circuit, p.Catalogue, failures)
	if err != nil {
		return nil, err
	}
	after := network.Build(c, p.Catalogue)
	out := &Report{Circuit: c}
	for _, s := range p.Circuit.Steps() {
		out.Effects = append(out.Effects, effect(p, after, s, failures))
	}
	known := map[[2]model.ID]bool{}
	for _, x := range conflicts(p) {
		known[pair(x)] = true
	}
	for _, x := range conflicts(after) {
		if !known[pair(x)] {
			out.Mixes = append(out.Mixes, x)
			known[pair(x)] = true
		}
	}
	return out, nil
}

// conflicts lists the supplies that stand open to one line, programme by programme,
// not those that do so only while valves move.
func conflicts(p *network.Plant) []lineup.Conflict {
	var out []lineup.Conflict
	steps := p.Circuit.Steps()
	for first := 0; first < len(steps); {
		last := first + 1
		for last < len(steps) && steps[last].Programme == steps[first].Programme {
			last++
		}
		for _, x := range lineup.SwitchingList(p, steps[first:last]).Conflicts {
			if !x.While {
				out = append(out, x)
			}
		}
		first = last
	}
	return out
}

func pair(x lineup.Conflict) [2]model.ID {
	return [2]model.ID{min(x.First, x.Second), max(x.First, x.Second)}
}

func effect(before, after *network.Plant, s *model.Step, failures []Failure) Effect {
	was := before.Route(before.LineUp(s))
	is := after.Route(after.LineUp(after.Circuit.Step(s.ID)))
	e := Effect{Step: s.ID, Before: was.Found, After: is.Found}
	if was.Found && !is.Found {
		e.Why = is.Why
	}
	for _, x := range failures {
		if slices.Contains(s.Running, x.Part) {
			e.Drives = true
		}
		if _, ok := before.Circuit.Part(x.Part).(*model.Instrument); ok && was.Found && touches(before, was, x.Part) {
			e.Misses = append(e.Misses, x.Part)
		}
	}
	if was.Found && is.Found {
		e.Reaches = further(before, was, after, is)
	}
	return e
}

// touches says whether the flow of a route comes by a part.
func touches(p *network.Plant, r *network.Route, id model.ID) bool {
	for _, n := range p.PartNodes(id) {
		for _, e := range p.IncidentEdges(n) {
			if r.Wet[e] {
				return true
			}
		}
	}
	return false
}

// further lists the vessels, objects and terminals that get wet in one route and
// not in the other.
func further(before *network.Plant, was *network.Route, after *network.Plant, is *network.Route) []model.ID {
	var out []model.ID
	for _, part := range after.Circuit.Parts() {
		switch part.Class() {
		case model.ClassVessel, model.ClassObject, model.ClassTerminal:
			if id := part.RecordID(); touches(after, is, id) && !touches(before, was, id) {
				out = append(out, id)
			}
		}
	}
	return out
}

func name(c *model.Circuit, id model.ID) string {
	if part := c.Part(id); part != nil && part.Meta().Tag != "" {
		return part.Meta().Tag
	}
	return string(id)
}
