package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// fieldEntry is an entry whose text takes effect as a whole: on Return or when
// the focus leaves. Escape brings back what stood there.
type fieldEntry struct {
	widget.Entry
	shown    string                  // what the circuit holds
	onCommit func(text string) error // an error keeps the text and is shown
	onFocus  func(focused bool)
	problem  func(error) // tells the row; nil error clears it
	rows     int
	onRows   func() // the row must be laid out anew
	wrapped  bool   // grows to a second line for a long text; Return takes it over
	onKey    func(fyne.KeyName) bool
}

func newFieldEntry(onCommit func(string) error) *fieldEntry {
	e := &fieldEntry{onCommit: onCommit}
	e.ExtendBaseWidget(e)
	e.Wrapping = fyne.TextWrap(fyne.TextTruncateClip) // as fyne's own single line
	e.OnSubmitted = func(string) { e.commit() }
	return e
}

// setShown shows what the circuit holds, unless the user is typing here.
func (e *fieldEntry) setShown(text string) {
	if e.shown != e.Text {
		if e.isFocused() {
			e.shown = text
			return
		}
	}
	e.shown = text
	if e.Text != text {
		e.SetText(text)
	}
	e.fitRows()
	e.tell(nil)
}

func (e *fieldEntry) isFocused() bool {
	c := fyne.CurrentApp().Driver().CanvasForObject(e)
	return c != nil && c.Focused() == fyne.Focusable(e)
}

func (e *fieldEntry) tell(err error) {
	e.AlwaysShowValidationError = err != nil
	e.SetValidationError(err)
	if e.problem != nil {
		e.problem(err)
	}
}

// commit hands the text on if it differs from what the circuit holds.
func (e *fieldEntry) commit() {
	if e.Text == e.shown || e.onCommit == nil {
		e.tell(nil)
		return
	}
	err := e.onCommit(e.Text)
	if err != nil {
		e.tell(&refusal{err, e.shown})
		return
	}
	// What the circuit holds may be written otherwise than it was typed.
	e.SetText(e.shown)
	e.tell(nil)
}

// refusal says why a text was not taken over, and what stands instead.
type refusal struct {
	why  error
	kept string
}

func (r *refusal) Error() string {
	kept := r.kept
	if kept == "" {
		kept = unknownWord
	}
	return sentence(r.why.Error()) + ". Kept: " + kept + "."
}

func (r *refusal) Unwrap() error { return r.why }

// wrap lets a text of one paragraph take two lines where it is long.
func (e *fieldEntry) wrap() {
	e.wrapped, e.MultiLine, e.Wrapping = true, true, fyne.TextWrapWord
	e.SetMinRowsVisible(1)
}

// Resize gives a wrapped text the lines that it needs.
func (e *fieldEntry) Resize(s fyne.Size) {
	e.Entry.Resize(s)
	e.fitRows()
}

func (e *fieldEntry) fitRows() {
	if !e.wrapped || e.Size().Width <= 0 {
		return
	}
	rows := 1
	if fyne.MeasureText(e.Text, theme.TextSize(), e.TextStyle).Width > e.Size().Width-4*theme.InnerPadding() {
		rows = 2
	}
	if rows != e.rows {
		e.rows = rows
		e.SetMinRowsVisible(rows)
		if e.onRows != nil {
			e.onRows()
		}
	}
}

func (e *fieldEntry) FocusGained() {
	e.Entry.FocusGained()
	if e.onFocus != nil {
		e.onFocus(true)
	}
}

func (e *fieldEntry) FocusLost() {
	e.Entry.FocusLost()
	e.commit()
	if e.onFocus != nil {
		e.onFocus(false)
	}
}

// TypedShortcut redoes by Ctrl+Shift+Z too.
func (e *fieldEntry) TypedShortcut(s fyne.Shortcut) {
	if s.ShortcutName() == redoToo.ShortcutName() {
		s = &fyne.ShortcutRedo{}
	}
	e.Entry.TypedShortcut(s)
}

func (e *fieldEntry) TypedKey(k *fyne.KeyEvent) {
	if e.onKey != nil && e.onKey(k.Name) {
		return
	}
	if k.Name == fyne.KeyEscape {
		e.SetText(e.shown)
		e.tell(nil)
		return
	}
	if e.wrapped && (k.Name == fyne.KeyReturn || k.Name == fyne.KeyEnter) {
		e.commit()
		return
	}
	e.Entry.TypedKey(k)
}
