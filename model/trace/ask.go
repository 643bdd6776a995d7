package trace

import (
	"rinsewright/model"
	. "rinsewright/model/quantity"
)

// Sense is the way in which one looks.
type Sense string

const (
	Downstream Sense = "downstream" // what it feeds
	Upstream   Sense = "upstream"   // what feeds it
	Both       Sense = "both"
)

// Ask says from where and how to trace.
type Ask struct {
	From  model.ID // part or run
	Sense Sense
	Steps []*model.Step // the trace follows what they send; none: every valve as it could be opened
	Past  bool          // go on through vessels and objects, to the terminals

	// Flow gives the flow through an edge of the plant in a step, m³/s, unsigned; nil or
	// not known: the step's flow where the whole of it passes.
	Flow func(step *model.Step, edge int) (Flow, bool)
}

// Stop is a part that is reached.
type Stop struct {
	Part   model.ID
	Node   int
	Sense  Sense         // Upstream or Downstream of the start
	Way    []int         // edges from the start, the shortest as far as known
	Length Opt[Length]   // of Way; unknown if one on it is
	Least  Length        // what is known of Length
	Volume Opt[Volume]   // of Way
	Time   Opt[Duration] // liquid needs for Way; unknown if a flow or a volume is, and where several steps are asked for
	End    bool          // the trace does not go on here
}

// Trace is what was found.
type Trace struct {
	Start []int  // nodes
	Edges []bool // by edge: on the trace
	Stops []Stop // every part reached, upstream first, then by length, then by id
}

// Ends lists the stops at which the trace ends.
func (t *Trace) Ends() []Stop {
	var out []Stop
	for _, s := range t.Stops {
		if s.End {
			out = append(out, s)
		}
	}
	return out
}
