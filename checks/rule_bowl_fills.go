package checks

import (
	"rinsewright/model"
	"rinsewright/model/flow"
)

var ruleBowlFills = &Rule{
	Name: "bowl-fills",
	Doc: Doc{
		Title: "Vessel fills while it is sprayed",
		Why:   "Liquid that stands in the vessel covers the bottom, where the soil is, and is not sprayed; the circuit runs out of liquid elsewhere.",
		How: "The solved flow into each vessel on the route of a cleaning step must leave it again. With the return at full speed, the puddle above the outlet must not stand higher than the limit, still less rise to the top. " +
			"A vessel that the step begins or ends at is left out.",
		Blind:    "Vortices and foam at the outlet, and returns that run in bursts.",
		Remedy:   "Take a larger return pump or line, or spray less.",
		Cites:    []Citation{handbook27, commonPractice},
		Severity: Fix,
		Merge:    AnyStep,
		Limits:   []string{"puddle-most"},
	},
	Run: runBowlFills,
}

func runBowlFills(p *Pass) {
	sol := p.flowing()
	if sol == nil {
		return
	}
	most := p.Limit("puddle-most")
	for _, v := range sol.Vessels {
		at := model.PlaceOf(v.Vessel)
		level, known := v.Level.Get()
		switch {
		case v.Balance == flow.BowlFills:
			p.Report(Finding{At: at, Measured: Of(v.Outflow.Or(0)), Limit: Of(v.Inflow.Or(0)),
				Message: Say("%v fills to the top: %v come in, %v can leave%v", p.Name(v.Vessel), Of(v.Inflow.Or(0)), Of(v.Outflow.Or(0)), p.returnWords(v))})
		case v.Balance == "":
			p.unsolved(at, sol)
		case known && above(float64(level), most.Is()):
			p.Report(Finding{At: at, Measured: Of(level), LimitName: "puddle-most",
				Message: Say("in %v the liquid stands at %v before the %v that come in can leave%v, above %v", p.Name(v.Vessel), Of(level), Of(v.Inflow.Or(0)), p.returnWords(v), most.Value)})
		case !known:
			p.unsolved(at, sol)
		}
	}
}

// returnWords tells by what liquid leaves a vessel.
func (p *Pass) returnWords(v flow.Vessel) string {
	if v.Gravity || len(v.Pumps) == 0 {
		return " by its own fall"
	}
	return " through " + p.Name(v.Pumps[0])
}
