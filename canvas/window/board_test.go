package window

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"rinsewright/model"
)

func TestBoardPlacesMovesAndJoins(t *testing.T) {
	b := newBench(t)
	tank := b.bring("water-tank", model.Point{X: 60, Y: 60})
	if at := b.circuit().Part(tank.RecordID()).Meta().At; at != (model.Point{X: 60, Y: 60}) {
		t.Errorf("the tank lies at %v, was dropped at (60, 60)", at)
	}
	if !b.doc.Selected(tank.RecordID()) {
		t.Error("what was placed is not selected")
	}
	pump := b.bring("centrifugal-pump", model.Point{X: 120, Y: 100})

	// A drag on the symbol moves it; the undo step carries its tag.
	b.drag(model.Point{X: 120, Y: 100}, model.Point{X: 140, Y: 110})
	if at := b.circuit().Part(pump.RecordID()).Meta().At; at != (model.Point{X: 140, Y: 110}) {
		t.Errorf("the pump lies at %v, was moved to (140, 110)", at)
	}
	if got, want := b.doc.UndoLabel(), "Undo move "+pump.Meta().Tag; got != want {
		t.Errorf("undo reads %q, want %q", got, want)
	}

	// A drag from port to port draws a run.
	b.click(model.Point{X: 200, Y: 150}, 0)
	b.drag(b.port(tank, "outlet"), b.port(pump, "a"))
	runs := b.circuit().Runs()
	if len(runs) != 1 {
		t.Fatalf("%d runs after a drag from port to port, want 1", len(runs))
	}
	if r := runs[0]; r.From.Part != tank.RecordID() || r.To.Part != pump.RecordID() {
		t.Errorf("the run goes from %s to %s", r.From.Part, r.To.Part)
	}
	for range 3 {
		b.do(b.actions.undo)
	}
	if n := len(b.circuit().Parts()); n != 1 {
		t.Errorf("%d parts after three undo steps, want 1", n)
	}
	for range 3 {
		b.do(b.actions.redo)
	}
	if len(b.circuit().Runs()) != 1 || len(b.circuit().Parts()) != 2 {
		t.Error("redo does not bring back what undo took")
	}
}

func TestBoardDropOutsidePlacesNothing(t *testing.T) {
	b := newBench(t)
	row := b.parts.rows[0]
	row.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{AbsolutePosition: fyne.NewPos(600, 300)}})
	row.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{AbsolutePosition: fyne.NewPos(20, 300)}})
	row.DragEnd()
	if n := len(b.circuit().Parts()); n != 0 {
		t.Errorf("%d parts were placed by a drop on the store itself", n)
	}
	if s := b.board.ed.State(); s != "select.idle" {
		t.Errorf("the tool is left in %s", s)
	}
}

func TestBoardZoomKeepsThePointUnderThePointer(t *testing.T) {
	b := newBench(t)
	p := fyne.NewPos(333, 222)
	before := b.board.view.at(p)
	for _, dy := range []float32{10, 25, -10, 40, -70} {
		b.board.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: p}, Scrolled: fyne.NewDelta(0, dy)})
		after := b.board.view.at(p)
		if math.Hypot(after.X-before.X, after.Y-before.Y) > 1e-6 {
			t.Fatalf("wheel by %v: under the pointer lies %v, lay %v", dy, after, before)
		}
	}
	// The zoom has ends.
	for range 400 {
		b.board.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: p}, Scrolled: fyne.NewDelta(0, 100)})
	}
	if z := b.board.view.Zoom; z > mostZoom+1e-9 {
		t.Errorf("zoom %v is beyond %v", z, mostZoom)
	}
}

func TestBoardPanByMiddleButtonSpaceAndKeys(t *testing.T) {
	b := newBench(t)
	grab := func(button desktop.MouseButton) model.Point {
		from := fyne.NewPos(100, 100)
		under := b.board.view.at(from)
		b.board.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: from}, Button: button})
		to := fyne.NewPos(160, 130)
		b.board.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: to}})
		b.board.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: to}, Button: button})
		b.board.DragEnd()
		return b.board.view.at(to).Sub(under)
	}
	if d := grab(desktop.MouseButtonTertiary); math.Hypot(d.X, d.Y) > 1e-9 {
		t.Errorf("middle drag: what was grabbed has slipped by %v", d)
	}
	b.board.KeyDown(&fyne.KeyEvent{Name: fyne.KeySpace})
	if d := grab(desktop.MouseButtonPrimary); math.Hypot(d.X, d.Y) > 1e-9 {
		t.Errorf("space drag: what was grabbed has slipped by %v", d)
	}
	b.board.KeyUp(&fyne.KeyEvent{Name: fyne.KeySpace})

	// Arrow keys pull the drawing while nothing is selected, else they nudge.
	offset := b.board.view.Offset
	b.board.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if b.board.view.Offset.X <= offset.X {
		t.Error("the right arrow does not show what lies further right")
	}
	tank := b.bring("water-tank", model.Point{X: 100, Y: 100})
	offset = b.board.view.Offset
	b.board.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if b.board.view.Offset != offset {
		t.Error("an arrow key pulls the drawing although something is selected")
	}
	if at := b.circuit().Part(tank.RecordID()).Meta().At; at != (model.Point{X: 102.5, Y: 100}) {
		t.Errorf("nudged to %v, want one step of the grid: (102.5, 100)", at)
	}
}

func TestBoardFitShowsAll(t *testing.T) {
	b := newBench(t)
	b.bring("water-tank", model.Point{X: 30, Y: 30})
	b.bring("process-vessel", model.Point{X: 300, Y: 180})
	b.board.fit()
	shown := b.board.view.shown(b.board.Size())
	if all := b.drawing().Bounds(); !shown.Holds(all) {
		t.Errorf("shown is %v, the drawing is %v", shown, all)
	}
}

func TestBoardClickPlacesWhatWasPicked(t *testing.T) {
	b := newBench(t)
	row := b.parts.rows[0]
	row.Tapped(nil)
	if !row.picked {
		t.Error("the row does not show that it is picked")
	}
	b.click(model.Point{X: 80, Y: 80}, 0)
	if n := len(b.circuit().Parts()); n != 1 {
		t.Fatalf("%d parts, want 1", n)
	}
	if row.picked {
		t.Error("the row is still picked after its part was placed")
	}
	b.click(model.Point{X: 180, Y: 80}, 0)
	if n := len(b.circuit().Parts()); n != 1 {
		t.Errorf("a second click placed another one: %d parts", n)
	}
}

func TestSearchReturnPlacesTheFirstFound(t *testing.T) {
	b := newBench(t)
	b.parts.search.SetText("butterfly")
	if len(b.parts.shown) == 0 || b.parts.shown[0].kind.Name != "butterfly-valve" {
		t.Fatalf("%q finds %v first", "butterfly", b.parts.shown)
	}
	b.parts.search.OnSubmitted("butterfly")
	b.parts.search.OnSubmitted("butterfly")
	parts := b.circuit().Parts()
	if len(parts) != 2 || parts[0].Meta().Kind != "butterfly-valve" {
		t.Fatalf("%d parts after two Returns", len(parts))
	}
	if b.drawing().Box(parts[0]).Touches(b.drawing().Box(parts[1])) {
		t.Error("the second one was put on the first")
	}
	b.parts.search.SetText("no such thing")
	if len(b.parts.shown) != 0 || !b.parts.none.Visible() {
		t.Error("a search that finds nothing does not say so")
	}
}
