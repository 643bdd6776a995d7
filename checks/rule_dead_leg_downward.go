package checks

import "rinsewright/model"

var ruleDeadLegDownward = &Rule{
	Name: "dead-leg-downward",
	Doc: Doc{
		Title:    "Dead leg that points down",
		Why:      "Soil settles in a branch that points down, however short it is.",
		How:      "A tee whose branch points down and carries no flow in a step, whatever its length. A low-point drain is left out: a branch that leads to a sewer, or to a valve that a drain step opens.",
		Blind:    "That a low-point drain is soiled until it is opened.",
		Remedy:   "Let the branch point to the side.",
		Cites:    []Citation{{Source: "EHEDG Doc 10", Standing: StandingMemory}},
		Severity: Note,
		Merge:    AnyStep,
	},
	Run: func(p *Pass) { p.legsPointing(model.Down, "soil settles in it", p.drains) },
}
