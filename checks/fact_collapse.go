package checks

import (
	"math"

	"rinsewright/model/fluid"
	"rinsewright/model/quantity"
)

// The gas in a vessel that is sprayed is air saturated with vapour, at the pressure
// of the air around while it is hot.

// atmosphere is the standard one (101325 Pa, CGPM 1954).
const atmosphere quantity.Pressure = 101325

// sealedPressure gives the absolute pressure in a vessel that was shut while it held
// saturated air at hot and then cools to cold: the air shrinks as an ideal gas of
// fixed volume, the vapour condenses to its pressure at cold. The error is that of
// the saturation curve.
func sealedPressure(hot, cold quantity.Temperature) (quantity.Pressure, error) {
	warm, err := fluid.SaturationPressure(hot)
	if err != nil {
		return 0, err
	}
	cool, err := fluid.SaturationPressure(cold)
	if err != nil {
		return 0, err
	}
	air := max(atmosphere-warm, 0)
	return air*quantity.Pressure(cold/hot) + cool, nil
}

// airDrawn gives the flow of outside air that keeps the pressure of a volume of
// saturated air at a temperature which cools at a rate in K/s. It follows from
// p_air V = n R T with p_air = p - p_sat(T):
// dV/dt = V (T_out/p) (p_sat'/T + p_air/T²) |dT/dt|.
func airDrawn(v quantity.Volume, at quantity.Temperature, rate float64, outside quantity.Temperature) (quantity.Flow, error) {
	const step = 0.05 // K, for the slope of the saturation curve
	low, err := fluid.SaturationPressure(at - step)
	if err != nil {
		return 0, err
	}
	high, err := fluid.SaturationPressure(at + step)
	if err != nil {
		return 0, err
	}
	t := float64(at)
	slope := float64(high-low) / (2 * step)
	air := max(float64(atmosphere)-float64(high+low)/2, 0)
	return quantity.Flow(float64(v) * float64(outside) / float64(atmosphere) * (slope/t + air/(t*t)) * rate), nil
}

// Air that is drawn through an opening.
const (
	openingDischarge = 0.6 // of a sharp-edged opening; handbook value, from memory
	airDensity       = 1.2 // kg/m³ at 20 °C
)

// suction gives the pressure that a flow of air loses in an opening: (q/(Cd A))² ρ/2.
func suction(q quantity.Flow, area quantity.Area) quantity.Pressure {
	if area <= 0 {
		return quantity.Pressure(math.Inf(1))
	}
	v := float64(q) / (openingDischarge * float64(area))
	return quantity.Pressure(v * v * airDensity / 2)
}
