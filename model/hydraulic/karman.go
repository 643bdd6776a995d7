package hydraulic

import "math"

const (
	twoOverLn10 = 2 / math.Ln10
	smoothTerm  = 2.51
	roughTerm   = 1 / 3.7
)

// karman is a point on the curve of Colebrook's equation for one roughness. The
// equation is implicit in the friction factor f at a Reynolds number Re, but not in
// the Kármán number s = Re√f: with x = 1/√f, x = -2 log10(ε/3.7D + 2.51/s), and
// Re = s·x. So a point is told by s, and every point that is evaluated lies on the
// curve to rounding. The zero value is no point yet; one with s alone is a guess.
type karman struct {
	s, x float64
	rise float64 // dx/d(ln s)
}

func (k *karman) reynolds() float64 { return k.s * k.x }

// Widths, relative to the Reynolds number asked for, within which a point counts
// as at it.
const (
	exact = 1e-14
	// loose is for the way to a solution: the step is small beside those that
	// Newton's method still has to take, and vanishes with their cube.
	loose = 1e-2
)

// near moves to the point at a Reynolds number, or, as the curve is followed by its
// second-order expansion, to one within the width of it. term is ε/3.7D.
func (k *karman) near(reynolds, term, width float64) {
	s, x, w := k.s, k.x, k.rise
	if x == 0 {
		if s == 0 {
			// A fit of the smooth curve, nearly a straight line in the logarithm of Re.
			s = reynolds / (0.78*math.Ln2*roughLog2(reynolds) - 1.5)
		}
		x, w = karmanAt(s, term)
	}
	for round := 0; round < 40; round++ {
		// Relative change of s: by the tangent, and for the bend of the curve. The
		// guard keeps s above zero.
		part := 1 / ((x + w) * s)
		d := (reynolds - s*x) * part
		d -= 0.5 / twoOverLn10 * w * w * part * s * d * d
		if math.Abs(d) < short {
			s += s * d
			x, w = karmanBeside(x, w, d)
		} else {
			s += s * max(d, -0.9)
			x, w = karmanAt(s, term)
		}
		if math.Abs(s*x-reynolds) <= width*reynolds {
			break
		}
	}
	k.s, k.x, k.rise = s, x, w
}

// factor gives the factor f at the point and Re·df/dRe.
func (k *karman) factor() (factor, rise float64) {
	x, w := k.x, k.rise
	both := x + w
	inverse := 1 / (x * both)
	f := inverse * both * inverse * both
	return f, -2 * f * w * inverse * x
}

// karmanAt gives x and its rise at s.
func karmanAt(s, term float64) (x, rise float64) {
	u := smoothTerm / s
	y := term + u
	return -twoOverLn10 * math.Log(y), twoOverLn10 * (u / y)
}

// short is the relative change of s up to which the fourth power of it vanishes in
// the rounding of x, so that its series to the third is exact and spares the
// logarithm.
const short = 4e-4

// karmanBeside gives x and its rise where s is greater by the small share d.
func karmanBeside(x, rise, d float64) (float64, float64) {
	l := d * (1 - d*(0.5-d*(1.0/3))) // ln(1+d)
	w := rise * (1 / twoOverLn10)
	second := rise * (w - 1)
	third := second * (2*w - 1)
	return x + l*(rise+l*(0.5*second+l*(1.0/6)*third)), rise + l*(second+l*0.5*third)
}

// roughLog2 gives the binary logarithm of v, above zero, to 0.1: the exponent of
// its number and a straight line through the mantissa.
func roughLog2(v float64) float64 {
	return float64(int64(math.Float64bits(v)))/(1<<52) - 1023
}
