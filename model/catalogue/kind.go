package catalogue

import "rinsewright/model"

// Kind describes one sort of part as data: its ports, the ways through it, its
// properties and its symbol. All lengths of the drawing are in mm.
type Kind struct {
	Name       string         `json:"kind"`  // "butterfly-valve", as in the circuit file
	Title      string         `json:"title"` // "Butterfly valve", as shown
	Class      model.Class    `json:"class"`
	Group      string         `json:"group"`            // heading in the store of parts
	Prefix     string         `json:"prefix,omitempty"` // first letters of its tags: "V", or ISA-5.1 letters for instruments
	Words      []string       `json:"words,omitempty"`  // further words by which it is found
	Help       string         `json:"help"`             // what it is for, one line
	Traits     []string       `json:"traits,omitempty"` // see the Trait constants
	Ports      []Port         `json:"ports,omitempty"`
	Inner      []Inner        `json:"inner,omitempty"`
	Paths      []Path         `json:"paths,omitempty"`
	Positions  []string       `json:"positions,omitempty"` // of a valve, first is the one it is drawn in while unknown
	Properties []PropertyInfo `json:"properties,omitempty"`
	Start      map[string]any `json:"start,omitempty"` // properties that a new part of this kind has, in file units
	Symbol     Symbol         `json:"symbol"`
}

// Traits say what a kind is to the checks.
const (
	TraitCleanable    = "cleanable"             // may stand in a cleaned line
	TraitUncleanable  = "not-cleanable"         // crevices or trapped volume: ball, plug, gate, globe
	TraitMixProof     = "mix-proof"             // two seats with a drained space between
	TraitCheck        = "check"                 // passes one way by itself
	TraitRelief       = "relief"                // opens by itself at its set pressure
	TraitVent         = "vent"                  // lets air in and out
	TraitSewer        = "sewer"                 // a drain to sewer
	TraitSupply       = "supply"                // liquid, steam or air enters here
	TraitStorage      = "storage"               // vessel of a station: source and destination of steps
	TraitCleaned      = "cleaned-vessel"        // vessel that is itself washed
	TraitSpray        = "spray"                 // brings liquid onto a vessel's wall
	TraitTurns        = "turns"                 // spray device that turns
	TraitJets         = "jets"                  // spray device whose few jets strike the wall and clean by impact
	TraitPriming      = "self-priming"          // pump that can draw air
	TraitDisplacement = "positive-displacement" // pump that lets nothing back while it stands
	TraitSteamHeated  = "steam-heated"          // exchanger with a closed steam side
	TraitReducer      = "reducer"               // joins two bores
	TraitConcentric   = "concentric"            // reducer with a common axis
	TraitTee          = "tee"                   // branches
	TraitShortOutlet  = "short-outlet"          // tee with its branch cut as short as its end allows
	TraitCap          = "cap"                   // closes an end
	TraitStrainer     = "strainer"              //
	TraitSteamTrap    = "steam-trap"            // lets condensate out and holds steam back
	TraitRegulating   = "regulating"            // does not shut tight
	TraitSample       = "sample"                // a titration sample can be taken
	TraitFlow         = "measures-flow"         //
	TraitFlowSwitch   = "proves-flow"           //
	TraitTemperature  = "measures-temperature"  //
	TraitConductivity = "measures-conductivity" //
	TraitPressure     = "measures-pressure"     //
	TraitLevel        = "measures-level"        //
	TraitLevelHigh    = "trips-level-high"      //
	TraitLevelLow     = "trips-level-low"       //
	TraitAgitator     = "agitator"              //
	TraitHatch        = "hatch"                 //
	TraitBoundary     = "boundary"              // station frame
)

var knownTraits = []string{
	TraitCleanable, TraitUncleanable, TraitMixProof, TraitCheck, TraitRelief, TraitVent,
	TraitSewer, TraitSupply, TraitStorage, TraitCleaned, TraitSpray, TraitTurns, TraitJets, TraitPriming, TraitDisplacement,
	TraitSteamHeated, TraitReducer, TraitConcentric, TraitTee, TraitShortOutlet, TraitCap,
	TraitStrainer, TraitSteamTrap, TraitRegulating, TraitSample, TraitFlow, TraitFlowSwitch,
	TraitTemperature, TraitConductivity, TraitPressure, TraitLevel, TraitLevelHigh,
	TraitLevelLow, TraitAgitator, TraitHatch, TraitBoundary,
}

// Has says whether the kind has a trait.
func (k *Kind) Has(trait string) bool {
	for _, t := range k.Traits {
		if t == trait {
			return true
		}
	}
	return false
}

// Port is a point where a run can end.
type Port struct {
	Name     string     `json:"name"`
	At       [2]float64 `json:"at"`                 // of the symbol, a multiple of 2.5 mm
	Way      string     `json:"way"`                // left, right, up, down: where a run leaves to
	Role     string     `json:"role"`               // in, out, any: which way liquid may pass
	Service  string     `json:"service"`            // process, steam, condensate, air, signal
	Required bool       `json:"required,omitempty"` // an unused one is a fault
	Size     string     `json:"size,omitempty"`     // key of the property that holds its tube size
	Height   *Height    `json:"height,omitempty"`   // above the part's elevation; absent: at it
	Title    string     `json:"title,omitempty"`    // as shown, where the name is not enough
}

// Height is Factor times a length property plus Plus (m).
type Height struct {
	Property string  `json:"property,omitempty"`
	Factor   float64 `json:"factor,omitempty"`
	Plus     float64 `json:"plus_m,omitempty"`
}

// Inner is a point inside a part that ways lead through.
type Inner struct {
	Name   string  `json:"name"`
	Role   string  `json:"role,omitempty"` // one of the Role constants; empty: a plain joint
	Height *Height `json:"height,omitempty"`
}

// Roles of inner points.
const (
	RoleVessel = "vessel" // the inside of a vessel
	RoleSeat   = "seat"   // one side of a seat: a closed end while the seat is shut
	RoleClosed = "closed" // always a closed end: an instrument's face, a cap
	RoleAir    = "air"    // open to the air: a vent, a leak outlet, the mouth of a sewer drain
	RoleTee    = "tee"    // the crossing of a tee: legs are measured from the wall of what flows
)

// Path is one way between two points of a part.
type Path struct {
	From   string   `json:"from"` // port or inner point
	To     string   `json:"to"`
	OpenIn []string `json:"open_in,omitempty"` // positions in which it is open; absent: always
	OneWay bool     `json:"one_way,omitempty"` // liquid passes from From to To only
	Length string   `json:"length,omitempty"`  // key of the length property; absent: no length of its own
	Factor float64  `json:"factor,omitempty"`  // of that property; 0 stands for 1
	Bore   string   `json:"bore,omitempty"`    // key of the property that gives its tube size or bore; absent: none of its own
	Volume string   `json:"volume,omitempty"`  // key of the property that holds what it holds, where it is no plain tube
	Branch bool     `json:"branch,omitempty"`  // its length is measured from the inner wall of the main, not from the axis
}

// PropertyInfo tells how a property of this kind is shown and what is sensible.
// Numbers are in file units.
type PropertyInfo struct {
	Key   string   `json:"key"`
	Label string   `json:"label"`
	Help  string   `json:"help"`
	Least *float64 `json:"least,omitempty"`
	Most  *float64 `json:"most,omitempty"`
}

// Symbol is the drawing of a kind about its reference point [0, 0].
type Symbol struct {
	Box  [4]float64 `json:"box"` // left, top, right, bottom
	Draw []Shape    `json:"draw"`
	Tag  [2]float64 `json:"tag"` // centre of the tag's text
}

// Shape is one figure of a symbol. Exactly one of Path, Circle and Text is set.
type Shape struct {
	Path   string      `json:"path,omitempty"`   // M x y, L x y, H x, V y, C x1 y1 x2 y2 x y, Z; absolute
	Circle *[3]float64 `json:"circle,omitempty"` // centre x, y, radius
	Text   string      `json:"text,omitempty"`   // "$letters" stands for the instrument's letters
	At     [2]float64  `json:"at,omitempty"`     // centre of Text
	Size   float64     `json:"size,omitempty"`   // height of Text
	Line   float64     `json:"line,omitempty"`   // stroke width; 0: 0.35
	Dash   bool        `json:"dash,omitempty"`
	Fill   string      `json:"fill,omitempty"` // none (default), paper, ink, medium, seat (ink while shut, paper while open)
	NoLine bool        `json:"no_line,omitempty"`
	When   []string    `json:"when,omitempty"` // drawn in these positions only

	Actuated []model.Actuation `json:"actuated,omitempty"` // drawn on a valve moved in one of these ways only
	Fails    []model.FailsTo   `json:"fails,omitempty"`    // drawn on a valve that fails to one of these only
}
