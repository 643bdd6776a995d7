package checks

var ruleLaminarOrUnsteady = &Rule{
	Name: "laminar-or-unsteady",
	Doc: Doc{
		Title:    "Flow not turbulent",
		Why:      "Without turbulence a layer of liquid lies still on the wall; heat and chemical reach the soil by diffusion only.",
		How:      "Reynolds number of the solved flow with the density and viscosity of the step's liquid, in every run on the route of a cleaning step, those among which the flow divides included. Below the lower limit the flow may be laminar.",
		Blind:    "Liquids thicker than dilute solutions. In a tube that the velocity suits, it never decides: DN10 has Re 15 000 at 1.5 m/s and 20 °C.",
		Remedy:   "Raise the flow, take a smaller tube, or shut the way.",
		Cites:    []Citation{handbook27},
		Severity: Fix,
		Merge:    AnyStep,
		Limits:   []string{"reynolds-least", "reynolds-turbulent"},
	},
	Run: runLaminarOrUnsteady,
}

func runLaminarOrUnsteady(p *Pass) {
	sol := p.flowing()
	if sol == nil {
		return
	}
	least, turbulent := p.Limit("reynolds-least"), p.Limit("reynolds-turbulent")
	speeds := Speeds.Of(p.Snapshot, p.Step)
	unknown := false
	for _, v := range speeds.known {
		re, known := v.reynolds.Get()
		if unknown = unknown || !known; !known || !below(float64(re), least.Is()) {
			continue
		}
		name, says := "reynolds-least", "not surely turbulent"
		switch {
		case re == 0:
			name, says = "reynolds-turbulent", "it stands"
		case below(float64(re), turbulent.Is()):
			name, says = "reynolds-turbulent", "it may be laminar"
		}
		p.Report(Finding{At: v.at, Measured: Of(re), LimitName: name,
			Message: p.orShort(Say("%v: %v in a bore of %v have a Reynolds number of %v, below %v: %v", p.Name(v.run.ID), Of(v.flow), Of(v.bore), Of(re), p.Limit(name).Value, says))})
	}
	p.unjudgedRuns(sol, speeds, unknown)
}
