package window

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// tabs is a row of titles over one of several bodies. The row stays when the
// body is folded away.
type tabs struct {
	on     *Window
	titles []*tabTitle
	groups []int // of each title, see tabGroups
	bodies []fyne.CanvasObject
	body   *fyne.Container
	row    *fyne.Container
	header *fyne.Container
	at     int
	onPick func(i int)

	chooser *tabChooser
}

// newTabs makes a row without titles; beside and trailing come to its right.
func newTabs(on *Window, beside, trailing fyne.CanvasObject) *tabs {
	t := &tabs{on: on, body: container.NewStack(), row: container.NewHBox()}
	t.chooser = newTabChooser(t)
	t.header = container.NewBorder(nil, nil, container.NewHBox(t.chooser, t.row), trailing, beside)
	return t
}

func (t *tabs) add(title string, body fyne.CanvasObject) {
	i := len(t.titles)
	tt := &tabTitle{on: t.on, text: title, tap: func() { t.pick(i) }}
	tt.ExtendBaseWidget(tt)
	t.titles = append(t.titles, tt)
	t.groups = append(t.groups, groupOf(title))
	t.bodies = append(t.bodies, body)
	t.body.Add(body)
	t.row.Add(tt)
	if i == 0 {
		tt.lit = true
	} else {
		body.Hide()
	}
	t.showGroup()
}

func (t *tabs) setTitle(i int, text string) {
	if t.titles[i].text != text {
		t.titles[i].text = text
		t.titles[i].Refresh()
		t.header.Refresh()
	}
}

// pick shows body i.
func (t *tabs) pick(i int) {
	t.at = i
	for j := range t.titles {
		t.titles[j].lit = j == i
		t.titles[j].Refresh()
		if j == i {
			t.bodies[j].Show()
		} else {
			t.bodies[j].Hide()
		}
	}
	t.showGroup()
	t.body.Refresh()
	if t.onPick != nil {
		t.onPick(i)
	}
}

type tabTitle struct {
	widget.BaseWidget
	on                  *Window
	text                string
	lit, hover, focused bool
	tap                 func()
}

var (
	_ fyne.Tappable     = (*tabTitle)(nil)
	_ fyne.Focusable    = (*tabTitle)(nil)
	_ desktop.Hoverable = (*tabTitle)(nil)
)

func (t *tabTitle) Tapped(*fyne.PointEvent)        { t.tap() }
func (t *tabTitle) FocusGained()                   { t.focused = true; t.Refresh() }
func (t *tabTitle) FocusLost()                     { t.focused = false; t.Refresh() }
func (t *tabTitle) TypedRune(rune)                 {}
func (t *tabTitle) MouseIn(*desktop.MouseEvent)    { t.hover = true; t.Refresh() }
func (t *tabTitle) MouseMoved(*desktop.MouseEvent) {}
func (t *tabTitle) MouseOut()                      { t.hover = false; t.Refresh() }
func (t *tabTitle) TypedKey(e *fyne.KeyEvent) {
	if t.on.function(e.Name) {
		return
	}
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		t.tap()
	}
}

func (t *tabTitle) CreateRenderer() fyne.WidgetRenderer {
	r := &tabTitleRenderer{t: t, text: canvas.NewText(t.text, color.Black), line: canvas.NewRectangle(color.Transparent), ground: canvas.NewRectangle(color.Transparent)}
	r.Refresh()
	return r
}

type tabTitleRenderer struct {
	t            *tabTitle
	text         *canvas.Text
	line, ground *canvas.Rectangle
}

func (r *tabTitleRenderer) Layout(s fyne.Size) {
	r.ground.Resize(s)
	r.text.Resize(s)
	r.line.Move(fyne.NewPos(6, s.Height-2))
	r.line.Resize(fyne.NewSize(s.Width-12, 2))
}

func (r *tabTitleRenderer) MinSize() fyne.Size {
	// Wide enough for the bold title, so that picking a tab moves no other.
	s := fyne.MeasureText(r.t.text, r.text.TextSize, fyne.TextStyle{Bold: true})
	return fyne.NewSize(s.Width+22, s.Height+12)
}

func (r *tabTitleRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.text, r.line}
}

func (r *tabTitleRenderer) Destroy() {}

func (r *tabTitleRenderer) Refresh() {
	r.text.Text = r.t.text
	r.text.TextSize = theme.TextSize()
	r.text.Alignment = fyne.TextAlignCenter
	r.text.TextStyle.Bold = r.t.lit
	r.text.Color = colour(theme.ColorNameForeground)
	r.line.FillColor = color.Transparent
	if r.t.lit {
		r.line.FillColor = colour(theme.ColorNamePrimary)
	} else {
		r.text.Color = colour(colorQuiet)
	}
	r.ground.FillColor = color.Transparent
	if r.t.hover {
		r.ground.FillColor = colour(theme.ColorNameHover)
	}
	if r.t.focused {
		r.ground.FillColor = colour(theme.ColorNameFocus)
	}
	r.ground.CornerRadius = 4
	r.text.Refresh()
	r.line.Refresh()
	r.ground.Refresh()
}
