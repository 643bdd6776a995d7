package hydraulic

import (
	"fmt"
	"math"
)

// StandardGravity is the standard acceleration of free fall in m/s² (ISO 80000-3).
const StandardGravity = 9.80665

// Fluid is the liquid that fills the network.
type Fluid struct {
	Density   float64 // kg/m³, above zero
	Viscosity float64 // dynamic, Pa·s, above zero
}

func (f Fluid) check() error {
	if !(f.Density > 0) || !(f.Viscosity > 0) || math.IsInf(f.Density, 0) || math.IsInf(f.Viscosity, 0) {
		return fmt.Errorf("hydraulic: fluid of %v kg/m³ and %v Pa·s: both must be above zero and finite", f.Density, f.Viscosity)
	}
	return nil
}

// Kinematic gives the kinematic viscosity in m²/s.
func (f Fluid) Kinematic() float64 { return f.Viscosity / f.Density }
