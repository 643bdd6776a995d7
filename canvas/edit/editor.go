package edit

import (
	"rinsewright/canvas/place"
	"rinsewright/model"
)

// Editor runs the tools over a document. The window hands it every event of the
// drawing and paints what it says: the circuit with the preview in it, and an
// overlay.
type Editor struct {
	doc   *Document
	state state
	busy  bool // applying its own edit

	preview        model.Edit
	previewCircuit *model.Circuit
	hover          Hit
	port           Hit // port under the pointer, free or not
	pointer        Event
	message        string

	// SnapToGrid places what is moved or drawn on the grid of [Grid] mm. Alt held
	// turns it off for the moment.
	SnapToGrid bool

	// OnPan, if set, is called while the drawing is pulled: it should move the
	// view so that what lies at the point from comes to the point to.
	OnPan func(from, to model.Point)
	// OnOpen, if set, is called when a part or a run is double-clicked.
	OnOpen func(model.ID)
	// Labels, if set, gives the tag or label that stands at a point, so that it
	// can be taken by hand.
	Labels func(model.Point) (LabelPlace, bool)
	// OnMenu, if set, is called when a menu is asked for over an element, which
	// is then selected, or over nothing.
	OnMenu func(Hit)
}

// state is one state of a tool. A handler gets an event and gives the next
// state.
type state interface {
	path() string
	handle(*Editor, Event) state
	overlay(*Editor, *Overlay)
}

// Redraw is what must be painted anew after an event.
type Redraw int

const (
	RedrawNothing Redraw = iota
	RedrawOverlay        // the overlay only
	RedrawAll            // the circuit, or the preview in it, has changed
)

// Overlay is what is drawn over the circuit.
type Overlay struct {
	Hover   Hit           // what the pointer is over
	Band    *place.Rect   // band that is being drawn
	Line    []model.Point // run that is being drawn
	Target  *Hit          // port or run that the run would end on
	Tee     bool          // a tee would be put at Target
	Handles []Handle      // of the selected runs
	Guides  []Guide       // ports that are in line with a moved one
	Cursor  Cursor
	Hint    string // what can be done now, one line
	Warn    bool   // Hint tells of something that is wrong
	Tip     string // what the port under the pointer is called
	TipAt   model.Point
}

// tip names a port beside it and in the hint.
func (o *Overlay) tip(d *Drawing, h Hit, before string) {
	o.Tip, o.TipAt = d.PortName(h.ID, h.Port), h.At
	o.Hint = before + d.TellPort(h.ID, h.Port)
}

// Guide is a thin line from one port to another that lies in line with it.
type Guide struct{ From, To model.Point }

// Cursor is the form of the pointer.
type Cursor int

const (
	CursorArrow Cursor = iota
	CursorPoint        // over what can be taken
	CursorCross        // drawing or placing
	CursorGrab         // pulling the drawing
)

// NewEditor runs the tools over a document, the select tool first.
func NewEditor(doc *Document) *Editor {
	e := &Editor{doc: doc, state: selectIdle{}, SnapToGrid: true}
	doc.Listen(func(n Notice) {
		if n.Circuit && !e.busy {
			e.Cancel()
			e.hover, e.port = Hit{}, Hit{}
		}
	})
	return e
}

// Document gives the document.
func (e *Editor) Document() *Document { return e.doc }

// State gives the path name of the state: "select.moving".
func (e *Editor) State() string { return e.state.path() }

// Busy says whether a gesture is under way. Commands should wait until it is
// not; an edit from elsewhere ends it without effect.
func (e *Editor) Busy() bool {
	switch e.state.(type) {
	case selectIdle, placeIdle, runIdle, panIdle:
		return false
	}
	return true
}

// Circuit gives the circuit as it should be drawn: with the preview of the
// gesture that is under way.
func (e *Editor) Circuit() *model.Circuit {
	if len(e.preview.Changes) == 0 {
		return e.doc.Circuit()
	}
	if e.previewCircuit == nil {
		c, err := e.doc.Circuit().Apply(e.preview)
		if err != nil {
			return e.doc.Circuit()
		}
		e.previewCircuit = c
	}
	return e.previewCircuit
}

// Preview gives the edit that the gesture under way would make if it ended now;
// it has no changes if there is none.
func (e *Editor) Preview() model.Edit { return e.preview }

// mostHandled is how many of the selected show handles.
const mostHandled = 100

// Overlay gives what is to be drawn over the circuit.
func (e *Editor) Overlay() Overlay {
	o := Overlay{Hover: e.hover}
	d := e.doc.drawing
	for _, id := range e.doc.selection[:min(len(e.doc.selection), mostHandled)] {
		if r := d.circuit.Run(id); r != nil {
			o.Handles = append(o.Handles, d.Handles(r)...)
		}
	}
	e.state.overlay(e, &o)
	return o
}

// Message gives why the last gesture had no effect; empty if it had or there was
// none.
func (e *Editor) Message() string { return e.message }

// Handle takes one event in.
func (e *Editor) Handle(ev Event) Redraw {
	before := e.Circuit()
	if ev.Kind == Press || ev.Kind == Key {
		e.message = ""
	}
	if ev.Kind != Leave {
		e.pointer = ev
	}
	if ev.Kind == Key && ev.Key == KeyEscape && e.Busy() {
		ev.Kind = Cancel // a gesture has one way to end without effect
	}
	e.state = e.state.handle(e, ev)
	if e.Circuit() != before {
		return RedrawAll
	}
	return RedrawOverlay
}

// Cancel ends the gesture that is under way without effect.
func (e *Editor) Cancel() {
	e.setPreview(model.Edit{})
	for range 2 {
		if e.Busy() {
			e.state = e.state.handle(e, Event{Kind: Cancel})
		}
	}
}

// UseSelect takes up the select tool.
func (e *Editor) UseSelect() { e.use(selectIdle{}) }

// UseRun takes up the run tool.
func (e *Editor) UseRun() { e.use(runIdle{}) }

// UsePan takes up the tool that pulls the drawing.
func (e *Editor) UsePan() { e.use(panIdle{}) }

// UsePlace takes up the place tool with a kind: the next click places one.
func (e *Editor) UsePlace(kind string) { e.use(placeIdle{ghost: ghost{kind: kind}}) }

// DragPlace takes up the place tool for a kind that is being dragged in from
// outside: Move shows it, Release drops it, Leave or Cancel drops nothing.
func (e *Editor) DragPlace(kind string) { e.use(placeDragging{ghost: ghost{kind: kind}, drag: true}) }

func (e *Editor) use(s state) {
	e.Cancel()
	e.hover, e.port, e.message = Hit{}, Hit{}, ""
	e.state = s
}

func (e *Editor) setPreview(p model.Edit) {
	if len(p.Changes) == 0 && len(e.preview.Changes) == 0 {
		return
	}
	e.preview, e.previewCircuit = p, nil
}

// try shows the preview of an edit that may be impossible; then there is none.
func (e *Editor) try(edit model.Edit, err error) {
	e.message = ""
	if err != nil {
		e.message = err.Error()
		edit = model.Edit{}
	}
	e.setPreview(edit)
}

// apply makes an edit of a gesture and says whether it could be made.
func (e *Editor) apply(edit model.Edit, err error) bool {
	e.setPreview(model.Edit{})
	if err == nil {
		e.busy = true
		err = e.doc.Apply(edit)
		e.busy = false
	}
	if err != nil {
		e.message = upperFirst(err.Error())
		return false
	}
	e.message = ""
	return true
}

// snapped takes a point to the grid if that is wanted.
func (e *Editor) snapped(ev Event, p model.Point) model.Point {
	if e.SnapToGrid != ev.Modifiers.Alt {
		return Snapped(p)
	}
	return p
}

func (e *Editor) hit(ev Event) Hit { return e.doc.drawing.Hit(ev.At, ev.Tolerance, e.doc.Selected) }
