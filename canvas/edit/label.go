package edit

import (
	"fmt"

	"rinsewright/canvas/place"
	"rinsewright/canvas/route"
	"rinsewright/model"
)

// LabelPlace is the tag or label of a part or run as it stands on the drawing.
type LabelPlace struct {
	ID  model.ID
	Box place.Rect
}

// MoveLabel puts the tag of a part, or the label of a run, with its middle at a
// place of the drawing. From there it goes along with the part, or with the
// middle of the run's line.
func (d *Drawing) MoveLabel(id model.ID, to model.Point) (model.Edit, error) {
	f := d.draft()
	switch r := d.circuit.Record(id).(type) {
	case model.Part:
		next := model.Clone(r)
		off := to.Sub(r.Meta().At)
		next.Meta().Label = &off
		f.put(next)
	case *model.Run:
		line := d.Line(r)
		if len(line) == 0 {
			return model.Edit{}, fmt.Errorf("%s has no line to put a label beside", d.name(r))
		}
		next := model.Clone(r)
		off := to.Sub(route.Half(line))
		next.Label = &off
		f.put(next)
	default:
		return model.Edit{}, fmt.Errorf("there is no part or run %s", id)
	}
	return f.edit("move the label of " + d.names([]model.ID{id})), nil
}

// FreeLabels lets the tags and labels of parts and runs find their own places
// again.
func (d *Drawing) FreeLabels(ids []model.ID) model.Edit {
	f := d.draft()
	for _, id := range ids {
		switch r := d.circuit.Record(id).(type) {
		case model.Part:
			next := model.Clone(r)
			next.Meta().Label = nil
			f.put(next)
		case *model.Run:
			next := model.Clone(r)
			next.Label = nil
			f.put(next)
		}
	}
	return f.edit("let the label of " + d.names(ids) + " find its place")
}

func labelled(d *Document) bool {
	for _, id := range d.selection {
		switch r := d.Circuit().Record(id).(type) {
		case model.Part:
			if r.Meta().Label != nil {
				return true
			}
		case *model.Run:
			if r.Label != nil {
				return true
			}
		}
	}
	return false
}

// labelUnder gives the label under the pointer. Ports and handles come before it,
// as does a symbol if the pointer is in its box; a run or a symbol that is only
// near comes after: labels stand closer to them than a pointer can tell.
func (e *Editor) labelUnder(h Hit, ev Event) (LabelPlace, bool) {
	if e.Labels == nil {
		return LabelPlace{}, false
	}
	switch h.Kind {
	case HitNothing, HitRun:
	case HitPart:
		if p := e.doc.Circuit().Part(h.ID); p == nil || e.doc.drawing.Box(p).Contains(ev.At) {
			return LabelPlace{}, false
		}
	default:
		return LabelPlace{}, false
	}
	return e.Labels(ev.At)
}

// selectLabel pulls a tag or a label.
type selectLabel struct {
	start model.Point
	label LabelPlace
}

func (selectLabel) path() string { return "select.label" }

func (s selectLabel) handle(e *Editor, ev Event) state {
	switch ev.Kind {
	case Move, Release:
		to := s.label.Box.Centre().Add(ev.At.Sub(s.start))
		if e.SnapToGrid && !ev.Modifiers.Alt {
			to = model.Point{X: fine(to.X), Y: fine(to.Y)}
		}
		edit, err := e.doc.drawing.MoveLabel(s.label.ID, to)
		if ev.Kind == Release {
			e.apply(edit, err)
			return selectIdle{}
		}
		e.try(edit, err)
	case Cancel:
		e.setPreview(model.Edit{})
		return selectIdle{}
	}
	return s
}

// fine brings a label to a fifth of the grid: letters need no more, and no less.
func fine(v float64) float64 { return onGrid(v*5) / 5 }

func (s selectLabel) overlay(e *Editor, o *Overlay) {
	o.Hover, o.Handles, o.Cursor = Hit{}, nil, CursorPoint
	o.Hint = "Let go to put the label here; Escape cancels"
}
