package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

var rulePumpOffCurve = &Rule{
	Name: "pump-off-curve",
	Doc: Doc{
		Title: "Pump far from the flow it is made for",
		Why:   "Far from its best point a pump shakes, wears its seal and wastes power; beyond the end of its curve it draws more power and cavitates.",
		How: "The solved flow of each running centrifugal pump is held against its rated flow times its speed over the rated one. Outside the band in every cleaning step in which it runs, it is a note: no step suits it. " +
			"A pump that runs at full speed beyond the last point of its curve in any step is to be put right. A pump is chosen for the hardest step; that others lie off is meant to be.",
		Blind:    "The best point itself, for which the rated one stands, and how a pump without a converter is throttled.",
		Remedy:   "Choose a pump whose rated flow lies by the flow of the steps.",
		Cites:    []Citation{commonPractice},
		Severity: Note,
		Merge:    EveryStep,
		Limits:   []string{"pump-flow-least", "pump-flow-most"},
	},
	Run: runPumpOffCurve,
}

func runPumpOffCurve(p *Pass) {
	sol := p.flowing()
	if sol == nil {
		return
	}
	least, most := p.Limit("pump-flow-least"), p.Limit("pump-flow-most")
	for _, x := range sol.Pumps {
		pump, ok := p.Circuit.Part(x.Pump).(*model.Pump)
		if !ok || !x.Running || p.Has(pump, catalogue.TraitDisplacement) {
			continue
		}
		at := model.PlaceOf(x.Pump)
		q, known := x.Flow.Get()
		speed, told := x.Speed.Get()
		if !known || !told {
			p.unsolved(at, sol)
			continue
		}
		if x.OutOfCurve && !below(float64(speed), 1) {
			p.ReportAs(Fix, Finding{At: model.Place{Element: x.Pump, Key: "curve"}, Measured: Of(q),
				Message: Say("%v passes %v at full speed, beyond the end of its curve", p.Name(x.Pump), Of(q))})
		}
		rated, known := pump.RatedFlow.Get()
		if !known || rated <= 0 {
			p.NotAssessed(at, missingKey(pump, "rated_flow_m3h"))
			continue
		}
		p.Judged(at)
		share := float64(q) / (float64(rated) * float64(speed))
		name, says := "pump-flow-most", "more than"
		switch {
		case above(share, most.Is()):
		case below(share, least.Is()):
			name, says = "pump-flow-least", "less than"
		default:
			continue
		}
		p.Report(Finding{At: at, Measured: Percent(share), LimitName: name,
			Message: Say("%v passes %v at %v of its speed: %v of its rated flow at that speed, %v %v in every step", p.Name(x.Pump), Of(q), Percent(float64(speed)), Percent(share), says, p.Limit(name).Value)})
	}
}
