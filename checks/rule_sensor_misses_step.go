package checks

import (
	"strings"

	"rinsewright/model"
)

var ruleSensorMissesStep = &Rule{
	Name: "sensor-misses-step",
	Doc: Doc{
		Title:    "Step relies on an instrument that its flow does not pass",
		Why:      "The step ends on what stands elsewhere: too early, or never.",
		How:      "Tags of instruments in the end condition of a step are looked up; the flow of the step must pass each of them, or it must sit on the step's source, destination or what it cleans.",
		Blind:    "Instruments that the end condition does not name by tag.",
		Remedy:   "Name the instrument that the flow passes, or correct the line-up.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
		Merge:    AnyStep,
	},
	Run: runSensorMissesStep,
}

func runSensorMissesStep(p *Pass) {
	r := p.Route()
	if p.Step.EndsOn == "" || !r.Found {
		return
	}
	named := map[string]bool{}
	for _, word := range strings.FieldsFunc(p.Step.EndsOn, func(c rune) bool { return strings.ContainsRune(" ,;:()<>=\t\n", c) }) {
		named[strings.TrimRight(word, ".")] = true
	}
	for _, part := range p.ofClass(model.ClassInstrument) {
		tag := part.Meta().Tag
		if !named[tag] || tag == "" || p.sees(part.RecordID()) {
			continue
		}
		at := model.PlaceOf(p.Step.ID)
		p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(part.RecordID())}, Way: EdgePlaces(p.Plant(), r.Ways),
			Message: Say("%v ends on %q, but its flow does not pass %v", p.Name(p.Step.ID), p.Step.EndsOn, tag)})
	}
}

// sees says whether an instrument touches the flow of the step or sits on a
// vessel of it.
func (p *Pass) sees(id model.ID) bool {
	if len(contacts(p.Snapshot, p.Route(), id)) > 0 {
		return true
	}
	for _, vessel := range append([]model.ID{p.Step.Source, p.Step.Destination}, p.Step.Cleans...) {
		if p.Circuit.Part(vessel) == nil {
			continue
		}
		for _, joined := range p.joinedTo(id) {
			if joined == vessel {
				return true
			}
		}
	}
	return false
}

// joinedTo gives the parts that runs join to a part.
func (s *Snapshot) joinedTo(id model.ID) []model.ID {
	var out []model.ID
	for _, run := range s.Circuit.RunsAt(id) {
		for _, end := range []model.End{run.From, run.To} {
			if end.Part != "" && end.Part != id {
				out = append(out, end.Part)
			}
		}
	}
	return out
}
