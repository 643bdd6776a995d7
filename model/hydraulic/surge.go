package hydraulic

import (
	"math"

	. "rinsewright/model/quantity"
)

const (
	// WaterBulk is the bulk modulus of water at 20 °C in Pa: 2.19 GPa gives, in a tube
	// that does not widen, the speed of sound of 1482 m/s (CRC Handbook, from memory).
	// It grows by some 6 % to 50 °C and falls again.
	WaterBulk = 2.19e9
	// SteelModulus is the modulus of elasticity of austenitic stainless steel at 20 °C
	// in Pa (EN 10088-1, from memory).
	SteelModulus = 200e9
)

// WaveSpeed gives the speed in m/s at which a change of pressure runs through a thin
// tube of stainless steel full of a watery liquid of a density in kg/m³:
//
//	a = √(K/ρ / (1 + K·D/(E·t)))
//
// with the inside diameter D and the wall t (Joukowsky, Korteweg). Air in the liquid
// lowers it greatly.
func WaveSpeed(density float64, inside, wall Bore) Velocity {
	return Velocity(math.Sqrt(WaterBulk / density / (1 + WaterBulk*float64(inside)/(SteelModulus*float64(wall)))))
}

// Surge gives the rise of the pressure before a valve that stops a column of a
// length and velocity within a time: ρ·a·v where it shuts before the wave comes back
// (Joukowsky), else that times the time of the wave over the time of shutting
// (Michaud), 2·ρ·L·v/t.
func Surge(density float64, wave, v Velocity, column Length, shuts Duration) Pressure {
	p := density * float64(wave) * float64(v)
	if back := 2 * float64(column) / float64(wave); back < float64(shuts) {
		p *= back / float64(shuts)
	}
	return Pressure(p)
}
