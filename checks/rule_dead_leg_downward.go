package checks

import "rinsewright/model"

var ruleDeadLegDownward = &Rule{
	Name: "dead-leg-downward",
	Doc: Doc{
		Title:    "Dead leg that points down",
		Why:      "Soil settles in a branch that points down, however short it is.",
		How:      "A tee whose branch points down and carries no flow in a step, whatever its length.",
		Blind:    "Branches that are opened in another step to drain; they are soiled until then.",
		Remedy:   "Let the branch point to the side.",
		Cites:    []Citation{{Source: "EHEDG Doc 10", Standing: StandingMemory}},
		Severity: Note,
		Merge:    AnyStep,
	},
	Run: func(p *Pass) { p.legsPointing(model.Down, "soil settles in it") },
}
