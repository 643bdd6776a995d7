package thermal

import (
	"fmt"

	"rinsewright/model/fluid"
	"rinsewright/model/quantity"
)

// SteamFlow gives the flow of dry saturated steam under an absolute pressure
// that passes the power through a wall. The condensate leaves at its boiling
// point, or colder where its temperature is known:
//
//	m = Q / (h″ − h_condensate)
func SteamFlow(power quantity.Power, abs quantity.Pressure, condensate quantity.Opt[quantity.Temperature]) (MassFlow, error) {
	if err := notNegative("power", float64(power), "W"); err != nil {
		return 0, err
	}
	s, err := fluid.SaturatedAt(abs)
	if err != nil {
		return 0, err
	}
	leaves := s.Liquid.Enthalpy
	if t, known := condensate.Get(); known {
		if t > s.Temperature {
			return 0, fmt.Errorf("thermal: condensate at %.4g °C is above the boiling point of %.4g °C", t.Celsius(), s.Temperature.Celsius())
		}
		if t < s.Temperature {
			c, err := fluid.At(t, abs)
			if err != nil {
				return 0, err
			}
			leaves = c.Enthalpy
		}
	}
	return MassFlow(float64(power) / float64(s.Steam.Enthalpy-leaves)), nil
}

// Injected is water heated by steam blown into it.
type Injected struct {
	Steam    float64 // kg of steam per kg of water before
	Dilution float64 // by which the strength falls: steam over the whole
}

// Inject gives the dry saturated steam under an absolute pressure that heats
// water from one temperature to another by condensing in it:
//
//	m·(h″ − h2) = h2 − h1 per kg of water
//
// Water and dilute solutions alike; heat losses and the noise are extra.
func Inject(abs quantity.Pressure, from, to quantity.Temperature) (Injected, error) {
	s, err := fluid.SaturatedAt(abs)
	if err != nil {
		return Injected{}, err
	}
	cold, err := fluid.Water(from)
	if err != nil {
		return Injected{}, err
	}
	hot, err := fluid.Water(to)
	if err != nil {
		return Injected{}, err
	}
	if to < from || to > s.Temperature {
		return Injected{}, fmt.Errorf("thermal: steam of %.4g °C cannot heat water from %.4g to %.4g °C", s.Temperature.Celsius(), from.Celsius(), to.Celsius())
	}
	m := float64(hot.Enthalpy-cold.Enthalpy) / float64(s.Steam.Enthalpy-hot.Enthalpy)
	return Injected{Steam: m, Dilution: m / (1 + m)}, nil
}
