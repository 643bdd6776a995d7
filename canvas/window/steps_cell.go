package window

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// stepCell shows a position: pale where the part stands anyway, bold where the
// step moves it.
type stepCell struct {
	widget.BaseWidget
	text         string
	moved, shown bool
}

func newStepCell() *stepCell {
	c := &stepCell{text: "closed"}
	c.ExtendBaseWidget(c)
	return c
}

func (c *stepCell) set(text string, moved, shown bool) {
	c.text, c.moved, c.shown = text, moved, shown
	c.Refresh()
}

func (c *stepCell) CreateRenderer() fyne.WidgetRenderer {
	r := &stepCellRenderer{c: c, text: canvas.NewText("", color.Black), ground: canvas.NewRectangle(color.Transparent)}
	r.Refresh()
	return r
}

type stepCellRenderer struct {
	c      *stepCell
	text   *canvas.Text
	ground *canvas.Rectangle
}

func (r *stepCellRenderer) Layout(s fyne.Size) {
	r.ground.Resize(s)
	r.text.Resize(s)
}
func (r *stepCellRenderer) MinSize() fyne.Size { return fyne.NewSize(58, 28) }
func (r *stepCellRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.text}
}
func (r *stepCellRenderer) Destroy() {}
func (r *stepCellRenderer) Refresh() {
	r.text.Text = r.c.text
	r.text.TextSize = theme.TextSize()
	r.text.Alignment = fyne.TextAlignCenter
	r.text.TextStyle.Bold = r.c.moved
	r.text.Color = colour(colorQuiet)
	if r.c.moved {
		r.text.Color = colour(theme.ColorNamePrimary)
	}
	r.ground.FillColor = color.Transparent
	if r.c.shown {
		r.ground.FillColor = colour(theme.ColorNameHover)
	}
	r.text.Refresh()
	r.ground.Refresh()
}

// stepHead is the name of a step or of a column; a click shows it.
type stepHead struct {
	widget.BaseWidget
	text  string
	lit   bool
	onTap func()
}

var (
	_ fyne.Tappable      = (*stepHead)(nil)
	_ desktop.Cursorable = (*stepHead)(nil)
)

func newStepHead() *stepHead {
	h := &stepHead{}
	h.ExtendBaseWidget(h)
	return h
}

func (h *stepHead) set(text string, lit bool, onTap func()) {
	h.text, h.lit, h.onTap = text, lit, onTap
	h.Refresh()
}

func (h *stepHead) Tapped(*fyne.PointEvent) {
	if h.onTap != nil {
		h.onTap()
	}
}

func (h *stepHead) Cursor() desktop.Cursor {
	if h.onTap != nil {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

func (h *stepHead) CreateRenderer() fyne.WidgetRenderer {
	l := widget.NewLabel("")
	l.Truncation = fyne.TextTruncateEllipsis
	r := &stepHeadRenderer{h: h, label: l, ground: canvas.NewRectangle(color.Transparent)}
	r.Refresh()
	return r
}

type stepHeadRenderer struct {
	h      *stepHead
	label  *widget.Label
	ground *canvas.Rectangle
}

func (r *stepHeadRenderer) Layout(s fyne.Size) {
	r.ground.Resize(s)
	h := r.label.MinSize().Height
	r.label.Move(fyne.NewPos(0, (s.Height-h)/2))
	r.label.Resize(fyne.NewSize(s.Width, h))
}
func (r *stepHeadRenderer) MinSize() fyne.Size { return fyne.NewSize(58, 28) }
func (r *stepHeadRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.label}
}
func (r *stepHeadRenderer) Destroy() {}
func (r *stepHeadRenderer) Refresh() {
	r.ground.FillColor = color.Transparent
	if r.h.lit {
		r.ground.FillColor = colour(theme.ColorNameSelection)
	}
	r.label.TextStyle.Bold = r.h.lit
	r.label.SetText(r.h.text)
	r.ground.Refresh()
}
