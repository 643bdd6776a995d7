package edit

import "rinsewright/model"

// panIdle is the pan tool at rest.
type panIdle struct{}

func (panIdle) path() string { return "pan.idle" }

func (s panIdle) handle(e *Editor, ev Event) state {
	switch ev.Kind {
	case Press:
		return panDragging{from: ev.At, back: s}
	case Key:
		if ev.Key == KeyEscape {
			return selectIdle{}
		}
	}
	return s
}

func (panIdle) overlay(e *Editor, o *Overlay) {
	o.Hover, o.Cursor, o.Hint = Hit{}, CursorGrab, "Drag the drawing; Escape leaves"
}

// panDragging pulls the drawing until the button is let go, then goes back.
type panDragging struct {
	from model.Point
	back state
}

func (panDragging) path() string { return "pan.dragging" }

func (s panDragging) handle(e *Editor, ev Event) state {
	switch ev.Kind {
	case Move:
		if e.OnPan != nil && ev.At != s.from {
			// The view follows, so that from is under the pointer again.
			e.OnPan(s.from, ev.At)
		}
	case Release, Cancel:
		return s.back
	}
	return s
}

func (panDragging) overlay(e *Editor, o *Overlay) { o.Hover, o.Cursor = Hit{}, CursorGrab }
