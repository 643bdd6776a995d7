package window

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// columns share the width of a table out: a number above 1 is so many units, one up
// to 1 a part of what is left over.
type columns []float32

func (c columns) widths(width float32) []float32 {
	left := width
	for _, w := range c {
		if w > 1 {
			left -= w
		}
	}
	out := make([]float32, len(c))
	for i, w := range c {
		if w > 1 {
			out[i] = w
		} else {
			out[i] = max(left*w, 0)
		}
	}
	return out
}

func (c columns) MinSize(o []fyne.CanvasObject) fyne.Size {
	height := float32(0)
	for _, x := range o {
		height = max(height, x.MinSize().Height)
	}
	return fyne.NewSize(float32(100*len(o)), height)
}

// Layout sets objects into the columns.
func (c columns) Layout(o []fyne.CanvasObject, s fyne.Size) {
	x := float32(0)
	for i, w := range c.widths(s.Width) {
		h := o[i].MinSize().Height
		o[i].Move(fyne.NewPos(x, max(0, (s.Height-h)/2)))
		o[i].Resize(fyne.NewSize(max(w-theme.Padding(), 0), h))
		x += w
	}
}

// tableRow is one line of a table of texts, each cut to its column. The whole of a
// text that is cut is told at the foot of the window.
type tableRow struct {
	widget.BaseWidget
	on     *Window
	cols   columns
	head   bool // titles of the columns
	strong bool // bold: it differs from what is usual
	icon   *widget.Icon
	texts  []*canvas.Text
	full   []string
	hover  bool
}

var _ desktop.Hoverable = (*tableRow)(nil)

func newTableRow(on *Window, cols columns) *tableRow {
	r := &tableRow{on: on, cols: cols, icon: widget.NewIcon(nil), full: make([]string, len(cols))}
	for range cols {
		r.texts = append(r.texts, canvas.NewText("", color.Black))
	}
	r.ExtendBaseWidget(r)
	return r
}

// newTableHead makes the line of titles.
func newTableHead(on *Window, cols columns, titles ...string) *tableRow {
	r := newTableRow(on, cols)
	r.head = true
	r.set(nil, false, titles...)
	return r
}

// set shows texts, one a column; the icon may be nil.
func (r *tableRow) set(icon fyne.Resource, strong bool, texts ...string) {
	copy(r.full, texts)
	r.strong = strong
	r.icon.SetResource(icon)
	r.Refresh()
}

func (r *tableRow) MouseIn(*desktop.MouseEvent) {
	r.hover = true
	r.Refresh()
}
func (r *tableRow) MouseMoved(*desktop.MouseEvent) {}
func (r *tableRow) MouseOut() {
	r.hover = false
	r.Refresh()
}

func (r *tableRow) CreateRenderer() fyne.WidgetRenderer {
	x := &tableRowRenderer{r: r, ground: canvas.NewRectangle(color.Transparent)}
	x.objects = append(x.objects, x.ground, r.icon)
	for _, t := range r.texts {
		x.objects = append(x.objects, t)
	}
	x.Refresh()
	return x
}

type tableRowRenderer struct {
	r       *tableRow
	ground  *canvas.Rectangle
	objects []fyne.CanvasObject
}

func (x *tableRowRenderer) MinSize() fyne.Size           { return fyne.NewSize(200, rowTall+2) }
func (x *tableRowRenderer) Objects() []fyne.CanvasObject { return x.objects }
func (x *tableRowRenderer) Destroy()                     {}

func (x *tableRowRenderer) Layout(s fyne.Size) {
	x.ground.Resize(s)
	x.r.icon.Move(fyne.NewPos(6, (s.Height-signSide)/2))
	x.r.icon.Resize(fyne.NewSize(signSide, signSide))
	at := float32(signWide)
	for i, w := range x.r.cols.widths(s.Width - signWide) {
		t := x.r.texts[i]
		t.Text = cutToFit(x.r.full[i], w-cellGap, t.TextSize, t.TextStyle)
		t.Move(fyne.NewPos(at, (s.Height-t.MinSize().Height)/2))
		t.Resize(fyne.NewSize(w, t.MinSize().Height))
		at += w
	}
}

func (x *tableRowRenderer) Refresh() {
	x.ground.FillColor = color.Transparent
	if x.r.hover && !x.r.head {
		x.ground.FillColor = colour(theme.ColorNameHover)
	}
	for _, t := range x.r.texts {
		t.TextSize, t.Color, t.TextStyle.Bold = theme.TextSize(), colour(theme.ColorNameForeground), x.r.strong
		if x.r.head {
			t.TextSize, t.Color = theme.CaptionTextSize(), colour(colorQuiet)
		}
	}
	x.Layout(x.r.Size())
	x.ground.Refresh()
	for _, t := range x.r.texts {
		t.Refresh()
	}
}

// room is a dialog's body of a size that the window has room for.
func (w *Window) room(body fyne.CanvasObject) fyne.CanvasObject {
	size := w.win.Canvas().Size()
	least := canvas.NewRectangle(nil)
	least.SetMinSize(fyne.NewSize(max(480, min(1180, size.Width-90)), max(260, min(900, size.Height-170))))
	return &fyne.Container{Layout: stacked{}, Objects: []fyne.CanvasObject{least, body}}
}

// stacked gives all objects the whole place; the first one alone says how much is
// wanted, so that a long text cannot push a dialog out of the window.
type stacked struct{}

func (stacked) MinSize(o []fyne.CanvasObject) fyne.Size { return o[0].MinSize() }
func (stacked) Layout(o []fyne.CanvasObject, s fyne.Size) {
	for _, x := range o {
		x.Move(fyne.NewPos(0, 0))
		x.Resize(s)
	}
}
