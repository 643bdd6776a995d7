package window

import (
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"fyne.io/fyne/v2"

	"rinsewright/model"
	"rinsewright/model/circuitfile"
	"rinsewright/model/store"
)

// autosaveEvery is how long work can be lost for at most.
const autosaveEvery = 20 * time.Second

// autosaver keeps a copy of unsaved work beside the file, or in the program's
// own folder while the circuit has no file, or where nothing can be written beside
// it. Its methods are called on the main goroutine; slow disks are awaited beside
// it.
type autosaver struct {
	on     *Window
	disk   disk
	onMain func(func()) // hands back to the main goroutine
	timer  *time.Timer
	mark   int      // state that was kept
	kept   string   // path beside which the copy lies; empty: there is none
	copied *copying // the copy that is under way

	writing *writing // the saving of the file that is under way
}

// copying is one copy that is being written beside the user.
type copying struct {
	mark    int
	given   bool // the work has been saved or given up meanwhile
	overdue bool // a later copy has been made meanwhile
	done    chan struct{}
	kept    string
	err     error
}

func newAutosaver(on *Window) *autosaver {
	return &autosaver{on: on, disk: disk{store.SaveIfUnchanged, store.Autosave}, onMain: fyne.Do}
}

// touched starts the clock when there is something to keep.
func (a *autosaver) touched() {
	if a.timer != nil || !a.on.started || !a.on.doc.Dirty() {
		return
	}
	a.timer = time.AfterFunc(autosaveEvery, func() {
		a.onMain(func() {
			a.timer = nil
			a.later()
		})
	})
}

// places are the paths beside which a copy can be kept, the best first.
func (a *autosaver) places() []string {
	var out []string
	path := a.on.file.path
	own := a.on.unnamedPath()
	if path != "" {
		out = append(out, path)
		own = a.on.asidePath(path)
	}
	if own != "" {
		out = append(out, own)
	}
	return out
}

// unnamedPath stands for a circuit without a file; empty where the program has no
// folder of its own.
func (w *Window) unnamedPath() string {
	if folder := w.ownFolder(); folder != "" {
		return filepath.Join(folder, "unnamed"+ending)
	}
	return ""
}

// asidePath stands for a file beside which no copy can be kept: in a folder that
// can only be read, on a full disk. Files of one name in two folders do not meet.
func (w *Window) asidePath(path string) string {
	folder := w.ownFolder()
	if folder == "" {
		return ""
	}
	sum := sha256.Sum256([]byte(path))
	return filepath.Join(folder, "kept", fmt.Sprintf("%x-%s", sum[:6], filepath.Base(path)))
}

func (w *Window) ownFolder() string {
	if root := w.app.Storage().RootURI(); root != nil && root.Scheme() == "file" {
		return root.Path()
	}
	return ""
}

// keepCopy keeps a copy of a snapshot at the first of the places that takes it, and
// tells at which.
func keepCopy(c *model.Circuit, places []string, own string, keep func(string, []byte) error) (string, error) {
	data, err := circuitfile.Encode(c)
	if err != nil {
		return "", err
	}
	err = fmt.Errorf("the program has no folder of its own")
	for _, path := range places {
		if folder := filepath.Dir(path); own != "" && within(own, folder) {
			if err = os.MkdirAll(folder, 0o700); err != nil {
				continue
			}
		}
		if err = keep(path, data); err == nil {
			return path, nil
		}
	}
	return "", err
}

// within tells whether a folder is another one or lies in it.
func within(outer, folder string) bool {
	rest, err := filepath.Rel(outer, folder)
	return err == nil && filepath.IsLocal(rest)
}

// now keeps a copy and tells where; empty if it could not be kept.
func (a *autosaver) now() string { return a.nowAt(a.places()) }

// nowOwn is now in the program's own folder alone, where the place of the file has
// failed.
func (a *autosaver) nowOwn() string {
	all := a.places()
	return a.nowAt(all[max(len(all)-1, 0):])
}

func (a *autosaver) nowAt(places []string) string {
	if a.copied != nil {
		a.copied.overdue = true
	}
	mark := a.on.doc.SavedMark()
	kept, err := keepCopy(a.on.circuit(), places, a.on.ownFolder(), a.disk.keep)
	a.took(mark, kept, err)
	if err != nil {
		return ""
	}
	return store.AutosavePath(kept)
}

// later keeps a copy without holding up the window.
func (a *autosaver) later() {
	if a.copied != nil || !a.on.doc.Dirty() || a.kept != "" && a.mark == a.on.doc.SavedMark() {
		return
	}
	job := &copying{mark: a.on.doc.SavedMark(), done: make(chan struct{})}
	a.copied = job
	c, places, own, keep := a.on.circuit(), a.places(), a.on.ownFolder(), a.disk.keep
	go func() {
		defer a.onMain(func() { a.ended(job) })
		defer close(job.done)
		defer func() {
			if x := recover(); x != nil { // the work must not go down with its copy
				job.err = fmt.Errorf("the program has made a mistake: %v", x)
			}
		}()
		job.kept, job.err = keepCopy(c, places, own, keep)
	}()
}

// ended takes up a copy that was written beside the user.
func (a *autosaver) ended(job *copying) {
	if a.copied != job {
		return
	}
	a.copied = nil
	switch {
	case job.given:
		a.remove(job.kept)
	case job.overdue: // it may lie over the later one
		a.now()
	default:
		a.took(job.mark, job.kept, job.err)
	}
	a.touched()
}

// took notes a copy, or tells why there is none.
func (a *autosaver) took(mark int, kept string, err error) {
	if err != nil {
		a.on.tellHint("The copy against a crash cannot be kept: " + err.Error())
		return
	}
	if a.kept != kept {
		a.remove(a.kept)
	}
	a.mark, a.kept = mark, kept
	a.on.events.tell("autosaved", map[string]any{"path": store.AutosavePath(kept)})
}

func (a *autosaver) remove(path string) {
	if path == "" {
		return
	}
	if err := store.RemoveAutosave(path); err != nil {
		a.on.tellHint(sentence(err.Error()))
	}
}

// forget removes the copy: the work is saved, or not wanted.
func (a *autosaver) forget() {
	if a.timer != nil {
		a.timer.Stop()
		a.timer = nil
	}
	if a.copied != nil {
		a.copied.given = true
	}
	kept := a.kept
	a.kept = ""
	a.remove(kept)
}

// lastWait is how long the end of the program waits for a copy that is under way.
const lastWait = 2 * time.Second

// settle waits for a copy that is under way and not wanted any more, so that it is
// not offered at the next start.
func (a *autosaver) settle() {
	job := a.copied
	if job == nil || !job.given {
		return
	}
	select {
	case <-job.done:
		a.ended(job)
	case <-time.After(lastWait): // the disk hangs; then the copy will be offered
	}
}

// offerAutosave asks whether to take up work that a crash left unsaved. path is
// the file that was opened, or that stands for a circuit without one.
func (w *Window) offerAutosave(path string) bool {
	if path == "" {
		return false
	}
	base, copied, when, ok := w.recoverable(path)
	if !ok {
		return false
	}
	name := filepath.Base(path)
	if path == w.unnamedPath() {
		name = "a circuit that was never saved"
	}
	w.ask("Take up unsaved work?", fmt.Sprintf("The program ended without saving %s. A copy from %s was kept%s.", name, when.Local().Format("2 January 2006, 15:04"), savedAt(path)),
		answer{"Take it up", func() { w.takeUp(path, base, copied) }},
		answer{"Leave it", func() {
			// Under another name, so that the next copy is not written over it.
			if aside, err := store.KeepAside(base); err != nil {
				w.tellHint(sentence(err.Error()))
			} else {
				w.tellHint("Kept as " + filepath.Base(aside))
			}
		}},
		answer{"Delete the copy", func() {
			w.saving.remove(base)
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

// recoverable finds the copy of a file that a crash has left: beside it, or in the
// program's own folder. base is the path beside which it lies.
func (w *Window) recoverable(path string) (base, copied string, when time.Time, ok bool) {
	if copied, when, ok = store.Recoverable(path); ok {
		return path, copied, when, true
	}
	base = w.asidePath(path)
	if base == "" || path == w.unnamedPath() {
		return "", "", time.Time{}, false
	}
	copied, when, ok = store.Recoverable(base)
	if ok {
		mine, err := store.Fingerprint(copied)
		saved, other := store.Fingerprint(path)
		ok = err != nil || other != nil || mine != saved
	}
	return base, copied, when, ok
}

// takeUp opens the copy of the file at path that lies beside base.
func (w *Window) takeUp(path, base, copied string) {
	data, err := readWhole(copied)
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
	w.saving.kept = base // the copy stays until the work is saved
	w.saving.mark = w.doc.SavedMark()
}
