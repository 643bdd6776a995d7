package fluid

import "math"

// solute holds the coefficients of a dissolved substance in the models of
// M. Laliberté for density and heat capacity (J. Chem. Eng. Data 54 (2009)
// 1725–1760). The share of the water is taken from IF97 here, not from the
// paper's own correlation, so that a solution of no strength is exactly water;
// the two densities of water agree within 0.002 % from 5 to 95 °C.
type solute struct {
	c [5]float64 // density
	a [6]float64 // heat capacity

	// The temperatures in °C over which the coefficients were fitted. Outside,
	// the solute's share is held at its value at the nearer end, while the
	// water's still varies.
	densityLow, densityHigh float64
	heatLow, heatHigh       float64
}

// density mixes the specific volumes of water and solute (equation 1 of the
// paper) at mass fraction w and t in °C.
func (s *solute) density(water, w, t float64) Density {
	if w == 0 {
		return Density(water)
	}
	return Density(1 / ((1-w)/water + w/s.apparentDensity(w, t)))
}

// apparentDensity is that of the dissolved substance in kg/m³.
func (s *solute) apparentDensity(w, t float64) float64 {
	t = min(max(t, s.densityLow), s.densityHigh)
	c := &s.c
	return (c[0]*w + c[1]) * math.Exp(1e-6*(t+c[4])*(t+c[4])) / (w + c[2] + c[3]*t)
}

// heat mixes the heat capacities of water and solute by mass.
func (s *solute) heat(water, w, t float64) HeatCapacity {
	if w == 0 {
		return HeatCapacity(water)
	}
	return HeatCapacity((1-w)*water + w*s.apparentHeat(w, t))
}

// apparentHeat is the heat capacity of the dissolved substance in J/(kg·K); it
// is negative for strong electrolytes, which bind water.
func (s *solute) apparentHeat(w, t float64) float64 {
	t = min(max(t, s.heatLow), s.heatHigh)
	a := &s.a
	alpha := a[1]*t + a[2]*math.Exp(0.01*t) + a[3]*w
	return 1e3 * (a[0]*math.Exp(alpha) + a[4]*math.Pow(w, a[5]))
}
