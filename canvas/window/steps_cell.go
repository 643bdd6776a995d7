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
	text                string
	moved, shown, under bool // under: in the column that is lit
}

func newStepCell() *stepCell {
	c := &stepCell{text: "closed"}
	c.ExtendBaseWidget(c)
	return c
}

func (c *stepCell) set(text string, moved, shown, under bool) {
	c.text, c.moved, c.shown, c.under = text, moved, shown, under
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
	r.text.Text = cutToFit(r.c.text, s.Width-4, r.text.TextSize, r.text.TextStyle)
	r.text.Resize(s)
}
func (r *stepCellRenderer) MinSize() fyne.Size { return fyne.NewSize(leastCell, 22) }
func (r *stepCellRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.text}
}
func (r *stepCellRenderer) Destroy() {}
func (r *stepCellRenderer) Refresh() {
	r.text.TextSize = theme.CaptionTextSize()
	r.text.Alignment = fyne.TextAlignCenter
	r.text.TextStyle.Bold = r.c.moved
	r.text.Color = colour(colorQuiet)
	if r.c.moved {
		r.text.Color = colour(theme.ColorNamePrimary)
	}
	r.ground.FillColor = color.Transparent
	switch {
	case r.c.shown && r.c.under:
		r.ground.FillColor = colour(theme.ColorNameSelection)
	case r.c.shown, r.c.under:
		r.ground.FillColor = colour(theme.ColorNameHover)
	}
	r.Layout(r.c.Size())
	r.text.Refresh()
	r.ground.Refresh()
}

// stepHead is the name of a step or of a column; a click shows it.
type stepHead struct {
	widget.BaseWidget
	text   string
	lit    bool
	column bool
	onTap  func()
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

func (h *stepHead) set(text string, lit, column bool, onTap func()) {
	h.text, h.lit, h.column, h.onTap = text, lit, column, onTap
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
	r := &stepHeadRenderer{h: h, text: canvas.NewText("", color.Black), ground: canvas.NewRectangle(color.Transparent)}
	r.Refresh()
	return r
}

type stepHeadRenderer struct {
	h      *stepHead
	text   *canvas.Text
	ground *canvas.Rectangle
}

func (r *stepHeadRenderer) Layout(s fyne.Size) {
	r.ground.Resize(s)
	side := float32(6)
	if r.h.column {
		side = 2
	}
	r.text.Text = cutToFit(r.h.text, s.Width-2*side, r.text.TextSize, r.text.TextStyle)
	r.text.Move(fyne.NewPos(side, 0))
	r.text.Resize(fyne.NewSize(s.Width-2*side, s.Height))
}

func (r *stepHeadRenderer) MinSize() fyne.Size { return fyne.NewSize(leastCell, 22) }
func (r *stepHeadRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.text}
}
func (r *stepHeadRenderer) Destroy() {}
func (r *stepHeadRenderer) Refresh() {
	r.ground.FillColor = color.Transparent
	if r.h.lit {
		r.ground.FillColor = colour(theme.ColorNameSelection)
	}
	r.text.TextSize, r.text.Alignment = theme.TextSize(), fyne.TextAlignLeading
	r.text.TextStyle.Bold = r.h.lit
	if r.h.column {
		r.text.TextSize, r.text.Alignment, r.text.TextStyle.Bold = theme.CaptionTextSize(), fyne.TextAlignCenter, true
	}
	r.text.Color = colour(theme.ColorNameForeground)
	r.Layout(r.h.Size())
	r.text.Refresh()
	r.ground.Refresh()
}
