package checks

import (
	"rinsewright/model"
	"rinsewright/model/quantity"
)

var ruleBarrierFailsOpen = &Rule{
	Name: "barrier-fails-open",
	Doc: Doc{
		Title:    "Valve between product and cleaning liquid that fails open",
		Why:      "When air or current fails, caustic or acid runs into the product.",
		How:      "Power-driven valves that stand shut in a cleaning step with its liquid on one side and product behind must fail closed: by spring.",
		Blind:    "Hand valves; divert valves, which always leave one way open; whether the spring is strong enough.",
		Remedy:   "Take an actuator that closes by spring.",
		Cites:    []Citation{{Source: "FDA milk memoranda on PMO 15p(B)", Clause: "spring to close", Standing: StandingRead}},
		Severity: Stop,
		Merge:    AnyStep,
	},
	Run: runBarrierFailsOpen,
}

func runBarrierFailsOpen(p *Pass) {
	if cleans, _ := cleaningStep(p.Step); !cleans {
		return
	}
	told := map[model.ID]bool{}
	for _, x := range Boundaries.Of(p.Snapshot, p.Step).list {
		valve, ok := p.Circuit.Part(x.part).(*model.Valve)
		if !ok || told[x.part] || x.medium != model.Product || x.oneWay || !p.hasProperty(valve, "fails_to") || !p.closes(valve) {
			continue
		}
		if how, known := valve.Actuation.Get(); known && how == model.Manual {
			continue
		}
		told[x.part] = true
		at := model.PlaceOf(valve.ID)
		fails, known := valve.FailsTo.Get()
		switch {
		case !known:
			p.NotAssessed(at, missingKey(valve, "fails_to"))
		case fails != model.FailsClosed:
			after := model.Clone(valve)
			after.FailsTo = quantity.Some(model.FailsClosed)
			p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(x.behind)},
				Message: Say("%v keeps the liquid of %v from the %v; when air or current fails it does not close", p.Name(valve.ID), p.Name(p.Step.ID), p.heldBehind(x)),
				Fixes: []Remedy{{Message: "take an actuator that closes by spring",
					Edit: model.Edit{Label: "spring to close on " + p.Name(valve.ID), Changes: []model.Change{model.Replacing(valve, after)}}}}})
		}
	}
}

// closes says whether a valve has a position in which it is shut.
func (p *Pass) closes(v *model.Valve) bool {
	kind := p.Kind(v)
	if kind == nil {
		return false
	}
	for _, pos := range kind.Positions {
		if pos == string(model.FailsClosed) {
			return true
		}
	}
	return false
}
