package window

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// sizeField shows a tube size and opens a list of all sizes that is searched by
// series, nominal size or diameter. It looks like the other choices.
type sizeField struct {
	widget.Select
	tubes    []catalogue.Tube
	units    func() quantity.System
	onCommit func(size string) error
	onFocus  func(bool)
	problem  func(error)
}

func newSizeField(tubes []catalogue.Tube, units func() quantity.System, onCommit func(string) error) *sizeField {
	f := &sizeField{tubes: tubes, units: units, onCommit: onCommit}
	f.PlaceHolder = unknownWord
	f.ExtendBaseWidget(f)
	return f
}

func (f *sizeField) setShown(value string, mixed bool) {
	f.PlaceHolder = unknownWord
	if mixed {
		f.PlaceHolder = "several values"
	}
	if f.Selected != value || mixed {
		f.Selected = value
		f.Refresh()
	}
}

func (f *sizeField) Tapped(*fyne.PointEvent) { f.open() }

func (f *sizeField) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter, fyne.KeyUp, fyne.KeyDown:
		f.open()
	}
}

func (f *sizeField) FocusGained() {
	f.Select.FocusGained()
	if f.onFocus != nil {
		f.onFocus(true)
	}
}

func (f *sizeField) FocusLost() {
	f.Select.FocusLost()
	if f.onFocus != nil {
		f.onFocus(false)
	}
}

// matching gives the sizes of which every word of the search is found.
func matching(tubes []catalogue.Tube, search string) []catalogue.Tube {
	words := strings.Fields(strings.ToLower(search))
	var out []catalogue.Tube
	for _, t := range tubes {
		text := strings.ToLower(string(t.Size) + " " + quantity.Text(t.Outside, quantity.Metric))
		ok := true
		for _, w := range words {
			ok = ok && strings.Contains(text, w)
		}
		if ok {
			out = append(out, t)
		}
	}
	return out
}

// ownSeriesFirst puts the table that a size is of before the others.
func ownSeriesFirst(tubes []catalogue.Tube, size string) []catalogue.Tube {
	series := ""
	for _, t := range tubes {
		if string(t.Size) == size {
			series = t.Series
		}
	}
	var own, others []catalogue.Tube
	for _, t := range tubes {
		if t.Series == series {
			own = append(own, t)
		} else {
			others = append(others, t)
		}
	}
	return append(own, others...)
}

func (f *sizeField) open() {
	cv := fyne.CurrentApp().Driver().CanvasForObject(f)
	if cv == nil {
		return
	}
	if f.onFocus != nil {
		f.onFocus(true)
	}
	all := ownSeriesFirst(f.tubes, f.Selected)
	shown := all
	search := newSearchEntry("Series, size or diameter")
	var pop *widget.PopUp
	pick := func(size string) {
		pop.Hide()
		cv.Focus(f)
		err := f.onCommit(size)
		if f.problem != nil {
			f.problem(err)
		}
	}
	list := widget.NewList(
		func() int { return len(shown) },
		func() fyne.CanvasObject {
			return container.NewBorder(nil, nil, nil, quiet("outside 00.0 mm, bore 00.0 mm"), widget.NewLabel("EN 10357-A DN100"))
		},
		func(i widget.ListItemID, o fyne.CanvasObject) {
			t := shown[i]
			row := o.(*fyne.Container).Objects
			row[0].(*widget.Label).SetText(string(t.Size))
			row[1].(*widget.Label).SetText("outside " + quantity.Text(t.Outside, f.units()) + ", bore " + quantity.Text(t.Inside(), f.units()))
		})
	list.OnSelected = func(i widget.ListItemID) { pick(string(shown[i].Size)) }
	search.OnChanged = func(s string) {
		shown = matching(all, s)
		list.UnselectAll()
		list.Refresh()
	}
	search.OnSubmitted = func(string) {
		if len(shown) > 0 {
			pick(string(shown[0].Size))
		}
	}
	search.onEscape = func() { pop.Hide(); cv.Focus(f) }
	search.onDown = func() { cv.Focus(list) }
	clear := widget.NewButton("Leave unknown", func() { pick("") })
	clear.Importance = widget.LowImportance
	size := canvas.NewRectangle(colour(theme.ColorNameOverlayBackground))
	size.SetMinSize(fyne.NewSize(360, 320))
	pop = widget.NewPopUp(container.NewStack(size, container.NewBorder(search, clear, nil, nil, list)), cv)
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(f)
	at.X = max(0, min(at.X, cv.Size().Width-380))
	at.Y = max(0, min(at.Y+f.Size().Height, cv.Size().Height-350))
	pop.ShowAtPosition(at)
	cv.Focus(search)
}
