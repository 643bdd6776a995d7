package fluid

import "math"

// term is one summand N·xᴵ·yᴶ of a sum in the IAPWS releases.
type term struct {
	I, J int
	N    float64
}

// ipow gives x to a whole power by repeated squaring; it is several times as
// fast as math.Pow, and the sums of IF97 hold little else.
func ipow(x float64, n int) float64 {
	if n < 0 {
		return 1 / ipow(x, -n)
	}
	p := 1.0
	for ; n > 0; n >>= 1 {
		if n&1 == 1 {
			p *= x
		}
		x *= x
	}
	return p
}

// sum adds up the terms at x and y.
func sum(terms []term, x, y float64) float64 {
	s := 0.0
	for _, t := range terms {
		s += t.N * ipow(x, t.I) * ipow(y, t.J)
	}
	return s
}

// quarterSum is sum for terms whose exponent I counts quarters.
func quarterSum(terms []term, x, y float64) float64 {
	return sum(terms, math.Sqrt(math.Sqrt(x)), y)
}
