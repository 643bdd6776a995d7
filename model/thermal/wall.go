package thermal

import (
	"math"

	"rinsewright/model/quantity"
)

// Wall is an upright wall in still air, bare or insulated: the side of a tank.
type Wall struct {
	Height       quantity.Length
	Insulation   quantity.Length // thickness; zero for a bare wall
	Conductivity float64         // of the insulation, W/(m·K); not used for a bare wall
	Emissivity   float64         // of the outermost surface, 0 to 1
}

// WallLoss is what a square metre of wall gives off.
type WallLoss struct {
	PerArea float64              // W/m²
	Surface quantity.Temperature // of the outermost surface
}

// Conductance gives the loss of an area of the wall in proportion to the difference
// between wall and air; it holds near the temperatures of the loss.
func (l WallLoss) Conductance(area quantity.Area, wall, air quantity.Temperature) Conductance {
	if wall == air {
		return 0
	}
	return Conductance(l.PerArea * float64(area) / float64(wall-air))
}

// Loss gives the heat that a square metre gives off to still air, from the temperature
// of the metal: natural convection at an upright plate (S. W. Churchill and H. H. S. Chu,
// Int. J. Heat Mass Transfer 18 (1975) 1323) and radiation to walls at the temperature of
// the air. Draught, legs and nozzles come on top. Range and errors as of [Tube.Loss].
func (w Wall) Loss(wall, air quantity.Temperature) (WallLoss, error) {
	tube := Tube{Outside: 1, Insulation: w.Insulation, Conductivity: w.Conductivity, Emissivity: w.Emissivity}
	if err := tube.check(wall, air); err != nil {
		return WallLoss{}, err
	}
	if err := positive("height of a wall", float64(w.Height), "m"); err != nil {
		return WallLoss{}, err
	}
	leaves := func(surface float64) float64 {
		return plateFlux(float64(w.Height), surface, float64(air), w.Emissivity)
	}
	if w.Insulation == 0 || wall == air {
		return WallLoss{leaves(float64(wall)), wall}, nil
	}
	through := w.Conductivity / float64(w.Insulation) // W/(m²·K)
	surface := balance(float64(air), float64(wall), func(surface float64) float64 {
		return leaves(surface) - through*(float64(wall)-surface)
	})
	return WallLoss{through * (float64(wall) - surface), quantity.Temperature(surface)}, nil
}

// balance finds where a rising function passes zero between two temperatures in K.
func balance(low, high float64, of func(float64) float64) float64 {
	for high-low > 1e-9 {
		middle := (low + high) / 2
		if of(middle) < 0 {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

// plateFlux is the heat in W/m² that leaves an upright plate of height h in m by
// convection and radiation.
func plateFlux(h, surface, air, emissivity float64) float64 {
	radiation := emissivity * stefanBoltzmann * (ipow4(surface) - ipow4(air))
	dt := surface - air
	if dt <= 0 {
		return radiation
	}
	film := (surface + air) / 2
	nu, alpha, conducts := airAt(film)
	rayleigh := 9.80665 * dt * h * h * h / (film * nu * alpha)
	prandtl := math.Pow(1+math.Pow(0.492*alpha/nu, 9.0/16), 8.0/27)
	nusselt := math.Pow(0.825+0.387*math.Pow(rayleigh, 1.0/6)/prandtl, 2) // equation 9 of the paper
	return nusselt*conducts/h*dt + radiation
}
