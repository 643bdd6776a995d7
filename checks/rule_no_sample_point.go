package checks

var ruleNoSamplePoint = &Rule{
	Name: "no-sample-point",
	Doc: Doc{
		Title:    "Nowhere to take a titration sample in the return",
		Why:      "Conductivity tells little of blended detergents and soiled caustic; without a sample nobody can check the strength.",
		How:      "In each step that sends a chemical, a sampling valve is joined to the return, where the whole flow passes.",
		Blind:    "Samples drawn from a tank.",
		Remedy:   "Fit a sampling valve in the return.",
		Cites:    []Citation{foodSanitation},
		Severity: Note,
		Merge:    AnyStep,
	},
	Run: func(p *Pass) {
		if !chemical(p.Step.Medium.Or("")) {
			return
		}
		if s := p.judgedSides(); s != nil && !s.returnIsOutside && !s.returnSampled {
			p.reportReturn(s, "no sampling valve is")
		}
	},
}
