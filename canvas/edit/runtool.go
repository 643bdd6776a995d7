package edit

import (
	"errors"
	"math"
	"slices"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// joint gives where a run would end under the pointer, and the port or run that
// it would end on; from is its other end, except a run that does not count. A
// part under the pointer takes the run with its nearest free port that fits; why
// tells that it has none.
func (e *Editor) joint(ev Event, from Joint, except model.ID) (to Joint, target *Hit, why string) {
	d := e.doc.drawing
	onPort := func(h Hit) (Joint, *Hit, string) {
		to := OnPort(h.ID, h.Port)
		return to, &h, d.Misfit(from.end(), to.end())
	}
	if h := d.HitPort(ev.At, ev.Tolerance); h.Kind != HitNothing {
		return onPort(h)
	}
	if h := d.hitHandle(ev.At, ev.Tolerance*portCatch, func(model.ID) bool { return false }); h.Kind != HitNothing && h.ID != except {
		return OnRun(h.ID, h.At), &h, ""
	}
	if h := d.HitRun(ev.At, ev.Tolerance); h.Kind != HitNothing && h.ID != except {
		h.At = e.onLine(ev, h)
		return OnRun(h.ID, h.At), &h, ""
	}
	if h := d.HitPort(ev.At, ev.Tolerance*portCatch); h.Kind != HitNothing {
		return onPort(h)
	}
	if p := d.bodyAt(ev.At); p != nil && p.RecordID() != from.Part {
		if h := d.portInBody(p, ev.At, from); h.Kind != HitNothing {
			return onPort(h)
		}
		return LooseAt(e.snapped(ev, ev.At)), nil, d.name(p) + " has no free port that fits this run"
	}
	return LooseAt(e.snapped(ev, ev.At)), nil, ""
}

// bodyAt gives the smallest part whose symbol lies under a point; frames do not
// count.
func (d *Drawing) bodyAt(at model.Point) model.Part {
	h := d.hitPart(at, 0, func(model.ID) bool { return false })
	p := d.circuit.Part(h.ID)
	if p == nil || p.Class() == model.ClassFrame {
		return nil
	}
	return p
}

// portInBody gives the free port of a part that a run dropped on it takes: of the
// service of its other end, an inlet for what comes from an outlet, the nearest.
func (d *Drawing) portInBody(p model.Part, at model.Point, from Joint) Hit {
	other, known := catalogue.Port{Role: "any"}, false
	var otherPart model.Part
	if from.Part != "" {
		otherPart, other, known = d.portOf(from.end())
	}
	best, hit := math.Inf(1), Hit{}
	for _, port := range place.Ports(p, d.kindOf(p)) {
		if !d.PortFree(p.RecordID(), port.Name) {
			continue
		}
		cost := distance(port.Place, at)
		switch {
		case known && d.misfit(otherPart, other, p, port.Port):
			continue
		case known && port.Service != other.Service, !known && port.Service != "process":
			cost += 1e4
		}
		if known && port.Role == other.Role && port.Role != "any" {
			cost += 1e3
		}
		if p.Class() == model.ClassVessel && reserved(port.Port) {
			cost += 100 // a nozzle for something else only when it is aimed at
		}
		if cost < best {
			best = cost
			hit = Hit{Kind: HitPort, ID: p.RecordID(), Port: port.Name, At: port.Place}
		}
	}
	return hit
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
		if _, target, _ := e.joint(ev, Joint{}, ""); target != nil {
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
		from, _, _ := e.joint(ev, Joint{}, "")
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
		if h.Kind == HitPort {
			o.tip(e.doc.drawing, h, "Begins a run at ")
		}
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
	why    string // the run cannot end here
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
	s.to, s.target, s.why = e.joint(ev, s.from, "")
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
	s.why = ""
	if n := len(s.bends); n > 0 {
		s.to, s.bends = LooseAt(s.bends[n-1]), s.bends[:n-1]
	}
	return s.finish(e)
}

func (s runDrawing) finish(e *Editor) state {
	d := e.doc.drawing
	edit, err := d.Connect(s.from, s.to, s.bends)
	if s.why != "" {
		err = errors.New(s.why)
	}
	if e.apply(edit, err) {
		e.message = upperFirst(d.Caution(s.from.end(), s.to.end()))
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
	if s.target != nil && s.target.Kind == HitPort {
		o.tip(e.doc.drawing, *s.target, "Ends at ")
	}
	switch caution := e.doc.drawing.Caution(s.from.end(), s.to.end()); {
	case s.why != "":
		o.Hint, o.Warn = upperFirst(s.why), true
	case caution != "":
		o.Hint, o.Warn = upperFirst(caution), true
	case o.Tip != "":
	case o.Tee:
		o.Hint = "Ends here with a tee"
	case s.drag:
		o.Hint = "Let go on a port or a run; Escape cancels"
	default:
		o.Hint = "Click sets a bend, a port or a run ends; Enter or double-click ends loose; Escape cancels"
	}
}
