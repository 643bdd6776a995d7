package thermal

import "rinsewright/model/quantity"

// SteelExpansion is the coefficient of linear expansion of austenitic stainless
// steel between 20 and 100 °C in 1/K (EN 10088-1 for 1.4301 and 1.4404, from
// memory).
const SteelExpansion = 16e-6

// Expansion gives the growth in length of a stainless tube on its way from one
// temperature to another; negative where it cools.
func Expansion(length quantity.Length, from, to quantity.Temperature) quantity.Length {
	return quantity.Length(SteelExpansion * float64(length) * float64(to-from))
}
