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
		b.ed.DragPlace(k.Name)
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
		w.board.ed.UsePlace(k.Name)
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
	b := w.board
	at := b.view.at(fyne.NewPos(b.Size().Width/2, b.Size().Height/2))
	if b.inside {
		at = b.view.at(b.pointer)
	}
	at = edit.Snapped(at)
	half := k.Symbol.Box[2] - k.Symbol.Box[0]
	for range 60 {
		probe := k.Symbol.Box
		if w.free(at, probe) {
			break
		}
		at.X += max(edit.Grid*2, half/2)
		at = edit.Snapped(at)
	}
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

// free says whether no part's box touches that of a symbol at a place.
func (w *Window) free(at model.Point, box [4]float64) bool {
	const room = 2.5
	r := spanned(at, box).Grown(room)
	for _, p := range w.circuit().Parts() {
		if p.Class() != model.ClassFrame && w.drawing().Box(p).Touches(r) {
			return false
		}
	}
	return true
}
