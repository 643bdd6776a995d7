package window

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"time"

	"rinsewright/model"
	"rinsewright/model/circuitfile"
	"rinsewright/model/store"
)

// patience is how long a disk may take before the window says that it waits for
// it. Until then the window stands still, which nobody notices.
const patience = 300 * time.Millisecond

// disk is where circuits are put; tests put a slow or a failing one in its place.
type disk struct {
	save func(path string, data []byte, seen store.Print) (store.Print, error)
	keep func(path string, data []byte) error // a copy beside the file
}

// writing is one saving that is under way.
type writing struct {
	path string
	mark int // state of the document that is written
	then func()
	done chan written
	down func() // takes the word about a slow disk off the window; nil: none stands there
}

// written is how a saving ended.
type written struct {
	seen store.Print
	err  error
}

// write puts the circuit into a file that is as it was seen; then is called once it
// is there. A disk that does not answer at once, as one in the network, holds up
// nothing: the circuit is a snapshot, and the window goes on.
func (w *Window) write(path string, seen store.Print, then func()) {
	if job := w.saving.writing; job != nil {
		if then != nil {
			job.then = func() { w.save(then) } // what has changed meanwhile goes along
		}
		w.tellSlow(job)
		return
	}
	c := w.circuit()
	job := &writing{path: path, mark: w.doc.SavedMark(), then: then, done: make(chan written, 1)}
	w.saving.writing = job
	put := w.saving.disk.save
	go func() { job.done <- encodedAndPut(c, path, seen, put) }()
	select {
	case end := <-job.done:
		w.wrote(job, end)
	case <-time.After(patience):
		if then != nil {
			w.tellSlow(job)
		} else {
			w.tellHint("Saving " + filepath.Base(path) + " … The disk is slow to answer; you can go on working.")
		}
		go func() {
			end := <-job.done
			w.saving.onMain(func() { w.guard("save", func() { w.wrote(job, end) }) })
		}()
	}
}

// encodedAndPut writes a snapshot beside the user. A fault in it is an error like
// any other: the work must not go down with it.
func encodedAndPut(c *model.Circuit, path string, seen store.Print, put func(string, []byte, store.Print) (store.Print, error)) (end written) {
	defer func() {
		if x := recover(); x != nil {
			fmt.Fprintf(os.Stderr, "rinsewright: fault in saving: %v\n%s", x, debug.Stack())
			end = written{seen, fmt.Errorf("%s was not saved: the program has made a mistake: %v", filepath.Base(path), x)}
		}
	}()
	data, err := circuitfile.Encode(c)
	if err != nil {
		return written{seen, err}
	}
	seen, err = put(path, data, seen)
	return written{seen, err}
}

// tellSlow asks what is to be done while a disk is awaited, where something is to
// follow on the saving or it was asked for a second time.
func (w *Window) tellSlow(job *writing) {
	if job.down != nil {
		return
	}
	name := filepath.Base(job.path)
	w.tellHint("Saving " + name + " …")
	taken := func(run func()) func() {
		return func() {
			job.down = nil
			if run != nil {
				run()
			}
		}
	}
	job.down = w.ask("Still saving "+name, "The disk, or the drive in the network, is slow to answer. Nothing is lost: the circuit is open here, and the file is the old one until the new one is whole.",
		answer{"Wait for it", taken(nil)},
		answer{"Save elsewhere", taken(func() {
			then := job.then
			if w.saving.writing == job {
				w.saving.writing = nil // what comes of it is told, but it is no longer the file of this circuit
			}
			w.saveElsewhere(job.path, then)
		})},
		answer{"Go on working", taken(func() { job.then = nil })})
}

// wrote takes up the end of a saving.
func (w *Window) wrote(job *writing, end written) {
	if job.down != nil {
		job.down()
		job.down = nil
	}
	mine := w.saving.writing == job
	if mine {
		w.saving.writing = nil
	}
	name := filepath.Base(job.path)
	var e *store.Error
	doubt := errors.As(end.err, &e) && e.Written
	if !mine { // another circuit is open by now, or it was saved elsewhere
		if end.err == nil || doubt {
			if w.file.path == job.path {
				w.file.seen = end.seen
			}
			w.tellHint("Saved " + name)
		} else {
			w.tellHint(sentence(end.err.Error()))
		}
		return
	}
	switch {
	case errors.Is(end.err, store.ErrChanged):
		w.tellChanged(job.path, errors.Is(end.err, store.ErrGone), job.then)
		return
	case end.err != nil && !doubt:
		w.tellUnsaved(job, end.err)
		return
	}
	w.saving.forget() // of the file that it was until now
	w.file = file{path: job.path, seen: end.seen}
	w.doc.MarkSaved(job.mark)
	w.saving.touched() // for what was changed meanwhile
	w.remember(job.path)
	w.refreshTitle()
	w.refreshStatus()
	w.tellHint("Saved " + name)
	w.events.tell("saved", map[string]any{"path": job.path})
	if doubt {
		w.tellDialog("Saved, with a doubt", end.err.Error())
	}
	if job.then != nil {
		job.then()
	}
}

// tellUnsaved says why a file was not saved, that nothing is lost, and how to go on.
func (w *Window) tellUnsaved(job *writing, err error) {
	text := sentence(err.Error()) + "\n\nNothing is lost: the circuit is open here as before."
	if kept := w.saving.nowOwn(); kept != "" {
		text += " A copy of it lies at\n" + kept
	}
	w.ask("The file was not saved", text,
		answer{"Save elsewhere", func() { w.saveElsewhere(job.path, job.then) }},
		answer{"Try again", func() {
			// The file that failed is as it was seen, or else that is asked about.
			seen := w.file.seen
			if job.path != w.file.path {
				var err error
				if seen, err = store.Fingerprint(job.path); err != nil {
					seen = ""
				}
			}
			w.write(job.path, seen, job.then)
		}},
		answer{"Cancel", nil})
}

// tellChanged asks what is to be done with a file that somebody else has changed,
// moved or deleted since it was opened.
func (w *Window) tellChanged(path string, gone bool, then func()) {
	name := filepath.Base(path)
	if gone {
		w.ask("The file is no longer there", name+" was moved or deleted since it was opened here. Save the circuit at the same place again?",
			answer{"Save it again", func() { w.write(path, "", then) }},
			answer{"Save elsewhere", func() { w.saveElsewhere(path, then) }},
			answer{"Cancel", nil})
		return
	}
	other := freeName(path)
	w.ask("The file has changed on the disk", name+" was changed by somebody else since it was opened here.\n\nKeep both saves your circuit as "+filepath.Base(other)+" beside it. If you write over it, the present content of the file is kept as "+filepath.Base(store.BackupPath(path))+".",
		answer{"Keep both", func() { w.write(other, "", then) }},
		answer{"Write over", func() {
			if seen, err := store.Fingerprint(path); err == nil {
				w.write(path, seen, then)
			} else {
				w.tellDialog("The file was not saved", sentence(err.Error()))
			}
		}},
		answer{"Cancel", nil})
}

// freeName gives a path beside a file that no file has: "line-2.circuit.json" for
// "line.circuit.json".
func freeName(path string) string {
	stem, end := strings.CutSuffix(path, ending)
	suffix := ending
	if !end {
		suffix = filepath.Ext(path)
		stem = strings.TrimSuffix(path, suffix)
	}
	for n := 2; ; n++ {
		other := fmt.Sprintf("%s-%d%s", stem, n, suffix)
		if _, err := os.Lstat(other); errors.Is(err, os.ErrNotExist) || n == 1000 {
			return other // at the thousandth, saving asks before it writes over a file
		}
	}
}

// saveElsewhere asks for a place for the circuit other than one that failed: the
// user's own folder is offered, where it is another one.
func (w *Window) saveElsewhere(failed string, then func()) {
	folder := filepath.Dir(failed)
	if home, err := os.UserHomeDir(); err == nil {
		folder = home
	}
	w.saveAt(filepath.Join(folder, filepath.Base(failed)), then)
}
