package window

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"rinsewright/model"
	"rinsewright/model/circuitfile"
	"rinsewright/model/store"
)

// file is where the open circuit lies on the disk.
type file struct {
	path string // empty: it was never saved
	seen store.Print
}

const ending = ".circuit.json"

func (f file) name() string {
	if f.path == "" {
		return "not saved yet"
	}
	return filepath.Base(f.path)
}

func (w *Window) fileState() string {
	if w.doc.Dirty() {
		return w.file.name() + ", changed"
	}
	if w.file.path == "" {
		return w.file.name()
	}
	return w.file.name() + ", saved"
}

func (w *Window) refreshTitle() {
	name := w.circuit().Header().Name
	if w.file.path != "" {
		name = filepath.Base(w.file.path)
	}
	mark := ""
	if w.doc.Dirty() {
		mark = "* "
	}
	if title := mark + name + " - Rinsewright"; w.win.Title() != title {
		w.win.SetTitle(title)
	}
}

// replace opens a circuit in place of the present one.
func (w *Window) replace(c *model.Circuit, f file, unsaved bool) {
	w.saving.forget()
	w.saving.writing = nil // what is still being written is no longer this circuit
	w.file = f
	w.doc.Reset(c)
	if unsaved {
		w.doc.MarkUnsaved()
	}
	w.board.fit()
	w.all()
	w.events.tell("opened", map[string]any{"path": f.path, "parts": len(c.Parts()), "runs": len(c.Runs()), "steps": len(c.Steps())})
}

// NewCircuit opens an empty circuit.
func (w *Window) NewCircuit() { w.replace(model.New("New circuit"), file{}, false) }

// Open opens a file. On an error the present circuit stays, and the user is
// told what is wrong with the file, line by line.
func (w *Window) Open(path string) bool {
	path = absolute(path)
	data, err := readWhole(path)
	if err != nil {
		w.tellDialog("The file cannot be opened", plainFileError(err))
		return false
	}
	c, err := circuitfile.Decode(filepath.Base(path), data)
	if err != nil {
		w.tellBadFile(path, err)
		return false
	}
	w.replace(c, file{path: path, seen: store.PrintOf(data)}, false)
	w.remember(path)
	w.offerAutosave(path)
	return true
}

// OpenCopy opens a circuit that the program carries, as a copy without a name.
func (w *Window) OpenCopy(name string, data []byte) bool {
	c, err := circuitfile.Decode(name, data)
	if err != nil {
		w.tellBadFile(name, err)
		return false
	}
	w.replace(c, file{}, false)
	return true
}

func (w *Window) tellBadFile(path string, err error) {
	text := "The circuit on the board stays as it is. What is wrong with " + filepath.Base(path) + ":\n"
	var list circuitfile.Errors
	if errors.As(err, &list) {
		for _, e := range list {
			text += "\n"
			if e.Line > 0 {
				text += fmt.Sprintf("Line %d, column %d: ", e.Line, e.Column)
			}
			if e.Where != "" {
				text += e.Where + ": "
			}
			text += e.Message
		}
	} else {
		text += "\n" + err.Error()
	}
	w.tellLong("The file cannot be opened", text)
}

var errNoFile = errors.New("a folder or a device, not a file")

// readWhole reads a circuit's file, as far as one may be long: what is longer is
// refused by its length. A pipe or a device, which may never end, is not read.
func readWhole(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errNoFile
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, circuitfile.MaxBytes+1))
}

func plainFileError(err error) string {
	switch {
	case errors.Is(err, errNoFile):
		return "Its name belongs to a folder or a device."
	case errors.Is(err, os.ErrNotExist):
		return "There is no such file."
	case errors.Is(err, os.ErrPermission):
		return "You have no permission to read it."
	}
	return err.Error()
}

func absolute(path string) string {
	if rest, ok := strings.CutPrefix(path, "~"+string(filepath.Separator)); ok {
		if home, err := os.UserHomeDir(); err == nil {
			path = filepath.Join(home, rest)
		}
	}
	if abs, err := filepath.Abs(path); err == nil {
		return abs
	}
	return path
}

// save writes the file, or asks for its name; then is called once it is written.
func (w *Window) save(then func()) {
	w.commitFocused()
	if w.file.path == "" {
		w.saveAs(then)
		return
	}
	w.write(w.file.path, w.file.seen, then)
}

// saveAs asks for a name and writes the file.
func (w *Window) saveAs(then func()) {
	w.commitFocused()
	start := w.file.path
	if start == "" {
		start = filepath.Join(w.folder(), fileName(w.circuit().Header().Name)+ending)
	}
	w.saveAt(start, then)
}

// saveAt is saveAs with the path that is offered.
func (w *Window) saveAt(start string, then func()) {
	w.chooseFile(choice{title: "Save the circuit as", confirm: "Save", start: start, ending: ending, save: true}, func(path string) {
		seen, err := store.Fingerprint(path)
		if err != nil {
			w.tellDialog("The file cannot be saved", err.Error())
			return
		}
		if path == w.file.path {
			w.write(path, w.file.seen, then) // what others did to it is asked about
			return
		}
		if seen == "" {
			w.write(path, seen, then)
			return
		}
		w.ask("Write over the file?", filepath.Base(path)+" is there already. Its present content will be kept as "+filepath.Base(store.BackupPath(path))+".",
			answer{"Write over", func() { w.write(path, seen, then) }}, answer{"Cancel", nil})
	})
}

// fileName makes a name for the disk of a title.
func fileName(title string) string {
	out := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r - 'A' + 'a'
		}
		return '-'
	}, strings.TrimSpace(title))
	for strings.Contains(out, "--") {
		out = strings.ReplaceAll(out, "--", "-")
	}
	if out = strings.Trim(out, "-"); out == "" {
		return "circuit"
	}
	return out
}

// unlessDirty goes on at once if all is saved, and else asks.
func (w *Window) unlessDirty(what string, then func()) {
	w.commitFocused()
	if !w.doc.Dirty() {
		then()
		return
	}
	w.ask("Save the changes?", fmt.Sprintf("The circuit %q has changes that are not saved. %s", w.circuit().Header().Name, what),
		answer{"Save", func() { w.save(then) }},
		answer{"Do not save", func() { w.saving.forget(); then() }},
		answer{"Cancel", nil})
}

func (w *Window) openAsked(path string) {
	w.unlessDirty("They are lost when another one is opened.", func() { w.Open(path) })
}

func (w *Window) askQuit() {
	if w.overlayOpen() {
		return
	}
	w.unlessDirty("They are lost when the program ends.", func() {
		w.keepPlace()
		w.saving.forget()
		w.saving.settle()
		w.checker.stop()
		w.events.tell("quit", nil)
		w.quit()
	})
}

// commitFocused takes over what stands half typed in a field.
func (w *Window) commitFocused() {
	if e, ok := w.win.Canvas().Focused().(*fieldEntry); ok {
		e.commit()
	}
}
