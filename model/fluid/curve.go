package fluid

import "math"

// curve is a piecewise cubic through given points that rises where they rise
// and falls where they fall (Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5
// (1984) 300): between two points it never leaves their range.
type curve struct{ x, y, slope []float64 }

// newCurve takes at least three points with rising x.
func newCurve(x, y []float64) curve {
	n := len(x)
	step := make([]float64, n-1)
	secant := make([]float64, n-1)
	for i := range step {
		step[i] = x[i+1] - x[i]
		secant[i] = (y[i+1] - y[i]) / step[i]
	}
	slope := make([]float64, n)
	slope[0] = endSlope(step[0], step[1], secant[0], secant[1])
	slope[n-1] = endSlope(step[n-2], step[n-3], secant[n-2], secant[n-3])
	for i := 1; i < n-1; i++ {
		if secant[i-1]*secant[i] <= 0 {
			continue // a turning point is flat
		}
		v, w := 2*step[i]+step[i-1], step[i]+2*step[i-1]
		slope[i] = (v + w) / (v/secant[i-1] + w/secant[i])
	}
	return curve{x, y, slope}
}

// endSlope is the slope at an end by the parabola through three points, cut back
// where it would overshoot.
func endSlope(h0, h1, d0, d1 float64) float64 {
	s := ((2*h0+h1)*d0 - h0*d1) / (h0 + h1)
	switch {
	case s*d0 <= 0:
		return 0
	case d0*d1 <= 0 && math.Abs(s) > 3*math.Abs(d0):
		return 3 * d0
	}
	return s
}

// at gives the value at x, which the caller has checked to be between the ends.
func (c *curve) at(x float64) float64 {
	i := segment(c.x, x)
	h := c.x[i+1] - c.x[i]
	t := (x - c.x[i]) / h
	u := 1 - t
	return u*u*((1+2*t)*c.y[i]+t*h*c.slope[i]) + t*t*((3-2*t)*c.y[i+1]-u*h*c.slope[i+1])
}

// segment gives i with knots[i] ≤ x ≤ knots[i+1]; the first or the last where x
// is beyond the ends.
func segment(knots []float64, x float64) int {
	i := 0
	for i < len(knots)-2 && x > knots[i+1] {
		i++
	}
	return i
}
