package thermal

import (
	"fmt"
	"math"
)

// Effectiveness gives the share of the greatest possible heat that an exchanger
// in counterflow passes, from its number of transfer units NTU = UA/Cmin (zero
// or more) and the ratio c = Cmin/Cmax of the capacity rates (0 to 1; 0 where one
// side condenses or boils):
//
//	ε = (1 − e) / (1 − c·e),  e = exp(−NTU·(1−c));  NTU/(1+NTU) at c = 1
//
// (Kays and London, Compact Heat Exchangers.)
func Effectiveness(ntu, c float64) (float64, error) {
	if err := notNegative("number of transfer units", ntu, ""); err != nil {
		return 0, err
	}
	if err := ratio(c); err != nil {
		return 0, err
	}
	if c == 1 {
		return ntu / (1 + ntu), nil
	}
	// With expm1 neither numerator nor denominator loses digits as c nears 1.
	part := -math.Expm1(-ntu * (1 - c)) // 1 − e
	return part / ((1 - c) + c*part), nil
}

// TransferUnits is the inverse of [Effectiveness]: the number of transfer units
// for an effectiveness of 0 to below 1.
func TransferUnits(effectiveness, c float64) (float64, error) {
	e := effectiveness
	if !(e >= 0 && e < 1) {
		return 0, fmt.Errorf("thermal: effectiveness %g is not between 0 and 1", e)
	}
	if err := ratio(c); err != nil {
		return 0, err
	}
	if c == 1 {
		return e / (1 - e), nil
	}
	// ln((1 − c·e)/(1 − e)) = ln(1 + e·(1 − c)/(1 − e))
	return math.Log1p(e*(1-c)/(1-e)) / (1 - c), nil
}

func ratio(c float64) error {
	if c >= 0 && c <= 1 {
		return nil
	}
	return fmt.Errorf("thermal: ratio of capacity rates %g is not between 0 and 1", c)
}
