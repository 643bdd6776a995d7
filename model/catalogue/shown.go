package catalogue

import (
	"slices"

	"rinsewright/model"
)

// Shown says whether a figure of the symbol of k is drawn for a part that
// stands in a position and, if it is a valve, is moved in a way. An empty
// position, as while drawing, stands for the first of the kind. An empty
// actuation is an unknown one: figures for certain actuations are then left out.
func (s Shape) Shown(k *Kind, position string, moved model.Actuation) bool {
	if position == "" && len(k.Positions) > 0 {
		position = k.Positions[0]
	}
	return (len(s.When) == 0 || slices.Contains(s.When, position)) &&
		(len(s.Actuated) == 0 || slices.Contains(s.Actuated, moved))
}
