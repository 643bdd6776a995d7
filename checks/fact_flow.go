package checks

import (
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// Flows is what flows in a step: every flow, velocity and pressure, what pumps,
// spray devices and vessels do. What hinders the solution stands in it. It is
// never nil. Steps that send the same liquid at the same flow through the same
// line-up share what was solved.
var Flows = NewStepFact("flow", func(s *Snapshot, step *model.Step) *flow.Solution {
	first := alike.Of(s)[step]
	solved := solvedOf.Of(s, first)
	if first == step {
		return solved
	}
	return solved.As(Plant.Of(s), Route.Of(s, step))
})

var solvedOf = NewStepFact("solved flow", func(s *Snapshot, step *model.Step) *flow.Solution {
	sol, err := flow.Solve(Plant.Of(s), Heights.Of(s), step, flow.Options{Route: Route.Of(s, step)})
	if err != nil {
		panic("checks: " + err.Error()) // a call that cannot be
	}
	return sol
}).keeping(keptFlow)

// alike gives, by step, the first step in which the same flows.
var alike = NewFact("steps alike", func(s *Snapshot) map[*model.Step]*model.Step {
	type key struct {
		lineUp *model.Step
		sent   sending
	}
	first, out := map[key]*model.Step{}, map[*model.Step]*model.Step{}
	for _, step := range s.Circuit.Steps() {
		k := key{lineUps.Of(s).like[step], sendingOf(step)}
		if first[k] == nil {
			first[k] = step
		}
		out[step] = first[k]
	}
	return out
})

// sending is all that a step says of its flow beside its ways.
type sending struct {
	flow        quantity.Opt[quantity.Flow]
	medium      quantity.Opt[model.Medium]
	chemical    quantity.Opt[model.Chemical]
	strength    quantity.Opt[quantity.Strength]
	temperature quantity.Opt[quantity.Temperature]
	speed       quantity.Opt[quantity.Strength]
	running     string
}

func sendingOf(step *model.Step) sending {
	running := make([]string, 0, len(step.Running))
	for _, id := range step.Running {
		running = append(running, string(id))
	}
	slices.Sort(running)
	return sending{step.Flow, step.Medium, step.Chemical, step.Strength, step.Temperature, step.PumpSpeed, strings.Join(running, " ")}
}

// flowing gives what flows in the step of the pass where it cleans and has a
// route, else nil: the rules on flow have nothing to judge there.
func (p *Pass) flowing() *flow.Solution {
	if !p.sweeps() || !p.Route().Found {
		return nil
	}
	return Flows.Of(p.Snapshot, p.Step)
}

// unsolved says that a place cannot be judged because the flow there was not
// solved, and why.
func (p *Pass) unsolved(at model.Place, sol *flow.Solution) {
	switch {
	case len(sol.Missing) > 0:
		p.NotAssessed(at, sol.Missing...)
	case len(sol.Failures) > 0:
		p.notAssessedFor(at, sol.Failures[0].Text)
	default:
		p.notAssessedFor(at, "the flow was not solved")
	}
}

// notAssessedFor is NotAssessed for a reason that is no missing property.
func (p *Pass) notAssessedFor(at model.Place, why string) {
	p.ReportAs(Note, Finding{At: at, NotAssessed: true, Message: Say("not assessed: %v", why)})
}

// onlyKeys gives those of some missing properties that have one of the keys.
func onlyKeys(missing []network.Missing, keys ...string) []network.Missing {
	var out []network.Missing
	for _, m := range missing {
		if slices.Contains(keys, m.Key) {
			out = append(out, m)
		}
	}
	return out
}

// falls tells that a step gets less than it asks for; empty where it does not.
func (p *Pass) falls(sol *flow.Solution) Text {
	if !sol.Supply.Short.Known() {
		return Text{}
	}
	return Say("the %v asked for are not reached", Of(sol.Supply.Asked.Or(0)))
}

// magnitude gives the absolute value of a quantity.
func magnitude[T ~float64](x T) T { return max(x, -x) }
