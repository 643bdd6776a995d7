package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// searchEntry is an entry that a key leads out of.
type searchEntry struct {
	widget.Entry
	onKey            func(fyne.KeyName) bool // function keys; nil: none
	onEscape, onDown func()
}

func newSearchEntry(hint string) *searchEntry {
	e := &searchEntry{}
	e.ExtendBaseWidget(e)
	e.Wrapping = fyne.TextWrap(fyne.TextTruncateClip) // as fyne's own single line
	e.PlaceHolder = hint
	e.Icon = theme.SearchIcon()
	return e
}

// AcceptsTab lets Tab go on to the next field from one of several lines too.
func (e *searchEntry) AcceptsTab() bool { return false }

func (e *searchEntry) TypedKey(k *fyne.KeyEvent) {
	switch {
	case e.MultiLine && e.OnSubmitted != nil && (k.Name == fyne.KeyReturn || k.Name == fyne.KeyEnter):
		e.OnSubmitted(e.Text)
	case e.onKey != nil && e.onKey(k.Name):
	case k.Name == fyne.KeyEscape && e.onEscape != nil:
		e.onEscape()
	case k.Name == fyne.KeyDown && e.onDown != nil:
		e.onDown()
	default:
		e.Entry.TypedKey(k)
	}
}
