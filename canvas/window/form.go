package window

import (
	"errors"
	"reflect"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// editing is what a form needs of the window around it.
type editing interface {
	circuit() *model.Circuit
	kinds() *catalogue.Catalogue
	units() quantity.System
	apply(model.Edit) error
	tellHelp(text string)
}

// form edits the records of some ids together. Its rows stay while the records
// stay of one sort; their values follow the circuit.
type form struct {
	on   editing
	ids  []model.ID
	box  *fyne.Container
	rows []func() // each brings one row up to date
}

func newForm(on editing, ids []model.ID) *form {
	return &form{on: on, ids: ids, box: container.NewVBox()}
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

// change makes one edit of all records of the form.
func (f *form) change(what string, with func(model.Record) (model.Record, error)) error {
	records := f.records()
	e := model.Edit{Label: what + " of " + namesOf(records, f.on.kinds())}
	for _, r := range records {
		next, err := with(r)
		if err != nil {
			return err
		}
		if !reflect.DeepEqual(r, next) {
			e.Changes = append(e.Changes, model.Replacing(r, next))
		}
	}
	if len(e.Changes) == 0 {
		return nil
	}
	return f.on.apply(e)
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
func tellRow(row *fieldRow) func(error) {
	return func(err error) {
		var d doubt
		row.tell(err, errors.As(err, &d))
	}
}

func (f *form) heading(text string) {
	f.box.Add(heading(text))
}

// text adds a row for words that every record has: a tag, a name, a note.
func (f *form) text(label, help string, lines int, get func(model.Record) string, set func(model.Record, string)) *fieldEntry {
	e := newFieldEntry(func(text string) error {
		return f.change("change "+strings.ToLower(label), func(r model.Record) (model.Record, error) {
			next := model.Clone(r)
			set(next, strings.TrimSpace(text))
			return next, nil
		})
	})
	e.onFocus = f.helpOn(label, help)
	var row *fieldRow
	if lines > 1 {
		e.MultiLine = true
		e.Wrapping = fyne.TextWrapWord
		e.SetMinRowsVisible(lines)
		e.OnSubmitted = nil
	}
	row = newFieldRow(label, "", e)
	e.problem = tellRow(row)
	f.add(row, func() {
		text, same := get(f.records()[0]), true
		for _, r := range f.records() {
			same = same && get(r) == text
		}
		e.PlaceHolder = ""
		if !same {
			text, e.PlaceHolder = "", "several values"
		}
		e.setShown(text)
	})
	return e
}

// choice adds a row for one of some values that is no property of the model.
func (f *form) choice(label, help string, values []string, optional bool, words func(string) string, get func(model.Record) string, set func(model.Record, string)) *choiceField {
	c := newChoiceField(values, optional, words, func(v string) error {
		return f.change("change "+strings.ToLower(label), func(r model.Record) (model.Record, error) {
			next := model.Clone(r)
			set(next, v)
			return next, nil
		})
	})
	c.onFocus = f.helpOn(label, help)
	row := newFieldRow(label, "", c)
	c.problem = tellRow(row)
	f.add(row, func() {
		text, same := get(f.records()[0]), true
		for _, r := range f.records() {
			same = same && get(r) == text
		}
		c.setShown(text, !same)
	})
	return c
}

func (f *form) add(row *fieldRow, refresh func()) {
	f.box.Add(row.box)
	f.rows = append(f.rows, refresh)
	refresh()
}

// fact adds a row that is computed and cannot be typed.
func (f *form) fact(label, help string, value func() string) {
	v := widget.NewLabel("")
	v.Truncation = fyne.TextTruncateEllipsis
	_ = help
	row := newFieldRow(label, "", v)
	f.add(row, func() { v.SetText(value()) })
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
