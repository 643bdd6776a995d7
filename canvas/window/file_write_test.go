package window

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"rinsewright/model"
	"rinsewright/model/circuitfile"
	"rinsewright/model/store"
)

// saved makes a bench with one tank that is saved, and a second one that is not.
func savedBench(t *testing.T) (*bench, string) {
	b := newBench(t)
	b.checker.onMain = func(func()) {}
	b.saving.onMain = func(f func()) { b.onMain <- f }
	path := filepath.Join(t.TempDir(), "line.circuit.json")
	b.bring("water-tank", model.Point{X: 60, Y: 60})
	b.write(path, "", nil)
	b.bring("alkali-tank", model.Point{X: 120, Y: 60})
	if b.file.path != path || !b.doc.Dirty() {
		t.Fatalf("file %q, dirty %v", b.file.path, b.doc.Dirty())
	}
	return b, path
}

func tanksIn(t *testing.T, path string) int {
	t.Helper()
	c, err := circuitfile.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return len(c.Parts())
}

func (b *bench) answerPath(path string) {
	b.t.Helper()
	entry, ok := b.win.Canvas().Focused().(*searchEntry)
	if !ok {
		b.t.Fatal("no path is asked for")
	}
	entry.SetText(path)
	entry.OnSubmitted(path)
}

// What the system says when a disk is full, a folder can only be read or a drive
// in the network is gone is told in words, nothing is lost, and another place is
// offered.
func TestWhatCannotBeSavedIsNotLost(t *testing.T) {
	for _, system := range []error{syscall.ENOSPC, syscall.EROFS, syscall.EACCES, syscall.ESTALE} {
		t.Run(system.Error(), func(t *testing.T) {
			b, path := savedBench(t)
			before := mustRead(t, path)
			real := b.saving.disk
			b.saving.disk.save = func(path string, _ []byte, seen store.Print) (store.Print, error) {
				return seen, &store.Error{Path: path, Reason: "the reason", Err: system}
			}
			b.saving.disk.keep = func(to string, data []byte) error {
				if filepath.Dir(to) == filepath.Dir(path) {
					return system
				}
				return store.Autosave(to, data)
			}
			b.save(nil)
			said := b.dialogText()
			if !strings.Contains(said, "the reason") || !strings.Contains(said, "Nothing is lost") {
				t.Fatalf("the dialog says %q", said)
			}
			if !b.doc.Dirty() || mustRead(t, path) != before {
				t.Error("the failed saving passes as saved")
			}
			kept := store.AutosavePath(b.asidePath(path))
			if !strings.Contains(said, kept) || tanksIn(t, kept) != 2 {
				t.Errorf("no copy at %s; the dialog says %q", kept, said)
			}
			b.button("Try again").OnTapped()
			b.saving.disk.save = real.save
			b.button("Save elsewhere").OnTapped()
			other := filepath.Join(t.TempDir(), "elsewhere.circuit.json")
			b.answerPath(other)
			if b.doc.Dirty() || b.file.path != other || tanksIn(t, other) != 2 {
				t.Errorf("dirty %v, file %s", b.doc.Dirty(), b.file.path)
			}
			if _, err := os.Stat(kept); err == nil {
				t.Error("the copy stays although all is saved")
			}
		})
	}
}

// In a folder that can only be read the copy against a crash lies in the program's
// own folder, and is offered at the next start.
func TestCopyOfAFileInAFolderThatCanOnlyBeRead(t *testing.T) {
	b, path := savedBench(t)
	b.saving.disk.keep = func(to string, data []byte) error {
		if filepath.Dir(to) == filepath.Dir(path) {
			return syscall.EROFS
		}
		return store.Autosave(to, data)
	}
	b.saving.later()
	b.until("the copy", func() bool { return b.saving.copied == nil })
	kept := store.AutosavePath(b.asidePath(path))
	if tanksIn(t, kept) != 2 {
		t.Fatal("the copy is not whole")
	}
	// The program is killed here and started again on the same files.
	b.file, b.saving.kept, b.saving.copied = file{}, "", nil
	b.doc.Reset(model.New("other"))
	if !b.Open(path) || len(b.circuit().Parts()) != 1 {
		t.Fatal("the file does not open as it was saved")
	}
	b.button("Take it up").OnTapped()
	if len(b.circuit().Parts()) != 2 || !b.doc.Dirty() || b.file.path != path {
		t.Errorf("%d parts, dirty %v, file %q after taking it up", len(b.circuit().Parts()), b.doc.Dirty(), b.file.path)
	}
	b.save(nil)
	if tanksIn(t, path) != 2 {
		t.Error("the work taken up is not saved")
	}
	if _, err := os.Stat(kept); err == nil {
		t.Error("the copy is still there after saving")
	}
}

func TestFileChangedMeanwhileIsKeptBeside(t *testing.T) {
	b, path := savedBench(t)
	theirs := strings.Replace(mustRead(t, path), "New circuit", "Theirs", 1)
	if err := os.WriteFile(path, []byte(theirs), 0o644); err != nil {
		t.Fatal(err)
	}
	taken := strings.Replace(path, ".circuit.json", "-2.circuit.json", 1)
	if err := os.WriteFile(taken, []byte("of somebody"), 0o644); err != nil {
		t.Fatal(err)
	}
	b.save(nil)
	if said := b.dialogText(); !strings.Contains(said, "line-3.circuit.json") {
		t.Fatalf("the dialog says %q", said)
	}
	b.button("Keep both").OnTapped()
	mine := strings.Replace(path, ".circuit.json", "-3.circuit.json", 1)
	if mustRead(t, path) != theirs || mustRead(t, taken) != "of somebody" || tanksIn(t, mine) != 2 {
		t.Error("not both are kept")
	}
	if b.file.path != mine || b.doc.Dirty() {
		t.Errorf("the window goes on with %s, dirty %v", b.file.path, b.doc.Dirty())
	}
}

func TestFileGoneMeanwhileIsSavedAgain(t *testing.T) {
	b, path := savedBench(t)
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	b.save(nil)
	if said := b.dialogText(); !strings.Contains(said, "no longer there") {
		t.Fatalf("the dialog says %q", said)
	}
	b.button("Save it again").OnTapped()
	if b.doc.Dirty() || tanksIn(t, path) != 2 {
		t.Error("it is not saved again")
	}
}

// slowly makes saving wait until it is let go.
func (b *bench) slowly() (let chan struct{}) {
	let = make(chan struct{})
	real := b.saving.disk.save
	b.saving.disk.save = func(path string, data []byte, seen store.Print) (store.Print, error) {
		<-let
		return real(path, data, seen)
	}
	return let
}

// While a drive is slow the user goes on; what was changed meanwhile is not taken
// for saved.
func TestASlowDiskHoldsNothingUp(t *testing.T) {
	b, path := savedBench(t)
	let := b.slowly()
	b.save(nil)
	if b.overlayOpen() {
		t.Fatalf("the window is held up: %q", b.dialogText())
	}
	if !strings.Contains(b.status.hint.Text, "slow") {
		t.Errorf("the status reads %q", b.status.hint.Text)
	}
	b.bring("acid-tank", model.Point{X: 180, Y: 60})
	close(let)
	b.until("the end of the saving", func() bool { return b.saving.writing == nil })
	if tanksIn(t, path) != 2 || !b.doc.Dirty() {
		t.Errorf("%d tanks saved, dirty %v: want the two of when it was asked for, and the third unsaved", tanksIn(t, path), b.doc.Dirty())
	}
	b.save(nil)
	if tanksIn(t, path) != 3 || b.doc.Dirty() {
		t.Errorf("%d tanks, dirty %v after saving again", tanksIn(t, path), b.doc.Dirty())
	}
}

func TestQuittingWaitsForASlowDisk(t *testing.T) {
	b, path := savedBench(t)
	ended := false
	b.quit = func() { ended = true }
	let := b.slowly()
	b.askQuit()
	b.button("Save").OnTapped()
	if ended || !strings.Contains(b.dialogText(), "old one until the new one is whole") {
		t.Fatalf("ended %v, the dialog says %q", ended, b.dialogText())
	}
	b.button("Wait for it").OnTapped()
	close(let)
	b.until("the end of the saving", func() bool { return b.saving.writing == nil })
	if !ended || tanksIn(t, path) != 2 {
		t.Errorf("ended %v, %d tanks", ended, tanksIn(t, path))
	}
}

// Another circuit is opened while a saving is under way: its end does not make the
// new one pass as saved.
func TestALateSavingIsOfItsOwnCircuit(t *testing.T) {
	b, path := savedBench(t)
	let := b.slowly()
	b.save(nil)
	b.NewCircuit()
	b.bring("acid-tank", model.Point{X: 60, Y: 60})
	close(let)
	b.until("the file", func() bool { return tanksIn(t, path) == 2 })
	select { // the end of the saving, where nothing else took it in
	case f := <-b.onMain:
		f()
	case <-time.After(time.Second):
	}
	if tanksIn(t, path) != 2 || !b.doc.Dirty() || b.file.path != "" {
		t.Errorf("%d tanks, dirty %v, file %q", tanksIn(t, path), b.doc.Dirty(), b.file.path)
	}
}

// A copy that comes late, when the work has been saved, is not left behind.
func TestALateCopyIsNotLeftBehind(t *testing.T) {
	b, path := savedBench(t)
	let := make(chan struct{})
	b.saving.disk.keep = func(to string, data []byte) error {
		<-let
		return store.Autosave(to, data)
	}
	b.saving.later()
	b.save(nil)
	close(let)
	b.saving.settle()
	if _, _, ok := store.Recoverable(path); ok {
		t.Error("the copy would be offered at the next start")
	}
	if _, err := os.Stat(store.AutosavePath(path)); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the copy is there: %v", err)
	}
}

func TestPipesAndFoldersAreNotOpened(t *testing.T) {
	b, path := savedBench(t)
	before := b.circuit()
	for _, bad := range []string{filepath.Dir(path), os.DevNull} {
		if b.Open(bad) || b.circuit() != before {
			t.Errorf("%s was opened", bad)
		}
		if !strings.Contains(b.dialogText(), "folder or a device") {
			t.Errorf("%s: the dialog says %q", bad, b.dialogText())
		}
		b.button("Close").OnTapped()
	}
}
