package window

import (
	"testing"

	"fyne.io/fyne/v2"

	"rinsewright/model"
)

// All that draws a circuit can be done by keys: place from the search, go from
// part to part, join.
func TestDrawWithoutTheMouse(t *testing.T) {
	b := newBench(t)
	for _, search := range []string{"water tank", "centrifugal"} {
		b.do(b.actions.gotoSearch)
		b.parts.search.SetText(search)
		b.parts.search.OnSubmitted(search)
	}
	if n := len(b.circuit().Parts()); n != 2 {
		t.Fatalf("%d parts", n)
	}
	b.doc.Select()
	b.board.TypedKey(&fyne.KeyEvent{Name: fyne.KeyN})
	if n := len(b.doc.Selection()); n != 1 {
		t.Fatalf("N selects %d parts", n)
	}
	if b.twoPartsSelected() || b.actions.join.can() {
		t.Error("one part could be joined to nothing")
	}
	b.selectNext(1, true)
	if !b.twoPartsSelected() {
		t.Fatalf("selected are %v", b.doc.Selection())
	}
	b.do(b.actions.join)
	if n := len(b.circuit().Runs()); n != 1 {
		t.Fatalf("%d runs", n)
	}
	r := b.circuit().Runs()[0]
	tank, pump := b.circuit().Part(r.From.Part), b.circuit().Part(r.To.Part)
	if tank.Class() != model.ClassVessel || pump.Class() != model.ClassPump || r.From.Port != "outlet" || r.To.Port != "a" {
		t.Errorf("joined %s %s to %s %s", tank.Meta().Kind, r.From.Port, pump.Meta().Kind, r.To.Port)
	}
}

// What is missing is one click away from the finding that says so.
func TestMissingValueIsLedTo(t *testing.T) {
	b := newBench(t)
	tank := b.bring("water-tank", model.Point{X: 60, Y: 60}).RecordID()
	b.bring("centrifugal-pump", model.Point{X: 140, Y: 100})
	b.doc.Select()
	b.gotoProperty(tank, "diameter_m")
	if !b.doc.Selected(tank) {
		t.Error("the tank is not selected")
	}
	if b.win.Canvas().Focused() != b.props.form.keys["diameter_m"] {
		t.Errorf("the focus is on %T", b.win.Canvas().Focused())
	}
}
