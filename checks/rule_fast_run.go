package checks

var ruleFastRun = &Rule{
	Name: "fast-run",
	Doc: Doc{
		Title:    "Flow faster than need be",
		Why:      "Above this the pump pays with the square of the velocity, the line is noisy, and a valve that shuts quickly hammers.",
		How:      "Mean velocity from the solved flow and the inside diameter, in every run on the route of a cleaning step. Where the flow cannot be solved, the flow that the step asks for counts, in the runs that the whole of it passes.",
		Blind:    "Short pieces where speed does no harm, and what the valves in the line bear.",
		Remedy:   "Lower the flow, or take the next larger tube.",
		Cites:    []Citation{commonPractice},
		Severity: Note,
		Merge:    AnyStep,
		Limits:   []string{"velocity-least", "velocity-most"},
	},
	Run: runFastRun,
}

func runFastRun(p *Pass) {
	if !p.sweeps() {
		return
	}
	most := p.Limit("velocity-most")
	speeds := Speeds.Of(p.Snapshot, p.Step)
	for _, v := range speeds.known {
		if !above(float64(v.is), most.Is()) {
			continue
		}
		var fixes []Remedy
		if size, ok := p.sizeFor(v.run.Size.Or(""), v.flow, p.Limit("velocity-least").Is(), most.Is()); ok {
			fixes = append(fixes, resize(v.run, size))
		}
		p.Report(Finding{At: v.at, Measured: Of(v.is), LimitName: "velocity-most", Fixes: fixes,
			Message: Say("%v: %v in a bore of %v is %v, faster than %v", p.Name(v.run.ID), Of(v.flow), Of(v.bore), Of(v.is), most.Value)})
	}
	for _, at := range speeds.places {
		p.NotAssessed(at, speeds.missing[at]...)
	}
}
