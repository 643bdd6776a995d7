package fluid

import "rinsewright/model/quantity"

// Property is one of the properties of a liquid.
type Property string

const (
	DensityProperty        Property = "density"
	ViscosityProperty      Property = "viscosity"
	HeatCapacityProperty   Property = "heat capacity"
	VapourPressureProperty Property = "vapour pressure"
	ConductivityProperty   Property = "conductivity"
)

// Basis says what a property of a medium rests on. Its ranges are those that
// the computation enforces.
type Basis struct {
	Medium   Medium
	Property Property
	Model    string // how it is computed
	Source   string // where the numbers come from
	Standing string // how far they can be trusted: "read", "from memory of ...", "computed", "common practice, no source"

	LowStrength, HighStrength       quantity.Strength
	LowTemperature, HighTemperature quantity.Temperature
}

// Sources lists, medium by medium, what every property rests on. A property
// that is not listed for a medium is not known.
func Sources() []Basis {
	var list []Basis
	for _, s := range substances {
		list = append(list, s.density, s.viscosity, s.heat, s.vapour)
		if s.conductivity != nil {
			list = append(list, *s.conductivity)
		}
	}
	return list
}

// check refuses a strength or a temperature outside the basis. Either may miss
// an end by the rounding of a conversion.
func (b *Basis) check(name string, w quantity.Strength, t quantity.Temperature) error {
	const slack, warm = 1e-12, 1e-9 // relative, so that nothing passes below zero; K
	if w >= b.LowStrength*(1-slack) && w <= b.HighStrength*(1+slack) && t >= b.LowTemperature-warm && t <= b.HighTemperature+warm {
		return nil
	}
	of := string(b.Property) + " of " + name
	if err := within(of, "strength", 100*float64(w), 100*float64(b.LowStrength), 100*float64(b.HighStrength), "%"); err != nil {
		return err
	}
	return within(of, "temperature", t.Celsius(), b.LowTemperature.Celsius(), b.HighTemperature.Celsius(), "°C")
}
