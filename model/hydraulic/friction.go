package hydraulic

import (
	"fmt"
	"math"
)

const (
	// LaminarLimit and TurbulentLimit are the Reynolds numbers between which the
	// flow may be either and the factor is a smooth blend.
	LaminarLimit   = 2000.0
	TurbulentLimit = 4000.0

	// GreatestRoughness is the greatest relative roughness (height over bore) of
	// the Moody chart. Above it no law here holds.
	GreatestRoughness = 0.05
)

// FrictionLaw gives the Darcy friction factor and its derivative with the
// Reynolds number, which is above zero. The relative roughness lies from 0 to
// [GreatestRoughness]. The factor times the square of the Reynolds number must
// rise with it, smoothly.
type FrictionLaw func(reynolds, roughness float64) (factor, slope float64)

// Moody is the friction law of the chart: 64/Re below [LaminarLimit], Colebrook
// above [TurbulentLimit], and between them the cubic that meets both in value and
// slope, so that the head loss has a continuous derivative.
func Moody(reynolds, roughness float64) (factor, slope float64) {
	if reynolds <= LaminarLimit {
		return 64 / reynolds, -64 / (reynolds * reynolds)
	}
	if reynolds >= TurbulentLimit {
		factor, rise := turbulent(reynolds, roughness)
		return factor, rise / reynolds
	}
	high, rise := turbulent(TurbulentLimit, roughness)
	return blend(reynolds, high, rise/TurbulentLimit)
}

// blend is the cubic between the limits that has the laminar value and slope at
// one end and those given at the other.
func blend(reynolds, high, highSlope float64) (factor, slope float64) {
	const (
		width    = TurbulentLimit - LaminarLimit
		low      = 64 / LaminarLimit
		lowSlope = -64 / (LaminarLimit * LaminarLimit)
	)
	t := (reynolds - LaminarLimit) / width
	a, b := lowSlope*width, highSlope*width
	// Hermite cubic: low + t(a + t(c + t·d)).
	c := 3*(high-low) - 2*a - b
	d := a + b - 2*(high-low)
	return low + t*(a+t*(c+t*d)), (a + t*(2*c+t*3*d)) / width
}

// Colebrook gives the Darcy friction factor of turbulent flow by the equation of
// Colebrook (1939), 1/√f = -2 log10(ε/3.7D + 2.51/(Re√f)), solved to rounding.
// The Reynolds number must be 4000 or more and the relative roughness from 0 to
// 0.05; otherwise it is an error.
func Colebrook(reynolds, roughness float64) (float64, error) {
	if !(reynolds >= TurbulentLimit) || math.IsInf(reynolds, 0) {
		return 0, fmt.Errorf("hydraulic: Colebrook holds from Reynolds number %g, not at %g", TurbulentLimit, reynolds)
	}
	if err := checkRoughness(roughness); err != nil {
		return 0, err
	}
	factor, _ := turbulent(reynolds, roughness)
	return factor, nil
}

func checkRoughness(relative float64) error {
	if !(relative >= 0 && relative <= GreatestRoughness) {
		return fmt.Errorf("relative roughness %.4g lies outside the Moody chart, 0 to %g", relative, GreatestRoughness)
	}
	return nil
}

// turbulent gives the factor of Colebrook's equation and Re times its slope.
func turbulent(reynolds, roughness float64) (factor, rise float64) {
	var k karman
	k.near(reynolds, roughness*roughTerm, exact)
	return k.factor()
}
