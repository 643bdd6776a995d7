package edit

import (
	"errors"
	"slices"
	"testing"
	"time"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

func TestHistory(t *testing.T) {
	s := newSheet(t)
	s.part("p1", "pump", 0, 0, tagged("P-101"))
	doc := NewDocument(s.doc.Circuit(), s.doc.cat)
	first := doc.Circuit()
	if doc.Dirty() || doc.CanUndo() || doc.CanRedo() || doc.UndoLabel() != "Undo" || doc.RedoLabel() != "Redo" {
		t.Error("a document that was just opened has a history")
	}
	move := func(x float64) {
		t.Helper()
		if err := doc.Apply(doc.Drawing().Move([]model.ID{"p1"}, pt(x, 0))); err != nil {
			t.Fatal(err)
		}
	}
	move(10)
	mark := doc.SavedMark()
	move(5)
	doc.MarkSaved(mark) // the first move was written while the second was made
	if !doc.Dirty() || doc.UndoLabel() != "Undo move P-101" {
		t.Errorf("dirty %v, %q", doc.Dirty(), doc.UndoLabel())
	}
	doc.Undo()
	if doc.Dirty() || doc.RedoLabel() != "Redo move P-101" {
		t.Errorf("back at the saved state: dirty %v, %q", doc.Dirty(), doc.RedoLabel())
	}
	doc.Undo()
	if !doc.Dirty() || difference(first, doc.Circuit()) != "" || doc.Undo() {
		t.Error("undoing all does not lead to the first circuit")
	}
	doc.Redo()
	if doc.Dirty() {
		t.Error("redo to the saved state is dirty")
	}
	doc.Undo()
	move(5) // another way to a state that looks like one before
	if !doc.Dirty() || doc.CanRedo() {
		t.Error("the saved state is in a history that is gone")
	}
	if err := doc.Apply(model.Edit{Label: "nothing"}); err != nil || doc.UndoLabel() != "Undo move P-101" {
		t.Error("an empty edit is a step of the history")
	}
	stale := doc.Drawing().Move([]model.ID{"p1"}, pt(1, 0))
	move(1)
	if err := doc.Apply(stale); !errors.Is(err, model.ErrStale) {
		t.Errorf("a stale edit: %v", err)
	}
	doc.MarkSaved(doc.SavedMark())
	doc.MarkUnsaved()
	if !doc.Dirty() {
		t.Error("an unsaved circuit is clean")
	}
	doc.Reset(first)
	if doc.Dirty() || doc.CanUndo() {
		t.Error("another file keeps the history")
	}
}

func TestHistoryMerges(t *testing.T) {
	s := newSheet(t)
	s.part("t1", "tank", 0, 0)
	s.part("t2", "tank", 100, 0)
	doc := NewDocument(s.doc.Circuit(), s.doc.cat)
	now := time.Unix(0, 0)
	doc.now = func() time.Time { return now }
	set := func(text, key string, after time.Duration) {
		t.Helper()
		now = now.Add(after)
		e, err := doc.Drawing().SetProperty([]model.ID{"t1"}, "diameter_m", text, quantity.Metric)
		if err != nil {
			t.Fatal(err)
		}
		if err := doc.ApplyTyped(e, key); err != nil {
			t.Fatal(err)
		}
	}
	steps := func() (n int) {
		for doc.Undo() {
			n++
		}
		for doc.Redo() {
		}
		return n
	}
	set("1", "d", 0)
	set("1.5", "d", 100*time.Millisecond)
	set("1.55", "d", 100*time.Millisecond)
	if n := steps(); n != 1 {
		t.Errorf("typed at once: %d steps", n)
	}
	set("2", "d", 2*time.Second)
	if n := steps(); n != 2 {
		t.Errorf("typed later: %d steps", n)
	}
	set("3", "other", 0)
	doc.MarkSaved(doc.SavedMark())
	set("4", "other", 0)
	if n := steps(); n != 4 {
		t.Errorf("a saved state was merged away: %d steps", n)
	}
	doc.Undo()
	if doc.Dirty() {
		t.Error("the saved state is not to be had again")
	}
	set("5", "x", 0)
	set("3", "x", 0) // back to what it was
	if n := steps(); n != 3 || doc.Dirty() {
		t.Errorf("typed and taken back: %d steps, dirty %v", n, doc.Dirty())
	}
	doc.Select("t1")
	nudge, _ := ActionNamed("nudge-right")
	nudge.Run(doc)
	nudge.Run(doc)
	if n := steps(); n != 4 || doc.Circuit().Part("t1").Meta().At != pt(2*Grid, 0) {
		t.Errorf("nudged twice: %d steps, at %v", n, doc.Circuit().Part("t1").Meta().At)
	}
	nudge.Run(doc)
	doc.Select("t2")
	nudge.Run(doc)
	if n := steps(); n != 6 {
		t.Errorf("nudged another part: %d steps", n)
	}
}

func TestListeners(t *testing.T) {
	s := newSheet(t)
	s.part("p1", "pump", 0, 0)
	s.part("p2", "pump", 50, 0)
	var got []Notice
	stop := s.doc.Listen(func(n Notice) { got = append(got, n) })
	expect := func(desc string, want ...Notice) {
		t.Helper()
		if !slices.Equal(got, want) {
			t.Errorf("%s: %+v, want %+v", desc, got, want)
		}
		got = nil
	}
	s.doc.Select("p1", "p1", "nobody")
	expect("select", Notice{Selection: true})
	if !slices.Equal(s.doc.Selection(), []model.ID{"p1"}) {
		t.Errorf("selected %v", s.doc.Selection())
	}
	s.doc.Select("p1")
	expect("select the same")
	s.doc.Apply(s.doc.Drawing().Move([]model.ID{"p1"}, pt(5, 0)))
	expect("move", Notice{Circuit: true, Saved: true})
	s.doc.Toggle("p1", "p2")
	expect("toggle", Notice{Selection: true})
	s.doc.Apply(s.doc.Drawing().Delete(s.doc.Selection()))
	expect("delete", Notice{Circuit: true, Saved: true, Selection: true})
	if len(s.doc.Selection()) != 0 || s.doc.Selected("p2") {
		t.Errorf("what is gone is selected: %v", s.doc.Selection())
	}
	s.doc.MarkSaved(s.doc.SavedMark())
	expect("save", Notice{Saved: true})
	stop()
	s.doc.Undo()
	expect("after stop")
}

func TestClipboard(t *testing.T) {
	s := newSheet(t)
	s.part("p1", "pump", 0, 0, tagged("P-101"))
	s.part("v1", "valve", 50, 0, tagged("V-101"))
	s.part("x1", "valve", 100, 0, tagged("Inlet"))
	s.part("v2", "valve", 150, 0)
	s.run("r1", "p1", "b", "v1", "a", sized(dn50), bent(pt(20, 0)))
	s.run("r2", "v1", "b", "x1", "a")
	s.run("r3", "x1", "b", "v2", "a")
	doc := s.doc
	doc.Select("p1", "v1", "x1")
	doc.Copy()
	if err := doc.Paste(); err != nil {
		t.Fatal(err)
	}
	sound(t, doc.Circuit(), doc.cat)
	c := doc.Circuit()
	if len(c.Parts()) != 7 || len(c.Runs()) != 5 || len(doc.Selection()) != 5 {
		t.Fatalf("%d parts, %d runs, %d selected", len(c.Parts()), len(c.Runs()), len(doc.Selection()))
	}
	var tags []string
	for _, id := range doc.Selection() {
		switch r := c.Record(id).(type) {
		case model.Part:
			tags = append(tags, r.Meta().Tag)
			if id == "p1" || id == "v1" || id == "x1" {
				t.Error("an original is selected")
			}
		case *model.Run:
			if len(r.Bends) > 0 && (r.Bends[0] != pt(20+pasteStep, pasteStep) || r.Size.Or("") != dn50) {
				t.Errorf("pasted run %+v", r)
			}
		}
	}
	slices.Sort(tags)
	if !slices.Equal(tags, []string{"Inlet 2", "P-102", "V-102"}) {
		t.Errorf("tags %v", tags)
	}
	// The copy is not the original's: neither shares a point with the other.
	doc.Paste()
	if at := c.Part("p1").Meta().At; at != pt(0, 0) {
		t.Errorf("the original moved to %v", at)
	}
	if at := doc.Circuit().Part(doc.Selection()[0]).Meta().At; at == pt(pasteStep, pasteStep) {
		t.Error("the second paste covers the first")
	}

	// What was cut comes back where it was, under its own tags.
	doc.Select("p1", "v1")
	if err := doc.Cut(); err != nil || doc.Circuit().Part("p1") != nil || doc.UndoLabel() != "Undo cut 2 parts" {
		t.Fatalf("cut: %v, %q", err, doc.UndoLabel())
	}
	doc.Paste()
	for _, id := range doc.Selection() {
		if p := doc.Circuit().Part(id); p != nil && p.Meta().Tag != "P-101" && p.Meta().Tag != "V-101" {
			t.Errorf("tag %q", p.Meta().Tag)
		}
	}
	doc.PasteAt(pt(300, 300))
	if mid := doc.Drawing().Bounds(doc.Selection()...).Centre(); distance(mid, pt(300, 300)) > 2*Grid {
		t.Errorf("pasted about %v", mid)
	}
	other := NewDocument(model.New("other"), doc.cat)
	other.SetClip(doc.Clip())
	if err := other.Paste(); err != nil || len(other.Circuit().Parts()) != 2 || len(other.Circuit().Runs()) != 1 {
		t.Errorf("into another document: %v, %d parts", err, len(other.Circuit().Parts()))
	}
}

func TestFind(t *testing.T) {
	s := newSheet(t)
	s.part("a", "valve", 0, 0, tagged("V-10"))
	s.part("b", "valve", 0, 0, tagged("V-101"))
	s.part("c", "valve", 0, 0, tagged("XV-10"))
	s.part("d", "tank", 0, 0, func(p model.Part) { p.Meta().Note = "fed by v-10" })
	s.part("e", "pump", 0, 0)
	tests := []struct {
		text string
		want []model.ID
	}{
		{"v-10", []model.ID{"a", "b", "c", "d"}},
		{" Pump ", []model.ID{"e"}},
		{"", nil},
		{"nothing such", nil},
	}
	for _, tt := range tests {
		if got := s.doc.Drawing().Find(tt.text, quantity.Metric); !slices.Equal(got, tt.want) {
			t.Errorf("%q finds %v, want %v", tt.text, got, tt.want)
		}
	}
}

func TestActions(t *testing.T) {
	s := newSheet(t)
	s.part("p1", "pump", 0, 0)
	s.part("p2", "pump", 100, 0)
	s.run("r1", "p1", "b", "p2", "a", bent(pt(50, 30)))
	doc := NewDocument(s.doc.Circuit(), s.doc.cat)
	enabled := func() (names []string) {
		for _, a := range Actions() {
			if a.Enabled(doc) {
				names = append(names, a.Name)
			}
		}
		return names
	}
	if got := enabled(); !slices.Equal(got, []string{"select-all", "select-next", "select-previous"}) {
		t.Errorf("with nothing selected: %v", got)
	}
	seen := map[string]bool{}
	for _, a := range Actions() {
		if seen[a.Name] || a.Label == "" || a.Do == nil {
			t.Errorf("action %q is incomplete or stands twice", a.Name)
		}
		seen[a.Name] = true
		// Every action can be run on any selection without harm.
		for _, ids := range [][]model.ID{nil, {"p1"}, {"r1"}, {"p1", "r1", "p2"}} {
			doc.Reset(s.doc.Circuit())
			doc.Select(ids...)
			if err := a.Run(doc); err != nil {
				t.Errorf("%s: %v", a.Name, err)
			}
			sound(t, doc.Circuit(), doc.cat)
		}
	}
	doc.Reset(s.doc.Circuit())
	for _, step := range []struct {
		name, undo string
		parts      int
	}{
		{"select-all", "Undo", 2}, {"duplicate", "Undo duplicate 2 parts", 4}, {"nudge-far-up", "Undo move 2 parts", 4},
		{"turn-right", "Undo turn 2 parts", 4}, {"mirror", "Undo mirror 2 parts", 4}, {"delete", "Undo delete 2 parts", 2},
		{"undo", "Undo mirror 2 parts", 4}, {"select-all", "Undo mirror 2 parts", 4}, {"straighten", "Undo straighten 4 parts", 4},
	} {
		a, ok := ActionNamed(step.name)
		if !ok {
			t.Fatalf("no action %s", step.name)
		}
		if err := a.Run(doc); err != nil {
			t.Fatal(err)
		}
		undo, _ := ActionNamed("undo")
		if undo.Title(doc) != step.undo || len(doc.Circuit().Parts()) != step.parts {
			t.Errorf("%s: %q, %d parts", step.name, undo.Title(doc), len(doc.Circuit().Parts()))
		}
	}
}
