package isolation

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/graph"
)

// Costs of a barrier and of a vessel that is emptied; see the package.
const (
	costBend       = 5
	costLocked     = 10
	costHand       = 14
	costMixProof   = 20
	costNoLock     = 40
	costFailClosed = 45
	costAutomatic  = 60
	costRegulating = 70

	costUnmet      = 1000
	costEmpty      = 2000
	costCondensate = 5000
	costTank       = 20000
)

// suitable gives the cost of relying on a part as a barrier, and why it cannot be
// relied on where the cost is [graph.Uncuttable].
func suitable(part model.Part, k *catalogue.Kind, p Policy) (cost int64, why string) {
	v, ok := part.(*model.Valve)
	switch {
	case !ok || k == nil:
		return graph.Uncuttable, ""
	case k.Has(catalogue.TraitCheck):
		return graph.Uncuttable, "a check valve does not isolate"
	case k.Has(catalogue.TraitRelief):
		return graph.Uncuttable, "a relief valve opens by itself"
	case k.Has(catalogue.TraitRegulating):
		if p.Regulating {
			return costRegulating, ""
		}
		return graph.Uncuttable, "a regulating valve does not shut tight"
	case isBend(k):
		return costBend, ""
	}
	lockable, told := v.Lockable.Get()
	if k.Has(catalogue.TraitMixProof) {
		if told && !lockable {
			return costNoLock, ""
		}
		return costMixProof, ""
	}
	moved, toldMoved := v.Actuation.Get()
	switch {
	case !toldMoved:
		return graph.Uncuttable, "nobody told how it is moved"
	case moved == model.Manual && told && !lockable:
		return costNoLock, ""
	case moved == model.Manual && told:
		return costLocked, ""
	case moved == model.Manual:
		return costHand, ""
	case !p.Automatic:
		return graph.Uncuttable, "a single automatic valve does not count under this policy"
	}
	if to, ok := v.FailsTo.Get(); ok && to == model.FailsClosed {
		return costFailClosed, ""
	}
	return costAutomatic, ""
}

// positionAway is that of a bend that is taken away.
const positionAway = "away"

func isBend(k *catalogue.Kind) bool { return slices.Contains(k.Positions, positionAway) }

// doubles says whether a shut valve of a kind holds twice by itself.
func doubles(k *catalogue.Kind) bool { return k.Has(catalogue.TraitMixProof) || isBend(k) }
