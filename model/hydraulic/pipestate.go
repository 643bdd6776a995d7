package hydraulic

import (
	"math"

	"rinsewright/model/quantity"
)

// PipeState is what a flow means for a pipe.
type PipeState struct {
	Velocity quantity.Velocity // mean, with the sign of the flow
	Reynolds quantity.Ratio
	Friction quantity.Ratio    // Darcy factor; 0 where nothing flows
	Shear    quantity.Pressure // of the wall, f ρ v²/8
	Gradient quantity.Ratio    // head lost a length by friction, m/m
}

// At gives the state of the pipe at a flow of the fluid, by [Moody].
func (p Pipe) At(flow quantity.Flow, f Fluid) PipeState {
	d := float64(p.Bore)
	v := float64(flow) / (math.Pi / 4 * d * d)
	s := PipeState{Velocity: quantity.Velocity(v)}
	re := math.Abs(v) * d / f.Kinematic()
	if re == 0 {
		return s
	}
	factor, _ := Moody(re, float64(p.Roughness)/d)
	s.Reynolds, s.Friction = quantity.Ratio(re), quantity.Ratio(factor)
	s.Shear = quantity.Pressure(factor * f.Density * v * v / 8)
	s.Gradient = quantity.Ratio(factor / d * v * v / (2 * StandardGravity))
	return s
}
