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

// finderRow is one thing to pick among those found: a line and a smaller one under
// it. Arrow keys go from row to row, Return takes what is picked.
type finderRow struct {
	widget.BaseWidget
	on          *Window
	head, under string
	sign        fyne.Resource // before the line; nil: none
	picked      bool
	focused     bool
	hovered     bool

	onPick func()
	onMove func(by int)
	onTake func()
	onAway func()
}

var (
	_ fyne.Tappable     = (*finderRow)(nil)
	_ fyne.Focusable    = (*finderRow)(nil)
	_ desktop.Hoverable = (*finderRow)(nil)
)

func newFinderRow(on *Window, head, under string, sign fyne.Resource) *finderRow {
	r := &finderRow{on: on, head: head, under: under, sign: sign}
	r.ExtendBaseWidget(r)
	return r
}

func (r *finderRow) Tapped(*fyne.PointEvent) {
	r.on.focus(r)
	r.pick()
}

func (r *finderRow) pick() {
	if r.onPick != nil {
		r.on.guard("show a line-up", r.onPick)
	}
}

func (r *finderRow) FocusGained()                   { r.focused = true; r.Refresh() }
func (r *finderRow) FocusLost()                     { r.focused = false; r.Refresh() }
func (r *finderRow) TypedRune(rune)                 {}
func (r *finderRow) MouseIn(*desktop.MouseEvent)    { r.hovered = true; r.Refresh() }
func (r *finderRow) MouseMoved(*desktop.MouseEvent) {}
func (r *finderRow) MouseOut()                      { r.hovered = false; r.Refresh() }

func (r *finderRow) TypedKey(e *fyne.KeyEvent) {
	if r.on.function(e.Name) {
		return
	}
	switch e.Name {
	case fyne.KeyUp:
		r.onMove(-1)
	case fyne.KeyDown:
		r.onMove(1)
	case fyne.KeySpace:
		r.pick()
	case fyne.KeyReturn, fyne.KeyEnter:
		if r.onTake != nil {
			r.on.guard("take a line-up", r.onTake)
		}
	case fyne.KeyEscape:
		r.onAway()
	}
}

func (r *finderRow) set(picked bool) {
	if r.picked != picked {
		r.picked = picked
		r.Refresh()
	}
}

func (r *finderRow) CreateRenderer() fyne.WidgetRenderer {
	x := &finderRowRenderer{r: r, ground: canvas.NewRectangle(color.Transparent), bar: canvas.NewRectangle(color.Transparent),
		head: widget.NewLabel(""), under: quiet(""), icon: widget.NewIcon(r.sign)}
	x.ground.CornerRadius = 4
	x.head.Truncation = fyne.TextTruncateEllipsis
	x.under.Wrapping = fyne.TextWrapWord
	lines := []fyne.CanvasObject{x.head}
	if r.under != "" {
		lines = append(lines, x.under)
	}
	var left fyne.CanvasObject
	if r.sign != nil {
		left = withLayout(fixedWidth(16), x.icon)
	}
	x.box = container.NewStack(x.ground, container.NewBorder(nil, nil, container.NewHBox(x.bar), nil, container.NewBorder(nil, nil, left, nil, container.New(tight, lines...))))
	x.bar.SetMinSize(fyne.NewSize(3, 1))
	x.Refresh()
	return x
}

type finderRowRenderer struct {
	r           *finderRow
	ground, bar *canvas.Rectangle
	head, under *widget.Label
	icon        *widget.Icon
	box         *fyne.Container
}

func (x *finderRowRenderer) Layout(s fyne.Size)           { x.box.Resize(s) }
func (x *finderRowRenderer) MinSize() fyne.Size           { return x.box.MinSize() }
func (x *finderRowRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{x.box} }
func (x *finderRowRenderer) Destroy()                     {}
func (x *finderRowRenderer) Refresh() {
	x.head.TextStyle.Bold = x.r.picked
	x.head.SetText(x.r.head)
	x.under.SetText(x.r.under)
	x.bar.FillColor, x.ground.FillColor = color.Transparent, color.Transparent
	if x.r.picked {
		x.bar.FillColor = colour(theme.ColorNamePrimary)
		x.ground.FillColor = colour(theme.ColorNameSelection)
	} else if x.r.hovered {
		x.ground.FillColor = colour(theme.ColorNameHover)
	}
	x.ground.StrokeWidth, x.ground.StrokeColor = 0, color.Transparent
	if x.r.focused {
		x.ground.StrokeWidth, x.ground.StrokeColor = 1.5, colour(theme.ColorNamePrimary)
	}
	x.bar.Refresh()
	x.ground.Refresh()
}
