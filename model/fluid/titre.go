package fluid

import (
	"fmt"
	"math"

	"rinsewright/model/quantity"
)

// StrengthOf gives the strength at which a medium has the conductivity k at t:
// the inverse of [Liquid.Conductivity], over the same range. It holds for the
// solute alone in pure water: soil, water hardness and the other constituents of
// a blended detergent shift it, and those need titration.
func StrengthOf(m Medium, k quantity.Conductivity, t quantity.Temperature) (quantity.Strength, error) {
	s, err := substanceOf(m)
	if err != nil {
		return 0, err
	}
	b := s.conductivity
	if b == nil {
		return 0, fmt.Errorf("fluid: strength of %s from its conductivity: %w", s.name, ErrUnknown)
	}
	if err := b.check(s.name, b.LowStrength, t); err != nil {
		return 0, err
	}
	low, high, c := float64(b.LowStrength), float64(b.HighStrength), t.Celsius()
	of := fmt.Sprintf("strength of %s at %.4g °C", s.name, c)
	least, most := s.conducts.at(low, c), s.conducts.at(high, c)
	x := float64(k)
	if slack := 1e-9 * most; x < least && x > least-slack { // the rounding of a conversion
		x = least
	} else if x > most && x < most+slack {
		x = most
	}
	if err := within(of, "conductivity", 10*x, 10*least, 10*most, "mS/cm"); err != nil {
		return 0, err
	}
	// The conductivity rises with strength throughout, so halving finds the one
	// root; 1e-15 is far below any titration.
	for high-low > 1e-15 {
		middle := (low + high) / 2
		if middle == low || middle == high {
			break
		}
		if s.conducts.at(middle, c) < x {
			low = middle
		} else {
			high = middle
		}
	}
	return quantity.Strength((low + high) / 2), nil
}

// At25 corrects a conductivity k measured at t to 25 °C as a meter does, with a
// linear coefficient a in 1/K on the base of 25 °C:
//
//	κ25 = κ / (1 + a·(t − 25 °C))
//
// A single coefficient holds over some 30 K only. It fails where the divisor is
// not above zero.
func At25(k quantity.Conductivity, t quantity.Temperature, a float64) (quantity.Conductivity, error) {
	d := 1 + a*(t.Celsius()-25)
	if !(d > 0) || math.IsInf(d, 0) {
		return 0, fmt.Errorf("fluid: temperature correction by %g per kelvin fails at %.4g °C", a, t.Celsius())
	}
	return k / quantity.Conductivity(d), nil
}

// Compensation gives the temperature coefficient of the conductivity in 1/K on
// the base of 25 °C for [At25]: Kohlrausch's coefficients at 18 °C (1.94, 1.47
// and 1.04 % per kelvin for caustic, nitric and phosphoric acid, from memory of
// Kohlrausch) moved to 25 °C, a18/(1 + 7 K·a18).
func Compensation(m Medium) (float64, error) {
	s, err := substanceOf(m)
	if err != nil {
		return 0, err
	}
	if s.perKelvin == 0 {
		return 0, fmt.Errorf("fluid: temperature coefficient of the conductivity of %s: %w", s.name, ErrUnknown)
	}
	return s.perKelvin, nil
}
