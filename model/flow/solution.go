package flow

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/fluid"
	"rinsewright/model/hydraulic"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// Solution is what flows in one step. It does not change once handed out and is
// safe for concurrent readers.
type Solution struct {
	Step  *model.Step
	Plant *network.Plant
	Route *network.Route

	Liquid     fluid.Liquid
	Properties Opt[fluid.Properties]

	Edges   []Edge   // by edge of the plant
	Nodes   []Node   // by node of the plant
	Pumps   []Pump   // every pump that liquid reaches or that runs, in order of id
	Sprays  []Spray  // every spray device that liquid reaches, in order of id
	Vessels []Vessel // every vessel that the route leads through, in order of id
	Supply  Supply
	Splits  []Split // in order of node
	Along   []Point // along one way from source to destination

	Assumptions []Assumption      // in order of record; those of the whole first
	Missing     []network.Missing // in order of record and key; a section that needs one of them is not solved
	Failures    []Failure

	work *work
}

// Solved says whether every section was solved.
func (s *Solution) Solved() bool { return len(s.Missing) == 0 && len(s.Failures) == 0 }

// Edge is what happens in one edge of the plant. All is unknown in a section that
// was not solved, but for what follows from the step's flow alone where the whole
// of it passes. Flow and velocity are 0 where no liquid of the step comes.
type Edge struct {
	Flow     Opt[Flow]     // from its From to its To; below zero the other way
	Velocity Opt[Velocity] // mean, with the sign of the flow; unknown without a bore
	Reynolds Opt[Ratio]
	Shear    Opt[Pressure] // of the wall, f ρ v²/8
	Loss     Opt[Length]   // head lost in the direction of the flow; below zero in a pump
	PartFull bool          // runs part-full by gravity; velocity and shear are of the filled part
}

// Node is the state at one node of the plant.
type Node struct {
	Head     Opt[Length]   // elevation plus pressure over ρg
	Pressure Opt[Pressure] // gauge; unknown without an elevation
}

// Pump is what a pump does.
type Pump struct {
	Pump       model.ID
	Edge       int
	Running    bool
	Regulated  bool       // its speed was found, not told
	Speed      Opt[Ratio] // of its rated speed
	Flow       Opt[Flow]
	Head       Opt[Length]     // that it adds
	OutOfCurve bool            // the duty lies beyond the points of its curve
	Power      Opt[ShaftPower] // at the shaft; unknown without an efficiency
	Available  Opt[Length]     // NPSH at its suction
	Required   Opt[Length]     // NPSH, as told
	Missing    []network.Missing
}

// Spray is what a spray device gets.
type Spray struct {
	Spray    model.ID
	Edge     int
	Vessel   model.ID // that it sprays into; empty if none
	Flow     Opt[Flow]
	Pressure Opt[Pressure] // at its inlet above that of the gas it sprays into
}

// Balance tells how the return of a vessel copes with what comes in.
type Balance string

const (
	// LevelFound: with the return at full speed the puddle stands at Level.
	LevelFound Balance = "level found"
	// DrawsAir: at full speed the return takes more than comes, the bowl runs empty.
	DrawsAir Balance = "return draws air"
	// BowlFills: the return at full speed takes less than comes even from the full
	// vessel.
	BowlFills Balance = "bowl fills"
)

// Vessel is the balance of a vessel that the route leads through.
type Vessel struct {
	Vessel   model.ID
	Balance  Balance // empty where its return was not solved
	Inflow   Opt[Flow]
	Outflow  Opt[Flow]   // as shown; equal to Inflow unless the bowl fills
	Capacity Opt[Flow]   // of the return at full speed, from a puddle that just reaches the outlet
	Level    Opt[Length] // of the puddle above the outlet, as shown
	// FullSpeed is the level that the return at full speed would need to take the
	// inflow: below zero where it draws air, above the height where the bowl fills.
	FullSpeed Opt[Length]
	Regulated bool       // a return pump is slowed so that the bowl is just kept empty
	Pumps     []model.ID // that run in its return
	Gravity   bool       // none does
	PartFull  bool       // the return runs part-full
	Filling   Opt[Ratio] // of a part-full return: greatest depth over bore
	Missing   []network.Missing
}

// Supply is the flow that the circuit is supplied with.
type Supply struct {
	Asked  Opt[Flow]  // by the step
	Flow   Opt[Flow]  // through the pump whose speed was found; without one as Drawn
	Drawn  Opt[Flow]  // what leaves the source
	Lost   Opt[Flow]  // what leaves the route on the way: into an open drain, another vessel
	Pump   model.ID   // whose speed was found; empty if none
	Speed  Opt[Ratio] // at which it runs
	Needed Opt[Ratio] // speed that gives the flow asked, also where it lies beyond the limits; unknown where none does
	Full   Opt[Flow]  // flow at the greatest speed, where that falls short of Asked
	Short  Opt[Flow]  // by how much the flow falls short of Asked
	Over   Opt[Flow]  // by how much it exceeds Asked: the pump is at its least speed, or there is none to slow
}

// Split is a node at which the flow divides.
type Split struct {
	Node     int
	Branches []Branch // greatest flow first
}

// Branch is one way on from a split.
type Branch struct {
	Edge  int
	Flow  Flow  // away from the node
	Share Ratio // of all that leaves the node
}

// Point is one point of the way from source to destination.
type Point struct {
	Node      int
	Edge      int         // that leads here, -1 at the source
	Distance  Opt[Length] // along the tube from the source; unknown behind an unknown length
	Elevation Opt[Length]
	Head      Opt[Length]
	Pressure  Opt[Pressure]
	Break     bool // behind a vessel: the pressure begins anew
}

// Failure says in words why something was not solved, and where.
type Failure struct {
	Text string      // quantities in metric units, see [Failure.Told]
	At   model.Place // zero: the step as a whole

	words Words // Text, where it holds quantities
}

// Duty is one point of a pump's or system's curve.
type Duty struct {
	Flow Flow
	Head Length
}

func length(v float64) Opt[Length] { return Some(Length(v)) }

func gravityHead(p Pressure, f hydraulic.Fluid) float64 {
	return float64(p) / (f.Density * hydraulic.StandardGravity)
}

// As gives the solution for another step and plant in which the same flows: the plant
// has the same nodes and edges, the route takes the same ways. It is shared but for what
// names step, plant and route.
func (s *Solution) As(p *network.Plant, r *network.Route) *Solution {
	own, was, step := *s, s.Step, r.LineUp.Step
	own.Step, own.Plant, own.Route = step, p, r
	if s.work != nil {
		w := *s.work
		w.p, w.route, w.step, w.sol = p, r, step, &own
		own.work = &w
	}
	if was == step || was.ID == step.ID {
		return &own
	}
	own.Missing = slices.Clone(own.Missing)
	for i := range own.Missing {
		if own.Missing[i].Record == was.ID {
			own.Missing[i].Record = step.ID
		}
	}
	own.Failures = slices.Clone(own.Failures)
	for i := range own.Failures {
		if own.Failures[i].At.Element == was.ID {
			own.Failures[i].At.Element = step.ID
		}
	}
	return &own
}
