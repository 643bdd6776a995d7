package checks

import "rinsewright/model"

var ruleDeadLegUpward = &Rule{
	Name: "dead-leg-upward",
	Doc: Doc{
		Title:    "Dead leg that points up",
		Why:      "Air stays in a branch that points up; the liquid never wets its end, however short it is.",
		How:      "A tee whose branch points up and carries no flow in a step, whatever its length. A high-point vent is left out: a branch that leads to a vent, a vacuum breaker or a valve to the open.",
		Blind:    "Whether the vent is opened while the line fills.",
		Remedy:   "Let the branch point to the side.",
		Cites:    []Citation{{Source: "EHEDG Doc 10", Standing: StandingMemory}},
		Severity: Note,
		Merge:    AnyStep,
	},
	Run: func(p *Pass) { p.legsPointing(model.Up, "it keeps air", p.vents) },
}
