package heat

import (
	"math"

	"rinsewright/model/fluid"
	. "rinsewright/model/quantity"
	"rinsewright/model/thermal"
)

// SteadyShort, in K, is how near a content comes to the temperature of what warms it
// until it counts as warm: it only ever nears it. Common practice, no source.
const SteadyShort = Temperature(0.5)

// Hottest gives the hottest that leaves the heaters while a content is warmed with all
// that they give.
func (p Capability) Hottest(rate thermal.CapacityRate, from, to Temperature) (Temperature, error) {
	hottest := from
	turn := to
	if p.Surface > 0 && !math.IsInf(p.Duty, 1) {
		ua, err := thermal.Circulated(rate, p.Surface)
		if err != nil {
			return 0, err
		}
		turn = min(max(p.Steam-Temperature(p.Duty/float64(ua)), from), to)
	}
	for _, at := range []Temperature{from, turn, to} {
		power, err := p.To(thermal.Stream{Mass: 1, HeatCapacity: fluid.HeatCapacity(rate), Inlet: at})
		if err != nil {
			return 0, err
		}
		hottest = max(hottest, at+Temperature(power/float64(rate)))
	}
	return hottest, nil
}

// WarmUpHeld gives the time in which a well mixed content gets from one temperature to
// [SteadyShort] below a higher one while a controller lets what leaves the heaters get no
// hotter than that. The heaters give all they can until what leaves is as hot as asked;
// from then on the content nears it as
//
//	t = C/(Ċ + k) · ln((Tf − T0)/(Tf − T1)), Tf = (Ċ·T + k·T_air)/(Ċ + k)
//
// with the capacity rate Ċ of what is pumped round and the loss k. It fails where the
// content never comes there.
func (p Capability) WarmUpHeld(c thermal.Capacity, rate thermal.CapacityRate, from, to Temperature, loss thermal.Loss) (Duration, error) {
	goal := max(to-SteadyShort, from)
	// From here on the heaters could make what leaves hotter than asked.
	free := to - Temperature(p.Duty/float64(rate))
	if p.Surface > 0 {
		ua, err := thermal.Circulated(rate, p.Surface)
		if err != nil {
			return 0, err
		}
		if float64(ua) < float64(rate) {
			free = max(free, (to*Temperature(rate)-p.Steam*Temperature(ua))/(Temperature(rate)-Temperature(ua)))
		}
	}
	free = min(max(free, from), goal)
	var time Duration
	if free > from {
		t, err := p.WarmUp(c, rate, from, free, loss)
		if err != nil {
			return 0, err
		}
		time = t
	}
	if free < goal {
		t, err := thermal.WarmUpBySteam(c, free, goal, to, thermal.Conductance(rate), loss)
		if err != nil {
			return 0, err
		}
		time += t
	}
	return time, nil
}
