package wash

import (
	"math"

	"rinsewright/model/fluid"
	"rinsewright/model/quantity"
)

// What an amount holds. All of it adds up when two amounts are mixed, so mixing is
// addition and taking a share is multiplication: nothing is lost on the way.
const (
	volume     = iota // m³
	mass              // kg
	heat              // J above 0 °C
	alkali            // kg of sodium hydroxide
	acid              // kg of nitric acid
	disinfect         // kg of peracetic acid
	phosphoric        // kg of phosphoric acid
	product           // m³ that came as product
	recovered         // m³ that came as recovered water
	air               // m³ of air
	parts
)

// amount is some liquid, or air, with what is dissolved in it.
type amount [parts]float64

// waterHeat is the heat capacity of the water in every liquid, J/(kg·K): the mean
// between 10 and 80 °C (IAPWS-IF97; it varies by 0.3 %). Solutes add none: 1 % of
// caustic or acid lowers the capacity by about 1 % (common practice, no source).
const waterHeat = 4185

func (a *amount) add(b *amount) {
	for i := range a {
		a[i] += b[i]
	}
}

// scaled is a share of an amount.
func (a *amount) scaled(share float64) amount {
	b := *a
	for i := range b {
		b[i] *= share
	}
	return b
}

// take removes a volume, or all there is.
func (a *amount) take(v float64) amount {
	if v >= a[volume] {
		b := *a
		*a = amount{}
		return b
	}
	b := a.scaled(v / a[volume])
	for i := range a {
		a[i] -= b[i]
	}
	return b
}

// settle drops traces that nothing could measure: they would otherwise dwindle to
// numbers that processors are slow with.
func (a *amount) settle() {
	for i := alkali; i < parts; i++ {
		if a[i] < 1e-30 {
			a[i] = 0
		}
	}
}

// capacity is the heat capacity in J/K; none for air.
func (a *amount) capacity() float64 {
	return waterHeat * (a[mass] - a.solutes())
}

// celsius is the temperature in °C; NaN for air.
func (a *amount) celsius() float64 {
	if c := a.capacity(); c > 1e-9 {
		return a[heat] / c
	}
	return math.NaN()
}

// solutes is the mass of all that is dissolved, kg.
func (a *amount) solutes() float64 { return a[alkali] + a[acid] + a[disinfect] + a[phosphoric] }

// solute is the mass fraction of one of the dissolved chemicals; 0 in air.
func (a *amount) solute(i int) float64 {
	if a[mass] > 1e-12 {
		return a[i] / a[mass]
	}
	return 0
}

// share is the share of the volume of product, recovered water or air.
func (a *amount) share(i int) float64 {
	if a[volume] > 0 {
		return a[i] / a[volume]
	}
	return 0
}

// alike says whether two amounts differ so little that nobody could measure it:
// 0.05 K, 0.0005 % by mass, a thousandth of product or air.
func alike(a, b *amount) bool {
	va, vb := 1/a[volume], 1/b[volume]
	return math.Abs(a[heat]*va-b[heat]*vb) < 2e5 &&
		math.Abs(a[alkali]*va-b[alkali]*vb) < 5e-3 &&
		math.Abs(a[acid]*va-b[acid]*vb) < 5e-3 &&
		math.Abs(a[disinfect]*va-b[disinfect]*vb) < 5e-4 &&
		math.Abs(a[phosphoric]*va-b[phosphoric]*vb) < 5e-3 &&
		math.Abs(a[product]*va-b[product]*vb) < 1e-3 &&
		math.Abs(a[recovered]*va-b[recovered]*vb) < 1e-3 &&
		math.Abs(a[air]*va-b[air]*vb) < 1e-3
}

// airOf is a volume of air.
func airOf(v float64) amount { return amount{volume: v, air: v} }

// warm gives an amount a temperature in °C.
func (a amount) warm(celsius float64) amount {
	a[heat] = a.capacity() * celsius
	return a
}

// waterOf is a volume of water at a temperature in °C. Outside the range of the
// density of water it counts with that of 20 °C.
func waterOf(v, celsius float64) amount {
	density := 998.2
	if d, err := (fluid.Liquid{Medium: fluid.PureWater, Temperature: quantity.Celsius(celsius)}).Density(); err == nil {
		density = float64(d)
	}
	return amount{volume: v, mass: v * density}.warm(celsius)
}

// solutionOf is a volume of a solution; its error is that of the density.
func solutionOf(v float64, chemical int, l fluid.Liquid) (amount, error) {
	d, err := l.Density()
	if err != nil {
		return amount{}, err
	}
	a := amount{volume: v, mass: v * float64(d)}
	a[chemical] = a[mass] * float64(l.Strength)
	return a.warm(l.Temperature.Celsius()), nil
}
