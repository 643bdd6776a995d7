package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// toggle is a button that stays in: lit while it is on.
type toggle struct {
	button
	lit      bool
	onChange func(on bool)
}

func newToggle(w *Window, icon fyne.Resource, text string, on bool, onChange func(bool)) *toggle {
	t := &toggle{lit: on, onChange: onChange}
	t.button.on = w
	t.Icon, t.Text = icon, text
	t.OnTapped = func() {
		t.set(!t.lit)
		if t.onChange != nil {
			t.onChange(t.lit)
		}
	}
	t.look()
	t.ExtendBaseWidget(t)
	return t
}

func (t *toggle) look() {
	t.Importance = widget.LowImportance
	if t.lit {
		t.Importance = widget.MediumImportance
	}
}

// set changes the state without telling.
func (t *toggle) set(on bool) {
	if t.lit != on {
		t.lit = on
		t.look()
		t.Refresh()
	}
}

func (t *toggle) setText(text string) {
	if t.Text != text {
		t.SetText(text)
	}
}
