package fluid

import (
	"math"

	"rinsewright/model/quantity"
)

// Atmosphere is the standard atmosphere, absolute (ISO 2533).
const Atmosphere quantity.Pressure = 101325

// The range of [Water].
const (
	waterLow  = 273.15 // K, 0 °C
	waterHigh = 423.15 // K, 150 °C
)

// Water gives liquid water at 0 to 150 °C: under the standard atmosphere up to
// its boiling point, above under its own vapour pressure. A few bar more change
// density by less than 0.04 % and viscosity by less than 0.1 %, so that the
// pressure in a cleaning circuit need not be known.
func Water(t quantity.Temperature) (State, error) {
	if err := within("liquid water", "temperature", t.Celsius(), waterLow-quantity.ZeroCelsius, waterHigh-quantity.ZeroCelsius, "°C"); err != nil {
		return State{}, err
	}
	return liquidWater(float64(t)), nil
}

func liquidWater(T float64) State {
	return region1(T, math.Max(float64(Atmosphere), saturationPressure(T)))
}
