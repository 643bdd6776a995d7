package heat

import (
	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// State is the heat side of one step. It does not change once handed out and is safe for
// concurrent readers.
type State struct {
	Step     *model.Step
	Solution *flow.Solution

	Asked Opt[Temperature] // by the step
	Start Opt[Temperature] // of what the source holds or gives at the start
	Round bool             // what comes back is drawn again: source and destination are one vessel

	Exchangers []Exchanger // that the flow passes, in the order of the flow, those beside the way last
	WarmUp     *WarmUp     // of the tank that is drawn from; nil where none has to be warmed

	// While the wash runs.
	Nodes     []Opt[Temperature] // by node of the plant
	Edges     []Edge             // by edge of the plant
	Supplied  Opt[Temperature]   // behind the last exchanger of the way, or at the source
	Back      Opt[Temperature]   // at the destination
	Coldest   Opt[Temperature]   // anywhere that flows
	Air       Temperature
	Losses    []Loss // of runs and vessels, in order of record; none where nothing is warmer than the air
	Lost      Opt[Power]
	KnownLost Power // sum of those that are known

	Assumptions []flow.Assumption // in order of record; those of the whole first
	Missing     []Missing         // in order of record and key
	Failures    []flow.Failure
}

// Edge is what becomes of the liquid in one edge of the plant, in the direction of the
// flow.
type Edge struct {
	In, Out Opt[Temperature]
	Lost    Opt[Power] // below zero in a heater
}

// Missing is a property that was never entered, and what it would decide.
type Missing struct {
	network.Missing
	For string // "what the heater gives"
}

// Exchanger is what a heater or cooler has to do and can do, for one pass of the liquid
// as it comes at the start.
type Exchanger struct {
	Exchanger model.ID
	Edge      int
	Cools     bool
	Electric  bool
	Idle      bool // the liquid comes as the step asks for it

	Flow   Opt[Flow]
	Inlet  Opt[Temperature]
	Asked  Opt[Temperature] // of the outlet, by the step
	Needed Opt[Power]       // to bring all of the flow from Inlet to Asked; 0 while idle

	Duty        Opt[Power] // told
	Area        Opt[Area]
	Coefficient Opt[HeatTransfer]

	// For what is needed.
	MeanDifference Opt[Difference] // logarithmic
	Conductance    Opt[Conductance]
	TransferUnits  Opt[Ratio]
	Effectiveness  Opt[Ratio]
	NeededArea     Opt[Area] // at the told coefficient

	// What it can do.
	Gives       Opt[Power]       // to the flow at that inlet, at most
	Reaches     Opt[Temperature] // of the outlet, never beyond Asked
	OnceThrough Opt[Flow]        // that it brings from Inlet to Asked, at most

	Holds Opt[Power] // what it gives while the wash runs

	Steam   *Steam   // of one that steam heats
	Cooling *Cooling // of one that water cools
}

// Short says whether an exchanger cannot do in one pass what the step asks.
func (x *Exchanger) Short() bool {
	needed, a := x.Needed.Get()
	gives, b := x.Gives.Get()
	return a && b && float64(gives) < float64(needed)*(1-1e-6)
}

// Steam is what heats an exchanger. Condensate leaves at its boiling point.
type Steam struct {
	Supply     model.ID      // empty where none is drawn
	Gauge      Opt[Pressure] // at the supply
	Absolute   Opt[Pressure]
	Saturation Opt[Temperature]
	Flow       Opt[MassFlow] // for what is needed, as far as the heater gives it
	Condensate Opt[MassFlow] // as much
	Hold       Opt[MassFlow] // while the wash runs
}

// Cooling is the water of a cooler.
type Cooling struct {
	Supply model.ID
	Inlet  Opt[Temperature]
	Flow   Opt[Flow]
	Outlet Opt[Temperature] // for what is needed
}

// WarmUp is the warming of the tank that a step draws from, pumped round through the
// heaters with all that the way holds.
type WarmUp struct {
	Tank     model.ID
	From, To Temperature
	Liquid   Opt[Volume]      // in the tank
	Held     Volume           // in the circuit beside it, as far as known
	Steel    Kilograms        // of tubes and vessels, as far as known
	Time     Opt[Duration]    // with all that the heaters give
	Outlet   Opt[Temperature] // the hottest that then leaves them; above To a controller would hold back
	Steady   Opt[Duration]    // with the outlet held at To: until the content comes within [SteadyShort] of it
	AtLeast  bool             // hold-up or steel is not all known, so it takes longer
	Never    bool             // the heaters do not get it there
	Tends    Opt[Temperature] // where it never gets there: to what it comes
}

// Loss is what a run or vessel loses while the wash runs.
type Loss struct {
	Record     model.ID
	Insulation Opt[Bore]   // thickness; unknown: taken as bare
	Length     Opt[Length] // of a run
	Area       Opt[Area]   // of a vessel
	Power      Opt[Power]
	In, Out    Opt[Temperature] // where liquid comes in and goes out
}
