package window

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"rinsewright/canvas/edit"
	"rinsewright/canvas/place"
	"rinsewright/model"
)

// pairOf gives the free ports by which two parts are best joined: an outlet to
// an inlet before ports that are either, then the nearest. Ports of different
// services are never joined this way.
func pairOf(d *edit.Drawing, a, b model.Part) (from, to place.Port, ok bool) {
	best := math.Inf(1)
	for _, p := range place.Ports(a, d.Catalogue().Kind(a.Meta().Kind)) {
		for _, q := range place.Ports(b, d.Catalogue().Kind(b.Meta().Kind)) {
			if p.Service != q.Service || !d.PortFree(a.RecordID(), p.Name) || !d.PortFree(b.RecordID(), q.Name) {
				continue
			}
			if p.Role == q.Role && p.Role != "any" {
				continue
			}
			cost := math.Hypot(p.Place.X-q.Place.X, p.Place.Y-q.Place.Y)
			if p.Role == "any" || q.Role == "any" {
				cost += 1e3
			}
			if p.Required || q.Required {
				cost -= 500
			}
			if cost < best {
				best, from, to, ok = cost, p, q, true
			}
		}
	}
	return from, to, ok
}

var errNothingToJoin = errors.New("the two have no free ports that fit each other")

// joinSelected draws a run between the two parts that are selected.
func (w *Window) joinSelected() {
	ids := w.doc.Selection()
	a, b := w.circuit().Part(ids[0]), w.circuit().Part(ids[1])
	p, q, ok := pairOf(w.drawing(), a, b)
	if !ok {
		w.tellIf(errNothingToJoin)
		return
	}
	w.try(w.drawing().Connect(edit.OnPort(a.RecordID(), p.Name), edit.OnPort(b.RecordID(), q.Name), nil))
}

func (w *Window) twoPartsSelected() bool {
	ids := w.doc.Selection()
	return len(ids) == 2 && w.circuit().Part(ids[0]) != nil && w.circuit().Part(ids[1]) != nil
}

// selectNext goes from part to part without the mouse, from left to right and
// row by row; with add the part is selected as well.
func (w *Window) selectNext(by int, add bool) {
	parts := slices.Clone(w.circuit().Parts())
	if len(parts) == 0 {
		return
	}
	const row = 20 // mm
	slices.SortStableFunc(parts, func(a, b model.Part) int {
		p, q := a.Meta().At, b.Meta().At
		if d := math.Floor(p.Y/row) - math.Floor(q.Y/row); d != 0 {
			return int(d)
		}
		return int(math.Copysign(1, p.X-q.X))
	})
	at := -1
	if ids := w.doc.Selection(); len(ids) > 0 {
		last := ids[len(ids)-1]
		at = slices.IndexFunc(parts, func(p model.Part) bool { return p.RecordID() == last })
	}
	if at < 0 && by < 0 {
		at = 0
	}
	next := parts[(at+by+len(parts))%len(parts)].RecordID()
	if add {
		w.doc.AddToSelection(next)
	} else {
		w.doc.Select(next)
	}
	w.board.bringIntoView(w.drawing().Bounds(next))
	w.tellHint(fmt.Sprintf("%s, %s", nameOf(w.circuit().Record(next), w.cat), w.whatIs(w.circuit().Record(next))))
}
