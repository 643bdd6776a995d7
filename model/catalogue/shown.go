package catalogue

import (
	"slices"

	"rinsewright/model"
)

// Shown says whether a figure is drawn for a part that stands in a position.
// An empty position, as while drawing, stands for the first of the kind. A
// figure for certain actuations is not drawn while the valve's own is unknown.
func (s Shape) Shown(k *Kind, part model.Part, position string) bool {
	if len(s.When) > 0 {
		if position == "" && len(k.Positions) > 0 {
			position = k.Positions[0]
		}
		if !slices.Contains(s.When, position) {
			return false
		}
	}
	if len(s.Actuated) == 0 {
		return true
	}
	v, ok := part.(*model.Valve)
	if !ok {
		return false
	}
	a, known := v.Actuation.Get()
	return known && slices.Contains(s.Actuated, a)
}
