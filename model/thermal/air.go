package thermal

import "math"

// Properties of dry air at one atmosphere, T in K from about 250 to 500, as used
// in the U.S. Standard Atmosphere 1976 (equations 51 and 53): viscosity by
// Sutherland's law, thermal conductivity; density of an ideal gas. Within 1 % of
// handbook tables.

func airDensity(T float64) float64 { return 101325 / (287.05 * T) } // kg/m³

func airViscosity(T float64) float64 { return 1.458e-6 * T * math.Sqrt(T) / (T + 110.4) } // Pa·s

func airConductivity(T float64) float64 { // W/(m·K)
	return 2.64638e-3 * T * math.Sqrt(T) / (T + 245.4*math.Pow(10, -12/T))
}

const airHeatCapacity = 1007.0 // J/(kg·K) near 50 °C

// airAt gives at a temperature in K the kinematic viscosity and the thermal
// diffusivity in m²/s, and the conductivity in W/(m·K).
func airAt(T float64) (nu, alpha, conducts float64) {
	density, conducts := airDensity(T), airConductivity(T)
	return airViscosity(T) / density, conducts / (density * airHeatCapacity), conducts
}
