package flow

import (
	"cmp"
	"slices"

	"rinsewright/model"
	. "rinsewright/model/quantity"
)

// Assumption is a value that stands in for one that was never told.
type Assumption struct {
	What   string   // "loss of the open valve"
	Value  string   // "Hooper, butterfly valve: K 0.38"; quantities in metric units, see [Assumption.Told]
	Basis  string   // source and standing
	Record model.ID // empty: holds for the whole
	Key    string   // property that would replace it, if there is one

	words Words // Value, where it holds quantities
}

const practice = "common practice, no source"

// assume notes an assumption; the same one stands once.
func (w *work) assume(a Assumption) {
	key := assumed{a.Record, a.Key, a.What}
	if _, twice := w.assumed[key]; twice {
		return
	}
	w.assumed[key] = struct{}{}
	w.sol.Assumptions = append(w.sol.Assumptions, a)
}

type assumed struct {
	record model.ID
	key    string
	what   string
}

func sortAssumptions(list []Assumption) {
	slices.SortFunc(list, func(a, b Assumption) int {
		return cmp.Or(cmp.Compare(a.Record, b.Record), cmp.Compare(a.Key, b.Key), cmp.Compare(a.What, b.What))
	})
}
