package window

import (
	"reflect"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/edit"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// missingRow is one line of the table of missing values, with the field in which the
// value is typed.
type missingRow struct {
	of      *missingPanel
	m       missingValue
	box     *fyne.Container
	tick    *check
	field   fyne.Focusable
	waiting *widget.Label
	rules   *widget.Label
	message *widget.Label
	filled  bool // taken over; the checks have not come back yet
}

var missingColumns = columns{30, 34, 0.3, 0.24, 190, 56, 66, 0.46}

func newMissingRow(p *missingPanel, m missingValue) *missingRow {
	r := &missingRow{of: p, m: m, message: widget.NewLabel("")}
	r.tick = newCheck(p.on, "", func(bool) { p.tellTicked() })
	r.message.SizeName, r.message.Importance, r.message.Wrapping = theme.SizeNameCaptionText, widget.DangerImportance, fyne.TextWrapWord
	r.message.Hide()
	cut := func(text string) *widget.Label {
		l := widget.NewLabel(text)
		l.Truncation = fyne.TextTruncateEllipsis
		return l
	}
	where := newButton(p.on, "", theme.SearchIcon(), func() { p.on.showRecord(m.record) })
	in, unit := r.input()
	r.waiting, r.rules = widget.NewLabel(""), quiet("")
	r.rules.Truncation = fyne.TextTruncateEllipsis
	r.update(m)
	line := withLayout(missingColumns, r.tick, where, cut(m.name), cut(m.label), in, quiet(unit), r.waiting, r.rules)
	r.box = container.NewVBox(line, r.message)
	if m.why != "" {
		r.tell("As entered it cannot be: " + m.why)
	}
	return r
}

// update tells what waits for the value now.
func (r *missingRow) update(m missingValue) {
	r.m = m
	set(r.waiting, quantity.Number(float64(m.waiting)))
	set(r.rules, strings.Join(m.rules, "; "))
}

// showRecord leads to a part, a run or a step.
func (w *Window) showRecord(id model.ID) {
	if w.circuit().Step(id) != nil {
		w.tabs.pick(2)
		w.showStep(id)
		return
	}
	w.gotoPlace(model.PlaceOf(id))
}

// tell says beneath the line what is wrong; an empty text takes it away.
func (r *missingRow) tell(text string) {
	r.message.SetText(sentence(text))
	if text == "" {
		r.message.Hide()
	} else {
		r.message.Show()
	}
	r.box.Refresh()
}

// input makes the field of the property: a number, a choice, a tube size, the
// stretches of a run on one line. What none of these can hold is entered where it
// stands, and a button leads there.
func (r *missingRow) input() (fyne.CanvasObject, string) {
	w := r.of.on
	record := w.circuit().Record(r.m.record)
	if run, ok := record.(*model.Run); ok && (r.m.key == "stretches" || r.m.key == "length_m" || r.m.key == "rise_m") {
		e := r.entry("length / rise; ...", edit.StretchesText(run, w.units()))
		return container.NewThemeOverride(e, barless{}), quantity.DisplayUnit[quantity.Length](w.units()).Name
	}
	if r.m.key == "" {
		b := newButton(w, "Show it", theme.NavigateNextIcon(), func() { w.showRecord(r.m.record) })
		b.Alignment = widget.ButtonAlignLeading
		r.field = b
		return b, ""
	}
	p, ok := model.FindProperty(record, r.m.key)
	if !ok {
		b := newButton(w, "Enter it there", theme.NavigateNextIcon(), func() { w.gotoProperty(r.m.record, r.m.key) })
		b.Alignment = widget.ButtonAlignLeading
		r.field = b
		return b, ""
	}
	f := newForm(w, []model.ID{r.m.record})
	if choices := f.choicesOf(p, f.records()); choices != nil {
		c := newChoiceField(choices, false, f.positionWords(p.Key, f.records()), r.commit)
		c.onKey = w.function
		c.setShown(w.drawing().Text(r.m.record, r.m.key, w.units()), false)
		c.PlaceHolder = "choose"
		c.problem = r.outcome
		r.field = c
		return c, ""
	}
	if p.Type == reflect.TypeFor[model.TubeSize]() {
		s := newSizeField(w, w.cat.Tubes(), w.units, r.commit)
		s.setShown(w.drawing().Text(r.m.record, r.m.key, w.units()), false)
		s.PlaceHolder = "choose"
		s.problem = r.outcome
		r.field = s
		return s, ""
	}
	e := r.entry(unknownWord, w.drawing().Text(r.m.record, r.m.key, w.units()))
	return container.NewThemeOverride(e, barless{}), unitName(p, w.units())
}

// entry makes a field for what is typed. Return takes it over and goes on; so does
// leaving the field, but for the going on.
func (r *missingRow) entry(hint, shown string) *fieldEntry {
	e := newFieldEntry(r.commit)
	e.PlaceHolder = hint
	e.onKey = r.of.key
	e.problem = func(err error) {
		switch {
		case err != nil:
			r.outcome(err)
		case r.message.Visible() && r.m.why == "":
			r.tell("")
		}
	}
	e.OnSubmitted = func(string) {
		if e.Text == e.shown {
			r.of.focusNext(r, 1) // left unknown
			return
		}
		e.commit()
		if r.filled {
			r.of.focusNext(r, 1)
		}
	}
	e.onFocus = func(on bool) {
		if on {
			r.of.focused(r)
		} else {
			r.of.on.board.point(model.Place{})
		}
	}
	e.setShown(shown)
	r.field = e
	return e
}

// outcome goes on after a choice, or says why it is refused.
func (r *missingRow) outcome(err error) {
	if err != nil {
		r.tell(err.Error())
		return
	}
	if r.filled {
		r.of.focusNext(r, 1)
	}
}

// commit gives the value to the record, and to those ticked beside it that lack the
// same.
func (r *missingRow) commit(text string) error {
	w := r.of.on
	if strings.TrimSpace(text) == "" || r.filled {
		return nil
	}
	rows := r.of.together(r)
	var ids []model.ID
	for _, x := range rows {
		ids = append(ids, x.m.record)
	}
	var e model.Edit
	var err error
	if _, isRun := w.circuit().Record(r.m.record).(*model.Run); isRun && (r.m.key == "stretches" || r.m.key == "length_m" || r.m.key == "rise_m") {
		e, err = w.drawing().SetStretches(ids, text, w.units())
	} else {
		e, err = w.drawing().SetProperty(ids, r.m.key, text, w.units())
	}
	if err != nil {
		return plainError(err)
	}
	if err := w.apply(e); err != nil {
		return err
	}
	for _, x := range rows {
		x.filled = true
		x.tell("")
		if f, ok := x.field.(*fieldEntry); ok {
			f.shown = text
			f.SetText(text)
		}
	}
	return nil
}
