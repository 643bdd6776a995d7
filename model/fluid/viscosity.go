package fluid

import (
	"math"

	"rinsewright/model/quantity"
)

// WaterViscosity gives the viscosity of water or steam of a density of 0 to
// 1200 kg/m³ at 273.15 to 1173.15 K, after IAPWS R12-08, equations 10 to 12. The
// critical enhancement is left out, as the release recommends for industrial
// use: it matters only close to the critical point.
func WaterViscosity(d Density, t quantity.Temperature) (Viscosity, error) {
	if err := withinFluid("viscosity of water", d, t); err != nil {
		return 0, err
	}
	return viscosityOf(float64(d), float64(t)), nil
}

func withinFluid(of string, d Density, t quantity.Temperature) error {
	if err := within(of, "density", float64(d), 0, 1200, "kg/m³"); err != nil {
		return err
	}
	return within(of, "temperature", float64(t), lowestTemperature, 1173.15, "K")
}

// viscosityTerms are R12-08, table 2: exponents of 1/T−1 and of ρ−1.
var viscosityTerms = []term{
	{0, 0, 0.520094}, {1, 0, 0.0850895}, {2, 0, -1.08374}, {3, 0, -0.289555},
	{0, 1, 0.222531}, {1, 1, 0.999115}, {2, 1, 1.88797}, {3, 1, 1.26613}, {5, 1, 0.120573},
	{0, 2, -0.281378}, {1, 2, -0.906851}, {2, 2, -0.772479}, {3, 2, -0.489837}, {4, 2, -0.25704},
	{0, 3, 0.161913}, {1, 3, 0.257399}, {0, 4, -0.0325372}, {3, 4, 0.0698452},
	{4, 5, 0.00872102}, {3, 6, -0.00435673}, {5, 6, -0.000593264},
}

func viscosityOf(density, T float64) Viscosity {
	t, d := T/criticalTemperature, density/criticalDensity
	dilute := 100 * math.Sqrt(t) / (1.67752 + 2.20462/t + 0.6366564/(t*t) - 0.241605/(t*t*t))
	dense := math.Exp(d * sum(viscosityTerms, 1/t-1, d-1))
	return Viscosity(1e-6 * dilute * dense)
}
