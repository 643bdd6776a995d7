package edit

import (
	"errors"
	"slices"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

// selectIdle is the select tool at rest.
type selectIdle struct{}

func (selectIdle) path() string { return "select.idle" }

func (s selectIdle) handle(e *Editor, ev Event) state {
	switch ev.Kind {
	case Move:
		e.hover = e.hit(ev)
		e.port = e.doc.drawing.portUnder(ev.At, ev.Tolerance, e.doc.drawing.PortAt)
		if e.hover.Kind == HitPort {
			e.port = e.hover
		}
	case Leave:
		e.hover, e.port = Hit{}, Hit{}
	case Press:
		return s.press(e, ev)
	case DoubleClick:
		s.open(e, ev)
	case Key:
		e.key(ev)
	}
	return s
}

func (s selectIdle) press(e *Editor, ev Event) state {
	h := e.hit(ev)
	e.hover = h
	switch ev.Button {
	case Middle:
		return panDragging{from: ev.At, back: s}
	case Secondary:
		if h.Kind == HitNothing {
			e.doc.Select()
		} else if !e.doc.Selected(h.ID) {
			e.doc.Select(h.ID)
		}
		if e.OnMenu != nil {
			e.OnMenu(h)
		}
		return s
	}
	next := selectPointing{start: ev, hit: h}
	if l, ok := e.labelUnder(h, ev); ok {
		next.label = &l
		if !ev.Modifiers.Extend() {
			e.doc.Select(l.ID)
		}
		return next
	}
	if h.Kind != HitNothing && !ev.Modifiers.Extend() && !e.doc.Selected(h.ID) {
		// What is grabbed shows at once; a selected thing may be one of several to
		// be moved together.
		e.doc.Select(h.ID)
		next.fresh = true
	}
	return next
}

func (selectIdle) open(e *Editor, ev Event) {
	d := e.doc.drawing
	switch h := e.hit(ev); {
	case h.Kind == HitHandle && h.Handle >= 0:
		e.apply(d.RemoveBend(h.ID, h.Handle))
	case h.Kind == HitRun:
		e.apply(d.AddBend(h.ID, e.snapped(ev, h.At)))
	case h.Kind == HitNothing:
	case e.OnOpen != nil:
		e.OnOpen(h.ID)
	}
}

func (selectIdle) overlay(e *Editor, o *Overlay) {
	switch e.hover.Kind {
	case HitNothing:
		o.Hint = "Drag a band to select; drag from a port to draw a run"
	case HitPort:
		o.Cursor, o.Hint = CursorCross, "Drag to draw a run from here"
	case HitHandle:
		o.Cursor, o.Hint = CursorPoint, "Drag to move; double-click a bend to remove it"
	case HitPart:
		o.Cursor, o.Hint = CursorPoint, "Drag to move; double-click for its properties"
	case HitRun:
		o.Cursor, o.Hint = CursorPoint, "Drag the piece aside; double-click to bend"
	}
	if _, ok := e.labelUnder(e.hover, e.pointer); ok {
		o.Hover, o.Cursor, o.Hint = Hit{}, CursorPoint, "Drag the label to where it should stand"
	}
	if d := e.doc.drawing; e.port.Kind == HitPort && d.circuit.Part(e.port.ID) != nil {
		does := o.Hint
		o.tip(d, e.port, "")
		if does != "" {
			o.Hint += ". " + does
		}
	}
}

// selectPointing has the button down on something, or on nothing, and has not
// moved yet.
type selectPointing struct {
	start Event
	hit   Hit
	fresh bool        // selected by this press
	label *LabelPlace // grabbed; nil: none
}

func (selectPointing) path() string { return "select.pointing" }

func (s selectPointing) handle(e *Editor, ev Event) state {
	switch ev.Kind {
	case Move:
		if distance(ev.At, s.start.At) > max(ev.Tolerance, s.start.Tolerance) {
			return s.drag(e, ev)
		}
	case Release:
		s.click(e)
		return selectIdle{}
	case Cancel:
		return selectIdle{}
	}
	return s
}

func (s selectPointing) drag(e *Editor, ev Event) state {
	if s.label != nil {
		return selectLabel{start: s.start.At, label: *s.label}.handle(e, ev)
	}
	switch s.hit.Kind {
	case HitNothing:
		return selectBand{from: s.start.At, before: slices.Clone(e.doc.selection)}.handle(e, ev)
	case HitPort:
		return runDrawing{from: OnPort(s.hit.ID, s.hit.Port), start: s.start.At, drag: true, back: selectIdle{}}.handle(e, ev)
	case HitHandle, HitRun:
		if s.hit.Kind == HitRun && len(e.doc.selection) > 1 && e.doc.Selected(s.hit.ID) {
			break // one of several: they move together
		}
		return selectBend{start: s.start, hit: s.hit}.handle(e, ev)
	}
	if !e.doc.Selected(s.hit.ID) {
		e.doc.AddToSelection(s.hit.ID)
	}
	ids := slices.Clone(e.doc.selection)
	return selectMoving{start: s.start.At, anchor: e.anchor(s.hit), ids: ids, all: e.doc.drawing.WithMounted(ids)}.handle(e, ev)
}

// anchor gives the place that is kept on the grid in a move.
func (e *Editor) anchor(h Hit) model.Point {
	if p := e.doc.Circuit().Part(h.ID); p != nil {
		return p.Meta().At
	}
	for _, id := range e.doc.selection {
		if p := e.doc.Circuit().Part(id); p != nil {
			return p.Meta().At
		}
	}
	return h.At
}

func (s selectPointing) click(e *Editor) {
	extend := s.start.Modifiers.Extend()
	switch {
	case s.label != nil && extend:
		e.doc.Toggle(s.label.ID)
	case s.label != nil: // selected by the press
	case s.hit.Kind == HitNothing && !extend:
		e.doc.Select()
	case s.hit.Kind == HitNothing:
	case extend:
		e.doc.Toggle(s.hit.ID)
	case !s.fresh:
		e.doc.Select(s.hit.ID)
	}
}

func (s selectPointing) overlay(e *Editor, o *Overlay) {
	selectIdle{}.overlay(e, o)
}

// selectMoving moves what is selected. The edit is made anew from where it began
// at every move, so that nothing adds up.
type selectMoving struct {
	start  model.Point
	anchor model.Point
	ids    []model.ID
	all    []model.ID // with what is mounted on them
	guides []Guide
	onto   *Hit // port that a moved part would be joined to
}

func (selectMoving) path() string { return "select.moving" }

func (s selectMoving) handle(e *Editor, ev Event) state {
	switch ev.Kind {
	case Move, Release:
		by := s.by(e, ev)
		edit := e.doc.drawing.MoveOnto(s.ids, by)
		if ev.Kind == Release {
			e.apply(edit, nil)
			return selectIdle{}
		}
		e.setPreview(edit)
		s.guides = e.doc.drawing.guides(s.all, by)
		s.onto = e.doc.drawing.joinedAfter(s.all, by)
	case Cancel:
		e.setPreview(model.Edit{})
		return selectIdle{}
	}
	return s
}

// by gives how far to move: so that a free port comes onto one that faces it, if
// one is near, or else so that the anchor comes onto the grid.
func (s selectMoving) by(e *Editor, ev Event) model.Point {
	raw := ev.At.Sub(s.start)
	if !ev.Modifiers.Alt {
		if further, ok := e.doc.drawing.snapOnto(e.doc.drawing.displaced(s.all, raw), ev.Tolerance); ok {
			return raw.Add(further)
		}
	}
	return e.snapped(ev, s.anchor.Add(raw)).Sub(s.anchor)
}

func (s selectMoving) overlay(e *Editor, o *Overlay) {
	o.Hover, o.Handles, o.Guides, o.Cursor = Hit{}, nil, s.guides, CursorPoint
	o.Hint = "Let go to move; Alt leaves the grid; Escape cancels"
	if s.onto != nil {
		o.Target = s.onto
		o.tip(e.doc.drawing, *s.onto, "Let go to join it to ")
	}
}

// selectBend pulls a bend, an end or a piece of a run.
type selectBend struct {
	start  Event
	hit    Hit
	target *Hit
	why    string
}

func (selectBend) path() string { return "select.bend" }

func (s selectBend) handle(e *Editor, ev Event) state {
	switch ev.Kind {
	case Move, Release:
		edit, target, err := s.edit(e, ev)
		if ev.Kind == Release {
			e.apply(edit, err)
			return selectIdle{}
		}
		e.try(edit, err)
		s.target, s.why = target, e.message
	case Cancel:
		e.setPreview(model.Edit{})
		return selectIdle{}
	}
	return s
}

func (s selectBend) edit(e *Editor, ev Event) (edit model.Edit, target *Hit, err error) {
	d := e.doc.drawing
	switch {
	case s.hit.Kind == HitRun:
		line := d.Line(d.circuit.Run(s.hit.ID))
		from := line[s.hit.Piece]
		to := e.snapped(ev, from.Add(ev.At.Sub(s.start.At)))
		edit, err = d.SlidePiece(s.hit.ID, s.hit.Piece, to.Sub(from))
		return edit, nil, err
	case s.hit.Handle >= 0:
		edit, err = d.MoveBend(s.hit.ID, s.hit.Handle, e.snapped(ev, s.hit.At.Add(ev.At.Sub(s.start.At))))
		return edit, nil, err
	}
	if distance(ev.At, s.hit.At) <= ev.Tolerance {
		return edit, nil, nil // it is where it was
	}
	r := d.circuit.Run(s.hit.ID)
	other := r.From
	if s.hit.Handle == FromHandle {
		other = r.To
	}
	joint, target, why := e.joint(ev, Joint{Part: other.Part, Port: other.Port}, s.hit.ID)
	if why != "" {
		return edit, target, errors.New(why)
	}
	edit, err = d.Reconnect(s.hit.ID, s.hit.Handle == FromHandle, joint)
	return edit, target, err
}

func (s selectBend) overlay(e *Editor, o *Overlay) {
	o.Hover, o.Handles, o.Target, o.Cursor = Hit{}, nil, s.target, CursorPoint
	o.Tee = s.target != nil && s.target.Kind == HitRun
	o.Hint = "Let go to move; Escape cancels"
	if s.target != nil && s.target.Kind == HitPort {
		o.tip(e.doc.drawing, *s.target, "Ends at ")
	}
	if s.why != "" {
		o.Hint, o.Warn = upperFirst(s.why), true
	}
}

// selectBand draws a band and selects what lies wholly in it.
type selectBand struct {
	from, to model.Point
	before   []model.ID
}

func (selectBand) path() string { return "select.band" }

func (s selectBand) handle(e *Editor, ev Event) state {
	switch ev.Kind {
	case Move, Release:
		s.to = ev.At
		in := e.doc.drawing.Within(s.rect())
		switch {
		case ev.Modifiers.Ctrl:
			e.doc.Select(exchanged(s.before, in)...)
		case ev.Modifiers.Shift:
			e.doc.Select(append(slices.Clone(s.before), in...)...)
		default:
			e.doc.Select(in...)
		}
		if ev.Kind == Release {
			return selectIdle{}
		}
	case Cancel:
		e.doc.Select(s.before...)
		return selectIdle{}
	}
	return s
}

// exchanged gives a without what is in b, and what of b is not in a.
func exchanged(a, b []model.ID) []model.ID {
	in := func(list []model.ID) map[model.ID]bool {
		set := make(map[model.ID]bool, len(list))
		for _, id := range list {
			set[id] = true
		}
		return set
	}
	inA, inB := in(a), in(b)
	var out []model.ID
	for _, id := range a {
		if !inB[id] {
			out = append(out, id)
		}
	}
	for _, id := range b {
		if !inA[id] {
			out = append(out, id)
		}
	}
	return out
}

func (s selectBand) rect() place.Rect { return place.Spanned(s.from, s.to) }

func (s selectBand) overlay(e *Editor, o *Overlay) {
	r := s.rect()
	o.Hover, o.Band, o.Cursor = Hit{}, &r, CursorCross
	o.Hint = "Selects what lies wholly in the band; Shift adds, Ctrl exchanges"
}
