package fluid

import (
	"errors"
	"fmt"

	"rinsewright/model/quantity"
)

// ErrUnknown is wrapped by errors that say that a property is not known for a
// medium at any strength or temperature.
var ErrUnknown = errors.New("not known")

// Liquid is a medium at a strength (mass fraction of the pure solute, 0.02 for
// 2 % w/w; zero for water) and a temperature.
type Liquid struct {
	Medium      Medium
	Strength    quantity.Strength
	Temperature quantity.Temperature
}

// Properties are those of one liquid.
type Properties struct {
	Density        Density
	Viscosity      Viscosity
	HeatCapacity   HeatCapacity
	VapourPressure quantity.Pressure                   // absolute
	Conductivity   quantity.Opt[quantity.Conductivity] // unknown outside its table, and for water and disinfectant
}

// Properties gives all properties at once. It fails when density, viscosity,
// heat capacity or vapour pressure is outside its range; the conductivity,
// known over a narrower range, is then left unknown.
func (l Liquid) Properties() (Properties, error) {
	s, err := substanceOf(l.Medium)
	if err != nil {
		return Properties{}, err
	}
	for _, b := range []*Basis{&s.density, &s.viscosity, &s.heat, &s.vapour} {
		if err := b.check(s.name, l.Strength, l.Temperature); err != nil {
			return Properties{}, err
		}
	}
	water := liquidWater(float64(l.Temperature))
	p := Properties{
		Density:        s.densityAt(water, l.Strength),
		Viscosity:      s.viscosityAt(water, l.Strength),
		HeatCapacity:   s.heatAt(water, l.Strength),
		VapourPressure: quantity.Pressure(saturationPressure(float64(l.Temperature))),
	}
	if k, err := l.Conductivity(); err == nil {
		p.Conductivity = quantity.Some(k)
	}
	return p, nil
}

// Density gives the density.
func (l Liquid) Density() (Density, error) {
	s, err := l.checked(func(s *substance) *Basis { return &s.density })
	if err != nil {
		return 0, err
	}
	return s.densityAt(liquidWater(float64(l.Temperature)), l.Strength), nil
}

// Viscosity gives the dynamic viscosity.
func (l Liquid) Viscosity() (Viscosity, error) {
	s, err := l.checked(func(s *substance) *Basis { return &s.viscosity })
	if err != nil {
		return 0, err
	}
	return s.viscosityAt(liquidWater(float64(l.Temperature)), l.Strength), nil
}

// HeatCapacity gives the specific heat capacity at constant pressure.
func (l Liquid) HeatCapacity() (HeatCapacity, error) {
	s, err := l.checked(func(s *substance) *Basis { return &s.heat })
	if err != nil {
		return 0, err
	}
	return s.heatAt(liquidWater(float64(l.Temperature)), l.Strength), nil
}

// VapourPressure gives the absolute vapour pressure of the water in the liquid
// as if it were pure: an upper bound, which 5 % w/w of caustic lowers by 4 %
// (computed with an osmotic coefficient of 0.95, from memory of Robinson and
// Stokes) and of acid by less.
func (l Liquid) VapourPressure() (quantity.Pressure, error) {
	if _, err := l.checked(func(s *substance) *Basis { return &s.vapour }); err != nil {
		return 0, err
	}
	return quantity.Pressure(saturationPressure(float64(l.Temperature))), nil
}

// Conductivity gives the electrical conductivity at the liquid's own
// temperature, of the solute in pure water. It is an error wrapping [ErrUnknown]
// for water, whose salts are a matter of the site, and for peracetic acid, whose
// stabilisers are a matter of the supplier.
func (l Liquid) Conductivity() (quantity.Conductivity, error) {
	s, err := l.checked(func(s *substance) *Basis { return s.conductivity })
	if err != nil {
		return 0, err
	}
	return quantity.Conductivity(s.conducts.at(float64(l.Strength), l.Temperature.Celsius())), nil
}

// checked finds the substance and holds the liquid against one of its bases.
func (l Liquid) checked(basis func(*substance) *Basis) (*substance, error) {
	s, err := substanceOf(l.Medium)
	if err != nil {
		return nil, err
	}
	b := basis(s)
	if b == nil {
		return nil, fmt.Errorf("fluid: conductivity of %s: %w", s.name, ErrUnknown)
	}
	return s, b.check(s.name, l.Strength, l.Temperature)
}

func (s *substance) densityAt(water State, w quantity.Strength) Density {
	if s.solute == nil {
		return water.Density()
	}
	return s.solute.density(float64(water.Density()), float64(w), water.Temperature.Celsius())
}

func (s *substance) viscosityAt(water State, w quantity.Strength) Viscosity {
	if s.solute == nil {
		return water.Viscosity()
	}
	return water.Viscosity() * Viscosity(s.thickening.at(float64(w)))
}

func (s *substance) heatAt(water State, w quantity.Strength) HeatCapacity {
	if s.solute == nil {
		return water.HeatCapacity
	}
	return s.solute.heat(float64(water.HeatCapacity), float64(w), water.Temperature.Celsius())
}
