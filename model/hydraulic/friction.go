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
		_, factor, rise := colebrook(reynolds, roughness, startOfColebrook(reynolds, roughness))
		return factor, rise / reynolds
	}
	_, high, rise := colebrook(TurbulentLimit, roughness, startOfColebrook(TurbulentLimit, roughness))
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
	_, factor, _ := colebrook(reynolds, roughness, startOfColebrook(reynolds, roughness))
	return factor, nil
}

func checkRoughness(relative float64) error {
	if !(relative >= 0 && relative <= GreatestRoughness) {
		return fmt.Errorf("relative roughness %.4g lies outside the Moody chart, 0 to %g", relative, GreatestRoughness)
	}
	return nil
}

const (
	twoOverLn10 = 2 / math.Ln10
	smoothTerm  = 2.51
	roughTerm   = 1 / 3.7
)

// startOfColebrook gives 1/√f to about a percent, without iteration: one step of
// Colebrook from the smooth value of 1/√f for that Reynolds number, taken as a
// straight line in its logarithm.
func startOfColebrook(reynolds, roughness float64) float64 {
	guess := 0.78*math.Log(reynolds) - 1.5
	return -twoOverLn10 * math.Log(roughness*roughTerm+smoothTerm*guess/reynolds)
}

// colebrook solves Colebrook's equation for x = 1/√f from the start x by Halley's
// method, and gives x, the factor f and Re·df/dRe. F(x) = x + (2/ln 10) ln(a + bx)
// rises and is concave, so that the method converges from any start above zero;
// from a start within a percent the second step is exact to rounding.
func colebrook(reynolds, roughness, x float64) (root, factor, rise float64) {
	a, b := roughness*roughTerm, smoothTerm/reynolds
	y := a + b*x
	log := math.Log(y)
	for step := 0; step < 20; step++ {
		f := x + twoOverLn10*log
		r := b / y
		first := 1 + twoOverLn10*r
		second := -twoOverLn10 * r * r
		move := 2 * f * first / (2*first*first - f*second)
		if move >= x { // far too low a start
			x = 1
			y = a + b*x
			log = math.Log(y)
			continue
		}
		x -= move
		// The error left is below the third power of the move times 0.01.
		if math.Abs(move) < 3e-4 {
			break
		}
		ratio := b * move / y
		y = a + b*x
		log += logNear1(-ratio)
	}
	// Implicit derivative: dx/dRe = c r x/(1 + c r)/Re with c = 2/ln 10, r = b/y.
	r := twoOverLn10 * b / (a + b*x)
	factor = 1 / (x * x)
	return x, factor, -2 * factor * r / (1 + r)
}

// logNear1 gives ln(1+d): by its series in d/(2+d) where d is small, which is
// exact to rounding and takes a fraction of the time.
func logNear1(d float64) float64 {
	if d > 0.05 || d < -0.05 {
		return math.Log1p(d)
	}
	z := d / (2 + d)
	w := z * z
	return 2 * z * (1 + w*(1.0/3+w*(1.0/5+w*(1.0/7+w/9))))
}
