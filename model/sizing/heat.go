package sizing

import (
	"errors"
	"fmt"
	"math"

	"rinsewright/model/catalogue"
	"rinsewright/model/fluid"
	. "rinsewright/model/quantity"
	"rinsewright/model/thermal"
)

// hottest gives the phase that the heater is sized for: of those that send a
// solution, or all if none does, the one of the highest temperature; false if none
// is warmer than the water supply.
func (s *sizer) hottest() (phase, bool) {
	var out phase
	best := s.si("cold")
	for _, f := range s.phases {
		if t, ok := f.temperature.Get(); ok && float64(t) > best && f.round {
			best, out = float64(t), f
		}
	}
	return out, best > s.si("cold")
}

// liquid gives what a phase sends, at a temperature.
func (f phase) liquid(t Temperature) fluid.Liquid {
	l := fluid.Liquid{Medium: f.agent, Temperature: t}
	if f.agent != fluid.PureWater {
		l.Strength = f.strength.Or(0)
	}
	return l
}

// heater tells power, surface and steam.
func (s *sizer) heater() {
	s.section = "Heat"
	hot, any := s.hottest()
	if !any {
		none := func([]float64) (Value, error) {
			return Value{}, errors.New("no step of the programme is warmer than the water supply")
		}
		s.power = s.line(result{key: "heater", label: "Heater"}, none)
		s.area = s.line(result{key: "heater-area", label: "Surface of the heater"}, none)
		return
	}
	to := term{label: "temperature of " + lowerFirst(hot.name), value: Maybe(hot.temperature), basis: Basis{Source: "ready programme " + s.p.Programme, Standing: ""}}
	cold := s.assume("cold")
	s.line(result{key: "once-through", label: "Power to heat the flow in one pass", in: []term{s.station, cold, to},
		formula: "density × flow × mean heat capacity × rise; for comparison only"},
		func(x []float64) (Value, error) {
			h, err := thermal.HeatingOf(hot.liquid(Temperature(x[1])), Flow(x[0]), Temperature(x[2]))
			return Of(h.Power), err
		})
	warm := s.line(result{key: "warm-power", label: "Power to warm tank and circuit", in: []term{s.volume, s.circuit, cold, to, s.assume("warm-steel"), s.assume("warm-up")},
		formula: "density × (tank + circuit) × mean heat capacity × rise × (1 + steel) / time"},
		func(x []float64) (Value, error) {
			c, err := thermal.Content{Liquid: hot.liquid(Temperature(x[2])), Volume: Volume(x[0] + x[1])}.Capacity(Temperature(x[3]))
			return Of(Power(float64(c) * (x[3] - x[2]) * (1 + x[4]) / x[5])), err
		})
	hold := s.line(result{key: "hold-power", label: "Power to hold the temperature", in: []term{s.station, to, s.assume("pass-loss")},
		formula: "density × flow × heat capacity × cooling on the way round"},
		func(x []float64) (Value, error) {
			h, err := thermal.HeatingOf(hot.liquid(Temperature(x[1]-x[2])), Flow(x[0]), Temperature(x[1]))
			return Of(h.Power), err
		})
	s.power = s.line(result{key: "heater", label: "Heater", formula: "the larger of the two, on the next 5 kW", in: []term{warm, hold}},
		func(x []float64) (Value, error) { return Of(Power(math.Ceil(max(x[0], x[1])/5000-slack) * 5000)), nil })
	s.line(result{key: "warm-time", label: "Time in which tank and circuit get warm", formula: "heat to warm them / power of the heater", in: []term{warm, s.assume("warm-up"), s.power}},
		func(x []float64) (Value, error) { return Of(Duration(x[0] * x[1] / x[2])), nil })
	s.steam(hot, to)
}

// steam tells the surface of the heater and the steam that it takes.
func (s *sizer) steam(hot phase, to term) {
	pressure := s.assume("steam-pressure")
	s.area = s.line(result{key: "heater-area", label: "Surface of the heater", in: []term{s.power, s.station, to, pressure, s.assume("coefficient"), s.assume("fouling")},
		formula: "power / (coefficient × logarithmic mean difference) × (1 + fouling); steam condensing on one side, the last pass before the temperature is reached on the other"},
		func(x []float64) (Value, error) {
			sat, err := fluid.SaturatedAt(Pressure(x[3]) + fluid.Atmosphere)
			if err != nil {
				return Value{}, err
			}
			if float64(sat.Temperature) <= x[2] {
				return Value{}, fmt.Errorf("steam of that pressure condenses at %s, which cannot heat to %s", Text(sat.Temperature, Metric), Text(Temperature(x[2]), Metric))
			}
			h, err := thermal.HeatingOf(hot.liquid(Temperature(x[2]-1)), Flow(x[1]), Temperature(x[2]))
			if err != nil {
				return Value{}, err
			}
			in := x[2] - x[0]/float64(h.Capacity())
			ex, err := thermal.SizeCondensing(sat.Temperature, thermal.Stream{Mass: h.Mass, HeatCapacity: h.HeatCapacity, Inlet: Temperature(in)}, Temperature(x[2]))
			if err != nil {
				return Value{}, err
			}
			a, err := ex.Area(HeatTransfer(x[4]))
			return Of(Area(math.Ceil(float64(a)*(1+x[5])/0.1-slack) * 0.1)), err
		})
	flow := s.line(result{key: "steam-flow", label: "Steam at full power", in: []term{s.power, pressure}, formula: "power / heat of condensing, condensate leaving at its boiling point",
		basis: Basis{Source: "IAPWS-IF97 for steam and water", Standing: StandingComputed}},
		func(x []float64) (Value, error) {
			m, err := thermal.SteamFlow(Power(x[0]), Pressure(x[1])+fluid.Atmosphere, Opt[Temperature]{})
			return Of(m), err
		})
	s.line(result{key: "condensate", label: "Condensate at full power", in: []term{flow}, formula: "what condenses"},
		func(x []float64) (Value, error) { return Of(MassFlow(x[0])), nil })
	s.line(result{key: "steam-tube", label: "Tube of the steam", in: []term{flow, pressure, s.assume("steam-velocity")},
		formula: "the smallest of the series in which dry steam runs at the velocity or less"},
		func(x []float64) (Value, error) {
			sat, err := fluid.SaturatedAt(Pressure(x[1]) + fluid.Atmosphere)
			if err != nil {
				return Value{}, err
			}
			for _, t := range s.tubes {
				if x[0]*sat.Steam.Volume/catalogue.BoreArea(t.Inside()) <= x[2] {
					return Word(string(t.Size)), nil
				}
			}
			return Value{}, errNoTube
		})
}
