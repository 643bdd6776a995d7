package edit

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/group"
)

// ghost is a part, or a group of parts, that is about to be placed.
type ghost struct {
	kind     string
	group    *group.Group // nil: a part of the kind
	turn     model.Turn
	mirrored bool
}

// edit gives the edit that places the ghost under the pointer: in the run there
// if it can stand in one, else free.
func (g ghost) edit(e *Editor, ev Event) (model.Edit, *Hit, error) {
	d := e.doc.drawing
	if g.group != nil {
		return d.placeGroup(g.group, d.snapGroup(e, ev, g.group)), nil, nil
	}
	k := d.cat.Kind(g.kind)
	pose := Pose{At: e.snapped(ev, ev.At), Turn: g.turn, Mirrored: g.mirrored}
	if m, ok := g.mounting(e, ev, k); ok {
		edit, err := d.Place(g.kind, m.pose)
		return edit, &Hit{Kind: HitPort, ID: m.vessel, Port: m.nozzle.Name, At: m.nozzle.Place}, err
	}
	if onto, ok := g.onto(e, ev, k); ok {
		pose.At = onto
	} else if FitsRun(k) {
		if h := d.HitRun(ev.At, ev.Tolerance); h.Kind != HitNothing {
			h.At = e.onLine(ev, h)
			pose.At = h.At
			edit, err := d.PlaceOnRun(g.kind, h.ID, pose)
			return edit, &h, err
		}
	}
	edit, err := d.Place(g.kind, pose)
	return edit, nil, err
}

// mounting gives the nozzle that the ghost takes of the vessel under the pointer.
// Beside the vessel a run that it can stand on comes first.
func (g ghost) mounting(e *Editor, ev Event, k *catalogue.Kind) (mounting, bool) {
	d := e.doc.drawing
	if ev.Modifiers.Alt {
		return mounting{}, false
	}
	m, ok := d.mountOn(k, ev.At, Pose{Turn: g.turn, Mirrored: g.mirrored}, ev.Tolerance)
	if ok && FitsRun(k) && d.HitRun(ev.At, ev.Tolerance).Kind != HitNothing && !d.Box(d.circuit.Part(m.vessel)).Contains(ev.At) {
		return m, false
	}
	return m, ok
}

// onto gives where the ghost must lie so that a port of it meets a free port or
// a loose end near by.
func (g ghost) onto(e *Editor, ev Event, k *catalogue.Kind) (model.Point, bool) {
	if k == nil || ev.Modifiers.Alt {
		return model.Point{}, false
	}
	p := model.NewPart(k.Class)
	m := p.Meta()
	m.ID, m.Kind, m.At, m.Turn, m.Mirrored = ghostID, k.Name, ev.At, g.turn, g.mirrored
	further, ok := e.doc.drawing.snapOnto([]model.Part{p}, ev.Tolerance)
	return m.At.Add(further), ok
}

// ghostID is the id of a part that is not in the circuit yet.
const ghostID model.ID = "ghost"

// keyed turns or mirrors the ghost.
func (g ghost) keyed(key string) ghost {
	switch key {
	case KeyTurn:
		g.turn = (g.turn + 1) % 4
	case KeyMirror:
		g.turn, g.mirrored = (4-g.turn)%4, !g.mirrored
	}
	return g
}

// show previews the part under the pointer and gives what it would join.
func (g ghost) show(e *Editor, ev Event) *Hit {
	edit, target, err := g.edit(e, ev)
	e.try(edit, err)
	return target
}

// placeIdle has a part under the pointer that a click places.
type placeIdle struct {
	ghost
	target *Hit
}

func (placeIdle) path() string { return "place.idle" }

func (s placeIdle) handle(e *Editor, ev Event) state {
	switch ev.Kind {
	case Move:
		return s.show(e, ev)
	case Leave, Cancel:
		e.setPreview(model.Edit{})
		s.target = nil
	case Press:
		if ev.Button == Middle {
			return panDragging{from: ev.At, back: s}
		}
		if ev.Button == Secondary {
			e.setPreview(model.Edit{})
			return selectIdle{}
		}
		return placeDragging{ghost: s.ghost}.handle(e, Event{Kind: Move, At: ev.At, Modifiers: ev.Modifiers, Tolerance: ev.Tolerance})
	case Key:
		switch ev.Key {
		case KeyEscape:
			e.setPreview(model.Edit{})
			return selectIdle{}
		case KeyTurn, KeyMirror:
			s.ghost = s.ghost.keyed(ev.Key)
			return s.show(e, ev)
		}
	}
	return s
}

func (s placeIdle) show(e *Editor, ev Event) state {
	s.target = s.ghost.show(e, ev)
	return s
}

func (s placeIdle) overlay(e *Editor, o *Overlay) {
	o.Hover, o.Handles, o.Target, o.Cursor = Hit{}, nil, s.target, CursorCross
	o.Tee = s.target != nil && Taps(e.doc.cat.Kind(s.kind))
	o.Hint = "Click places, on a run puts it in; R turns, M mirrors; Shift goes on placing; Escape leaves"
	if s.group != nil {
		o.Hint = "Click places the group; an end near a free port is joined to it, Alt leaves it free; Escape leaves"
	}
	s.ghost.tell(e, o)
}

// placeDragging has the button down with a part under the pointer; letting go
// drops it.
type placeDragging struct {
	ghost
	drag   bool // dragged in from outside
	target *Hit
}

func (placeDragging) path() string { return "place.dragging" }

func (s placeDragging) handle(e *Editor, ev Event) state {
	switch ev.Kind {
	case Move:
		return s.show(e, ev)
	case Release:
		edit, _, err := s.ghost.edit(e, ev)
		if e.apply(edit, err) {
			e.selectPart(edit)
		}
		if ev.Modifiers.Shift && !s.drag {
			return placeIdle{ghost: s.ghost}
		}
		return selectIdle{}
	case Leave:
		e.setPreview(model.Edit{})
		s.target = nil
	case Cancel:
		e.setPreview(model.Edit{})
		return selectIdle{}
	case Key:
		switch ev.Key {
		case KeyTurn, KeyMirror:
			s.ghost = s.ghost.keyed(ev.Key)
			return s.show(e, ev)
		}
	}
	return s
}

func (s placeDragging) show(e *Editor, ev Event) state {
	s.target = s.ghost.show(e, ev)
	return s
}

func (s placeDragging) overlay(e *Editor, o *Overlay) {
	placeIdle{ghost: s.ghost, target: s.target}.overlay(e, o)
	o.Hint = "Let go to place, on a run to put it in; Escape cancels"
	if s.group != nil {
		o.Hint = "Let go to place the group; an end near a free port is joined to it; Escape cancels"
	}
	s.ghost.tell(e, o)
}

// tell says which nozzle the part comes onto.
func (g ghost) tell(e *Editor, o *Overlay) {
	if o.Target != nil && o.Target.Kind == HitPort {
		o.tip(e.doc.drawing, *o.Target, "Comes onto ")
		o.Hint += "; Alt leaves it free"
	}
}

// selectPart selects the parts that an edit adds.
func (e *Editor) selectPart(edit model.Edit) {
	var parts []model.ID
	for _, c := range edit.Changes {
		if p, ok := c.After.(model.Part); ok && c.Before == nil {
			parts = append(parts, p.RecordID())
		}
	}
	e.doc.Select(parts...)
}
