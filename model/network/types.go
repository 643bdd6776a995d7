package network

import (
	"rinsewright/model"
	. "rinsewright/model/quantity"
)

// Node is a point of the plant: a port or inner point of a part, a joint
// between two stretches of a run, or a loose end.
type Node struct {
	Part  model.ID // set for ports and inner points
	Point string   // name of the port or inner point; "inside" and "draw" for a vessel
	Run   model.ID // set for joints and loose ends
	Joint int      // of a run: 0 is its From end, n the point after its nth stretch
	Role  string   // catalogue role of an inner point
}

// Edge is one way between two nodes: a stretch of a run or a path of a part.
type Edge struct {
	From, To int
	Run      model.ID // set for a stretch
	Stretch  int      // index in Run.Stretches; 0 for a run without any
	Part     model.ID // set for a path
	Path     int      // index in the kind's Paths; -1 for the liquid of a vessel
	Length   Opt[Length]
	Bore     Opt[Bore]   // inside diameter
	Volume   Opt[Volume] // of liquid when full
	OneWay   bool        // passes liquid from From to To only
	Branch   bool        // the branch of a tee
	Missing  []Missing   // properties without which Length, Bore or Volume is unknown
}

// Missing names a property that was never entered, or one that was and cannot be.
type Missing struct {
	Record model.ID
	Key    string // key in the circuit file: "seat_a_mm", "stretches", "elevation_m"
	Why    string // what is wrong with it as entered, in words; "" where it never was
}

// LineUp is the plant with every valve in one position.
type LineUp struct {
	Step      *model.Step         // nil: every valve in its normal position
	Positions map[model.ID]string // of every valve
	Unknown   []model.ID          // valves whose position nobody told; they stand in the first position of their kind here
	Open      []bool              // by edge
	Source    int                 // node, or -1
	Dest      int                 // node, or -1
}

// Route is how liquid flows in a line-up.
type Route struct {
	LineUp   *LineUp
	Found    bool        // a way leads from source to destination
	Why      string      // if not found: what is missing, in words
	At       model.Place // if not found: where to look; zero if nowhere
	InFlow   []bool      // by edge: on some way from source to destination
	Whole    []bool      // by edge: the whole flow passes it
	Forward  []int8      // by edge, where decided: +1 from From to To, -1 the other way, 0 undecided
	Wet      []bool      // by edge: liquid reaches it
	WrongWay []int       // one-way edges that stand against the flow
	Ways     []int       // edges of one shortest way from source to destination, in order
	Shut     []int       // if not found: fewest closed edges that would have to open, in order from the source
}

// Leg is a wet dead end: liquid stands in it and no flow passes.
type Leg struct {
	Root    int         // node on the flowing part where it begins
	End     int         // the farthest closed end
	Way     []int       // edges from Root to End
	Length  Opt[Length] // from the inner wall of the flowing tube to the closed end
	Bore    Opt[Bore]   // smallest inside diameter on the way
	Main    Opt[Bore]   // inside diameter of the flowing tube at Root
	AtLeast Length      // what is known of Length
	Edges   []int       // every edge of it
	Opens   int         // nearest node at which it is not closed: another vessel, a terminal, a leak outlet; -1
	Missing []Missing   // why Length or Bore is unknown
}

// Heights are the elevations of the nodes, told or derived along runs.
type Heights struct {
	Of        []Opt[Length] // by node
	Disagree  []Disagreement
	Group     []int32   // by node: group of joined nodes with no height, -1 for a node with one
	Underived []Missing // by group: the property that would give it a height
}

// Disagreement is a run whose rises do not add up to the heights of its ends.
type Disagreement struct {
	Run          model.ID
	Told, Needed Length // sum of rises; height difference of its ends
}

// Pool is liquid that stays behind when the circuit is drained.
type Pool struct {
	Edges   []int       // edges that stay wet, wholly or in part
	Lowest  int         // node
	Level   Opt[Length] // height to which liquid stands; unknown without a way to a drain
	Over    int         // node of the sill that holds it back, or -1
	Volume  Opt[Volume]
	NoDrain bool      // no way leads to an open drain at all
	Way     []int     // edges from Lowest to Over
	Missing []Missing // why Volume is unknown
}

// Draining is what the drain line-ups leave behind.
type Draining struct {
	Spill   []Opt[Length] // by node: height to which liquid there must rise to get out; unknown without a way out or without heights
	Drained []bool        // by node: a way leads to an open drain
	Toward  []int32       // by node: edge that leads on towards the drain, -1 at a drain and without a way
	Pools   []Pool        // in order of their lowest edge
	Slopes  []Slope       // in order of edge
	Vague   []int         // wetted edges with a way out that could not be judged
	Missing []Missing     // why not
}

// Pocket is air that stays when the plant is filled.
type Pocket struct {
	Edges   []int       // edges that stay full of air, wholly or in part
	Highest int         // node
	Level   Opt[Length] // height down to which air stands; unknown without a way to a vent
	Under   int         // node of the low point under which the air would have to pass, or -1
	Volume  Opt[Volume]
	NoVent  bool      // no way leads to the open air at all
	Way     []int     // edges from Highest to Under
	Missing []Missing // why Volume is unknown
}

// Venting is where air is trapped while liquid fills the line-ups.
type Venting struct {
	Vented  []bool   // by node: a way leads to the open air
	Toward  []int32  // by node: edge that leads on towards it, -1 there and without a way
	Pockets []Pocket // in order of their lowest edge
	Vague   []int    // wetted edges with a way out that could not be judged
	Missing []Missing
}

// Slope is the fall of one stretch towards the drain.
type Slope struct {
	Edge   int
	Fall   float64 // m a m along the tube; negative: it falls away from the drain
	Length Length
}
