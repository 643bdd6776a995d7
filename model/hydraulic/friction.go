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
		var c colebrook
		factor, rise := c.at(reynolds, roughness)
		return factor, rise / reynolds
	}
	var c colebrook
	high, rise := c.at(TurbulentLimit, roughness)
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
	var c colebrook
	factor, _ := c.at(reynolds, roughness)
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

// colebrook holds the last solution of Colebrook's equation, from which the next
// one is near in an iteration: x = 1/√f, y = a + bx, ln y, the Reynolds number and
// Re·dx/dRe. The zero value has none yet.
type colebrook struct{ x, y, log, reynolds, slope float64 }

// at solves Colebrook's equation by Halley's method and gives the factor f and
// Re·df/dRe. F(x) = x + (2/ln 10) ln(a + bx) rises and is concave, so that the
// method converges from any start above zero.
func (c *colebrook) at(reynolds, roughness float64) (factor, rise float64) {
	a, b := roughness*roughTerm, smoothTerm/reynolds
	// From the last solution along its tangent in ln Re.
	x := c.x + c.slope*2*(reynolds-c.reynolds)/(reynolds+c.reynolds)
	if c.x == 0 {
		// The smooth value, nearly a straight line in the logarithm of Re.
		x = 0.78*math.Ln2*roughLog2(reynolds) - 1.5
	}
	y := a + b*x
	log := c.logOf(y)
	for step := 0; step < 50; step++ {
		r := b / y
		f := x + twoOverLn10*log
		first := 1 + twoOverLn10*r
		move := 2 * f * first / (2*first*first + f*twoOverLn10*r*r)
		if move >= x { // far too high a start
			x /= 4
			y = a + b*x
			log = math.Log(y)
			continue
		}
		x -= move
		y = a + b*x
		// The error left is below the third power of the move times 0.003.
		if math.Abs(move) < 5e-4 {
			break
		}
		log += logNear1(-r * move)
	}
	// Implicit derivative: Re dx/dRe = x r/(1 + r) with r = (2/ln 10) b/y.
	r := twoOverLn10 * b / y
	d := 1 / (x * (1 + r))
	slope := x * x * r * d
	factor = d * d * (1 + r) * (1 + r)
	// At the solution the logarithm is known.
	*c = colebrook{x, y, -x * (1 / twoOverLn10), reynolds, slope}
	return factor, -2 * factor * slope * (d * (1 + r))
}

// logOf gives ln y, from the last one where y is near it.
func (c *colebrook) logOf(y float64) float64 {
	if d := y - c.y; math.Abs(d) <= nearness*c.y {
		return c.log + logNear1(d/c.y)
	}
	return math.Log(y)
}

// roughLog2 gives the binary logarithm of v, above zero, to 0.1: the exponent of
// its number and a straight line through the mantissa.
func roughLog2(v float64) float64 {
	return float64(int64(math.Float64bits(v)))/(1<<52) - 1023
}

// nearness is the greatest d at which the series of logNear1 is exact to rounding.
const nearness = 0.1

// logNear1 gives ln(1+d): by its series in d/(2+d) where d is small, which takes a
// fraction of the time.
func logNear1(d float64) float64 {
	if d > nearness || d < -nearness {
		return math.Log1p(d)
	}
	z := d / (2 + d)
	w := z * z
	return 2 * z * (1 + w*(1.0/3+w*(1.0/5+w*(1.0/7+w/9))))
}
