package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

var ruleMotorOverloaded = &Rule{
	Name: "motor-overloaded",
	Doc: Doc{
		Title:    "Motor too small for its pump",
		Why:      "The motor trips in the middle of a wash, or burns out.",
		How:      "Power at the shaft from the solved flow and head, the density of the step's liquid and the efficiency of the pump. With the margin it must not exceed the rated power of the motor, in any cleaning step.",
		Blind:    "The efficiency is told at the rated point and is less away from it; start with a cold or heavier liquid.",
		Remedy:   "Take the next larger motor, or a smaller impeller.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
		Merge:    AnyStep,
		Limits:   []string{"motor-margin"},
	},
	Run: runMotorOverloaded,
}

func runMotorOverloaded(p *Pass) {
	sol := p.flowing()
	if sol == nil {
		return
	}
	margin := p.Limit("motor-margin")
	for _, x := range sol.Pumps {
		pump, ok := p.Circuit.Part(x.Pump).(*model.Pump)
		if !ok || !x.Running || p.Has(pump, catalogue.TraitDisplacement) && !p.hasProperty(pump, "efficiency_pct") {
			continue
		}
		at := model.PlaceOf(x.Pump)
		motor, told := pump.Motor.Get()
		power, known := x.Power.Get()
		switch {
		case !told:
			p.NotAssessed(at, missingKey(pump, "motor_kW"))
		case !known && !pump.Efficiency.Known():
			p.NotAssessed(at, missingKey(pump, "efficiency_pct"))
		case !known:
			p.unsolved(at, sol)
		case above(float64(power)*(1+margin.Is()), float64(motor)):
			p.Report(Finding{At: at, Measured: Of(power), Limit: Of(quantity.ShaftPower(float64(motor) / (1 + margin.Is()))), LimitName: "motor-margin", Fixes: p.nextMotor(pump, float64(power)*(1+margin.Is())),
				Message: Say("%v takes %v at its shaft, with %v more than its motor of %v gives", p.Name(x.Pump), Of(power), margin.Value, Of(motor))})
		}
	}
}

// motors are the rated powers of small motors in W (IEC 60072-1, from memory).
var motors = []float64{60, 90, 120, 180, 250, 370, 550, 750, 1100, 1500, 2200, 3000, 4000, 5500, 7500, 11000, 15000, 18500, 22000, 30000, 37000, 45000, 55000, 75000, 90000}

// nextMotor gives the pump the smallest usual motor of at least a power.
func (p *Pass) nextMotor(pump *model.Pump, power float64) []Remedy {
	for _, rated := range motors {
		if above(power, rated) {
			continue
		}
		after := model.Clone(pump)
		after.Motor = quantity.Some(quantity.ShaftPower(rated))
		return []Remedy{remedy(Say("fit a motor of %v", Of(quantity.ShaftPower(rated))),
			model.Edit{Label: "motor of " + p.Name(pump.ID), Changes: []model.Change{model.Replacing(pump, after)}})}
	}
	return nil
}
