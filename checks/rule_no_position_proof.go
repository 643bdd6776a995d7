package checks

import (
	"rinsewright/model"
	"rinsewright/model/quantity"
)

var ruleNoPositionProof = &Rule{
	Name: "no-position-proof",
	Doc: Doc{
		Title:    "Automatic valve on a boundary without position feedback",
		Why:      "A valve that should be shut and is not lets two media meet while every lamp is green.",
		How:      "Power-driven valves that stand shut in a cleaning step with its liquid on one side and another medium behind, in a tank, supply or product line, report their position.",
		Blind:    "Hand valves, which can only be locked; whether the control acts on the report.",
		Remedy:   "Fit position feedback; on a mix-proof valve for both seats.",
		Cites:    []Citation{{Source: "FDA milk memoranda on PMO 15p(B)", Clause: "M-b series", Standing: StandingRead}, {Source: "a bio-pharma automation handbook", Standing: StandingRead}},
		Severity: Fix,
		Merge:    AnyStep,
	},
	Run: runNoPositionProof,
}

func runNoPositionProof(p *Pass) {
	if !p.sweeps() {
		return
	}
	told := map[model.ID]bool{}
	for _, x := range Boundaries.Of(p.Snapshot, p.Step).list {
		valve, ok := p.Circuit.Part(x.part).(*model.Valve)
		if !ok || told[x.part] || x.oneWay || x.second != "" || x.medium == p.Step.Medium.Or("") {
			continue
		}
		told[x.part] = true
		at := model.PlaceOf(valve.ID)
		how, known := valve.Actuation.Get()
		if !known {
			p.NotAssessed(at, missingKey(valve, "actuation"))
			continue
		}
		if how == model.Manual {
			continue
		}
		proof, known := valve.PositionProof.Get()
		switch {
		case !known:
			p.NotAssessed(at, missingKey(valve, "position_proof"))
		case !proof:
			after := model.Clone(valve)
			after.PositionProof = quantity.Some(true)
			p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(x.behind)},
				Message: Say("%v keeps the liquid of %v from the %v and does not report its position", p.Name(valve.ID), p.Name(p.Step.ID), p.heldBehind(x)),
				Fixes: []Remedy{{Message: "fit position feedback",
					Edit: model.Edit{Label: "position feedback on " + p.Name(valve.ID), Changes: []model.Change{model.Replacing(valve, after)}}}}})
		}
	}
}
