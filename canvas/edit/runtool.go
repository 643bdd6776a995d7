package edit

import (
	"slices"

	"rinsewright/model"
)

// joint gives where a run would end under the pointer, and the port or run that
// it would end on; except is a run that does not count.
func (e *Editor) joint(ev Event, except model.ID) (Joint, *Hit) {
	d := e.doc.drawing
	if h := d.HitPort(ev.At, ev.Tolerance); h.Kind != HitNothing {
		return OnPort(h.ID, h.Port), &h
	}
	if h := d.hitHandle(ev.At, ev.Tolerance, func(model.ID) bool { return false }); h.Kind != HitNothing && h.ID != except {
		return OnRun(h.ID, h.At), &h
	}
	if h := d.HitRun(ev.At, ev.Tolerance); h.Kind != HitNothing && h.ID != except {
		h.At = e.onLine(ev, h)
		return OnRun(h.ID, h.At), &h
	}
	return LooseAt(e.snapped(ev, ev.At)), nil
}

// onLine takes a place on a run to the grid along the run.
func (e *Editor) onLine(ev Event, h Hit) model.Point {
	line := e.doc.drawing.Line(e.doc.Circuit().Run(h.ID))
	return spotOn(line, e.snapped(ev, h.At)).at
}

// runIdle is the run tool at rest.
type runIdle struct{}

func (runIdle) path() string { return "run.idle" }

func (s runIdle) handle(e *Editor, ev Event) state {
	switch ev.Kind {
	case Move:
		e.hover = Hit{}
		if _, target := e.joint(ev, ""); target != nil {
			e.hover = *target
		}
	case Leave:
		e.hover = Hit{}
	case Press:
		if ev.Button == Middle {
			return panDragging{from: ev.At, back: s}
		}
		if ev.Button == Secondary {
			return selectIdle{}
		}
		from, _ := e.joint(ev, "")
		return runDrawing{from: from, start: ev.At, drag: true, back: s}.handle(e, Event{Kind: Move, At: ev.At, Tolerance: ev.Tolerance})
	case Key:
		if ev.Key == KeyEscape {
			return selectIdle{}
		}
		e.key(ev)
	}
	return s
}

func (runIdle) overlay(e *Editor, o *Overlay) {
	o.Cursor, o.Hint = CursorCross, "Click a port, a run or a free place to begin a run"
	if e.hover.Kind != HitNothing {
		h := e.hover
		o.Target, o.Tee = &h, h.Kind == HitRun
	}
}

// runDrawing draws a run. With the button held (run.dragging) letting go ends
// it; else (run.routing) clicks set bends until one ends it.
type runDrawing struct {
	from   Joint
	start  model.Point // of the press that began it
	bends  []model.Point
	drag   bool // the button of the first press is held
	to     Joint
	target *Hit
	line   []model.Point
	back   state
}

func (s runDrawing) path() string {
	if s.drag {
		return "run.dragging"
	}
	return "run.routing"
}

func (s runDrawing) handle(e *Editor, ev Event) state {
	switch ev.Kind {
	case Move:
		return s.follow(e, ev)
	case Press:
		if ev.Button == Middle {
			return panDragging{from: ev.At, back: s}
		}
		if ev.Button == Secondary {
			return s.cancel(e)
		}
		return s.press(e, ev)
	case Release:
		if s.drag {
			return s.release(e, ev)
		}
	case DoubleClick:
		if !s.drag {
			return s.endLoose(e)
		}
	case Cancel:
		return s.cancel(e)
	case Key:
		switch ev.Key {
		case KeyEscape:
			return s.cancel(e)
		case KeyEnter:
			return s.endLoose(e)
		case KeyBackspace:
			if n := len(s.bends); n > 0 {
				s.bends = slices.Clone(s.bends[:n-1])
				return s.redrawn(e)
			}
		}
	}
	return s
}

func (s runDrawing) follow(e *Editor, ev Event) state {
	s.to, s.target = e.joint(ev, "")
	if s.target != nil && s.to == s.from {
		s.target = nil
	}
	return s.redrawn(e)
}

// redrawn finds the line that the run would have.
func (s runDrawing) redrawn(e *Editor) runDrawing {
	d := e.doc.drawing
	r := &model.Run{From: s.from.end(), To: s.to.end(), Bends: s.bends}
	s.line = d.Line(r)
	return s
}

// press sets a bend, or ends the run on what is under the pointer.
func (s runDrawing) press(e *Editor, ev Event) state {
	s = s.follow(e, ev).(runDrawing)
	if s.target != nil {
		return s.finish(e)
	}
	if n := len(s.bends); n > 0 && samePlace(s.bends[n-1], s.to.At) || samePlace(s.to.At, s.from.At) && s.from.Part == "" {
		return s // the second press of a double click
	}
	s.bends = append(slices.Clone(s.bends), s.to.At)
	return s.redrawn(e)
}

// release ends a run that was dragged, or goes on with clicks if it was not.
func (s runDrawing) release(e *Editor, ev Event) state {
	s = s.follow(e, ev).(runDrawing)
	if distance(ev.At, s.start) <= ev.Tolerance {
		s.drag = false
		return s
	}
	return s.finish(e)
}

// endLoose ends the run loose at its last bend, or at the pointer.
func (s runDrawing) endLoose(e *Editor) state {
	if n := len(s.bends); n > 0 {
		s.to, s.bends = LooseAt(s.bends[n-1]), s.bends[:n-1]
	}
	return s.finish(e)
}

func (s runDrawing) finish(e *Editor) state {
	edit, err := e.doc.drawing.Connect(s.from, s.to, s.bends)
	if e.apply(edit, err) {
		var runs []model.ID
		for _, c := range edit.Changes {
			if r, ok := c.After.(*model.Run); ok && c.Before == nil {
				runs = append(runs, r.ID)
				break // the new run comes before the pieces of split ones
			}
		}
		e.doc.Select(runs...)
	}
	e.hover = Hit{}
	return s.back
}

func (s runDrawing) cancel(e *Editor) state {
	e.setPreview(model.Edit{})
	return s.back
}

func (s runDrawing) overlay(e *Editor, o *Overlay) {
	o.Hover, o.Line, o.Target, o.Cursor = Hit{}, s.line, s.target, CursorCross
	o.Handles = nil
	o.Tee = s.target != nil && s.target.Kind == HitRun
	switch {
	case o.Tee:
		o.Hint = "Ends here with a tee"
	case s.drag:
		o.Hint = "Let go on a port or a run; Escape cancels"
	default:
		o.Hint = "Click sets a bend, a port or a run ends; Enter or double-click ends loose; Escape cancels"
	}
}
