package checks

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/flow"
	"rinsewright/model/fluid"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
	"rinsewright/model/thermal"
	"rinsewright/model/vessel"
)

var ruleHeaterTooSmall = &Rule{
	Name: "heater-too-small",
	Doc: Doc{
		Title: "Heater too small for the step",
		Why:   "The wash never gets hot, or the crew waits; a wash that is timed from its start then ends cold.",
		How: "In each cleaning step whose flow passes a heater. From a supply, the heater must bring the flow asked for from the supply's temperature to the step's in one pass. " +
			"From a tank it must do so, or bring the tank's liquid at its level, or its working volume, and what the circuit holds, to the temperature within the time of the limit, the liquid pumped round through it. " +
			"The heater gives its duty at most, and where area and coefficient are told, what steam of the supply's pressure, condensing, passes through them. Heating begins at the temperature of the coldest supply that tells one, else at that of the limits.",
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
	at      model.Place
	duty    quantity.Power // infinite where only a surface is told
	ua      thermal.Conductance
	steam   quantity.Temperature // at which steam condenses, the lowest; 0 without surfaces
	surface bool                 // area and coefficient are told
	missing []network.Missing
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
	from, missing := p.startsAt()
	if len(missing) > 0 {
		p.NotAssessed(h.at, missing...)
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
	missing = append(missing, h.missing...)
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
	gives, err := h.once(need, from)
	if err != nil {
		p.notAssessedFor(h.at, err.Error())
		return
	}
	if !below(float64(gives), float64(need.Power)) {
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
		p.addHeater(&h, x)
	}
	return h, found
}

// addHeater adds what one heater gives.
func (p *Pass) addHeater(h *heating, x *model.Exchanger) {
	duty, dutyTold := x.Duty.Get()
	area, areaTold := x.Area.Get()
	u, uTold := x.Coefficient.Get()
	if dutyTold {
		h.duty += duty
	} else {
		h.duty = quantity.Power(math.Inf(1))
	}
	if p.Has(x, catalogue.TraitSteamHeated) && areaTold && uTold {
		pressure, supply := p.steamPressure(x)
		gauge, told := pressure.Get()
		switch {
		case supply == nil && dutyTold:
			return
		case supply == nil:
			h.missing = append(h.missing, missingKey(x, "duty_kW"))
			return
		case !told:
			h.missing = append(h.missing, missingKey(supply, "pressure_bar"))
			return
		}
		sat, err := fluid.SaturatedAt(gauge + fluid.Atmosphere)
		if err != nil {
			h.missing = append(h.missing, missingKey(supply, "pressure_bar"))
			return
		}
		h.ua += thermal.Conductance(float64(area) * float64(u))
		if !h.surface || sat.Temperature < h.steam {
			h.steam = sat.Temperature
		}
		h.surface = true
		return
	}
	if !dutyTold {
		h.missing = append(h.missing, missingKey(x, "duty_kW"))
	}
}

// once gives the power that the heaters pass to a flow that begins at a temperature.
func (h heating) once(need thermal.Heating, from quantity.Temperature) (quantity.Power, error) {
	if !h.surface {
		return h.duty, nil
	}
	if h.steam <= from {
		return 0, nil
	}
	x, err := thermal.RateCondensing(h.steam, thermal.Stream{Mass: need.Mass, HeatCapacity: need.HeatCapacity, Inlet: from}, h.ua)
	return min(h.duty, x.Power), err
}

// startsAt gives the temperature at which heating begins.
func (p *Pass) startsAt() (quantity.Temperature, []network.Missing) {
	if t, ok := p.Circuit.Part(p.Step.Source).(*model.Terminal); ok {
		if at, told := t.Temperature.Get(); told {
			return at, nil
		}
		return 0, []network.Missing{missingKey(t, "temperature_C")}
	}
	coldest, found := quantity.Temperature(0), false
	for _, part := range p.ofTrait(catalogue.TraitSupply) {
		t, ok := part.(*model.Terminal)
		if !ok || t.Medium.Or("") == model.Product {
			continue
		}
		if at, told := t.Temperature.Get(); told && (!found || at < coldest) {
			coldest, found = at, true
		}
	}
	if found {
		return coldest, nil
	}
	return quantity.Temperature(p.Limit("cold-start").Is()), nil
}

// judgeWarmUp judges the time in which a tank and its circuit get hot.
func (p *Pass) judgeWarmUp(tank *model.Vessel, h heating, liquid fluid.Liquid, need thermal.Heating, from, to quantity.Temperature) {
	volume, missing := p.tankVolume(tank)
	if len(missing) > 0 {
		p.NotAssessed(h.at, missing...)
		return
	}
	held, missing := p.holdUp()
	volume += held
	capacity, err := thermal.Content{Liquid: liquid, Volume: volume}.Capacity(to)
	if err != nil {
		p.notAssessedFor(h.at, err.Error())
		return
	}
	most := p.Limit("warm-up-most")
	time, reached := h.warmUp(capacity, need.Capacity(), from, to)
	switch {
	case !reached:
		p.Report(Finding{At: h.at, Measured: Of(h.steam), Limit: Of(to), Places: []model.Place{h.at, model.PlaceOf(tank.ID)},
			Message: Say("%v cannot bring %v to %v: its steam condenses at %v", p.Name(h.at.Element), p.Name(tank.ID), Of(to), Of(h.steam))})
	case above(float64(time), most.Is()):
		p.Report(Finding{At: h.at, Measured: Of(time), LimitName: "warm-up-most", Places: []model.Place{h.at, model.PlaceOf(tank.ID)},
			Message: Say("%v takes %v to bring the %v of %v and the circuit from %v to %v, longer than %v", p.Name(h.at.Element), Of(time), Of(volume), p.Name(tank.ID), Of(from), Of(to), most.Value)})
	default:
		p.NotAssessed(h.at, missing...) // more hold-up would take longer
	}
}

// warmUp gives the time for a content to get hot, pumped round through the heaters;
// false where it never does.
func (h heating) warmUp(c thermal.Capacity, rate thermal.CapacityRate, from, to quantity.Temperature) (quantity.Duration, bool) {
	var time quantity.Duration
	if !math.IsInf(float64(h.duty), 1) {
		t, err := thermal.WarmUpAtPower(c, from, to, h.duty, thermal.Loss{})
		if err != nil {
			return 0, false
		}
		time = t
	}
	if h.surface {
		ua, err := thermal.Circulated(rate, h.ua)
		if err != nil {
			return 0, false
		}
		t, err := thermal.WarmUpBySteam(c, from, to, h.steam, ua, thermal.Loss{})
		if err != nil {
			return 0, false
		}
		time = max(time, t)
	}
	return time, true
}

// tankVolume gives what stands in a tank: at its level, else its working volume.
func (p *Pass) tankVolume(tank *model.Vessel) (quantity.Volume, []network.Missing) {
	if level, told := tank.Level.Get(); told {
		if body, missing, err := vessel.Of(tank); len(missing) == 0 && err == nil {
			return body.At(level), nil
		}
	}
	if v, told := tank.Working.Get(); told {
		return v, nil
	}
	return 0, []network.Missing{missingKey(tank, "working_volume_L")}
}

// holdUp gives what the route holds beside vessels, as far as it is known, and what
// is missing to know all of it.
func (p *Pass) holdUp() (quantity.Volume, []network.Missing) {
	var sum quantity.Volume
	var missing []network.Missing
	plant := p.Plant()
	for e := range plant.Edges {
		if !p.Route().InFlow[e] {
			continue
		}
		if _, ok := p.partOfEdge(e).(*model.Vessel); ok {
			continue
		}
		if v, known := plant.Edges[e].Volume.Get(); known {
			sum += v
		} else {
			missing = append(missing, plant.Edges[e].Missing...)
		}
	}
	return sum, missing
}
