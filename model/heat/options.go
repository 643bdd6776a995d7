package heat

import (
	"rinsewright/model/fluid"
	. "rinsewright/model/quantity"
)

// Options of a computation. The zero value is good.
type Options struct {
	// Air is the temperature about the plant; 0 for [Air].
	Air Temperature
	// Atmosphere is the absolute pressure of the air; 0 for the standard atmosphere.
	Atmosphere Pressure
	// Emissivity of bare steel and of the sheet over insulation; 0 for [Emissivity].
	Emissivity float64
	// Insulation is the conductivity of insulation in W/(m·K); 0 for [Insulation].
	Insulation float64
}

const (
	// Air about the plant. Common practice, no source.
	Air = Temperature(ZeroCelsius + 20)
	// Emissivity of stainless steel and of bright sheet. Common practice, no source.
	Emissivity = 0.25
	// Insulation conducts as mineral wool at 50 °C does, W/(m·K). Common practice, no
	// source.
	Insulation = 0.04
)

func (o Options) withDefaults() Options {
	if !(o.Air > 0) {
		o.Air = Air
	}
	if !(o.Atmosphere > 0) {
		o.Atmosphere = fluid.Atmosphere
	}
	if !(o.Emissivity > 0) {
		o.Emissivity = Emissivity
	}
	if !(o.Insulation > 0) {
		o.Insulation = Insulation
	}
	return o
}
