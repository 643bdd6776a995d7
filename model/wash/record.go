package wash

import (
	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

type (
	Energy float64 // J
	Mass   float64 // kg
)

// KilowattHours gives e in kWh.
func (e Energy) KilowattHours() float64 { return float64(e) / 3.6e6 }

// Record is a programme as it ran. It does not change once handed out and is safe for
// concurrent readers.
type Record struct {
	Steps   []Step
	Cycle   Duration // of the simulated steps together
	Total   Use      // of the simulated steps together
	Saved   Saved
	Trends  []Trend // in order of first appearance along the route
	Tanks   []TankTrend
	Balance Balance

	Assumptions []flow.Assumption // in order of record; those of the whole first

	film *film
}

// Step is one step as it ran.
type Step struct {
	Step  *model.Step
	Flow  *flow.Solution // nil where none was needed
	Start Duration       // since the programme began, s
	Time  Duration       // it took, s; 0 if it was not simulated
	Hold  Opt[Duration]  // after the step began, when its timer started

	Simulated bool
	Why       string            // it was not simulated, or ended before its end; in metric units, see [Step.Told]
	At        model.Place       // where to look; zero if nowhere
	Missing   []network.Missing // in order of record and key
	Notes     []string          // what is remarkable; in metric units, see [Step.ToldNotes]

	Use Use

	Return            model.Place   // the last point: the return sensor, else the inlet of the destination
	ReachedStrength   Opt[Duration] // after the step began, at the last point: 95 % of the step's strength
	ReachedHeat       Opt[Duration] // the step's temperature less the margin, of a step at least 10 K above the air
	ReturnTemperature Opt[Temperature]
	ReturnStrength    Opt[Strength]     // at the end of the step
	ReturnAt25        Opt[Conductivity] // at the end of the step, corrected to 25 °C
	Endings           []Ending          // what the step waited for
	Interface         Interface

	words Words   // Why, where it holds quantities
	notes []Words // Notes
}

// Told gives Why in a reader's units.
func (s *Step) Told(system System) string {
	if s.words.Empty() {
		return s.Why
	}
	return s.words.In(system)
}

// note keeps what is remarkable of a step.
func (s *Step) note(w Words) {
	s.notes = append(s.notes, w)
	s.Notes = append(s.Notes, w.String())
}

// ToldNotes gives Notes in a reader's units.
func (s *Step) ToldNotes(system System) []string {
	var out []string
	for _, w := range s.notes {
		out = append(out, w.In(system))
	}
	return out
}

// Ending is one of the conditions that a step waits for.
type Ending struct {
	Key   string        // of the step's field: "time_min", "end_conductivity_mScm", "end_temperature_C", "end_volume_L"
	Place model.Place   // where it is measured; zero for time and volume
	Met   Opt[Duration] // after the step began, from when on it was met
}

// Interface is the mixed phase that passes the last point when one liquid follows
// another, judged by the share of the new one, a linear tracer.
type Interface struct {
	Of     string // "alkali", "product"; empty if no two liquids met that can be told apart
	Volume Opt[Volume]
	From   Opt[Duration] // after the step began, when a tenth of the change had come
	To     Opt[Duration] // nine tenths
	Why    string        // it is unknown
}

// Use is what a step uses. Volumes are as metered in the flow of the step.
type Use struct {
	Fresh     Volume // water that entered from supplies, make-up of tanks included
	Drawn     Volume // that left the source
	Water     Volume // of Drawn in steps with water or recovered water
	Returned  Volume // to the tank it was drawn from
	Recovered Volume // to another tank
	Filled    Volume // into a tank that a preparing step fills
	Sewer     Volume // to drains
	Elsewhere Volume // to other ends

	Concentrate []Dosed           // in order of supply
	Heat        Energy            // that heaters gave
	Lost        Energy            // to the air
	Steam       Opt[Mass]         // and condensate; 0 without steam
	Electric    Energy            // of Heat, that electric heaters gave
	Electricity Opt[Energy]       // of pumps, at the supply of their motors
	Missing     []network.Missing // why steam or electricity is unknown
}

// Dosed is concentrate that was dosed.
type Dosed struct {
	Supply   model.ID // terminal; empty for stock dosed by hand
	Medium   model.Medium
	Strength Strength
	Mass     Mass
	Volume   Volume
}

// Saved is what came back to tanks outside preparing steps: what a station without
// recovery would have lost.
type Saved struct {
	Recovered  Back // to another tank than the step's source: against a sewer in its place
	Circulated Back // to the tank it was drawn from: against a wash that flows once through
}

// Back is what came back.
type Back struct {
	Volume   Volume
	Chemical []Kept // pure chemical, in the order alkali, acid, disinfectant
	Heat     Energy // above the temperature of fresh water
}

// Kept is pure chemical that came back.
type Kept struct {
	Medium model.Medium
	Mass   Mass
}

// Trend is what passes a place in time.
type Trend struct {
	Place  model.Place
	What   string // "supply", "return", or the tag of a part or run
	Points []Sample
}

// Sample is what passes a place at a time. While nothing flows there are none.
type Sample struct {
	Time         Duration // since the programme began
	Step         int
	Flow         Flow
	Medium       model.Medium
	Temperature  Opt[Temperature]  // unknown for air
	Strength     Strength          // of the chemical of which there is most
	Conductivity Opt[Conductivity] // at its temperature
	At25         Opt[Conductivity] // as a meter shows it that corrects it to 25 °C rightly
	Share        Ratio             // of liquid that is neither product nor air
}

// TankTrend is what a tank or vessel holds in time.
type TankTrend struct {
	Vessel model.ID
	Points []TankSample
}

// TankSample is what a tank holds at a time.
type TankSample struct {
	Time        Duration
	Volume      Volume
	Level       Opt[Length] // above the outlet
	Temperature Opt[Temperature]
	Strength    Strength
	Medium      model.Medium
}

// Balance compares what entered, left and stayed over the programme.
type Balance struct {
	Volume, Mass, Heat, Solute Account
}

// Account is one balance. Error is what does not add up, over the greatest of the
// other figures: rounding.
type Account struct {
	In, Out, Stored, Error float64 // m³, kg or J; Stored is the change
}
