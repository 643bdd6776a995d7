package thermal

import (
	"rinsewright/model/fluid"
	"rinsewright/model/quantity"
)

// Heating is a flow of a liquid brought from its temperature to another.
type Heating struct {
	Mass         MassFlow
	HeatCapacity fluid.HeatCapacity // mean between the two temperatures
	Rise         Kelvin             // negative when cooling
	Power        quantity.Power     // negative when cooling
}

// Capacity is the flow's heat capacity rate.
func (h Heating) Capacity() CapacityRate {
	return CapacityRate(float64(h.Mass) * float64(h.HeatCapacity))
}

// HeatingOf gives the duty of bringing the flow q of a liquid, measured at the
// liquid's temperature, to another temperature: Q = ρ·q·c̄p·ΔT, c̄p the mean by
// Simpson's rule. Both temperatures must be within the liquid's range.
func HeatingOf(l fluid.Liquid, q quantity.Flow, to quantity.Temperature) (Heating, error) {
	if err := notNegative("flow", float64(q), "m³/s"); err != nil {
		return Heating{}, err
	}
	d, err := l.Density()
	if err != nil {
		return Heating{}, err
	}
	cp, err := meanHeatCapacity(l, to)
	if err != nil {
		return Heating{}, err
	}
	m := float64(d) * float64(q)
	rise := float64(to - l.Temperature)
	return Heating{
		Mass: MassFlow(m), HeatCapacity: cp, Rise: Kelvin(rise),
		Power: quantity.Power(m * float64(cp) * rise),
	}, nil
}

// meanHeatCapacity is the mean between the liquid's temperature and another.
func meanHeatCapacity(l fluid.Liquid, to quantity.Temperature) (fluid.HeatCapacity, error) {
	ends := [3]quantity.Temperature{l.Temperature, (l.Temperature + to) / 2, to}
	weights := [3]fluid.HeatCapacity{1. / 6, 4. / 6, 1. / 6}
	var mean fluid.HeatCapacity
	for i, t := range ends {
		l.Temperature = t
		cp, err := l.HeatCapacity()
		if err != nil {
			return 0, err
		}
		mean += weights[i] * cp
	}
	return mean, nil
}
