package isolation

import (
	"rinsewright/model"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// Plan is one way to isolate the work. Where there is none a single plan with
// Found false says why.
type Plan struct {
	Found bool
	Why   string      // if not found
	At    model.Place // if not found: where to look, a run on which a valve is missing
	Way   []int       // if not found: edges of a way without a barrier, from the work to a source

	Cost     int64
	Barriers []Barrier  // what is shut, in the order in which it is to be done: the most dangerous medium first
	Second   []Barrier  // further shut valves, behind those where two are wanted
	Empty    []model.ID // what no valve shuts off: vessels and objects must be empty, a condensate line be shut beyond the drawing
	Sources  []Source   // all that the work is kept from, in order of id
	Drives   []Drive    // in order of id
	Unmet    []Unmet    // where the policy wants two barriers and a bleed and there are none

	Borders  []model.ID        // vessels with an open inlet into the zone, that let nothing out by it: their vapour reaches the work
	Zone     []bool            // by edge: inside the barriers
	Nodes    []bool            // by node: likewise
	Inside   []model.ID        // parts wholly or partly inside, in order of id
	Held     Volume            // what the zone holds when full, as far as known
	Unknown  []network.Missing // volumes that nobody told
	Contents []Content         // what may be in it, by the steps that reach it; the hottest first
	Drains   []model.ID        // parts with an outlet inside through which it runs empty
	Vents    []model.ID        // parts through which air gets in
	Open     []Opening         // valves to be opened so that it drains and vents, in order of id
	Stays    []network.Pool    // liquid that stays behind all the same
	Proofs   []Proof           // where zero can be proved, in order of id

	Blocked []Blocked         // steps that cannot run meanwhile
	Against []model.ID        // steps that can run but press on a barrier
	Order   []Action          // what is done, in order
	Back    []Action          // how it is put back
	Missing []network.Missing // what nobody told that the plan would have wanted to know
}

// Barrier is a valve that is shut.
type Barrier struct {
	Valve    model.ID
	Position string
	Edges    []int          // of the plant that it shuts between the work and a source
	Outside  []int          // nodes of its far side
	Double   bool           // holds twice with a drained space between: mix-proof, or a bend that is taken away
	Lockable Opt[bool]      // as told
	ByHand   bool           // told to be moved by hand
	Holds    []model.Medium // off, the most dangerous first; empty where nobody told
	Pinned   bool           // asked for, though the cut does not need it
}

// Source is something that could put liquid, pressure, heat or gas into the work.
type Source struct {
	Part   model.ID
	Medium model.Medium // empty where nobody told
	Forms  []Form
}

// Form is a form of energy.
type Form string

const (
	FormLiquid   Form = "liquid"
	FormPressure Form = "pressure"
	FormHeat     Form = "heat"
	FormGas      Form = "gas"
)

// Drive is a machine that is stopped and locked off.
type Drive struct {
	Part   model.ID
	Inside bool // within the barriers; else it pushes against one of them
}

// Unmet is a barrier behind which a second one, or the bleed between the two, is
// missing.
type Unmet struct {
	Valve  model.ID
	Medium model.Medium
	Why    string
}

// Content is what a step may have left inside.
type Content struct {
	Step        model.ID
	Medium      model.Medium // empty where nobody told
	Strength    Opt[Strength]
	Temperature Opt[Temperature]
	Volume      Volume // of the edges that the step wets, as far as known
}

// Opening is a valve that is opened inside.
type Opening struct {
	Valve    model.ID
	Position string
}

// Proof is a part at which it is shown that nothing is left.
type Proof struct {
	Part model.ID
	Of   string // "pressure", "temperature", "level", "open drain", "no start"
}

// Blocked is a step that cannot run, and why.
type Blocked struct {
	Step model.ID
	Why  string
	Part model.ID // that stands in its way
}

// Deed is what an action is.
type Deed string

const (
	Stop    Deed = "stop"
	LockOff Deed = "lock off"
	Shut    Deed = "shut"
	Lock    Deed = "lock"
	Take    Deed = "take away"
	Relieve Deed = "relieve"
	Drain   Deed = "drain"
	Flush   Deed = "flush"
	Cool    Deed = "cool"
	Prove   Deed = "prove"
	Unlock  Deed = "unlock"
	Close   Deed = "close"
	Restore Deed = "put back"
)

// Action is one thing to do.
type Action struct {
	Deed     Deed
	Part     model.ID // empty: of the whole
	Position string   // of a valve
	Text     Words
	Caution  Words // said beside it; empty: none
}
