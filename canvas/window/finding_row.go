package window

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Cells of a row of the findings, beside the sign of its severity.
const (
	cellWhere = iota
	cellText
	cellMeasured
	cellLimit
	cells
)

// cellWidths shares the width of a row out. What was measured and the limit also
// stand in the text: they have cells of their own only where there is room. A
// width of 0 hides a cell.
func cellWidths(width float32, open bool) (out [cells]float32) {
	width -= signWide
	out[cellWhere] = min(max(width*0.24, 110), 260)
	if !open && width >= 720 {
		out[cellMeasured], out[cellLimit] = 92, 92
	}
	out[cellText] = max(width-out[cellWhere]-out[cellMeasured]-out[cellLimit], 0)
	return out
}

// widths are those of the cells of the list that the row stands in. Who accepted a
// finding and until when stands nowhere else in its row.
func (r *findingRow) widths(width float32) [cells]float32 {
	out := cellWidths(width, r.open)
	if r.of == nil || r.of.register == nil || !r.of.register.lit || out[cellMeasured] > 0 || width < 420 {
		return out
	}
	out[cellMeasured], out[cellLimit] = 96, 84
	out[cellText] -= out[cellMeasured] + out[cellLimit]
	return out
}

const (
	signSide = 14
	signWide = signSide + 14
	cellGap  = 10
	rowTall  = 19
)

// findingRow is one line of the list: sign, place, and what is the matter, cut
// where it is too long. The whole of it is told at the foot of the window.
type findingRow struct {
	widget.BaseWidget
	on    *Window
	of    *findingsPanel // that it stands in
	at    int            // its place in the list
	open  bool
	head  bool
	icon  *widget.Icon
	texts [cells]*canvas.Text
	full  [cells]string
	hover bool
}

var (
	_ desktop.Hoverable      = (*findingRow)(nil)
	_ fyne.Tappable          = (*findingRow)(nil)
	_ fyne.SecondaryTappable = (*findingRow)(nil)
)

// Tapped picks the finding, as a tap on the list's own row would: the row lies over
// it.
func (r *findingRow) Tapped(*fyne.PointEvent) {
	if r.of != nil && !r.head {
		r.on.focus(r.of.list)
		r.of.list.Select(r.at)
	}
}

// TappedSecondary picks the finding and opens its menu.
func (r *findingRow) TappedSecondary(e *fyne.PointEvent) {
	if r.of != nil && !r.head && r.at < len(r.of.shown) {
		r.Tapped(e)
		r.on.findingMenu(r.of, r.of.shown[r.at], e.AbsolutePosition)
	}
}

func newFindingRow(on *Window, open bool) *findingRow {
	r := &findingRow{on: on, open: open, icon: widget.NewIcon(iconNote)}
	for i := range r.texts {
		r.texts[i] = canvas.NewText("", color.Black)
	}
	r.ExtendBaseWidget(r)
	return r
}

// set shows a finding's cells.
func (r *findingRow) set(icon fyne.Resource, text [cells]string) {
	r.full = text
	if icon != nil {
		r.icon.SetResource(icon)
	}
	r.Refresh()
}

func (r *findingRow) MouseIn(*desktop.MouseEvent) {
	r.hover = true
	if !r.head {
		r.on.tellHint(r.full[cellText])
	}
	r.Refresh()
}
func (r *findingRow) MouseMoved(*desktop.MouseEvent) {}
func (r *findingRow) MouseOut() {
	r.hover = false
	if !r.head {
		r.on.tellHint("")
	}
	r.Refresh()
}

func (r *findingRow) CreateRenderer() fyne.WidgetRenderer {
	x := &findingRowRenderer{r: r, ground: canvas.NewRectangle(color.Transparent)}
	x.objects = append(x.objects, x.ground, r.icon)
	for _, t := range r.texts {
		x.objects = append(x.objects, t)
	}
	x.Refresh()
	return x
}

type findingRowRenderer struct {
	r       *findingRow
	ground  *canvas.Rectangle
	objects []fyne.CanvasObject
}

func (x *findingRowRenderer) MinSize() fyne.Size           { return fyne.NewSize(200, rowTall) }
func (x *findingRowRenderer) Objects() []fyne.CanvasObject { return x.objects }
func (x *findingRowRenderer) Destroy()                     {}

func (x *findingRowRenderer) Layout(s fyne.Size) {
	x.ground.Resize(s)
	x.r.icon.Move(fyne.NewPos(6, (s.Height-signSide)/2))
	x.r.icon.Resize(fyne.NewSize(signSide, signSide))
	at := float32(signWide)
	for i, w := range x.r.widths(s.Width) {
		t := x.r.texts[i]
		if w == 0 {
			t.Hide()
			continue
		}
		t.Show()
		t.Text = cutToFit(x.r.full[i], w-cellGap, t.TextSize, t.TextStyle)
		t.Move(fyne.NewPos(at, 0))
		t.Resize(fyne.NewSize(w-cellGap, s.Height))
		t.Refresh()
		at += w
	}
}

func (x *findingRowRenderer) Refresh() {
	x.ground.FillColor = color.Transparent
	x.ground.CornerRadius = 3
	if x.r.hover && !x.r.head {
		x.ground.FillColor = colour(theme.ColorNameHover)
	}
	for i, t := range x.r.texts {
		t.TextSize, t.Color = theme.TextSize(), colour(theme.ColorNameForeground)
		switch {
		case x.r.head:
			t.TextSize, t.Color = theme.CaptionTextSize(), colour(colorQuiet)
		case i == cellWhere:
			t.TextStyle.Bold = true
		}
	}
	x.Layout(x.r.Size())
	x.ground.Refresh()
}

// cutToFit cuts a text to a width, with an ellipsis where something is cut.
func cutToFit(text string, width, size float32, style fyne.TextStyle) string {
	if fyne.MeasureText(text, size, style).Width <= width {
		return text
	}
	runes := []rune(text)
	low, high := 0, len(runes)
	for low < high {
		mid := (low + high + 1) / 2
		if fyne.MeasureText(string(runes[:mid])+"…", size, style).Width <= width {
			low = mid
		} else {
			high = mid - 1
		}
	}
	return string(runes[:low]) + "…"
}
