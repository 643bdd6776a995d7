package thermal

import (
	"fmt"
	"math"

	"rinsewright/model/fluid"
	"rinsewright/model/quantity"
)

// SteelHeatCapacity is that of austenitic stainless steel (EN 10088-1, from
// memory: 500 J/(kg·K) at 20 °C).
const SteelHeatCapacity fluid.HeatCapacity = 500

// SteelDensity is that of austenitic stainless steel in kg/m³ (EN 10088-1, from memory).
const SteelDensity = 7900

// SteelOf gives the mass in kg of a length of tube, from its outside diameter and wall.
func SteelOf(outside, wall quantity.Bore, length quantity.Length) float64 {
	return math.Pi * float64(outside-wall) * float64(wall) * float64(length) * SteelDensity
}

// Content is what warms up together: a volume of liquid, at its temperature
// before, and the steel of tubes and vessels.
type Content struct {
	Liquid fluid.Liquid
	Volume quantity.Volume
	Steel  float64 // kg
}

// Capacity gives the mean heat capacity of the content between the liquid's
// temperature and another.
func (c Content) Capacity(to quantity.Temperature) (Capacity, error) {
	if err := notNegative("volume", float64(c.Volume), "m³"); err != nil {
		return 0, err
	}
	if err := notNegative("mass of steel", c.Steel, "kg"); err != nil {
		return 0, err
	}
	d, err := c.Liquid.Density()
	if err != nil {
		return 0, err
	}
	cp, err := meanHeatCapacity(c.Liquid, to)
	if err != nil {
		return 0, err
	}
	return Capacity(float64(d)*float64(c.Volume)*float64(cp) + c.Steel*float64(SteelHeatCapacity)), nil
}

// Loss is heat given off to the surroundings in proportion to the difference in
// temperature. The zero Loss is none.
type Loss struct {
	Conductance Conductance
	Air         quantity.Temperature
}

// WarmUpAtPower gives the time in which a constant power brings a well mixed
// content of the capacity from one temperature to a higher one. With a loss it
// fails where the power cannot hold the higher temperature.
func WarmUpAtPower(c Capacity, from, to quantity.Temperature, power quantity.Power, loss Loss) (quantity.Duration, error) {
	if err := positive("power", float64(power), "W"); err != nil {
		return 0, err
	}
	if loss.Conductance == 0 {
		if err := warmUpArguments(c, from, to, loss); err != nil {
			return 0, err
		}
		return quantity.Duration(float64(c) * float64(to-from) / float64(power)), nil
	}
	final := float64(loss.Air) + float64(power)/float64(loss.Conductance)
	return approach(c, from, to, loss, final, float64(loss.Conductance))
}

// WarmUpBySteam gives the time in which steam condensing at one temperature
// behind a wall of the conductance brings a well mixed content from one
// temperature to a higher one. The content approaches the steam exponentially:
//
//	t = C/UA · ln((Ts − T0)/(Ts − T1))
//
// with a loss to the weighted mean of steam and air. It fails where the
// temperature is never reached. For a liquid pumped round through an exchanger
// take the conductance from [Circulated].
func WarmUpBySteam(c Capacity, from, to, steam quantity.Temperature, ua Conductance, loss Loss) (quantity.Duration, error) {
	if err := positive("conductance", float64(ua), "W/K"); err != nil {
		return 0, err
	}
	k := float64(ua) + float64(loss.Conductance)
	final := (float64(ua)*float64(steam) + float64(loss.Conductance)*float64(loss.Air)) / k
	return approach(c, from, to, loss, final, k)
}

// Circulated gives the conductance by which a content is warmed that is pumped
// at a capacity rate through an exchanger of conductance ua with steam on the
// other side: C·(1 − exp(−UA/C)). It nears ua in a strong flow.
func Circulated(flow CapacityRate, ua Conductance) (Conductance, error) {
	if err := positive("capacity rate", float64(flow), "W/K"); err != nil {
		return 0, err
	}
	if err := positive("conductance", float64(ua), "W/K"); err != nil {
		return 0, err
	}
	return Conductance(-float64(flow) * math.Expm1(-float64(ua)/float64(flow))), nil
}

// approach is the time in which the temperature that tends to final reaches to.
func approach(c Capacity, from, to quantity.Temperature, loss Loss, final, conductance float64) (quantity.Duration, error) {
	if err := warmUpArguments(c, from, to, loss); err != nil {
		return 0, err
	}
	if !(final > float64(to)) {
		return 0, fmt.Errorf("thermal: %.4g °C is never reached; the content tends to %.4g °C", to.Celsius(), quantity.Temperature(final).Celsius())
	}
	return quantity.Duration(float64(c) / conductance * math.Log1p(float64(to-from)/(final-float64(to)))), nil
}

func warmUpArguments(c Capacity, from, to quantity.Temperature, loss Loss) error {
	if err := positive("heat capacity", float64(c), "J/K"); err != nil {
		return err
	}
	if err := notNegative("loss", float64(loss.Conductance), "W/K"); err != nil {
		return err
	}
	if !(to >= from) {
		return fmt.Errorf("thermal: warming up from %.4g to %.4g °C", from.Celsius(), to.Celsius())
	}
	return nil
}
