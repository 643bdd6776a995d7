package draw

import (
	"rinsewright/canvas/route"
	"rinsewright/model"
)

// Options say in what state a circuit is drawn. The zero Options draw it as it
// stands while no step runs.
type Options struct {
	Positions map[model.ID]string       // of valves; absent: the valve's normal position, else its kind's first
	Media     map[model.ID]model.Medium // in runs and parts; absent: what the record itself says
	Flow      map[model.ID]Flow         // in runs; nil: no step is shown. With a step, an absent run is dry
	Levels    map[model.ID]float64      // of vessels, as a share of the inside height, 0 to 1; absent: not known, drawn about half full

	Pieces   map[model.ID][]Piece // of runs, in order and without overlap, in place of one style for the whole run; between them a run is dry
	Outlines map[model.ID]Style   // of lines about parts
	Inks     map[model.ID]Role    // of the lines of parts; absent: as usual

	Values map[model.ID]string // beside runs: "1.7 m/s"; said once where runs that follow one another have the same

	Heights map[model.ID]string // beside parts: "+1.20 m"

	HideTags    bool
	HideLabels  bool // sizes, media and values of runs
	HideSizes   bool // of runs, with their tags
	HideMedia   bool // letters of media beside runs
	HideLetters bool // of instruments, with their loop numbers
	HideArrows  bool

	Routes *route.Cache // keeps the lines of runs between pictures; nil: worked out anew
}

// Flow is what liquid does in a run.
type Flow int8

const (
	Dry       Flow = iota // nothing in it
	Still                 // wet, not flowing: drawn thin and dashed
	Forward               // from From to To
	Backward              // from To to From
	Undecided             // flows, but which way is not known or it is both: no arrow
)
