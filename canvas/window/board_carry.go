package window

import (
	"fyne.io/fyne/v2"

	"rinsewright/canvas/edit"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// carry shows a part that is dragged out of the store of parts.
func (w *Window) carry(k *catalogue.Kind, at fyne.Position) {
	b := w.board
	if b.carrying == "" {
		b.carrying = k.Name
		if g := w.parts.groupOf(k); g != nil {
			b.ed.DragPlaceGroup(g)
		} else {
			b.ed.DragPlace(k.Name)
		}
	}
	p, in := b.local(at)
	b.button = edit.Primary
	if in {
		b.inside = true
		b.moved(p)
	} else {
		b.send(edit.Leave, p, "")
	}
}

// drop places the part that was dragged, or nothing if it was let go elsewhere.
func (w *Window) drop(k *catalogue.Kind, at fyne.Position) {
	b := w.board
	if b.carrying == "" {
		return
	}
	b.carrying = ""
	p, in := b.local(at)
	if in {
		b.moved(p)
		b.send(edit.Release, p, "")
	} else {
		b.send(edit.Cancel, p, "")
	}
	w.focusBoard()
}

// local gives where on the board a point of the window lies, and whether it is
// on it.
func (b *board) local(at fyne.Position) (fyne.Position, bool) {
	p := at.Subtract(fyne.CurrentApp().Driver().AbsolutePositionForObject(b))
	return p, p.X >= 0 && p.Y >= 0 && p.X < b.Size().Width && p.Y < b.Size().Height
}

// pickKind takes a kind up: the next click on the board places it. A second
// click on it puts it down.
func (w *Window) pickKind(k *catalogue.Kind) {
	if w.parts.picked == k.Name {
		w.board.ed.UseSelect()
		w.parts.mark("")
	} else {
		if g := w.parts.groupOf(k); g != nil {
			w.board.ed.UsePlaceGroup(g)
		} else {
			w.board.ed.UsePlace(k.Name)
		}
		w.parts.mark(k.Name)
	}
	w.tools.refresh()
	w.board.repaint()
	w.board.tellHint()
	w.focusBoard()
}

// placeInView places a part where the pointer is, or in the middle of the board,
// beside what stands there.
func (w *Window) placeInView(k *catalogue.Kind) {
	if g := w.parts.groupOf(k); g != nil {
		w.placeGroupInView(g)
		return
	}
	b := w.board
	at := b.view.at(fyne.NewPos(b.Size().Width/2, b.Size().Height/2))
	if b.inside {
		at = b.view.at(b.pointer)
	}
	at = edit.Snapped(at)
	at = w.freePlace(k, at)
	e, err := w.drawing().Place(k.Name, edit.Pose{At: at})
	w.try(e, err)
	if err == nil {
		if added := edit.Added(e); len(added) > 0 {
			w.doc.Select(added...)
			b.bringIntoView(w.drawing().Bounds(added...))
		}
	}
	w.focusBoard()
}

// freePlace gives the place nearest to the right of one, or in a row below, where
// a part of a kind and its tag have room.
func (w *Window) freePlace(k *catalogue.Kind, at model.Point) model.Point {
	box := k.Symbol.Box
	step := model.Point{X: max(box[2]-box[0], tagRoom) / 2, Y: box[3] - box[1] + 2*tagHigh}
	for row := range 8 {
		for column := range 12 {
			p := edit.Snapped(model.Point{X: at.X + float64(column)*step.X, Y: at.Y + float64(row)*step.Y})
			if w.free(p, box) {
				return p
			}
		}
	}
	return at
}

// What a tag takes beside a symbol, in mm: it stands above, below or beside it.
const (
	tagRoom = 16
	tagHigh = 5
)

// free says whether no part's box touches that of a symbol at a place.
func (w *Window) free(at model.Point, box [4]float64) bool {
	r := spanned(at, box)
	r.Min.X, r.Max.X = min(r.Min.X, at.X-tagRoom/2)-2.5, max(r.Max.X, at.X+tagRoom/2)+2.5
	r.Min.Y, r.Max.Y = r.Min.Y-tagHigh, r.Max.Y+tagHigh
	for _, p := range w.circuit().Parts() {
		if p.Class() != model.ClassFrame && w.drawing().Box(p).Touches(r) {
			return false
		}
	}
	return true
}
