package flow

import (
	"rinsewright/model"
	"rinsewright/model/fluid"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// Options of a solve. The zero value is good.
type Options struct {
	// Roughness of tube walls; 0 for [Roughness].
	Roughness Length
	// Atmosphere is the absolute pressure of the air; 0 for the standard atmosphere.
	Atmosphere Pressure
	// LeastSpeed and MostSpeed bound the speed of regulated pumps, over their rated
	// speed; 0 for [LeastSpeed] and [MostSpeed].
	LeastSpeed, MostSpeed Ratio
	// Speeds holds pumps whose speed, over their rated one, is set by hand. They
	// are not regulated.
	Speeds map[model.ID]Ratio
	// Route of the step, where it is known already.
	Route *network.Route
}

const (
	// Roughness of drawn tube in m (Crane TP-410 and the Moody chart, from memory).
	// Stainless steel is also given with 2 and, from its Ra of 0.8 µm, 4.7 µm; the
	// factor of DN50 at 1.5 m/s changes by 3 %.
	Roughness Length = 1.5e-6

	// LeastSpeed is the speed over the rated one below which a pump is not
	// regulated: below it a motor on a converter cools itself poorly. Common
	// practice, no source.
	LeastSpeed Ratio = 0.3
	// MostSpeed is the rated speed.
	MostSpeed Ratio = 1
)

func (o Options) withDefaults() Options {
	if !(o.Roughness > 0) {
		o.Roughness = Roughness
	}
	if !(o.Atmosphere > 0) {
		o.Atmosphere = fluid.Atmosphere
	}
	if !(o.LeastSpeed > 0) {
		o.LeastSpeed = LeastSpeed
	}
	if !(o.MostSpeed > o.LeastSpeed) {
		o.MostSpeed = max(MostSpeed, o.LeastSpeed)
	}
	return o
}
