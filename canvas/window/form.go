package window

import (
	"errors"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/edit"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// editing is what a form needs of the window around it.
type editing interface {
	circuit() *model.Circuit
	drawing() *edit.Drawing
	kinds() *catalogue.Catalogue
	units() quantity.System
	apply(model.Edit) error
	tellHelp(text string)
	function(k fyne.KeyName) bool
}

// form edits the records of some ids together. Its rows stay while the records
// stay of one sort; their values follow the circuit.
type form struct {
	on   editing
	ids  []model.ID
	box  *fyne.Container
	rows []func()                  // each brings one row up to date
	keys map[string]fyne.Focusable // the inputs by the keys of their properties
}

func newForm(on editing, ids []model.ID) *form {
	return &form{on: on, ids: ids, box: container.NewVBox(), keys: map[string]fyne.Focusable{}}
}

// records gives those of the form's records that the circuit still has.
func (f *form) records() []model.Record {
	var out []model.Record
	for _, id := range f.ids {
		if r := f.on.circuit().Record(id); r != nil {
			out = append(out, r)
		}
	}
	return out
}

// refresh shows what the circuit holds now.
func (f *form) refresh() {
	if len(f.records()) == 0 {
		return
	}
	for _, r := range f.rows {
		r()
	}
}

// setProperty makes the edit of what was typed for a property or for one of the
// plain words of a record, by its key.
func (f *form) setProperty(key, text string) error {
	e, err := f.on.drawing().SetProperty(f.ids, key, text, f.on.units())
	if err != nil {
		return plainError(err)
	}
	return f.on.apply(e)
}

// plainError leaves out the name of the property: it stands beside the message.
func plainError(err error) error {
	var p *edit.PropertyError
	if errors.As(err, &p) {
		return errors.New(p.Message)
	}
	return err
}

// shown gives the text of a key; mixed if the records differ.
func (f *form) shown(key string) (text string, mixed bool) {
	for i, id := range f.ids {
		t := f.on.drawing().Text(id, key, f.on.units())
		if i > 0 && t != text {
			return "", true
		}
		text = t
	}
	return text, false
}

func (f *form) helpOn(label, help string) func(bool) {
	return func(focused bool) {
		if focused {
			f.on.tellHelp(strings.TrimSuffix(label+": "+help, ": "))
		} else {
			f.on.tellHelp("")
		}
	}
}

// tellRow shows the outcome of a commit beside its field.
func tellRow(row *fieldRow) func(error) { return row.tell }

func (f *form) heading(text string) {
	f.box.Add(heading(text))
}

// words adds a row for the plain words of a key: a tag, a name, a note.
func (f *form) words(key, label, help string, lines int) *fieldEntry {
	e := newFieldEntry(func(text string) error { return f.setProperty(key, text) })
	e.onFocus, e.onKey = f.helpOn(label, help), f.on.function
	f.keys[key] = e
	if lines > 1 {
		e.MultiLine = true
		e.Wrapping = fyne.TextWrapWord
		e.SetMinRowsVisible(lines)
		e.OnSubmitted = nil
	}
	if lines == 1 && len(f.ids) == 1 && (key == "name" || key == "plant") {
		e.wrap()
	}
	row := newFieldRow(label, "", e)
	e.problem = tellRow(row)
	e.onRows = func() { f.box.Refresh() }
	f.add(row, func() {
		text, mixed := f.shown(key)
		e.PlaceHolder = ""
		if mixed {
			e.PlaceHolder = "several values"
		}
		e.setShown(text)
	})
	return e
}

// choice adds a row for one of some values that is no property of the model.
func (f *form) choice(label, help string, values []string, optional bool, words func(string) string, get func() string, set func(string) error) *choiceField {
	c := newChoiceField(values, optional, words, set)
	c.onFocus, c.onKey = f.helpOn(label, help), f.on.function
	row := newFieldRow(label, "", c)
	c.problem = tellRow(row)
	f.add(row, func() { c.setShown(get(), false) })
	return c
}

func (f *form) add(row *fieldRow, refresh func()) {
	f.box.Add(row.box)
	f.rows = append(f.rows, refresh)
	refresh()
}

// fact adds a row that is computed and cannot be typed.
func (f *form) fact(label string, value func() string) {
	v := widget.NewLabel("")
	v.Truncation = fyne.TextTruncateEllipsis
	row := newFieldRow(label, "", v)
	f.add(row, func() { v.SetText(value()) })
}

// listing adds a row whose computed text may take several lines.
func (f *form) listing(label string, value func() string) {
	v := widget.NewLabel("")
	v.Wrapping = fyne.TextWrapWord
	f.box.Add(container.New(tight, quiet(label), v))
	refresh := func() {
		if t := value(); t != v.Text {
			v.SetText(t)
		}
	}
	f.rows = append(f.rows, refresh)
	refresh()
}

// help adds a small remark.
func (f *form) remark(text string) *widget.Label {
	l := widget.NewLabel(text)
	l.SizeName = theme.SizeNameCaptionText
	l.Importance = widget.LowImportance
	l.Wrapping = fyne.TextWrapWord
	f.box.Add(l)
	return l
}
