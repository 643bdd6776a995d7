package checks

import (
	"slices"

	"rinsewright/model"
)

var ruleWrongWay = &Rule{
	Name: "wrong-way",
	Doc: Doc{
		Title:    "One-way part against the flow",
		Why:      "A check valve shuts, a pump or strainer works against the flow: the step does not run, or runs where it should not.",
		How:      "Where a step finds no way, the one-way parts that alone stand against it; where it does, running pumps that stand against the flow. A check valve beside an open way may hold shut: that is its purpose.",
		Blind:    "One-way parts inside a loop where the direction of the flow is not decided by the way the circuit is joined.",
		Remedy:   "Turn the part around, or change the line-up.",
		Cites:    []Citation{byComputation},
		Severity: Stop,
		Merge:    AnyStep,
	},
	Run: runWrongWay,
}

func runWrongWay(p *Pass) {
	r := p.Route()
	var reported []model.ID
	for _, e := range r.WrongWay {
		id := p.Plant().Edges[e].Part
		part := p.Circuit.Part(id)
		if part == nil || slices.Contains(reported, id) || r.Found && !slices.Contains(p.Step.Running, id) {
			continue
		}
		reported = append(reported, id)
		if part.Class() == model.ClassVessel {
			p.Report(Finding{At: model.PlaceOf(id), Message: Say("%v the liquid would have to leave %v by an inlet", p.fromTo(), p.Name(id))})
			continue
		}
		p.Report(Finding{At: model.PlaceOf(id), Way: EdgePlaces(p.Plant(), r.Ways),
			Message: Say("%v passes one way only and stands against the flow %v", p.Name(id), p.fromTo()),
			Fixes:   p.turnRound(part, e)})
	}
}

// turnRound swaps the runs at the two ends of a one-way part that no step uses
// the right way round.
func (p *Pass) turnRound(part model.Part, edge int) []Remedy {
	plant := p.Plant()
	for _, r := range routesOf(p.Snapshot) {
		if r.InFlow[edge] && !slices.Contains(r.WrongWay, edge) {
			return nil
		}
	}
	for _, step := range p.Circuit.Steps() {
		if step.Source == part.RecordID() || step.Destination == part.RecordID() {
			return nil
		}
	}
	e := plant.Edges[edge]
	a, b := plant.Nodes[e.From].Point, plant.Nodes[e.To].Point
	kind := p.Kind(part)
	if kind == nil || !hasPort(kind, a) || !hasPort(kind, b) {
		return nil
	}
	id := part.RecordID()
	swap := func(end *model.End) bool {
		switch {
		case end.Part != id:
			return false
		case end.Port == a:
			end.Port = b
		case end.Port == b:
			end.Port = a
		default:
			return false
		}
		return true
	}
	var changes []model.Change
	for _, run := range p.Circuit.RunsAt(id) {
		after := model.Clone(run)
		from, to := swap(&after.From), swap(&after.To)
		if from || to {
			changes = append(changes, model.Replacing(run, after))
		}
	}
	if len(changes) == 0 {
		return nil
	}
	return []Remedy{{Message: "turn it around", Edit: model.Edit{Label: "turn " + p.Name(id) + " around", Changes: changes}}}
}
