package checks

import (
	"rinsewright/model"
	"rinsewright/model/quantity"
)

var rulePumpStarved = &Rule{
	Name: "pump-starved",
	Doc: Doc{
		Title: "Pump with too little pressure at its suction",
		Why:   "The liquid boils in the impeller: the flow drops, the pump rattles, and its wheel is eaten away.",
		How: "NPSH available at the suction from the solved pressure there and the vapour pressure at the step's temperature, in every cleaning step. It must exceed the NPSH required by the margin in metres and by the margin as a ratio, whichever is more. " +
			"Below the NPSH required itself the pump must not run so; within the margin it is to be put right.",
		Blind:    "NPSH required is told at the rated flow and grows beyond it. Air in the liquid, and a level lower than the one told: half the height where none is.",
		Remedy:   "Raise the level, lower the pump, widen or shorten its suction, or lower the temperature.",
		Cites:    []Citation{{Source: "Crane TP-410", Clause: "problem 7.32", Standing: StandingRead}, commonPractice},
		Severity: Stop,
		Merge:    AnyStep,
		Limits:   []string{"npsh-margin", "npsh-ratio"},
	},
	Run: runPumpStarved,
}

func runPumpStarved(p *Pass) {
	sol := p.flowing()
	if sol == nil {
		return
	}
	margin, ratio := p.Limit("npsh-margin"), p.Limit("npsh-ratio")
	for _, x := range sol.Pumps {
		pump, ok := p.Circuit.Part(x.Pump).(*model.Pump)
		if !ok || !x.Running || !p.hasProperty(pump, "npsh_required_m") {
			continue
		}
		at := model.PlaceOf(x.Pump)
		required, told := pump.NPSHRequired.Get()
		if !told {
			p.NotAssessed(at, missingKey(pump, "npsh_required_m"))
			continue
		}
		available, known := x.Available.Get()
		if !known {
			missing := onlyKeys(x.Missing, "elevation_m", "stretches")
			if len(missing) > 0 {
				p.NotAssessed(at, missing...)
			} else {
				p.unsolved(at, sol)
			}
			continue
		}
		name, need := "npsh-margin", quantity.Length(float64(required)+margin.Is())
		if byRatio := quantity.Length(float64(required) * ratio.Is()); byRatio > need {
			name, need = "npsh-ratio", byRatio
		}
		if !below(float64(available), float64(need)) {
			continue
		}
		severity := Fix
		if below(float64(available), float64(required)) {
			severity = Stop
		}
		p.ReportAs(severity, Finding{At: at, Measured: Of(available), Limit: Of(need), LimitName: name,
			Message: Say("%v has an NPSH of %v at its suction at %v; it needs %v, with the margin %v", p.Name(x.Pump), Of(available), p.temperatureWords(), Of(required), Of(need))})
	}
}

// temperatureWords gives the temperature of the step.
func (p *Pass) temperatureWords() Text { return Say("%v", Of(p.Step.Temperature.Or(0))) }

// hasProperty says whether the kind of a part has a property.
func (s *Snapshot) hasProperty(part model.Part, key string) bool {
	k := s.Kind(part)
	if k == nil {
		return false
	}
	_, ok := k.Property(key)
	return ok
}
