package edit

import (
	"testing"

	"rinsewright/canvas/place"
	"rinsewright/canvas/route"
	"rinsewright/model"
)

func TestMoveLabel(t *testing.T) {
	e, doc := bench(t)
	e.Labels = func(at model.Point) (LabelPlace, bool) {
		box := place.Spanned(pt(-6, 8), pt(6, 11)) // of P-101
		if box.Contains(at) {
			return LabelPlace{ID: "p1", Box: box}, true
		}
		return LabelPlace{}, false
	}
	first := doc.Circuit()
	play(t, e, "move 0,9 > select.idle")
	if e.Overlay().Cursor != CursorPoint {
		t.Error("nothing tells that the label can be taken")
	}
	play(t, e, "press 0,9 > select.pointing\n move 10,20 > select.label\n release 20,30.2 > select.idle")
	label := doc.Circuit().Part("p1").Meta().Label
	if label == nil || *label != pt(20, 30.5) { // its middle was at 0, 9.5; the hand went 20, 21.2
		t.Fatalf("label at %v", label)
	}
	if got := doc.UndoLabel(); got != "Undo move the label of P-101" {
		t.Error(got)
	}
	if joined(doc.Selection()) != "p1" {
		t.Errorf("selected %v", doc.Selection())
	}
	doc.Undo()
	if d := difference(first, doc.Circuit()); d != "" {
		t.Errorf("undone: %s", d)
	}
	first = doc.Circuit()
	play(t, e, "press 0,9 > select.pointing\n move 10,20 > select.label\n key escape > select.idle\n release 10,20 > select.idle")
	if doc.Circuit() != first {
		t.Error("a cancelled gesture changed something")
	}
	play(t, e, "press 0,9 > select.pointing\n release 0,9 > select.idle")
	if doc.Circuit() != first || joined(doc.Selection()) != "p1" {
		t.Errorf("a click on a label selects its part; selected %v", doc.Selection())
	}
}

func TestLabelGoesAlong(t *testing.T) {
	e, doc := bench(t)
	_ = e
	s := &sheet{t: t, doc: doc}
	s.apply(doc.Drawing().MoveLabel("p1", pt(10, -5)))
	half := route.Half(doc.Drawing().Line(doc.Circuit().Run("r1")))
	s.apply(doc.Drawing().MoveLabel("r1", half.Add(pt(3, 4))))
	if got := *doc.Circuit().Run("r1").Label; got != pt(3, 4) {
		t.Errorf("label of the run %v", got)
	}
	for _, tt := range []struct {
		name string
		edit model.Edit
		want model.Point
	}{
		{"turn", doc.Drawing().Turn([]model.ID{"p1"}, 1), pt(5, 10)},
		{"mirror", doc.Drawing().Mirror([]model.ID{"p1"}), pt(-10, -5)},
		{"upside down", doc.Drawing().Upset([]model.ID{"p1"}), pt(10, 5)},
		{"move", doc.Drawing().Move([]model.ID{"p1"}, pt(50, 50)), pt(10, -5)},
	} {
		before := doc.Circuit()
		s.apply(tt.edit, nil)
		if got := *doc.Circuit().Part("p1").Meta().Label; got != tt.want {
			t.Errorf("%s: label %v, want %v", tt.name, got, tt.want)
		}
		doc.Undo()
		if d := difference(before, doc.Circuit()); d != "" {
			t.Errorf("%s undone: %s", tt.name, d)
		}
	}
	doc.Select("p1", "r1")
	free, _ := ActionNamed("free-labels")
	if err := free.Run(doc); err != nil || doc.Circuit().Part("p1").Meta().Label != nil || doc.Circuit().Run("r1").Label != nil {
		t.Errorf("labels are still where they were put: %v", err)
	}
	if free.Enabled(doc) {
		t.Error("there is no label left to free")
	}
}
