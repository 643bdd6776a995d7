package window

import (
	"time"

	"fyne.io/fyne/v2"

	"rinsewright/canvas/edit"
)

// A gesture that is pulled to the edge of the board moves the view on.
const (
	edgeWide  = 22                    // in fyne's units
	edgeEvery = 30 * time.Millisecond // between two moves
	edgeMost  = 12                    // of one move, in fyne's units
)

// edgePush gives how far the view should move for a pointer near the edge: the
// nearer, the farther; nothing in the middle.
func (b *board) edgePush() (dx, dy float64) {
	push := func(at, size float32) float64 {
		near := float64(0)
		switch {
		case at < edgeWide:
			near = float64(edgeWide - at)
		case at > size-edgeWide:
			near = float64(size - edgeWide - at)
		}
		return min(max(near/edgeWide, -1), 1) * edgeMost
	}
	return push(b.pointer.X, b.Size().Width), push(b.pointer.Y, b.Size().Height)
}

// gesturing says whether something is being moved, drawn or banded.
func (b *board) gesturing() bool {
	return b.pressed && b.button == edit.Primary && b.ed.Busy() && b.ed.State() != "select.pointing"
}

// followEdge moves the view on while a gesture stays at the edge. It is called on
// every move and goes on by itself while the pointer rests.
func (b *board) followEdge() {
	if b.edge != nil || !b.gesturing() {
		return
	}
	if dx, dy := b.edgePush(); dx == 0 && dy == 0 {
		return
	}
	b.edge = time.AfterFunc(edgeEvery, func() {
		fyne.Do(func() {
			b.edge = nil
			b.pushEdge()
		})
	})
}

// pushEdge moves the view once and lets the gesture follow.
func (b *board) pushEdge() {
	if !b.gesturing() {
		return
	}
	if dx, dy := b.edgePush(); dx != 0 || dy != 0 {
		b.setView(b.view.moved(dx, dy))
		b.moved(b.pointer)
	}
}
