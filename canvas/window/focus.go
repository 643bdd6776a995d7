package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// The widgets of this file leave the function keys to the window, wherever the
// focus is: fyne hands a key without Ctrl or Alt to the focused widget alone.

// button is a push button.
type button struct {
	widget.Button
	on *Window
}

func newButton(on *Window, text string, icon fyne.Resource, run func()) *button {
	b := &button{on: on}
	b.Text, b.Icon, b.OnTapped = text, icon, run
	b.Importance = widget.LowImportance
	b.ExtendBaseWidget(b)
	return b
}

func (b *button) TypedKey(e *fyne.KeyEvent) {
	switch {
	case b.on.function(e.Name):
	case (e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter) && !b.Disabled():
		b.OnTapped()
	default:
		b.Button.TypedKey(e)
	}
}

// able greys a button or wakes it.
func (b *button) able(on bool) {
	if on == b.Disabled() {
		if on {
			b.Enable()
		} else {
			b.Disable()
		}
	}
}

// pickList is a select.
type pickList struct {
	widget.Select
	on       *Window
	onEscape func() // nil: nothing
}

func newPickList(on *Window, options []string, changed func(string)) *pickList {
	s := &pickList{on: on}
	s.Options, s.OnChanged = options, changed
	s.PlaceHolder = "choose"
	s.ExtendBaseWidget(s)
	return s
}

func (s *pickList) TypedKey(e *fyne.KeyEvent) {
	switch {
	case s.on.function(e.Name):
	case e.Name == fyne.KeyEscape && s.onEscape != nil:
		s.onEscape()
	default:
		s.Select.TypedKey(e)
	}
}

// check is a tick.
type check struct {
	widget.Check
	on *Window
}

func newCheck(on *Window, text string, changed func(bool)) *check {
	c := &check{on: on}
	c.Text, c.OnChanged = text, changed
	c.ExtendBaseWidget(c)
	return c
}

func (c *check) TypedKey(e *fyne.KeyEvent) {
	if !c.on.function(e.Name) {
		c.Check.TypedKey(e)
	}
}

// keyTable is a table.
type keyTable struct {
	widget.Table
	on *Window
}

func (t *keyTable) TypedKey(e *fyne.KeyEvent) {
	switch {
	case t.on.function(e.Name):
	case e.Name == fyne.KeyEscape:
		t.on.focusBoard()
	default:
		t.Table.TypedKey(e)
	}
}
