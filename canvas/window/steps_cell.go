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
// step moves it. A frame tells that it stood otherwise in the step before, and a
// warning sign that it is open between supplies of different media.
type stepCell struct {
	widget.BaseWidget
	cellState
}

// cellState is what a cell shows.
type cellState struct {
	text         string
	moved        bool // set by the step
	shown, under bool // in the row of the step shown, in the column that is lit
	changed      bool // stood otherwise in the step before
	meets        bool // supplies meet through it
}

func newStepCell() *stepCell {
	c := &stepCell{}
	c.ExtendBaseWidget(c)
	return c
}

func (c *stepCell) set(s cellState) {
	if c.cellState != s {
		c.cellState = s
		c.Refresh()
	}
}

func (c *stepCell) CreateRenderer() fyne.WidgetRenderer {
	r := &stepCellRenderer{c: c, text: canvas.NewText("", color.Black), ground: canvas.NewRectangle(color.Transparent), frame: canvas.NewRectangle(color.Transparent), sign: canvas.NewImageFromResource(iconStop)}
	r.frame.StrokeWidth, r.frame.CornerRadius = 1.25, 3
	r.sign.FillMode = canvas.ImageFillContain
	r.Refresh()
	return r
}

type stepCellRenderer struct {
	c      *stepCell
	text   *canvas.Text
	ground *canvas.Rectangle
	frame  *canvas.Rectangle
	sign   *canvas.Image
}

// cellSign is the sign's width in a cell.
const cellSign = 11

func (r *stepCellRenderer) Layout(s fyne.Size) {
	r.ground.Resize(s)
	r.frame.Move(fyne.NewPos(2, 1))
	r.frame.Resize(fyne.NewSize(max(s.Width-4, 0), max(s.Height-2, 0)))
	left := float32(0)
	if r.c.meets {
		left = cellSign + 2
		r.sign.Move(fyne.NewPos(4, (s.Height-cellSign)/2))
		r.sign.Resize(fyne.NewSize(cellSign, cellSign))
	}
	r.text.Text = cutToFit(r.c.text, s.Width-4-left, r.text.TextSize, r.text.TextStyle)
	r.text.Move(fyne.NewPos(left, 0))
	r.text.Resize(fyne.NewSize(max(s.Width-left, 0), s.Height))
}
func (r *stepCellRenderer) MinSize() fyne.Size { return fyne.NewSize(leastCell, 22) }
func (r *stepCellRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.frame, r.sign, r.text}
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
	r.frame.StrokeColor = color.Transparent
	switch {
	case r.c.meets:
		r.frame.StrokeColor = colour(colorStop)
	case r.c.changed:
		r.frame.StrokeColor = colour(colorQuiet)
	}
	if r.c.meets {
		r.sign.Show()
	} else {
		r.sign.Hide()
	}
	r.Layout(r.c.Size())
	r.text.Refresh()
	r.ground.Refresh()
	r.frame.Refresh()
	r.sign.Refresh()
}

// stepHead is the name of a step or of a column; a click shows it.
type stepHead struct {
	widget.BaseWidget
	text   string
	lit    bool
	column bool
	sign   fyne.Resource // of what is wrong with the step; nil: nothing
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
	h.text, h.lit, h.column, h.sign, h.onTap = text, lit, column, nil, onTap
	h.Refresh()
}

// mark shows a sign before the name.
func (h *stepHead) mark(sign fyne.Resource) {
	h.sign = sign
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
	r := &stepHeadRenderer{h: h, text: canvas.NewText("", color.Black), ground: canvas.NewRectangle(color.Transparent), sign: canvas.NewImageFromResource(iconFix)}
	r.sign.FillMode = canvas.ImageFillContain
	r.Refresh()
	return r
}

type stepHeadRenderer struct {
	h      *stepHead
	text   *canvas.Text
	ground *canvas.Rectangle
	sign   *canvas.Image
}

func (r *stepHeadRenderer) Layout(s fyne.Size) {
	r.ground.Resize(s)
	side := float32(6)
	if r.h.column {
		side = 2
	}
	right := side
	if r.h.sign != nil {
		right += cellSign + 3
		r.sign.Move(fyne.NewPos(s.Width-right, (s.Height-cellSign)/2))
		r.sign.Resize(fyne.NewSize(cellSign, cellSign))
	}
	r.text.Text = cutToFit(r.h.text, s.Width-side-right, r.text.TextSize, r.text.TextStyle)
	r.text.Move(fyne.NewPos(side, 0))
	r.text.Resize(fyne.NewSize(s.Width-side-right, s.Height))
}

func (r *stepHeadRenderer) MinSize() fyne.Size { return fyne.NewSize(leastCell, 22) }
func (r *stepHeadRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.sign, r.text}
}
func (r *stepHeadRenderer) Destroy() {}
func (r *stepHeadRenderer) Refresh() {
	if r.h.sign == nil {
		r.sign.Hide()
	} else {
		r.sign.Resource = r.h.sign
		r.sign.Show()
	}
	r.sign.Refresh()
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
