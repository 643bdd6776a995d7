package fluid

import (
	"math"

	"rinsewright/model/quantity"
)

// WaterConductance gives the thermal conductivity of water or steam of a
// density of 0 to 1200 kg/m³ at 273.15 to 1173.15 K, after IAPWS R15-11,
// equations 15 to 17. The critical enhancement is left out: for liquid below
// 150 °C it is nothing, for saturated steam it is 0.03 % at 4 bar and 0.1 % at
// 10 bar absolute.
func WaterConductance(d Density, t quantity.Temperature) (Conductance, error) {
	if err := withinFluid("thermal conductivity of water", d, t); err != nil {
		return 0, err
	}
	return conductanceOf(float64(d), float64(t)), nil
}

// conductanceTerms are R15-11, table 2: exponents of 1/T−1 and of ρ−1.
var conductanceTerms = []term{
	{0, 0, 1.60397357}, {0, 1, -0.646013523}, {0, 2, 0.111443906}, {0, 3, 0.102997357}, {0, 4, -0.0504123634}, {0, 5, 0.00609859258},
	{1, 0, 2.33771842}, {1, 1, -2.78843778}, {1, 2, 1.53616167}, {1, 3, -0.463045512}, {1, 4, 0.0832827019}, {1, 5, -0.00719201245},
	{2, 0, 2.19650529}, {2, 1, -4.54580785}, {2, 2, 3.55777244}, {2, 3, -1.40944978}, {2, 4, 0.275418278}, {2, 5, -0.0205938816},
	{3, 0, -1.21051378}, {3, 1, 1.60812989}, {3, 2, -0.621178141}, {3, 3, 0.0716373224},
	{4, 0, -2.720337}, {4, 1, 4.57586331}, {4, 2, -3.18369245}, {4, 3, 1.1168348}, {4, 4, -0.19268305}, {4, 5, 0.012913842},
}

func conductanceOf(density, T float64) Conductance {
	t, d := T/criticalTemperature, density/criticalDensity
	dilute := math.Sqrt(t) / (2.443221e-3 + (1.323095e-2+(6.770357e-3+(-3.454586e-3+4.096266e-4/t)/t)/t)/t)
	dense := math.Exp(d * sum(conductanceTerms, 1/t-1, d-1))
	return Conductance(1e-3 * dilute * dense)
}
