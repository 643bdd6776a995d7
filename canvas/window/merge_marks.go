package window

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"rinsewright/model"
	"rinsewright/model/circuitfile"
	"rinsewright/model/compare"
)

const marksSuffix = " marks"

// exportMarks writes the marks without the plant.
func (w *Window) exportMarks() {
	w.exportNamed("Export marks alone", marksSuffix, ending, func(out io.Writer) error {
		data, err := circuitfile.Encode(compare.MarksAlone(w.circuit(), w.cat))
		if err == nil {
			_, err = out.Write(data)
		}
		return err
	})
}

// askMergeMarks takes marks from a file into the circuit.
func (w *Window) askMergeMarks() {
	w.chooseFile(choice{title: "Merge marks from a file", confirm: "Merge", start: withSlash(w.folder()), ending: ending}, w.mergeMarksOf)
}

func (w *Window) mergeMarksOf(path string) {
	from := w.readOther(path)
	if from == nil {
		return
	}
	m := compare.MergeMarks(w.circuit(), from)
	if m.Edit.Empty() {
		w.tellDialog("Nothing to merge", "All marks of "+filepath.Base(path)+" are here already, or it holds none.")
		return
	}
	m.Edit.Label = "merge marks"
	if err := w.apply(m.Edit); err != nil {
		w.tellIf(err)
		return
	}
	text := []string{fmt.Sprintf("%s new, %d that were here say more now.", plural(len(m.Added), "mark"), len(m.Updated))}
	if n := len(m.Renumbered); n > 0 {
		text = append(text, fmt.Sprintf("%s got another number, since theirs was taken.", plural(n, "mark")))
	}
	if n := len(m.Adrift); n > 0 {
		text = append(text, fmt.Sprintf("%s stand where they were last: what they were on is not in this circuit.", plural(n, "mark")))
	}
	w.audit.show(w.audit.marksTab)
	w.events.tell("marks merged", map[string]any{"added": len(m.Added), "updated": len(m.Updated)})
	w.tellDialog("Marks merged", strings.Join(text, "\n\n")+"\n\nUndo takes it back as one edit.")
}

// readOther reads another circuit; nil if it cannot, which the user is told.
func (w *Window) readOther(path string) *model.Circuit {
	data, err := os.ReadFile(path)
	if err != nil {
		w.tellDialog("The file cannot be opened", plainFileError(err))
		return nil
	}
	c, err := circuitfile.Decode(filepath.Base(path), data)
	if err != nil {
		w.tellBadFile(path, err)
		return nil
	}
	return c
}
