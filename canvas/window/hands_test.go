package window

import (
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"rinsewright/canvas/edit"
	"rinsewright/model"
)

// told gives what the overlay of the board writes.
func (b *bench) told() []string {
	var out []string
	for _, o := range b.board.over.objects {
		if t, ok := o.(*canvas.Text); ok {
			out = append(out, t.Text)
		}
	}
	return out
}

func (b *bench) hover(p model.Point) {
	b.board.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: b.at(p)}})
}

func TestPortsTellTheirNames(t *testing.T) {
	b := newBench(t)
	vessel := b.bring("process-vessel", model.Point{X: 120, Y: 80})
	pump := b.bring("centrifugal-pump", model.Point{X: 40, Y: 120})
	b.click(model.Point{X: 250, Y: 150}, 0)
	name := vessel.Meta().Tag + " Vent"
	b.hover(b.port(vessel, "vent"))
	if got := strings.Join(b.told(), "|"); got != name {
		t.Errorf("over the vent the board reads %q, want %q", got, name)
	}
	if !strings.HasPrefix(b.status.hint.Text, name+", for air, free") {
		t.Errorf("the status reads %q", b.status.hint.Text)
	}
	// A run on its way tells what it would end on, and that it must not.
	b.press(b.port(pump, "b"), desktop.MouseButtonPrimary, 0)
	b.pull(model.Point{X: 100, Y: 100})
	b.pull(b.port(vessel, "vent"))
	if got := strings.Join(b.told(), "|"); got != name || !b.status.hint.TextStyle.Bold || !strings.Contains(b.status.hint.Text, "no process liquid") {
		t.Errorf("drawing to the vent: board %q, status %q", got, b.status.hint.Text)
	}
	b.release(b.port(vessel, "vent"), desktop.MouseButtonPrimary)
	b.board.DragEnd()
	if n := len(b.circuit().Runs()); n != 0 {
		t.Errorf("%d runs: the pump was joined to the vent", n)
	}
}

func TestLooseEndsAreMarked(t *testing.T) {
	b := newBench(t)
	pump := b.bring("centrifugal-pump", model.Point{X: 40, Y: 80})
	b.click(model.Point{X: 250, Y: 150}, 0)
	rings := func() int { return b.board.over.rings.used }
	b.hover(model.Point{X: 250, Y: 150})
	before := rings()
	b.drag(b.port(pump, "b"), model.Point{X: 120, Y: 80})
	b.click(model.Point{X: 250, Y: 150}, 0)
	b.hover(model.Point{X: 250, Y: 150})
	if got := rings() - before; got != 1 {
		t.Errorf("%d rings more for one loose end", got)
	}
}

// The driver gives the wheel to the last thing drawn under the pointer that takes
// it, as test.Scroll does: over a text field that must be the form.
func TestWheelOverAFieldTurnsTheForm(t *testing.T) {
	b := newBench(t)
	b.bring("process-vessel", model.Point{X: 120, Y: 80})
	e := b.props.form.keys["diameter_m"].(*fieldEntry)
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(e).AddXY(10, 10)
	test.Scroll(b.win.Canvas(), at, 0, -60)
	if y := b.props.scroll.Offset.Y; y <= 0 {
		t.Errorf("the form lies at %v after a turn of the wheel over a field", y)
	}
}

func TestViewFollowsAGestureAtTheEdge(t *testing.T) {
	b := newBench(t)
	pump := b.bring("centrifugal-pump", model.Point{X: 100, Y: 80})
	b.press(model.Point{X: 100, Y: 80}, desktop.MouseButtonPrimary, 0)
	b.pull(model.Point{X: 110, Y: 80})
	edge := fyne.NewPos(b.board.Size().Width-4, 160)
	b.board.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: edge}})
	before := b.board.view.Offset.X
	for range 5 {
		b.board.pushEdge()
	}
	if b.board.view.Offset.X <= before {
		t.Fatal("the view does not move on at the right edge")
	}
	under := b.board.view.at(edge)
	b.board.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: edge}, Button: desktop.MouseButtonPrimary})
	b.board.DragEnd()
	if x := b.circuit().Part(pump.RecordID()).Meta().At.X; x < under.X-edit.Grid || x > under.X+edit.Grid {
		t.Errorf("the pump lies at x = %v, the pointer at %v", x, under.X)
	}
	// In the middle, and with no gesture, the view rests.
	before = b.board.view.Offset.X
	b.board.pushEdge()
	if b.board.view.Offset.X != before {
		t.Error("the view moves without a gesture")
	}
}

// walk visits the visible objects of a tree, also inside widgets.
func walk(o fyne.CanvasObject, visit func(fyne.CanvasObject)) {
	if o == nil || !o.Visible() {
		return
	}
	visit(o)
	switch o := o.(type) {
	case *fyne.Container:
		for _, c := range o.Objects {
			walk(c, visit)
		}
	case *container.ThemeOverride:
		walk(o.Content, visit)
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(o).Objects() {
			walk(c, visit)
		}
	}
}

func TestF8WorksWhereverTheFocusIs(t *testing.T) {
	b := newBench(t)
	b.OpenCopy(demos()[0].file, demos()[0].data)
	b.checks()
	if len(b.findings.shown) < 2 {
		t.Fatal("the demo has too few findings")
	}
	b.doc.Select(b.circuit().Parts()[0].RecordID())
	seen := map[fyne.Focusable]bool{}
	sorts := map[string]int{}
	for tab := range 3 {
		b.tabs.pick(tab)
		var all []fyne.Focusable
		walk(b.win.Content(), func(o fyne.CanvasObject) {
			f, ok := o.(fyne.Focusable)
			sort := fmt.Sprintf("%T", o)
			if d, can := o.(fyne.Disableable); ok && !seen[f] && sorts[sort] < 3 && !(can && d.Disabled()) {
				seen[f] = true
				sorts[sort]++
				all = append(all, f)
			}
		})
		for _, f := range all {
			b.tabs.pick(tab)
			was := b.findings.picked
			f.TypedKey(&fyne.KeyEvent{Name: fyne.KeyF8})
			if b.findings.picked == was {
				t.Errorf("F8 does nothing while %T has the focus", f)
			}
			if b.tabs.at != 0 {
				t.Errorf("F8 from %T leaves tab %d in front", f, b.tabs.at)
			}
		}
	}
	if len(sorts) < 8 {
		t.Errorf("only %v can have the focus: the walk sees too little", sorts)
	}
}

func TestCtrlShiftZRedoes(t *testing.T) {
	b := newBench(t)
	b.bring("centrifugal-pump", model.Point{X: 100, Y: 80})
	b.do(b.actions.undo)
	b.win.Canvas().(interface{ TypedShortcut(fyne.Shortcut) }).TypedShortcut(ctrlShift(fyne.KeyZ))
	if n := len(b.circuit().Parts()); n != 1 {
		t.Errorf("%d parts after undo and Ctrl+Shift+Z, want 1", n)
	}
}

func TestPanesKeepTheirShare(t *testing.T) {
	b := newBench(t)
	p := b.panes
	share := func() float32 { return p.laid[paneBottom] / p.box.Size().Height }
	if s := share(); s < 0.33 || s > 0.37 {
		t.Errorf("the bottom pane takes %.0f %%, want about 35", 100*s)
	}
	p.drag(paneBottom, -60)
	want := share()
	b.win.Resize(fyne.NewSize(1920, 1080))
	if s := share(); s < want-0.01 || s > want+0.01 {
		t.Errorf("after a resize the bottom pane takes %.2f of the height, took %.2f", s, want)
	}
	if p.laid[paneLeft] > 240 {
		t.Errorf("the parts take %v of 1920", p.laid[paneLeft])
	}
}

func TestWindowFitsTheScreen(t *testing.T) {
	b := newBench(t)
	b.win.Resize(fyne.NewSize(1900, 1000))
	b.screen = func() (int, int, bool) { return 1280, 800, true }
	b.fitScreen()
	if s := b.win.Canvas().Size(); s.Width > 1280 || s.Height > 800 {
		t.Errorf("the window is %v on a screen of 1280 by 800", s)
	}
}

func TestAnEmptyViewTellsTheWayBack(t *testing.T) {
	b := newBench(t)
	b.bring("centrifugal-pump", model.Point{X: 100, Y: 80})
	if got := b.told(); len(got) != 0 {
		t.Errorf("with a pump in view the board reads %q", got)
	}
	b.board.setView(b.board.view.moved(1e5, 0))
	if got := strings.Join(b.told(), " "); !strings.Contains(got, "F shows all") {
		t.Errorf("with nothing in view the board reads %q", got)
	}
}
