package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/graph"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var ruleRinseFromUsedTank = &Rule{
	Name: "rinse-from-used-tank",
	Doc: Doc{
		Title: "Drawn from a tank that another medium was sent to",
		Why:   "What comes back from a wash spoils the tank: a rinse drawn from it brings the chemical back over everything that it should rinse.",
		How: "Through each programme in order: a step that draws one medium from a vessel into which an earlier step sent another one. " +
			"Between them a drain step that empties the vessel, or a step that prepares it anew, puts it right: one whose source or destination it is or that cleans it, " +
			"or a drain step that opens its outlet to a sewer. Recovered water may be drawn from where water was sent to. " +
			"A rinse may push the solution that stands in the circuit back into the tank it was drawn from: it is the next step after the wash, it sends no more than the circuit holds, or it ends by the conductivity of the return.",
		Blind:    "Whether the vessel is emptied and rinsed wholly; what the programme before left in it; how much water mixes with the solution that is pushed back, and at which conductivity it is switched over.",
		Remedy:   "Give the chemical a tank of its own, or empty and refill the tank before the next step draws from it.",
		Cites:    []Citation{commonPractice, handbook27},
		Severity: Stop,
	},
	Run: runRinseFromUsedTank,
}

// tankContent is what a programme has last sent into a vessel.
type tankContent struct {
	medium model.Medium
	known  bool
	by     *model.Step
	told   int // index of the finding about it + 1, 0 for none
}

func runRinseFromUsedTank(p *Pass) {
	for _, steps := range p.programmes() {
		sent := map[model.ID]*tankContent{}
		var found []Finding
		var before *model.Step // the last that moved liquid
		for _, step := range steps {
			p.emptied(step, sent)
			if !moves(step) {
				continue
			}
			wash := before
			before = step
			if was := sent[step.Source]; was != nil {
				found = p.judgeDrawn(step, was, found)
			}
			if _, vessel := p.Circuit.Part(step.Destination).(*model.Vessel); vessel {
				medium, known := step.Medium.Get()
				was := sent[step.Destination]
				if was != nil && known && was.known && was.medium != medium && p.pushesBack(step, wash, was.medium) {
					continue
				}
				if was == nil || !known || was.medium != medium {
					sent[step.Destination] = &tankContent{medium: medium, known: known, by: step}
				}
			}
		}
		for _, f := range found {
			p.Report(f)
		}
	}
}

// pushesBack says whether a step of water pushes the solution that the wash before it
// left in the circuit back into the tank it was drawn from, and stops before it sends
// more. Where that cannot be told it says what is missing, and the step counts as one
// that does.
func (p *Pass) pushesBack(step, wash *model.Step, solution model.Medium) bool {
	medium := step.Medium.Or("")
	if wash == nil || !water(medium) || !chemical(solution) || wash.Medium != quantity.Some(solution) ||
		wash.Source != step.Destination || wash.Destination != step.Destination {
		return false
	}
	if step.EndConductivity.Known() {
		return true
	}
	if !Route.Of(p.Snapshot, step).Found {
		return false
	}
	litres, missing := sent(step)
	holds := Volumes.Of(p.Snapshot, step)
	missing = append(missing, holds.missing...)
	p.NotAssessed(model.PlaceOf(step.ID), missing...)
	return len(missing) > 0 || !above(float64(litres), float64(holds.tube+holds.puddles))
}

// judgeDrawn adds to the findings, once for each thing sent, if a step draws
// another medium than was sent.
func (p *Pass) judgeDrawn(step *model.Step, was *tankContent, found []Finding) []Finding {
	at := model.PlaceOf(step.ID)
	medium, known := step.Medium.Get()
	switch {
	case !known:
		p.NotAssessed(at, missingKey(step, "medium"))
	case !was.known:
		p.NotAssessed(at, missingKey(was.by, "medium"))
	case medium == was.medium || medium == model.Recovered && was.medium == model.Water:
	case was.told > 0:
		f := &found[was.told-1]
		f.Places, f.Steps = append(f.Places, at), append(f.Steps, step.ID)
		f.Message = Say("%v; so does %v", f.Message, p.Name(step.ID))
	default:
		found = append(found, Finding{At: at, Places: []model.Place{at, model.PlaceOf(step.Source), model.PlaceOf(was.by.ID)}, Steps: []model.ID{step.ID},
			Message: Say("%v draws %v from %v, into which %v has sent %v", p.Name(step.ID), string(medium), p.Name(step.Source), p.Name(was.by.ID), string(was.medium))})
		was.told = len(found)
	}
	return found
}

// emptied forgets what was sent into vessels that a step empties or prepares.
func (p *Pass) emptied(step *model.Step, sent map[model.ID]*tankContent) {
	purpose := step.Purpose.Or("")
	if purpose != model.Drain && purpose != model.Prepare {
		return
	}
	for _, id := range append([]model.ID{step.Source, step.Destination}, step.Cleans...) {
		delete(sent, id)
	}
	if purpose == model.Drain {
		for _, part := range p.ofClass(model.ClassVessel) {
			if id := part.RecordID(); sent[id] != nil && p.runsToSewer(step, id) {
				delete(sent, id)
			}
		}
	}
	if medium, known := step.Medium.Get(); known && purpose == model.Prepare {
		if _, vessel := p.Circuit.Part(step.Destination).(*model.Vessel); vessel {
			sent[step.Destination] = &tankContent{medium: medium, known: true, by: step}
		}
	}
}

// runsToSewer says whether a step opens the outlet of a vessel to a sewer.
func (p *Pass) runsToSewer(step *model.Step, vessel model.ID) bool {
	plant := p.Plant()
	draw, ok := plant.PortNode(vessel, network.Draw)
	if !ok {
		return false
	}
	open := slices.Clone(lineUps.Of(p.Snapshot).of[step].Open)
	for e := range open {
		open[e] = open[e] && !plant.Dry(e)
	}
	reached := plant.Graph().Reach(open, []int{draw}, graph.Downstream, nil)
	for _, part := range p.ofTrait(catalogue.TraitSewer) {
		for _, n := range plant.PartNodes(part.RecordID()) {
			if reached[n] {
				return true
			}
		}
	}
	return false
}
