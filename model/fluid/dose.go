package fluid

import (
	"fmt"

	"rinsewright/model/quantity"
)

// Concentrate is a stock from which a batch is made up.
type Concentrate struct {
	Medium   Medium
	Strength quantity.Strength
	Density  Density // kg/m³ as delivered
	Standing string
}

// Concentrates lists usual stocks of the trade. Their figures are common
// practice, no source: take the supplier's data sheet where there is one.
func Concentrates() []Concentrate {
	const standing = "common practice, no source; take the supplier's data sheet"
	return []Concentrate{
		{Caustic, 0.50, 1525, standing},
		{NitricAcid, 0.696, 1410, standing},
		{PhosphoricAcid, 0.855, 1710, standing},
	}
}

// Dose is what goes into a batch.
type Dose struct {
	Solute      float64         // kg of pure chemical added
	Concentrate float64         // kg
	Volume      quantity.Volume // of the concentrate
	Water       float64         // kg of water added; zero when topping up
}

// MakeUp gives the dose for a volume of a liquid at its strength and
// temperature, made of the concentrate and water. The liquid's strength must be
// within the range of its density and not above the stock's.
func MakeUp(l Liquid, v quantity.Volume, from Concentrate) (Dose, error) {
	batch, err := mass(l, v, from)
	if err != nil {
		return Dose{}, err
	}
	solute := batch * float64(l.Strength)
	c := solute / float64(from.Strength)
	return Dose{Solute: solute, Concentrate: c, Volume: volumeOf(c, from), Water: batch - c}, nil
}

// TopUp gives the dose that raises a volume of a liquid to a strength. The
// volume grows by that of the concentrate, about; nothing is drained.
func TopUp(l Liquid, v quantity.Volume, to quantity.Strength, from Concentrate) (Dose, error) {
	batch, err := mass(l, v, from)
	if err != nil {
		return Dose{}, err
	}
	if !(to >= l.Strength && to < from.Strength) {
		return Dose{}, &RangeError{Of: "topping up " + string(l.Medium), Quantity: "strength", Value: 100 * float64(to),
			Low: 100 * float64(l.Strength), High: 100 * float64(from.Strength), Unit: "%"}
	}
	c := batch * float64(to-l.Strength) / float64(from.Strength-to)
	return Dose{Solute: c * float64(from.Strength), Concentrate: c, Volume: volumeOf(c, from)}, nil
}

// mass is that of the batch in kg, after a look at the concentrate.
func mass(l Liquid, v quantity.Volume, from Concentrate) (float64, error) {
	if from.Medium != l.Medium {
		return 0, fmt.Errorf("fluid: %s cannot be dosed from %s", l.Medium, from.Medium)
	}
	if !(from.Strength > 0 && from.Strength <= 1 && from.Density > 0) {
		return 0, fmt.Errorf("fluid: concentrate of %s: strength %g and density %g kg/m³ are not usable", from.Medium, from.Strength, from.Density)
	}
	if err := within("batch of "+string(l.Medium), "strength", 100*float64(l.Strength), 0, 100*float64(from.Strength), "%"); err != nil {
		return 0, err
	}
	if !(v >= 0) {
		return 0, fmt.Errorf("fluid: batch of %g m³", v)
	}
	d, err := l.Density()
	if err != nil {
		return 0, err
	}
	return float64(d) * float64(v), nil
}

func volumeOf(kg float64, from Concentrate) quantity.Volume {
	return quantity.Volume(kg / float64(from.Density))
}
