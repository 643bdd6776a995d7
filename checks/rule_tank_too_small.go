package checks

import (
	"rinsewright/model"
	"rinsewright/model/quantity"
)

var ruleTankTooSmall = &Rule{
	Name: "tank-too-small",
	Doc: Doc{
		Title:    "Tank too small for the circuit that it feeds",
		Why:      "Before anything comes back the tank must fill every line and the puddle in the vessel. If it runs empty on the way, the pump draws air and the wash stops.",
		How:      "In each cleaning step that draws from a tank and returns to it, its working volume is compared with the larger of two: the volume of all that the flow passes (lines, machines, objects) and of the puddles of the solved flow, times the margin; and the flow of the step for as many minutes as the limit.",
		Blind:    "What clings to walls, bursts, and lines that are still full from the step before; rinses that are sent away, which draw until the step ends.",
		Remedy:   "Take a larger tank, or shorten the circuit.",
		Cites:    []Citation{handbook27, commonPractice},
		Severity: Fix,
		Merge:    AnyStep,
		Limits:   []string{"tank-margin", "tank-minutes"},
	},
	Run: runTankTooSmall,
}

func runTankTooSmall(p *Pass) {
	tank, ok := p.Circuit.Part(p.Step.Source).(*model.Vessel)
	if !ok || p.Step.Destination != tank.ID || !p.sweeps() || !p.Route().Found {
		return
	}
	at := model.PlaceOf(tank.ID)
	has, known := tank.Working.Get()
	if !known {
		p.NotAssessed(at, missingKey(tank, "working_volume_L"))
		return
	}
	margin, minutes := p.Limit("tank-margin"), p.Limit("tank-minutes")
	v := Volumes.Of(p.Snapshot, p.Step)
	flow, told := p.Step.Flow.Get()
	byTime := quantity.Volume(float64(flow) * minutes.Is())
	byHold := quantity.Volume(float64(v.tube+v.puddles) * margin.Is())
	switch {
	case below(float64(has), float64(byHold)) && byHold >= byTime:
		p.Report(Finding{At: at, Way: EdgePlaces(p.Plant(), p.Route().Ways), Measured: Of(has), Limit: Of(byHold), LimitName: "tank-margin",
			Message: Say("%v holds %v; its circuit holds %v in lines and %v in puddles, with the margin %v are needed", p.Name(tank.ID), Of(has), Of(v.tube), Of(v.puddles), Of(byHold))})
	case told && below(float64(has), float64(byTime)):
		p.Report(Finding{At: at, Measured: Of(has), Limit: Of(byTime), LimitName: "tank-minutes",
			Message: Say("%v holds %v; %v for %v are %v", p.Name(tank.ID), Of(has), Of(flow), minutes.Value, Of(byTime))})
	default:
		p.NotAssessed(at, v.missing...)
		if !told {
			p.NotAssessed(at, missingKey(p.Step, "flow_m3h"))
		}
	}
}
