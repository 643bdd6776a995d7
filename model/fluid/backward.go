package fluid

import (
	"math"

	"rinsewright/model/quantity"
)

// TemperatureOfEnthalpy gives the temperature of water or steam under an
// absolute pressure of 611.213 Pa to 100 MPa that holds h in J/kg, by the
// backward equations of regions 1 and 2 (R7-97, equations 11 and 22 to 24),
// which agree with the basic equations within 25 mK. Between boiling water and
// dry steam it is the boiling temperature. States colder than 273.15 K, hotter
// than 1073.15 K or in region 3 are a [RangeError].
func TemperatureOfEnthalpy(abs quantity.Pressure, h Enthalpy) (quantity.Temperature, error) {
	return temperatureOf(abs, float64(h), "temperature from pressure and enthalpy", "enthalpy", "J/kg",
		func(s State) float64 { return float64(s.Enthalpy) }, backward1Ph, backward2Ph)
}

// TemperatureOfEntropy is [TemperatureOfEnthalpy] for an entropy s in J/(kg·K)
// (R7-97, equations 13 and 25 to 27).
func TemperatureOfEntropy(abs quantity.Pressure, s Entropy) (quantity.Temperature, error) {
	return temperatureOf(abs, float64(s), "temperature from pressure and entropy", "entropy", "J/(kg·K)",
		func(s State) float64 { return float64(s.Entropy) }, backward1Ps, backward2Ps)
}

// temperatureOf finds the region of a pressure and a content x (enthalpy or
// entropy, as content reads it from a state) and uses the region's equation.
func temperatureOf(abs quantity.Pressure, x float64, of, quantityName, unit string,
	content func(State) float64, liquid, steam func(p, x float64) float64) (quantity.Temperature, error) {
	p := float64(abs)
	if err := within(of, "absolute pressure", p, lowestSaturation, highestPressure, "Pa"); err != nil {
		return 0, err
	}
	lowest, highest := content(region1(lowestTemperature, p)), content(region2(highestSteam, p))
	if err := within(of, quantityName, x, lowest, highest, unit); err != nil {
		return 0, err
	}
	boiling, ends := highestLiquid, boundary23Temperature(math.Max(p, saturationAt350C))
	wet := p <= saturationAt350C
	if wet {
		boiling = saturationTemperature(p)
		ends = boiling
	}
	full, dry := content(region1(boiling, p)), content(region2(ends, p))
	switch {
	case x <= full && wet: // the backward equation may pass the boiling point by its 25 mK
		return quantity.Temperature(math.Min(liquid(p, x), boiling)), nil
	case x >= dry && wet:
		return quantity.Temperature(math.Max(steam(p, x), boiling)), nil
	case x <= full:
		return quantity.Temperature(liquid(p, x)), nil
	case x >= dry:
		return quantity.Temperature(steam(p, x)), nil
	case wet:
		return quantity.Temperature(boiling), nil
	}
	return 0, &RangeError{Of: of + " (region 3 is not covered)", Quantity: quantityName, Value: x, Low: lowest, High: full, Unit: unit}
}

func backward1Ph(p, h float64) float64 { return sum(backward1Enthalpy, p/1e6, h/2500e3+1) }

func backward1Ps(p, s float64) float64 { return sum(backward1Entropy, p/1e6, s/1e3+2) }

// backward2Ph chooses among the subregions 2a (to 4 MPa), 2b and 2c.
func backward2Ph(p, h float64) float64 {
	eta := h / 2000e3
	switch {
	case p <= 4e6:
		return sum(backward2aEnthalpy, p/1e6, eta-2.1)
	case p <= 6.546699678e6 || h >= boundary2bcEnthalpy(p): // the line begins at 6.5467 MPa (R7-97, section 6.3.1)
		return sum(backward2bEnthalpy, p/1e6-2, eta-2.6)
	}
	return sum(backward2cEnthalpy, p/1e6+25, eta-1.8)
}

// backward2Ps chooses among the same subregions; 2b and 2c meet at 5.85 kJ/(kg·K).
func backward2Ps(p, s float64) float64 {
	switch {
	case p <= 4e6:
		return quarterSum(backward2aEntropy, p/1e6, s/2e3-2)
	case s >= 5850:
		return sum(backward2bEntropy, p/1e6, 10-s/785.3)
	}
	return sum(backward2cEntropy, p/1e6, 2-s/2925.1)
}
