package thermal

import (
	"fmt"
	"math"

	"rinsewright/model/quantity"
)

// Quantities of heat, each in the SI unit named. Those that are shown to a reader are
// of package quantity.
type (
	Kelvin       = quantity.Difference
	MassFlow     = quantity.MassFlow
	Conductance  = quantity.Conductance
	CapacityRate float64 // W/K, mass flow times heat capacity
	Capacity     float64 // J/K, mass times heat capacity
)

// positive refuses a value that is not a number above zero.
func positive(what string, x float64, unit string) error {
	if x > 0 && !math.IsInf(x, 0) {
		return nil
	}
	return fmt.Errorf("thermal: %s %g %s is not above zero", what, x, unit)
}

// notNegative refuses a value below zero and what is not a number.
func notNegative(what string, x float64, unit string) error {
	if x >= 0 && !math.IsInf(x, 0) {
		return nil
	}
	return fmt.Errorf("thermal: %s %g %s is below zero", what, x, unit)
}
