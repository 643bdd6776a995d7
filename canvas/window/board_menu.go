package window

import (
	"fyne.io/fyne/v2"

	"rinsewright/canvas/edit"
	"rinsewright/model"
)

// menuOfSelected opens the menu of what is selected, or of the board, where it
// lies: for hands that stay on the keys.
func (w *Window) menuOfSelected() {
	b := w.board
	ids := w.doc.Selection()
	if len(ids) == 0 {
		at := fyne.NewPos(b.Size().Width/2, b.Size().Height/2)
		if b.inside {
			at = b.pointer
		}
		w.contextMenu(edit.Hit{}, at)
		return
	}
	b.bringIntoView(w.drawing().Bounds(ids...))
	h := edit.Hit{Kind: edit.HitPart, ID: ids[0]}
	if w.circuit().Run(ids[0]) != nil {
		h.Kind = edit.HitRun
	}
	w.contextMenu(h, b.view.on(w.drawing().Bounds(ids...).Centre()))
}

// fittingActions are entries of the context menu that fit what lies there.
func (w *Window) fittingActions(h edit.Hit, at fyne.Position) []*action {
	a := w.actions
	switch {
	case h.Kind == edit.HitNothing:
		return []*action{a.onBoard.insert, nil, a.onBoard.overview, a.onBoard.rulers}
	case len(w.selectedParts()) > 1:
		return append([]*action{a.groupRight(), nil}, a.arrange...)
	}
	if w.circuit().Run(h.ID) == nil {
		return []*action{a.onBoard.freeLabels}
	}
	place := w.board.view.at(at)
	return []*action{
		{label: "Put a part into it…", run: w.quickInsert},
		{label: "Bend it here", run: func() { w.try(w.drawing().AddBend(h.ID, edit.Snapped(place))) }},
		{label: "Turn it round: other end first", enabled: func() bool { return w.circuit().Run(h.ID) != nil }, run: func() { w.try(w.drawing().Reverse([]model.ID{h.ID}), nil) }},
		a.onBoard.freeLabels,
		{label: "See it from the side", run: w.gotoHeights},
	}
}

// groupRight is what is done to several as to one thing.
func (a *actions) groupRight() *action { return a.upset }
