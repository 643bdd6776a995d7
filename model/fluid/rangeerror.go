package fluid

import (
	"fmt"
	"strconv"
)

// RangeError says that a value lies outside the range for which a property is
// known. Value, Low and High are in Unit.
type RangeError struct {
	Of       string // what was asked: "density of nitric acid"
	Quantity string // which argument is at fault: "strength"
	Value    float64
	Low      float64
	High     float64
	Unit     string
}

func (e *RangeError) Error() string {
	return fmt.Sprintf("fluid: %s: %s %s is outside %s to %s",
		e.Of, e.Quantity, withUnit(e.Value, e.Unit), number(e.Low), withUnit(e.High, e.Unit))
}

func number(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }

func withUnit(x float64, unit string) string {
	if unit == "" {
		return number(x)
	}
	return number(x) + " " + unit
}

// within refuses x outside [low, high], and what is not a number.
func within(of, quantity string, x, low, high float64, unit string) error {
	if x >= low && x <= high {
		return nil
	}
	return &RangeError{Of: of, Quantity: quantity, Value: x, Low: low, High: high, Unit: unit}
}
