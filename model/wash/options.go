package wash

import (
	"errors"

	"rinsewright/model"
	"rinsewright/model/flow"
	. "rinsewright/model/quantity"
)

// Start is what the circuit holds before the first step.
type Start int

const (
	Drained       Start = iota // tubes hold air, vessels on the way nothing
	FullOfWater                // all tubes full of water as warm as the air
	FullOfProduct              // all tubes full of product as warm as the air
)

// Filling is what a tank holds before the first step. What is unknown follows the
// rules of the package.
type Filling struct {
	Volume      Opt[Volume]
	Strength    Opt[Strength] // of the medium of the first step that draws from it
	Temperature Opt[Temperature]
}

// Options of a run. The zero value is good.
type Options struct {
	Flow flow.Options // of the solve of each step; its Route is not used

	Start Start
	Air   Temperature          // about the plant; 0 for 20 °C
	Hot   bool                 // tanks that tell no temperature stand at that of the first step that draws from them
	Tanks map[model.ID]Filling // by vessel; before what the vessel tells

	// What follows stands in for what steps and parts do not tell.

	// Hold starts the timer of a heated step that does not tell it when the return has come
	// within Margin of its temperature; else the timer starts with the step.
	Hold    bool
	Margin  Temperature // K; 0 for 5 K
	Longest Duration    // of a step that waits for something and tells no longest time, s; 0 for 2 h

	Dosing      Flow         // of a concentrate without a dosing pump, of which no flow is told; 0 for 0.5 m³/h
	NoMakeUp    bool         // water tanks are not kept at their level by the supply joined to them
	Wall        Length       // of vessels; 0 for 3 mm
	Emissivity  float64      // of bare tube; 0 for 0.25
	Motor       Ratio        // efficiency of pump motors with their converters; 0 for 0.85
	WaterSupply Conductivity // of the water itself at 25 °C, before what the supply tells; added to that of the solute

	Places []model.Place // at which trends are wanted beside those that are always kept: parts and runs
	Every  Duration      // between points of a trend and pictures, s; 0 for 2 s, or more in long programmes
	Slugs  int           // along the route, the finer the slower; 0 for 100

	Stop func() bool // asked now and then: whether the run is no longer wanted; nil: it is
}

// ErrStopped says that a run was given up because [Options].Stop said so.
var ErrStopped = errors.New("wash: stopped")

const practice = "common practice, no source"

func (o Options) withDefaults() Options {
	if !(o.Air > 0) {
		o.Air = Celsius(20)
	}
	if !(o.Margin > 0) {
		o.Margin = 5
	}
	if !(o.Longest > 0) {
		o.Longest = 7200
	}
	if !(o.Dosing > 0) {
		o.Dosing = CubicMetresPerHour(0.5)
	}
	if !(o.Wall > 0) {
		o.Wall = 0.003
	}
	if !(o.Emissivity > 0) {
		o.Emissivity = 0.25
	}
	if !(o.Motor > 0) {
		o.Motor = 0.85
	}
	if o.Slugs <= 0 {
		o.Slugs = 100
	}
	o.Flow.Route = nil
	return o
}
