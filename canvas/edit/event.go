package edit

import "rinsewright/model"

// EventKind is what the hand does.
type EventKind int

const (
	Press EventKind = iota
	Move
	Release
	DoubleClick // after the release of the second press
	Cancel      // the gesture ends without effect
	Leave       // the pointer leaves the drawing
	Key
)

// Button is a button of the pointer.
type Button int

const (
	Primary Button = iota
	Secondary
	Middle
)

// Modifiers are the keys held meanwhile.
type Modifiers struct{ Shift, Ctrl, Alt bool }

// Extend says whether a selection is to be added to or taken from.
func (m Modifiers) Extend() bool { return m.Shift || m.Ctrl }

// Keys that the tools and the drawing know, as values of Event.Key. Other keys
// are left to the window.
const (
	KeyEscape    = "escape"
	KeyEnter     = "enter"
	KeyDelete    = "delete"
	KeyBackspace = "backspace"
	KeyLeft      = "left"
	KeyRight     = "right"
	KeyUp        = "up"
	KeyDown      = "down"
	KeyTab       = "tab"
	KeyTurn      = "r"
	KeyMirror    = "m"
)

// Event is one thing that the hand does, at a place of the drawing.
type Event struct {
	Kind      EventKind
	At        model.Point // mm of the drawing; of the pointer also for a key
	Button    Button      // of Press and Release
	Modifiers Modifiers
	Key       string
	Tolerance float64 // mm that stand for a few pixels of the screen; more than 0
}
