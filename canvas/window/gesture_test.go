package window

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// bench is a window of the test driver with hands: what fyne's own test helpers
// send lacks the presses and releases around a drag.
type bench struct {
	*Window
	t      *testing.T
	onMain chan func()
}

func newBench(t *testing.T) *bench {
	t.Helper()
	b := &bench{t: t, onMain: make(chan func(), 64)}
	b.Window = New(Options{App: test.NewTempApp(t), Kinds: catalogue.Builtin(), Quit: func() {}, Main: func(f func()) { b.onMain <- f }})
	b.result = nil // of a check that ended before its result could be held back
	b.refreshMenu()
	b.check(0)
	b.win.Resize(fyne.NewSize(1280, 800))
	b.Show()
	t.Cleanup(b.checker.stop)
	t.Cleanup(b.solving.stop)
	// One unit of the board is half a millimetre, its corner is the origin.
	v := b.board.view
	v.Zoom, v.Offset = 2, model.Point{}
	b.board.setView(v)
	return b
}

func (b *bench) at(p model.Point) fyne.Position { return b.board.view.on(p) }

func (b *bench) press(p model.Point, button desktop.MouseButton, mod fyne.KeyModifier) {
	b.board.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: b.at(p)}})
	b.board.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: b.at(p)}, Button: button, Modifier: mod})
}

func (b *bench) pull(p model.Point) {
	b.board.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: b.at(p)}})
}

func (b *bench) release(p model.Point, button desktop.MouseButton) {
	b.board.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: b.at(p)}, Button: button})
}

// drag presses at one place of the drawing, moves in steps and lets go at another.
func (b *bench) drag(from, to model.Point) {
	b.press(from, desktop.MouseButtonPrimary, 0)
	for i := 1; i <= 4; i++ {
		s := float64(i) / 4
		b.pull(model.Point{X: from.X + (to.X-from.X)*s, Y: from.Y + (to.Y-from.Y)*s})
	}
	b.release(to, desktop.MouseButtonPrimary)
	b.board.DragEnd()
}

func (b *bench) click(p model.Point, mod fyne.KeyModifier) {
	b.press(p, desktop.MouseButtonPrimary, mod)
	b.release(p, desktop.MouseButtonPrimary)
}

// bring drags a kind from the store of parts onto the board.
func (b *bench) bring(kind string, to model.Point) model.Part {
	b.t.Helper()
	before := map[model.ID]bool{}
	for _, p := range b.circuit().Parts() {
		before[p.RecordID()] = true
	}
	for _, r := range b.parts.rows {
		if r.kind.Name == kind {
			at := fyne.CurrentApp().Driver().AbsolutePositionForObject(b.board).Add(b.at(to))
			r.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{AbsolutePosition: fyne.NewPos(40, 200)}})
			r.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{AbsolutePosition: at}})
			r.DragEnd()
		}
	}
	for _, p := range b.circuit().Parts() {
		if !before[p.RecordID()] {
			return p
		}
	}
	b.t.Fatalf("no %s came onto the board", kind)
	return nil
}

// port gives where a port lies on the drawing.
func (b *bench) port(p model.Part, name string) model.Point {
	b.t.Helper()
	port, ok := b.cat.Kind(p.Meta().Kind).Port(name)
	if !ok {
		b.t.Fatalf("%s has no port %s", p.Meta().Kind, name)
	}
	at, _ := port.PortAt(b.circuit().Part(p.RecordID()).Meta())
	return at
}

// checks waits for the findings of the present circuit.
func (b *bench) checks() {
	b.t.Helper()
	deadline := time.After(20 * time.Second)
	for b.result == nil {
		select {
		case f := <-b.onMain:
			f()
		case <-deadline:
			b.t.Fatal("the checks give no result")
		}
	}
}
