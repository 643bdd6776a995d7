package checks

var ruleNoReturnFlow = &Rule{
	Name: "no-return-flow",
	Doc: Doc{
		Title:    "Nothing proves the flow in the return",
		Why:      "A vessel fills, or a wrong valve lets the wash go elsewhere, and the supply meter still shows its flow.",
		How:      "In each cleaning step a flow switch or meter sees the whole flow between what is cleaned last and the destination.",
		Blind:    "Instruments on a branch with a valve of its own, and whether the instrument is calibrated.",
		Remedy:   "Fit a flow switch in the return.",
		Cites:    []Citation{foodSanitation},
		Severity: Fix,
		Merge:    AnyStep,
	},
	Run: func(p *Pass) { p.onReturn("flow", flowTraits...) },
}
