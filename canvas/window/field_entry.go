package window

import (
	"fyne.io/fyne/v2"
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
	e.tell(nil)
}

func (e *fieldEntry) isFocused() bool {
	c := fyne.CurrentApp().Driver().CanvasForObject(e)
	return c != nil && c.Focused() == fyne.Focusable(e)
}

func (e *fieldEntry) tell(err error) {
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
	e.tell(e.onCommit(e.Text))
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

func (e *fieldEntry) TypedKey(k *fyne.KeyEvent) {
	if e.onKey != nil && e.onKey(k.Name) {
		return
	}
	if k.Name == fyne.KeyEscape {
		e.SetText(e.shown)
		e.tell(nil)
		return
	}
	e.Entry.TypedKey(k)
}
