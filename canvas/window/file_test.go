package window

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
	"rinsewright/model/circuitfile"
	"rinsewright/model/store"
)

// button finds a button of the topmost dialog.
func (b *bench) button(text string) *askButton {
	b.t.Helper()
	top := b.win.Canvas().Overlays().Top()
	if top == nil {
		b.t.Fatalf("no dialog with the button %q", text)
	}
	var found *askButton
	for _, o := range test.LaidOutObjects(top) {
		if x, ok := o.(*askButton); ok && x.Text == text {
			found = x
		}
	}
	if found == nil {
		b.t.Fatalf("the dialog has no button %q", text)
	}
	return found
}

func (b *bench) dialogText() string {
	out := ""
	if top := b.win.Canvas().Overlays().Top(); top != nil {
		for _, o := range test.LaidOutObjects(top) {
			if l, ok := o.(*widget.Label); ok {
				out += l.Text + "\n"
			}
		}
	}
	return out
}

func TestUnsavedQuestion(t *testing.T) {
	b := newBench(t)
	b.do(b.actions.newFile)
	if b.overlayOpen() {
		t.Fatal("asked although nothing was changed")
	}
	b.bring("water-tank", model.Point{X: 60, Y: 60})
	b.do(b.actions.newFile)
	if !b.overlayOpen() {
		t.Fatal("not asked before the work is thrown away")
	}
	// While the question stands, nothing else happens.
	b.do(b.actions.undo)
	b.do(b.actions.newFile)
	if n := len(b.circuit().Parts()); n != 1 {
		t.Fatalf("%d parts: a shortcut worked through the dialog", n)
	}
	if n := len(b.win.Canvas().Overlays().List()); n != 1 {
		t.Fatalf("%d dialogs lie over each other", n)
	}
	b.button("Save").TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if b.overlayOpen() || len(b.circuit().Parts()) != 1 {
		t.Fatal("Escape does not leave everything as it is")
	}
	b.do(b.actions.newFile)
	b.button("Do not save").OnTapped()
	if n := len(b.circuit().Parts()); n != 0 {
		t.Errorf("%d parts in the new circuit", n)
	}
}

func TestQuitAsksFirst(t *testing.T) {
	b := newBench(t)
	ended := false
	b.quit = func() { ended = true }
	b.bring("water-tank", model.Point{X: 60, Y: 60})
	b.askQuit()
	if ended || !b.overlayOpen() {
		t.Fatal("the program would end without asking")
	}
	b.button("Cancel").OnTapped()
	b.askQuit()
	b.button("Do not save").OnTapped()
	if !ended {
		t.Error("the program does not end")
	}
}

func TestSaveAsOpenAndReadBack(t *testing.T) {
	b := newBench(t)
	path := filepath.Join(t.TempDir(), "line.circuit.json")
	b.bring("water-tank", model.Point{X: 60, Y: 60})
	b.do(b.actions.saveFile)
	entry, ok := b.win.Canvas().Focused().(*searchEntry)
	if !ok {
		t.Fatal("the path cannot be typed at once")
	}
	entry.SetText(strings.TrimSuffix(path, ending)) // the ending comes by itself
	entry.OnSubmitted(entry.Text)
	got, err := circuitfile.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Parts()) != 1 || b.doc.Dirty() || b.file.path != path {
		t.Errorf("saved %d parts, dirty %v, path %s", len(got.Parts()), b.doc.Dirty(), b.file.path)
	}
	if list := b.recent(); len(list) != 1 || list[0] != path {
		t.Errorf("recent files are %v", list)
	}

	// Somebody else writes the file: ours is not put over it without a question.
	other := []byte(strings.Replace(mustRead(t, path), "New circuit", "Theirs", 1))
	if err := os.WriteFile(path, other, 0o644); err != nil {
		t.Fatal(err)
	}
	b.bring("alkali-tank", model.Point{X: 120, Y: 60})
	b.do(b.actions.saveFile)
	if !strings.Contains(b.dialogText(), "changed") {
		t.Fatalf("the dialog says %q", b.dialogText())
	}
	if mustRead(t, path) != string(other) {
		t.Error("the work of others is gone before the answer")
	}
	b.button("Write over").OnTapped()
	if got, err := circuitfile.ReadFile(path); err != nil || len(got.Parts()) != 2 {
		t.Errorf("%v after writing over", err)
	}
}

func mustRead(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestBadFileIsToldAndChangesNothing(t *testing.T) {
	b := newBench(t)
	b.bring("water-tank", model.Point{X: 60, Y: 60})
	before := b.circuit()
	path := filepath.Join(t.TempDir(), "bad.circuit.json")
	text := "{\n  \"schema\": \"rinsewright-circuit\",\n  \"version\": 1,\n  \"circuit\": {\"name\": \"x\"},\n  \"parts\": [{\"class\": \"valve\", \"id\": \"p1\", \"kind\": \"butterfly-valve\", \"at_mm\": [0, 0], \"kv_m3h\": \"much\"}]\n}\n"
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	if b.Open(path) {
		t.Fatal("a bad file was opened")
	}
	if b.circuit() != before {
		t.Error("the old circuit is gone")
	}
	said := b.dialogText()
	if !strings.Contains(said, "Line 5, column") || !strings.Contains(said, "kv_m3h") {
		t.Errorf("the dialog says %q", said)
	}
}

func TestAutosaveIsOffered(t *testing.T) {
	b := newBench(t)
	path := filepath.Join(t.TempDir(), "line.circuit.json")
	b.bring("water-tank", model.Point{X: 60, Y: 60})
	b.write(path, "", nil)
	b.bring("alkali-tank", model.Point{X: 120, Y: 60})
	if kept := b.saving.now(); kept != store.AutosavePath(path) {
		t.Fatalf("kept at %q", kept)
	}
	// Another start: the file has one tank, the copy two.
	c := newBench(t)
	if !c.Open(path) {
		t.Fatal("not opened")
	}
	if n := len(c.circuit().Parts()); n != 1 {
		t.Fatalf("%d parts before the answer", n)
	}
	c.button("Take it up").OnTapped()
	if n := len(c.circuit().Parts()); n != 2 || !c.doc.Dirty() {
		t.Errorf("%d parts, dirty %v after taking it up", n, c.doc.Dirty())
	}
	c.save(nil)
	if _, _, ok := store.Recoverable(path); ok {
		t.Error("the copy is still offered after saving")
	}
}

func TestFaultKeepsTheWork(t *testing.T) {
	b := newBench(t)
	path := filepath.Join(t.TempDir(), "line.circuit.json")
	b.bring("water-tank", model.Point{X: 60, Y: 60})
	b.write(path, "", nil)
	b.bring("alkali-tank", model.Point{X: 120, Y: 60})
	b.guard("test", func() { panic("on purpose") })
	if !strings.Contains(b.dialogText(), "on purpose") {
		t.Errorf("the dialog says %q", b.dialogText())
	}
	if got, err := circuitfile.ReadFile(store.AutosavePath(path)); err != nil || len(got.Parts()) != 2 {
		t.Errorf("the copy: %v", err)
	}
}

func TestExport(t *testing.T) {
	b := newBench(t)
	b.OpenCopy(demos()[0].file, demos()[0].data)
	b.checks()
	dir := t.TempDir()
	for _, tt := range []struct {
		a         *action
		name, has string
	}{
		{b.actions.exportPNG, "a.png", "\x89PNG"},
		{b.actions.exportSVG, "a.svg", "<svg"},
		{b.actions.exportCSV, "a.csv", b.result.Findings[0].Rule},
		{b.actions.exportJSON, "a.json", `"findings"`},
	} {
		b.do(tt.a)
		entry := b.win.Canvas().Focused().(*searchEntry)
		entry.SetText(filepath.Join(dir, tt.name))
		entry.OnSubmitted(entry.Text)
		if got := mustRead(t, filepath.Join(dir, tt.name)); !strings.Contains(got, tt.has) {
			t.Errorf("%s does not hold %q", tt.name, tt.has)
		}
	}
}
