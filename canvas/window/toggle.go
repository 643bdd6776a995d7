package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// toggle is a button that stays in: lit while it is on.
type toggle struct {
	widget.Button
	on       bool
	onChange func(on bool)
}

func newToggle(icon fyne.Resource, text string, on bool, onChange func(bool)) *toggle {
	t := &toggle{on: on, onChange: onChange}
	t.Icon, t.Text = icon, text
	t.OnTapped = func() {
		t.set(!t.on)
		if t.onChange != nil {
			t.onChange(t.on)
		}
	}
	t.look()
	t.ExtendBaseWidget(t)
	return t
}

func (t *toggle) look() {
	t.Importance = widget.LowImportance
	if t.on {
		t.Importance = widget.MediumImportance
	}
}

// set changes the state without telling.
func (t *toggle) set(on bool) {
	if t.on != on {
		t.on = on
		t.look()
		t.Refresh()
	}
}

func (t *toggle) setText(text string) {
	if t.Text != text {
		t.SetText(text)
	}
}
