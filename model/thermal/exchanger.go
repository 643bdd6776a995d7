package thermal

import (
	"fmt"
	"math"

	"rinsewright/model/fluid"
	"rinsewright/model/quantity"
)

// Stream is one side of an exchanger.
type Stream struct {
	Mass         MassFlow
	HeatCapacity fluid.HeatCapacity
	Inlet        quantity.Temperature
}

// Capacity is the stream's capacity rate.
func (s Stream) Capacity() CapacityRate {
	return CapacityRate(float64(s.Mass) * float64(s.HeatCapacity))
}

func (s Stream) check(side string) error {
	if err := positive("mass flow on the "+side+" side", float64(s.Mass), "kg/s"); err != nil {
		return err
	}
	if err := positive("heat capacity on the "+side+" side", float64(s.HeatCapacity), "J/(kg·K)"); err != nil {
		return err
	}
	return positive("inlet temperature on the "+side+" side", float64(s.Inlet), "K")
}

// Exchange is the working point of an exchanger.
type Exchange struct {
	Power          quantity.Power
	HotOutlet      quantity.Temperature // of condensing steam: its condensing temperature
	ColdOutlet     quantity.Temperature
	MeanDifference Kelvin      // logarithmic
	Conductance    Conductance // U·A
	Effectiveness  float64
}

// Area gives the surface that the exchange needs at an overall coefficient U.
func (x Exchange) Area(u quantity.HeatTransfer) (quantity.Area, error) {
	if err := positive("overall coefficient", float64(u), "W/(m²·K)"); err != nil {
		return 0, err
	}
	return quantity.Area(float64(x.Conductance) / float64(u)), nil
}

// Size gives the conductance that an exchanger in counterflow needs to pass the
// power from the hot to the cold stream. It fails where the temperatures would
// cross.
func Size(hot, cold Stream, power quantity.Power) (Exchange, error) {
	if err := checkPair(hot, cold); err != nil {
		return Exchange{}, err
	}
	if err := positive("power", float64(power), "W"); err != nil {
		return Exchange{}, err
	}
	x := Exchange{
		Power:      power,
		HotOutlet:  hot.Inlet - fall(power, hot.Capacity()),
		ColdOutlet: cold.Inlet + fall(power, cold.Capacity()),
	}
	return x.sized(hot.Inlet, cold.Inlet, float64(power)/greatest(hot, cold))
}

// SizeCondensing gives the conductance for heating a stream to a temperature by
// steam that condenses at one temperature, without subcooling of the condensate.
func SizeCondensing(steam quantity.Temperature, cold Stream, to quantity.Temperature) (Exchange, error) {
	if err := cold.check("cold"); err != nil {
		return Exchange{}, err
	}
	power := float64(cold.Capacity()) * float64(to-cold.Inlet)
	if err := positive("power", power, "W"); err != nil {
		return Exchange{}, err
	}
	x := Exchange{Power: quantity.Power(power), HotOutlet: steam, ColdOutlet: to}
	return x.sized(steam, cold.Inlet, float64(to-cold.Inlet)/float64(steam-cold.Inlet))
}

// sized fills in the mean difference and what follows from it.
func (x Exchange) sized(hotInlet, coldInlet quantity.Temperature, effectiveness float64) (Exchange, error) {
	dt, err := MeanDifference(Kelvin(hotInlet-x.ColdOutlet), Kelvin(x.HotOutlet-coldInlet))
	if err != nil {
		return Exchange{}, err
	}
	x.MeanDifference = dt
	x.Conductance = Conductance(float64(x.Power) / float64(dt))
	x.Effectiveness = effectiveness
	return x, nil
}

// Rate gives the working point of an exchanger in counterflow of a given
// conductance.
func Rate(hot, cold Stream, ua Conductance) (Exchange, error) {
	if err := checkPair(hot, cold); err != nil {
		return Exchange{}, err
	}
	if err := positive("conductance", float64(ua), "W/K"); err != nil {
		return Exchange{}, err
	}
	h, c := float64(hot.Capacity()), float64(cold.Capacity())
	e, err := Effectiveness(float64(ua)/math.Min(h, c), math.Min(h, c)/math.Max(h, c))
	if err != nil {
		return Exchange{}, err
	}
	power := quantity.Power(e * greatest(hot, cold))
	return Exchange{
		Power:          power,
		HotOutlet:      hot.Inlet - fall(power, hot.Capacity()),
		ColdOutlet:     cold.Inlet + fall(power, cold.Capacity()),
		MeanDifference: Kelvin(float64(power) / float64(ua)),
		Conductance:    ua,
		Effectiveness:  e,
	}, nil
}

// RateCondensing is [Rate] with steam condensing at one temperature.
func RateCondensing(steam quantity.Temperature, cold Stream, ua Conductance) (Exchange, error) {
	if err := cold.check("cold"); err != nil {
		return Exchange{}, err
	}
	if err := positive("conductance", float64(ua), "W/K"); err != nil {
		return Exchange{}, err
	}
	if !(steam > cold.Inlet) {
		return Exchange{}, fmt.Errorf("thermal: steam at %.4g °C does not heat a stream of %.4g °C", steam.Celsius(), cold.Inlet.Celsius())
	}
	e, err := Effectiveness(float64(ua)/float64(cold.Capacity()), 0)
	if err != nil {
		return Exchange{}, err
	}
	power := quantity.Power(e * float64(cold.Capacity()) * float64(steam-cold.Inlet))
	return Exchange{
		Power: power, HotOutlet: steam, ColdOutlet: cold.Inlet + fall(power, cold.Capacity()),
		MeanDifference: Kelvin(float64(power) / float64(ua)), Conductance: ua, Effectiveness: e,
	}, nil
}

func checkPair(hot, cold Stream) error {
	if err := hot.check("hot"); err != nil {
		return err
	}
	if err := cold.check("cold"); err != nil {
		return err
	}
	if !(hot.Inlet > cold.Inlet) {
		return fmt.Errorf("thermal: the hot stream enters at %.4g °C, the cold at %.4g °C", hot.Inlet.Celsius(), cold.Inlet.Celsius())
	}
	return nil
}

// greatest is the power that an endless exchanger would pass.
func greatest(hot, cold Stream) float64 {
	return math.Min(float64(hot.Capacity()), float64(cold.Capacity())) * float64(hot.Inlet-cold.Inlet)
}

// fall is the change of temperature of a stream that gives or takes the power.
func fall(power quantity.Power, c CapacityRate) quantity.Temperature {
	return quantity.Temperature(float64(power) / float64(c))
}
