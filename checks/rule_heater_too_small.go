package checks

import (
	"errors"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/fluid"
	"rinsewright/model/heat"
	"rinsewright/model/quantity"
	"rinsewright/model/thermal"
)

var ruleHeaterTooSmall = &Rule{
	Name: "heater-too-small",
	Doc: Doc{
		Title: "Heater too small for the step",
		Why:   "The wash never gets hot, or the crew waits; a wash that is timed from its start then ends cold.",
		How: "In each cleaning step whose flow passes a heater. From a supply, the heater must bring the flow asked for from the supply's temperature to the step's in one pass. " +
			"From a tank it must do so, or bring the tank's liquid at its level, or its working volume, and what the circuit holds, to the temperature within the time of the limit, the liquid pumped round through it. " +
			"The heater gives its duty at most, and where area and coefficient are told, what steam of the supply's pressure, condensing, passes through them. Heating begins at the temperature that is told of the tank, else of the coldest supply of water, else of any supply, else at that of the limits.",
		Blind:    "Heat lost by tanks and tubes and taken up by steel; the pressure that the control valve takes; tanks kept hot between washes.",
		Remedy:   "Take a larger heater, heat the tank beforehand, or wash cooler.",
		Cites:    []Citation{byComputation, commonPractice},
		Severity: Fix,
		Merge:    AnyStep,
		Limits:   []string{"warm-up-most", "cold-start"},
	},
	Run: runHeaterTooSmall,
}

// heating is what the heaters of a step give together.
type heating struct {
	at model.Place
	heat.Capability
}

func runHeaterTooSmall(p *Pass) {
	if !p.sweeps() || !p.Route().Found {
		return
	}
	h, found := p.heatersOnRoute()
	if !found {
		return
	}
	to, known := p.Step.Temperature.Get()
	if !known {
		p.NotAssessed(model.PlaceOf(p.Step.ID), missingKey(p.Step, "temperature_C"))
		return
	}
	start := heat.StartOf(p.Plant(), p.Step, quantity.Temperature(p.Limit("cold-start").Is()))
	from, known := start.Temperature.Get()
	if !known {
		p.NotAssessed(h.at, start.Missing...)
		return
	}
	if to <= from {
		return
	}
	liquid, missing, err := flow.LiquidOf(p.Step)
	asked, told := p.Step.Flow.Get()
	if !told {
		missing = append(missing, missingKey(p.Step, "flow_m3h"))
	}
	missing = append(missing, h.Missing...)
	switch {
	case err != nil:
		p.notAssessedFor(h.at, err.Error())
		return
	case len(missing) > 0:
		p.NotAssessed(h.at, missing...)
		return
	}
	liquid.Temperature = from
	need, err := thermal.HeatingOf(liquid, asked, to)
	if err != nil {
		p.notAssessedFor(h.at, err.Error())
		return
	}
	power, err := h.To(thermal.Stream{Mass: need.Mass, HeatCapacity: need.HeatCapacity, Inlet: from})
	if err != nil {
		p.notAssessedFor(h.at, err.Error())
		return
	}
	gives := quantity.Power(power)
	if !below(power, float64(need.Power)) {
		return
	}
	if tank, ok := p.Circuit.Part(p.Step.Source).(*model.Vessel); ok {
		p.judgeWarmUp(tank, h, liquid, need, from, to)
		return
	}
	p.Report(Finding{At: h.at, Measured: Of(gives), Limit: Of(need.Power),
		Message: Say("%v gives %v; to bring %v from %v to %v in one pass takes %v", p.Name(h.at.Element), Of(gives), Of(asked), Of(from), Of(to), Of(need.Power))})
}

// heatersOnRoute adds up the heaters that the flow passes.
func (p *Pass) heatersOnRoute() (heating, bool) {
	var h heating
	found := false
	for _, part := range p.ofClass(model.ClassExchanger) {
		x, ok := part.(*model.Exchanger)
		if !ok || !heats(p.Kind(x)) || !passes(p.Plant(), x.ID, p.Route().InFlow) {
			continue
		}
		if !found {
			h.at, found = model.PlaceOf(x.ID), true
		}
		h.Add(heat.CapabilityOf(p.Plant(), x, fluid.Atmosphere))
	}
	return h, found
}

// judgeWarmUp judges the time in which a tank and its circuit get hot.
func (p *Pass) judgeWarmUp(tank *model.Vessel, h heating, liquid fluid.Liquid, need thermal.Heating, from, to quantity.Temperature) {
	volume, missing := heat.TankVolume(tank)
	if len(missing) > 0 {
		p.NotAssessed(h.at, missing...)
		return
	}
	held, missing := heat.HoldUp(p.Plant(), p.Route())
	volume += held
	capacity, err := thermal.Content{Liquid: liquid, Volume: volume}.Capacity(to)
	if err != nil {
		p.notAssessedFor(h.at, err.Error())
		return
	}
	most := p.Limit("warm-up-most")
	time, err := h.WarmUp(capacity, need.Capacity(), from, to, thermal.Loss{})
	var never *heat.NeverError
	switch {
	case errors.As(err, &never):
		p.Report(Finding{At: h.at, Measured: Of(h.Steam), Limit: Of(to), Places: []model.Place{h.at, model.PlaceOf(tank.ID)},
			Message: Say("%v cannot bring %v to %v: its steam condenses at %v", p.Name(h.at.Element), p.Name(tank.ID), Of(to), Of(h.Steam))})
	case err != nil:
		p.notAssessedFor(h.at, err.Error())
	case above(float64(time), most.Is()):
		p.Report(Finding{At: h.at, Measured: Of(time), LimitName: "warm-up-most", Places: []model.Place{h.at, model.PlaceOf(tank.ID)},
			Message: Say("%v takes %v to bring the %v of %v and the circuit from %v to %v, longer than %v", p.Name(h.at.Element), Of(time), Of(volume), p.Name(tank.ID), Of(from), Of(to), most.Value)})
	default:
		p.NotAssessed(h.at, missing...) // more hold-up would take longer
	}
}
