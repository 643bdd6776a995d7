package window

import (
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"rinsewright/model"
	"rinsewright/model/group"
)

// rowOf gives the row of a group in the store of parts.
func (b *bench) rowOf(key string) *partRow {
	b.t.Helper()
	for _, r := range b.parts.rows {
		if r.kind.Name == key {
			return r
		}
	}
	b.t.Fatalf("the store of parts has no %s", key)
	return nil
}

func TestReadyGroupsStandInTheStoreOfParts(t *testing.T) {
	b := newBench(t)
	for _, g := range group.Builtin() {
		r := b.rowOf("group:" + g.Name)
		if r.group != g || r.kind.Title != g.Title {
			t.Errorf("%s: the row is of %v", g.Name, r.kind.Title)
		}
	}
	for search, want := range map[string]string{"three tank": "group:station-three-tanks", "manifold": "group:valve-cluster", "low point": "group:drain-set"} {
		b.parts.search.SetText(search)
		if len(b.parts.shown) == 0 || b.parts.shown[0].kind.Name != want {
			t.Errorf("%q does not find %s", search, want)
		}
	}
}

func TestGroupIsDraggedOntoTheBoard(t *testing.T) {
	b := newBench(t)
	r := b.rowOf("group:drain-set")
	over := b.board.view.on(model.Point{X: 100, Y: 100}).Add(fyne.CurrentApp().Driver().AbsolutePositionForObject(b.board))
	r.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{AbsolutePosition: over}})
	if n := len(b.board.ed.Circuit().Parts()); n != 3 {
		t.Fatalf("the preview has %d parts", n)
	}
	if n := len(b.circuit().Parts()); n != 0 {
		t.Fatalf("%d parts before it is let go", n)
	}
	r.DragEnd()
	if n := len(b.circuit().Parts()); n != 3 {
		t.Fatalf("%d parts", n)
	}
	if got := b.doc.UndoLabel(); got != "Undo place drain set" {
		t.Error(got)
	}
}

func TestGroupIsPickedAndPlacedByKey(t *testing.T) {
	b := newBench(t)
	r := b.rowOf("group:dosing-set")
	r.Tapped(nil)
	if !r.picked || b.board.ed.State() != "place.idle" {
		t.Fatalf("picked %v, %s", r.picked, b.board.ed.State())
	}
	b.click(model.Point{X: 80, Y: 80}, 0)
	b.do(b.actions.groups.show)
	if f, ok := b.win.Canvas().Focused().(*partRow); !ok || f.group == nil {
		t.Fatalf("the focus is on %T", b.win.Canvas().Focused())
	}
	r.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	r.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	parts := b.circuit().Parts()
	if len(parts) != 12 {
		t.Fatalf("%d parts after a click and two Returns", len(parts))
	}
	for i, p := range parts {
		for _, q := range parts[:i] {
			if b.drawing().Box(p).Touches(b.drawing().Box(q)) {
				t.Errorf("%s lies on %s", p.Meta().Tag, q.Meta().Tag)
			}
		}
	}
}

func TestSelectionIsSavedFoundPlacedAndDeleted(t *testing.T) {
	b := newBench(t)
	b.parts.folder = filepath.Join(t.TempDir(), "groups")
	if b.actions.groups.save.can() {
		t.Error("nothing is selected and can be saved")
	}
	b.rowOf("group:drain-set").Tapped(nil)
	b.click(model.Point{X: 80, Y: 80}, 0)
	save := func(name string) {
		b.do(b.actions.groups.save)
		e, ok := b.win.Canvas().Focused().(*searchEntry)
		if !ok {
			t.Fatalf("the focus is on %T", b.win.Canvas().Focused())
		}
		test.Type(e, name)
		b.button("Save group").OnTapped()
	}
	save("")
	if text := b.dialogText(); !strings.Contains(text, "Give the group a name") || !strings.Contains(text, "2 ends are free") {
		t.Errorf("without a name: %q", text)
	}
	b.button("Cancel").OnTapped()
	save("Low point, east")
	r := b.rowOf("own:low-point-east")
	if r.kind.Group != group.OwnHeading || r.kind.Title != "Low point, east" {
		t.Errorf("%q under %q", r.kind.Title, r.kind.Group)
	}
	save("Low point, east")
	if !strings.Contains(b.dialogText(), "already") {
		t.Errorf("the same name again: %q", b.dialogText())
	}
	b.button("Replace it").OnTapped()
	r = b.rowOf("own:low-point-east")
	r.Tapped(nil)
	b.click(model.Point{X: 80, Y: 200}, 0)
	if n := len(b.circuit().Parts()); n != 6 {
		t.Errorf("%d parts", n)
	}
	r.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDelete})
	b.button("Delete it").OnTapped()
	for _, r := range b.parts.rows {
		if r.group != nil && r.group.Own {
			t.Error("the group is still there")
		}
	}
	b.rowOf("group:drain-set").TypedKey(&fyne.KeyEvent{Name: fyne.KeyDelete})
	if b.win.Canvas().Overlays().Top() != nil {
		t.Error("a ready group asks to be deleted")
	}
}
