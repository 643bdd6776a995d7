package checks

import (
	"slices"

	"rinsewright/model"
)

var rulePumpTooSmall = &Rule{
	Name: "pump-too-small",
	Doc: Doc{
		Title: "Pump too small for the step",
		Why:   "The step never gets the flow that it was written for; every velocity, pressure and time in it is less than meant.",
		How: "The flow of each cleaning step is solved with the pump at up to its rated speed. Where the flow stays below what the step asks for, the finding tells what is reached, and the head that the flow asked for would need. " +
			"Without a pump it tells the same of the supply's own pressure.",
		Blind:    "Reserve for a strainer that clogs. Where roughness, bends or valves are not told, usual values stand in; see the solution of the step.",
		Remedy:   "Take a larger pump or impeller, a wider line, or ask for less flow.",
		Cites:    []Citation{handbook27, byComputation},
		Severity: Fix,
		Merge:    AnyStep,
	},
	Run: runPumpTooSmall,
}

func runPumpTooSmall(p *Pass) {
	sol := p.flowing()
	if sol == nil {
		return
	}
	supply := &sol.Supply
	at := model.PlaceOf(p.Step.Source)
	if pump := p.firstPump(); pump != "" {
		at = model.PlaceOf(pump)
	}
	asked, told := supply.Asked.Get()
	flow, solved := supply.Flow.Get()
	switch {
	case !told:
		p.NotAssessed(model.PlaceOf(p.Step.ID), missingKey(p.Step, "flow_m3h"))
	case !solved:
		p.unsolved(at, sol)
	case !supply.Short.Known():
	case supply.Pump == "":
		p.Report(Finding{At: at, Measured: Of(flow), Limit: Of(asked),
			Message: Say("%v gives %v by its own pressure, less than the %v that %v asks for", p.Name(p.Step.Source), Of(flow), Of(asked), p.Name(p.Step.ID))})
	default:
		says := Say("%v gives %v at its full speed, less than the %v that %v asks for", p.Name(supply.Pump), Of(flow), Of(asked), p.Name(p.Step.ID))
		if need, err := sol.HeadFor(supply.Pump, asked); err == nil {
			says = Say("%v; that needs a head of %v", says, Of(need))
		}
		p.Report(Finding{At: at, Measured: Of(flow), Limit: Of(asked), Message: says})
	}
}

// firstPump gives the first running pump on the way from the source, or nothing.
func (p *Pass) firstPump() model.ID {
	for _, e := range p.Route().Ways {
		if pump, ok := p.partOfEdge(e).(*model.Pump); ok && slices.Contains(p.Step.Running, pump.ID) {
			return pump.ID
		}
	}
	return ""
}
