package window

import (
	"errors"
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
)

// limitEditor changes one limit for the circuit, with a reason, or takes the change
// back.
type limitEditor struct {
	of                      *limitsView
	root                    fyne.CanvasObject
	about, unit, wrong      *widget.Label
	value, reason, by, date *searchEntry
	rules                   *fyne.Container
	change, reset           *button
	shown                   string // limit whose fields stand there
}

func newLimitEditor(v *limitsView) *limitEditor {
	w := v.on
	e := &limitEditor{of: v, about: widget.NewLabel(""), unit: quiet(""), wrong: widget.NewLabel(""), rules: container.NewHBox()}
	e.about.Wrapping, e.wrong.Wrapping = fyne.TextWrapWord, fyne.TextWrapWord
	e.wrong.SizeName = theme.SizeNameCaptionText
	entry := func(hint string) *searchEntry {
		x := newSearchEntry(hint)
		x.Icon, x.onKey = nil, w.function
		x.OnSubmitted = func(string) { e.take() }
		return x
	}
	e.value, e.reason, e.by, e.date = entry("Value"), entry("Why this circuit needs another limit (required)"), entry("Name (required)"), entry("2026-01-31")
	e.value.OnChanged = func(string) { e.warn() }
	e.change = newButton(w, "Change for this circuit", theme.ConfirmIcon(), e.take)
	e.change.Importance = widget.HighImportance
	e.reset = newButton(w, "Back to the profile", theme.ContentUndoIcon(), func() { e.of.apply(e.without(e.shown)) })
	fields := container.NewVBox(
		withLayout(columns{90, 60, 1, 190, 110}, container.NewThemeOverride(e.value, barless{}), e.unit, container.NewThemeOverride(e.reason, barless{}), container.NewThemeOverride(e.by, barless{}), container.NewThemeOverride(e.date, barless{})),
		e.wrong,
		container.NewBorder(nil, nil, container.NewHBox(e.change, e.reset), nil, container.NewHScroll(e.rules)))
	e.root = container.NewVBox(widget.NewSeparator(), e.about, fields)
	return e
}

// escape says what Escape does in the fields.
func (e *limitEditor) escape(down func()) {
	for _, x := range []*searchEntry{e.value, e.reason, e.by, e.date} {
		x.onEscape = down
	}
}

// show puts a limit into the fields; what was typed for it stays.
func (e *limitEditor) show(name string) {
	w := e.of.on
	l, ok := w.profile().Limit(name)
	if !ok {
		e.shown = ""
		e.root.Hide()
		return
	}
	e.root.Show()
	if e.shown == name {
		return
	}
	e.shown = name
	e.tell(nil)
	_, changes := e.of.changes()
	c, changed := changes[name]
	e.about.SetText(fmt.Sprintf("%s. The profile says %s; %s.", sentence(l.Label), l.Value.Text(w.units()), l.Source))
	is := l.Value
	reason, by, date := "", w.ownName(), string(today())
	if changed {
		is, reason, by, date = c.Is, c.Reason, c.By, string(c.Date)
	}
	number, unit := is.Field(w.units())
	e.unit.SetText(unit)
	e.value.SetText(number)
	e.reason.SetText(reason)
	e.by.SetText(by)
	e.date.SetText(date)
	e.reset.able(changed)
	if changed && c.Refused != "" {
		e.tell(errors.New("the change does not count: " + c.Refused))
	}
	e.rules.RemoveAll()
	for _, r := range e.of.readers[name] {
		e.rules.Add(newButton(w, "Rule: "+r.Doc.Title, theme.NavigateNextIcon(), func() { e.of.down(); w.openRules(r.Name) }))
	}
	if len(e.of.readers[name]) == 0 {
		e.rules.Add(quiet("No rule reads it at present."))
	}
	e.rules.Refresh()
}

// tell says what is wrong, or takes it away.
func (e *limitEditor) tell(err error) {
	if err == nil {
		e.wrong.SetText("")
		e.wrong.Hide()
		return
	}
	e.wrong.Importance = widget.DangerImportance
	e.wrong.SetText(sentence(err.Error()))
	e.wrong.Show()
}

// warn says while a value is typed whether it can be, and whether it is far from
// what the profile says.
func (e *limitEditor) warn() {
	w := e.of.on
	l, ok := w.profile().Limit(e.shown)
	if !ok || e.value.Text == "" {
		e.tell(nil)
		return
	}
	v, err := l.Value.Typed(e.value.Text, w.units())
	switch {
	case err != nil:
		e.tell(err)
	case v.FarFrom(l.Value):
		e.wrong.Importance = widget.WarningImportance
		e.wrong.SetText(fmt.Sprintf("%s is more than ten times off the profile's %s: is the unit right?", v.Text(w.units()), l.Value.Text(w.units())))
		e.wrong.Show()
	default:
		e.tell(nil)
	}
}

// take changes the limit, or says what is missing and puts the caret there.
func (e *limitEditor) take() {
	w := e.of.on
	profile := w.profile()
	l, ok := profile.Limit(e.shown)
	if !ok {
		return
	}
	v, err := l.Value.Typed(e.value.Text, w.units())
	if err != nil {
		e.refuse(e.value, err)
		return
	}
	if err := w.told(e.reason, e.by, e.date); err != nil {
		e.refuse(err.field, err)
		return
	}
	change, ok := profile.ChangeTo(e.shown, v, trimmed(e.reason), trimmed(e.by), model.Date(trimmed(e.date)))
	if !ok {
		e.tell(fmt.Errorf("the limit cannot be changed"))
		return
	}
	w.keepOwnName(trimmed(e.by))
	next := slices.Clone(w.circuit().Header().Limits)
	if i := slices.IndexFunc(next, func(c model.LimitChange) bool { return c.Limit == e.shown }); i >= 0 {
		next[i] = change
	} else {
		next = append(next, change)
	}
	e.of.apply("change the "+l.Label, next)
}

func (e *limitEditor) refuse(at *searchEntry, err error) {
	e.of.on.focus(at)
	e.tell(err)
}

// without gives the list of changes without that of a limit; without any for an
// empty name.
func (e *limitEditor) without(name string) (label string, next []model.LimitChange) {
	if name == "" {
		return "put all limits back", nil
	}
	next = slices.DeleteFunc(slices.Clone(e.of.on.circuit().Header().Limits), func(c model.LimitChange) bool { return c.Limit == name })
	if len(next) == 0 {
		next = nil
	}
	l, _ := e.of.on.profile().Limit(name)
	return "put back the " + l.Label, next
}
