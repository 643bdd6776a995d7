package lineup

import (
	"rinsewright/model"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// Ask says what line-up is wanted.
type Ask struct {
	Source, Destination model.ID   // vessel or terminal; the same vessel for circulation
	Through             []model.ID // vessels, objects, other parts or runs that the flow must pass
	Ordered             bool       // in the order of Through; else in any
	May                 []model.ID // vessels, terminals and objects that liquid may reach besides, though no way leads through them
	Avoid               []model.ID // parts and runs that liquid must not reach; a valve stays where it is and no way leads through its seats
	Medium              model.Medium
	Keep                map[model.ID]string // valves whose position is given
	Most                int                 // proposals wanted at most; 0 stands for 3
}

// Limits of an ask: so many things in any order, and in a given one.
const (
	MostFree    = 6
	MostOrdered = 50
)

// Proposal is one line-up. Where none was found there is a single proposal with
// Found false that tells in Missing what is in the way.
type Proposal struct {
	Found     bool
	Positions map[model.ID]string // of every valve
	Moved     map[model.ID]string // what a step must say: valves not in their normal position, and those at the liquid whose normal position nobody told
	Changed   int                 // valves not in their normal position
	Pumps     []model.ID          // on the way, in order
	Way       []int               // edges of one way through everything asked for, from source to destination
	Route     *network.Route

	Length   Opt[Length]   // of Way; unknown if a length on it was never entered
	AtLeast  Length        // what is known of Length
	Wet      Length        // wet beside what the whole flow passes, as far as known
	Legs     []network.Leg // dead legs of the line-up
	AtSeats  int           // of them, those that end at the shut seat of a valve: the line-up makes them, the others are there always
	Barriers []Barrier     // shut valves that the liquid stands at, in order of their id

	Cost    float64 // see the package
	Proven  bool    // no line-up costs less than this one and those before it
	Why     string  // in one sentence
	Missing string  // if not found: what is in the way
	At      model.Place
}

// Barrier is a shut valve that keeps the liquid from what lies behind.
type Barrier struct {
	Valve    model.ID
	Position string
	Double   bool         // a mix-proof valve or a bend that is taken away: a leak does not get across
	Behind   []model.ID   // vessels, terminals and objects behind it, up to the next shut seats
	Medium   model.Medium // held behind it; product first, if several
}

// Into puts a proposal into a step: its ends, positions and running pumps.
func (x *Proposal) Into(step *model.Step, ask Ask) {
	step.Source, step.Destination = ask.Source, ask.Destination
	step.Positions = make(map[model.ID]string, len(x.Moved))
	for id, at := range x.Moved {
		step.Positions[id] = at
	}
	step.Running = append([]model.ID(nil), x.Pumps...)
}
