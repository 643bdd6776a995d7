package window

import (
	"fmt"
	"os"
	"path/filepath"
	"time"

	"fyne.io/fyne/v2"

	"rinsewright/model/circuitfile"
	"rinsewright/model/store"
)

// autosaveEvery is how long work can be lost for at most.
const autosaveEvery = 20 * time.Second

// autosaver keeps a copy of unsaved work beside the file, or in the program's
// own folder while the circuit has no file.
type autosaver struct {
	on    *Window
	timer *time.Timer
	mark  int // state that was kept
	kept  bool
}

func newAutosaver(on *Window) *autosaver { return &autosaver{on: on} }

// touched starts the clock when there is something to keep.
func (a *autosaver) touched() {
	if a.timer != nil || !a.on.started || !a.on.doc.Dirty() {
		return
	}
	a.timer = time.AfterFunc(autosaveEvery, func() {
		fyne.Do(func() {
			a.timer = nil
			if a.on.doc.Dirty() && !(a.kept && a.mark == a.on.doc.SavedMark()) {
				a.now()
			}
		})
	})
}

// path is the file beside which the copy is kept.
func (a *autosaver) path() string {
	if a.on.file.path != "" {
		return a.on.file.path
	}
	return a.on.unnamedPath()
}

// unnamedPath stands for a circuit without a file.
func (w *Window) unnamedPath() string {
	if root := w.app.Storage().RootURI(); root != nil && root.Scheme() == "file" {
		return filepath.Join(root.Path(), "unnamed"+ending)
	}
	return ""
}

// now keeps a copy and tells where; empty if it could not be kept.
func (a *autosaver) now() string {
	path := a.path()
	if path == "" {
		return ""
	}
	data, err := circuitfile.Encode(a.on.circuit())
	if err != nil {
		a.on.tellHint("The copy against a crash cannot be kept: " + err.Error())
		return ""
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return ""
	}
	if err := store.Autosave(path, data); err != nil {
		a.on.tellHint("The copy against a crash cannot be kept: " + err.Error())
		return ""
	}
	a.mark, a.kept = a.on.doc.SavedMark(), true
	a.on.events.tell("autosaved", map[string]any{"path": store.AutosavePath(path)})
	return store.AutosavePath(path)
}

// forget removes the copy: the work is saved, or not wanted.
func (a *autosaver) forget() {
	if a.timer != nil {
		a.timer.Stop()
		a.timer = nil
	}
	if !a.kept {
		return
	}
	a.kept = false
	if err := store.RemoveAutosave(a.path()); err != nil {
		a.on.tellHint(err.Error())
	}
}

// offerAutosave asks whether to take up work that a crash left unsaved. path is
// the file that was opened, or that stands for a circuit without one.
func (w *Window) offerAutosave(path string) bool {
	if path == "" {
		return false
	}
	copied, when, ok := store.Recoverable(path)
	if !ok {
		return false
	}
	name := filepath.Base(path)
	if path == w.unnamedPath() {
		name = "a circuit that was never saved"
	}
	w.ask("Take up unsaved work?", fmt.Sprintf("The program ended without saving %s. A copy from %s was kept%s.", name, when.Local().Format("2 January 2006, 15:04"), savedAt(path)),
		answer{"Take it up", func() { w.takeUp(path, copied) }},
		answer{"Leave it", func() {
			// Under another name, so that the next copy is not written over it.
			if aside, err := store.KeepAside(path); err != nil {
				w.tellHint(sentence(err.Error()))
			} else {
				w.tellHint("Kept as " + filepath.Base(aside))
			}
		}},
		answer{"Delete the copy", func() {
			if err := store.RemoveAutosave(path); err != nil {
				w.tellHint(err.Error())
			}
		}})
	return true
}

// savedAt tells when the file itself was last written, beside the date of a copy.
func savedAt(path string) string {
	info, err := os.Stat(path)
	if err != nil {
		return ""
	}
	return "; the file itself is from " + info.ModTime().Local().Format("2 January 2006, 15:04")
}

func (w *Window) takeUp(path, copied string) {
	data, err := os.ReadFile(copied)
	if err != nil {
		w.tellDialog("The copy cannot be read", plainFileError(err))
		return
	}
	c, err := circuitfile.Decode(filepath.Base(copied), data)
	if err != nil {
		w.tellBadFile(copied, err)
		return
	}
	f := w.file
	if path == w.unnamedPath() {
		f = file{}
	}
	w.replace(c, f, true)
	w.saving.kept = true // the copy stays until the work is saved
	w.saving.mark = w.doc.SavedMark()
}
