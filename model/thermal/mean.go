package thermal

import (
	"fmt"
	"math"
)

// MeanDifference gives the logarithmic mean of the temperature differences at
// the two ends of an exchanger in counterflow, parallel flow or with one side
// boiling or condensing:
//
//	ΔTm = (a − b) / ln(a/b)
//
// It is accurate to rounding for ends of any ratio, equal ones included: with
// m = (a+b)/2 and d = (a−b)/(a+b) it is m·d/artanh(d), which has no difference
// of nearly equal numbers. Both ends must be above zero: at zero the exchanger
// would need an infinite area, below zero the temperatures cross.
func MeanDifference(a, b Kelvin) (Kelvin, error) {
	if !(a > 0 && b > 0) || math.IsInf(float64(a), 0) || math.IsInf(float64(b), 0) {
		return 0, fmt.Errorf("thermal: temperature differences of %.4g and %.4g K at the ends of an exchanger; both must be above zero", float64(a), float64(b))
	}
	x, y := float64(a), float64(b)
	if ratio := x / y; ratio > 2 || ratio < 0.5 {
		return Kelvin((x - y) / math.Log(ratio)), nil
	}
	m, d := (x+y)/2, (x-y)/(x+y)
	if d == 0 {
		return Kelvin(m), nil
	}
	return Kelvin(m * d / math.Atanh(d)), nil
}
