package checks

import (
	"slices"
	"strings"

	"rinsewright/model"
)

var rulePositionUnknown = &Rule{
	Name: "position-unknown",
	Doc: Doc{
		Title: "A position that no valve takes",
		Why: "The line-up of the step is not the one that was meant: the entry does nothing, the valve stands somewhere else, " +
			"and everything that is judged of the step is judged of another line-up.",
		How: "Each position that a step tells belongs to a part that is in the circuit and is one of those that its kind has. " +
			"One finding a step.",
		Blind:    "A position that the valve has but that is not the one meant.",
		Remedy:   "Take the entry out, or enter the valve and the position that were meant.",
		Cites:    []Citation{{Standing: StandingPractice}},
		Severity: Fix,
	},
	Run: runPositionUnknown,
}

func runPositionUnknown(p *Pass) {
	for _, step := range p.Circuit.Steps() {
		var wrong []model.ID
		for id, position := range step.Positions {
			if p.noPosition(id, position) != "" {
				wrong = append(wrong, id)
			}
		}
		if len(wrong) == 0 {
			continue
		}
		slices.Sort(wrong)
		after := model.Clone(step)
		places := []model.Place{{Element: step.ID, Key: "positions"}}
		var words []string
		for _, id := range wrong {
			words = append(words, p.noPosition(id, step.Positions[id]))
			if p.Circuit.Record(id) != nil {
				places = append(places, model.PlaceOf(id))
			}
			delete(after.Positions, id)
		}
		if len(after.Positions) == 0 {
			after.Positions = nil
		}
		entry := "the entry"
		if len(wrong) > 1 {
			entry = "the entries"
		}
		p.Report(Finding{
			At:      places[0],
			Places:  places,
			Steps:   []model.ID{step.ID},
			Message: Say("%v tells %v", p.Name(step.ID), strings.Join(words, "; ")),
			Fixes: []Remedy{{
				Message: "take " + entry + " out",
				Edit:    model.Edit{Label: "take positions out", Changes: []model.Change{model.Replacing(step, after)}},
			}},
		})
	}
}

// noPosition says what is wrong with a position that a step tells; "" if nothing.
func (p *Pass) noPosition(id model.ID, position string) string {
	part, ok := p.Circuit.Record(id).(model.Part)
	if !ok {
		return "a position of " + string(id) + ", which is not in the circuit"
	}
	kind := p.Kind(part)
	switch {
	case kind == nil || slices.Contains(kind.Positions, position):
		return "" // of an unknown kind the positions are not known either
	case len(kind.Positions) == 0:
		return "a position of " + p.Name(id) + ", which has none"
	}
	return "the position " + position + " of " + p.Name(id) + ", which has only " + list(kind.Positions)
}
