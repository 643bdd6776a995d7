package wash

import (
	"math"

	. "rinsewright/model/quantity"
)

// Dispersion gives the coefficient of axial dispersion in m²/s of a flow in a
// straight tube of bore d in m at the mean velocity v in m/s and the Reynolds number
// Re:
//
//	K = d·v·(3·10⁷ Re^−2.1 + 1.35 Re^−1/8),  Re ≥ 2000
//
// (Wen and Fan, Models for Flow Systems and Chemical Reactors, 1975, from memory.)
// At Re 2·10⁵ it lies between Taylor's 5.05 d u* (Proc. R. Soc. A 223 (1954) 446,
// from memory), which holds above Re 20 000 only, and one part in five more.
//
// In laminar flow Taylor's coefficient needs hours and kilometres to hold in tubes of
// this size. Below Re 2000 the value at 2000 is given: the interface is then longer
// than it shows. Bends and valves mix a little more.
func Dispersion(d Bore, v Velocity, re float64) float64 {
	re = max(re, leastRe)
	return float64(d) * math.Abs(float64(v)) * (3e7*math.Pow(re, -2.1) + 1.35*math.Pow(re, -0.125))
}

const leastRe = 2000

// MixedLength gives the length in m of the mixed phase between two liquids that
// follow one another in turbulent flow, from 1 to 99 % of the second, after a length
// l of tube of bore d:
//
//	S = 11.75 √(d·l) Re^−0.1,  Re > 10⁴·exp(2.72 √d), d in m
//
// (Austin and Palfrey, Proc. Inst. Mech. Eng. 178 (1963) 377, from memory; verify
// against your copy.) Below that Reynolds number it is unknown: the interface is
// longer by far.
func MixedLength(d Bore, l Length, re float64) Opt[Length] {
	if !(re > LeastMixed(d)) {
		return Opt[Length]{}
	}
	return Some(Length(11.75 * math.Sqrt(float64(d)*float64(l)) * math.Pow(re, -0.1)))
}

// LeastMixed gives the Reynolds number above which [MixedLength] holds.
func LeastMixed(d Bore) float64 { return 1e4 * math.Exp(2.72*math.Sqrt(float64(d))) }
