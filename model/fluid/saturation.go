package fluid

import (
	"math"

	"rinsewright/model/quantity"
)

// The coefficients of the saturation line, R7-97, table 34.
const (
	sat1  = 0.11670521452767e4
	sat2  = -0.72421316703206e6
	sat3  = -0.17073846940092e2
	sat4  = 0.12020824702470e5
	sat5  = -0.32325550322333e7
	sat6  = 0.14915108613530e2
	sat7  = -0.48232657361591e4
	sat8  = 0.40511340542057e6
	sat9  = -0.23855557567849
	sat10 = 0.65017534844798e3
)

// lowestSaturation is the saturation pressure at 273.15 K (R7-97, section 8).
const lowestSaturation = 611.212677 // Pa

// SaturationPressure gives the absolute pressure at which water boils at t,
// 273.15 to 647.096 K (R7-97, equation 30).
func SaturationPressure(t quantity.Temperature) (quantity.Pressure, error) {
	if err := within("saturation pressure of water", "temperature", float64(t), lowestTemperature, criticalTemperature, "K"); err != nil {
		return 0, err
	}
	return quantity.Pressure(saturationPressure(float64(t))), nil
}

// SaturationTemperature gives the temperature at which water boils under an
// absolute pressure of 611.213 Pa to 22.064 MPa (R7-97, equation 31).
func SaturationTemperature(abs quantity.Pressure) (quantity.Temperature, error) {
	if err := within("boiling temperature of water", "absolute pressure", float64(abs), lowestSaturation, criticalPressure, "Pa"); err != nil {
		return 0, err
	}
	return quantity.Temperature(saturationTemperature(float64(abs))), nil
}

// Saturated is water boiling under one pressure.
type Saturated struct {
	Temperature quantity.Temperature
	Pressure    quantity.Pressure // absolute
	Liquid      State
	Steam       State
}

// Latent is the heat of evaporation in J/kg.
func (s Saturated) Latent() Enthalpy { return s.Steam.Enthalpy - s.Liquid.Enthalpy }

// SaturatedAt gives boiling water and dry saturated steam under an absolute
// pressure of 611.213 Pa to 16.529 MPa (350 °C; above, the liquid is in region 3).
func SaturatedAt(abs quantity.Pressure) (Saturated, error) {
	p := float64(abs)
	if err := within("saturated steam", "absolute pressure", p, lowestSaturation, saturationAt350C, "Pa"); err != nil {
		return Saturated{}, err
	}
	T := saturationTemperature(p)
	return Saturated{
		Temperature: quantity.Temperature(T),
		Pressure:    abs,
		Liquid:      region1(T, p),
		Steam:       region2(T, p),
	}, nil
}

func saturationPressure(T float64) float64 {
	v := T + sat9/(T-sat10)
	a := v*v + sat1*v + sat2
	b := sat3*v*v + sat4*v + sat5
	c := sat6*v*v + sat7*v + sat8
	return 1e6 * ipow(2*c/(-b+math.Sqrt(b*b-4*a*c)), 4)
}

func saturationTemperature(p float64) float64 {
	b := math.Sqrt(math.Sqrt(p / 1e6))
	e := b*b + sat3*b + sat6
	f := sat1*b*b + sat4*b + sat7
	g := sat2*b*b + sat5*b + sat8
	d := 2 * g / (-f - math.Sqrt(f*f-4*e*g))
	s := sat10 + d
	return (s - math.Sqrt(s*s-4*(sat9+sat10*d))) / 2
}
