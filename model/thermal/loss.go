package thermal

import (
	"fmt"
	"math"

	"rinsewright/model/quantity"
)

// Tube is a long horizontal tube in still air, bare or insulated.
type Tube struct {
	Outside      quantity.Bore   // outside diameter of the bare tube
	Insulation   quantity.Length // thickness; zero for a bare tube
	Conductivity float64         // of the insulation, W/(m·K); not used for a bare tube
	Emissivity   float64         // of the outermost surface, 0 to 1; stainless about 0.25, painted steel 0.9 (common practice, no source)
}

// The range of [Tube.Loss]: that of the air's properties, with room for error.
const (
	coldestAir = 233.15 // K
	hottestTo  = 473.15 // K
)

const stefanBoltzmann = 5.670374419e-8 // W/(m²·K⁴), CODATA 2018

// HeatLoss is what a metre of tube gives off.
type HeatLoss struct {
	PerMetre    float64              // W/m
	Surface     quantity.Temperature // of the outermost surface
	Coefficient quantity.HeatTransfer
}

// Conductance gives the loss of a length of the tube in proportion to the
// difference between wall and air, for warming up; it holds near the temperatures
// for which the loss was computed.
func (h HeatLoss) Conductance(length quantity.Length, wall, air quantity.Temperature) Conductance {
	if wall == air {
		return 0
	}
	return Conductance(h.PerMetre * float64(length) / float64(wall-air))
}

// Loss gives the heat that a metre of the tube gives off to still air, from the
// temperature of its metal wall: natural convection about a horizontal cylinder
// (S. W. Churchill and H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1049)
// and radiation to walls at the temperature of the air. The film inside and the
// metal are neglected, which overstates the loss of a thin stainless tube by less
// than 1 %. Draught, supports and valves come on top. Air −40 °C or warmer, wall
// not above 200 °C and not colder than the air.
func (tube Tube) Loss(wall, air quantity.Temperature) (HeatLoss, error) {
	if err := tube.check(wall, air); err != nil {
		return HeatLoss{}, err
	}
	outer := float64(tube.Outside) + 2*float64(tube.Insulation)
	if tube.Insulation == 0 || wall == air {
		flux := surfaceFlux(outer, float64(wall), float64(air), tube.Emissivity)
		return heatLoss(flux, outer, float64(wall), float64(air)), nil
	}
	// The surface settles where what comes through the insulation leaves it. Both
	// change steadily with its temperature, so halving finds the one balance.
	through := 2 * math.Pi * tube.Conductivity / math.Log(outer/float64(tube.Outside)) // W/(m·K)
	surface := balance(float64(air), float64(wall), func(surface float64) float64 {
		return math.Pi*outer*surfaceFlux(outer, surface, float64(air), tube.Emissivity) - through*(float64(wall)-surface)
	})
	return heatLoss(through*(float64(wall)-surface)/(math.Pi*outer), outer, surface, float64(air)), nil
}

func heatLoss(flux, outer, surface, air float64) HeatLoss {
	h := HeatLoss{PerMetre: math.Pi * outer * flux, Surface: quantity.Temperature(surface)}
	if surface > air {
		h.Coefficient = quantity.HeatTransfer(flux / (surface - air))
	}
	return h
}

// surfaceFlux is the heat in W/m² that leaves a horizontal cylinder of diameter
// d in m by convection and radiation.
func surfaceFlux(d, surface, air, emissivity float64) float64 {
	radiation := emissivity * stefanBoltzmann * (ipow4(surface) - ipow4(air))
	dt := surface - air
	if dt <= 0 {
		return radiation
	}
	film := (surface + air) / 2
	nu, alpha, conducts := airAt(film)
	rayleigh := 9.80665 * dt * d * d * d / (film * nu * alpha)           // β is 1/T of an ideal gas
	prandtl := math.Pow(1+math.Pow(0.559*alpha/nu, 9.0/16), 8.0/27)      // correction for Pr = ν/α
	nusselt := math.Pow(0.60+0.387*math.Pow(rayleigh, 1.0/6)/prandtl, 2) // equation 5 of the paper
	return nusselt*conducts/d*dt + radiation
}

func ipow4(x float64) float64 { return x * x * x * x }

func (tube Tube) check(wall, air quantity.Temperature) error {
	if err := positive("outside diameter", float64(tube.Outside), "m"); err != nil {
		return err
	}
	if err := notNegative("thickness of insulation", float64(tube.Insulation), "m"); err != nil {
		return err
	}
	if tube.Insulation > 0 {
		if err := positive("conductivity of insulation", tube.Conductivity, "W/(m·K)"); err != nil {
			return err
		}
	}
	if !(tube.Emissivity >= 0 && tube.Emissivity <= 1) {
		return fmt.Errorf("thermal: emissivity %g is not between 0 and 1", tube.Emissivity)
	}
	if !(air >= coldestAir && wall <= hottestTo && wall >= air) {
		return fmt.Errorf("thermal: heat loss from a wall of %.4g °C to air of %.4g °C is outside −40 to 200 °C, wall not below air", wall.Celsius(), air.Celsius())
	}
	return nil
}
