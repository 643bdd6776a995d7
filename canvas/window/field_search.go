package window

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// choiceOf is one thing that a search field offers.
type choiceOf struct{ value, text, more string }

// searchField shows one of many values and opens a list of them that is searched.
// It looks like the other choices.
type searchField struct {
	widget.Select
	list     func() []choiceOf
	hint     string
	onCommit func(value string) error
	onFocus  func(bool)
	onKey    func(fyne.KeyName) bool
	problem  func(error)
}

func newSearchField(on editing, hint string, list func() []choiceOf, onCommit func(string) error) *searchField {
	f := &searchField{list: list, hint: hint, onCommit: onCommit, onKey: on.function}
	f.PlaceHolder = unknownWord
	f.ExtendBaseWidget(f)
	return f
}

// setShown shows a text; mixed stands for several.
func (f *searchField) setShown(text string, mixed bool) {
	f.PlaceHolder = unknownWord
	if mixed {
		f.PlaceHolder = "several values"
	}
	if f.Selected != text || mixed {
		f.Selected = text
		f.Refresh()
	}
}

func (f *searchField) Tapped(*fyne.PointEvent) { f.open() }

func (f *searchField) TypedKey(e *fyne.KeyEvent) {
	if f.onKey(e.Name) {
		return
	}
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter, fyne.KeyUp, fyne.KeyDown:
		f.open()
	}
}

func (f *searchField) FocusGained() {
	f.Select.FocusGained()
	if f.onFocus != nil {
		f.onFocus(true)
	}
}

func (f *searchField) FocusLost() {
	f.Select.FocusLost()
	if f.onFocus != nil {
		f.onFocus(false)
	}
}

// matching gives the choices in which every word of a search is found.
func matching(all []choiceOf, search string) []choiceOf {
	words := strings.Fields(strings.ToLower(search))
	var out []choiceOf
	for _, c := range all {
		text := strings.ToLower(c.text + " " + c.more)
		ok := true
		for _, w := range words {
			ok = ok && strings.Contains(text, w)
		}
		if ok {
			out = append(out, c)
		}
	}
	return out
}

func (f *searchField) open() {
	cv := fyne.CurrentApp().Driver().CanvasForObject(f)
	if cv == nil {
		return
	}
	if f.onFocus != nil {
		f.onFocus(true)
	}
	all := f.list()
	shown := all
	search := newSearchEntry(f.hint)
	var pop *widget.PopUp
	pick := func(value string) {
		pop.Hide()
		cv.Focus(f)
		err := f.onCommit(value)
		if f.problem != nil {
			f.problem(err)
		}
	}
	list := widget.NewList(
		func() int { return len(shown) },
		func() fyne.CanvasObject {
			more := quiet("")
			more.Truncation = fyne.TextTruncateEllipsis
			text := widget.NewLabel("")
			text.Truncation = fyne.TextTruncateEllipsis
			return withLayout(shares{0.45, 0.55}, text, more)
		},
		func(i widget.ListItemID, o fyne.CanvasObject) {
			if i >= len(shown) {
				return
			}
			row := o.(*fyne.Container).Objects
			row[0].(*widget.Label).SetText(shown[i].text)
			row[1].(*widget.Label).SetText(shown[i].more)
		})
	list.OnSelected = func(i widget.ListItemID) { pick(shown[i].value) }
	search.OnChanged = func(s string) {
		shown = matching(all, s)
		list.UnselectAll()
		list.Refresh()
	}
	search.OnSubmitted = func(string) {
		if len(shown) > 0 {
			pick(shown[0].value)
		}
	}
	search.onEscape = func() { pop.Hide(); cv.Focus(f) }
	search.onDown = func() { cv.Focus(list) }
	clear := widget.NewButton("Leave unknown", func() { pick("") })
	clear.Importance = widget.LowImportance
	size := canvas.NewRectangle(colour(theme.ColorNameOverlayBackground))
	size.SetMinSize(fyne.NewSize(380, 320))
	pop = widget.NewPopUp(container.NewStack(size, container.NewBorder(search, clear, nil, nil, list)), cv)
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(f)
	at.X = max(0, min(at.X, cv.Size().Width-400))
	at.Y = max(0, min(at.Y+f.Size().Height, cv.Size().Height-350))
	pop.ShowAtPosition(at)
	cv.Focus(search)
}
