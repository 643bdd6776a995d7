package window

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// mostFlowCells is how many cells a line has beside its name.
const mostFlowCells = 8

// flowRow shows a flowLine, cut where it is too long. The whole of it is told at
// the foot of the window.
type flowRow struct {
	widget.BaseWidget
	on    *Window
	line  flowLine
	icon  *widget.Icon
	name  *canvas.Text
	cells [mostFlowCells]*canvas.Text
	hover bool
}

var (
	_ desktop.Hoverable  = (*flowRow)(nil)
	_ desktop.Cursorable = (*flowRow)(nil)
)

func newFlowRow(on *Window) *flowRow {
	r := &flowRow{on: on, icon: widget.NewIcon(iconFix), name: canvas.NewText("", color.Black)}
	for i := range r.cells {
		r.cells[i] = canvas.NewText("", color.Black)
	}
	r.ExtendBaseWidget(r)
	return r
}

func (r *flowRow) set(l flowLine) {
	r.line = l
	if l.icon != nil {
		r.icon.SetResource(l.icon)
	}
	r.Refresh()
}

func (r *flowRow) MouseIn(*desktop.MouseEvent) {
	r.hover = true
	if !r.line.head {
		full := r.line.full
		if full == "" {
			full = r.line.name + ": " + r.line.text
		}
		r.on.tellHint(full)
	}
	r.Refresh()
}

func (r *flowRow) MouseMoved(*desktop.MouseEvent) {}

func (r *flowRow) MouseOut() {
	r.hover = false
	r.on.tellHint("")
	r.Refresh()
}

func (r *flowRow) Cursor() desktop.Cursor {
	if r.line.run != nil {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

func (r *flowRow) CreateRenderer() fyne.WidgetRenderer {
	x := &flowRowRenderer{r: r, ground: canvas.NewRectangle(color.Transparent)}
	x.objects = append(x.objects, x.ground, r.icon, r.name)
	for _, t := range r.cells {
		x.objects = append(x.objects, t)
	}
	x.Refresh()
	return x
}

type flowRowRenderer struct {
	r       *flowRow
	ground  *canvas.Rectangle
	objects []fyne.CanvasObject
}

func (x *flowRowRenderer) MinSize() fyne.Size           { return fyne.NewSize(200, rowTall) }
func (x *flowRowRenderer) Objects() []fyne.CanvasObject { return x.objects }
func (x *flowRowRenderer) Destroy()                     {}

func (x *flowRowRenderer) Layout(s fyne.Size) {
	l := &x.r.line
	x.ground.Resize(s)
	at := float32(6)
	if l.icon != nil {
		x.r.icon.Show()
		x.r.icon.Move(fyne.NewPos(at, (s.Height-signSide)/2))
		x.r.icon.Resize(fyne.NewSize(signSide, signSide))
		at += signSide + 5
	} else {
		x.r.icon.Hide()
	}
	// The columns of a group begin where those of its head do.
	column := min(max(s.Width*0.2, 92), 190)
	switch {
	case l.wider:
		column = s.Width * 0.62
	case l.wide:
		column = s.Width * 0.4
	case len(l.cells) >= mostFlowCells:
		column = min(max(s.Width*0.25, 92), 230) // a table of short figures; its names tell of which object
	}
	if l.head && l.cells == nil {
		column = max(column, fyne.MeasureText(l.name, x.r.name.TextSize, x.r.name.TextStyle).Width+at+cellGap)
	}
	put := func(t *canvas.Text, text string, from, width float32) {
		t.Text = cutToFit(text, width, t.TextSize, t.TextStyle)
		t.Move(fyne.NewPos(from, 0))
		t.Resize(fyne.NewSize(width, s.Height))
		t.Show()
		t.Refresh()
	}
	put(x.r.name, l.name, at, column-at-cellGap/2)
	texts := l.cells
	if texts == nil {
		texts = []string{l.text}
	}
	wide := (s.Width - column) / float32(len(texts))
	for i, t := range x.r.cells {
		if i >= len(texts) {
			t.Hide()
			continue
		}
		put(t, texts[i], column+float32(i)*wide, wide-4)
	}
}

func (x *flowRowRenderer) Refresh() {
	r := x.r
	x.ground.FillColor, x.ground.CornerRadius = color.Transparent, 3
	switch {
	case r.line.head:
		x.ground.FillColor = colour(theme.ColorNameHeaderBackground)
	case r.hover:
		x.ground.FillColor = colour(theme.ColorNameHover)
	}
	r.name.TextSize, r.name.Color = theme.TextSize(), colour(theme.ColorNameForeground)
	r.name.TextStyle.Bold = true
	for _, t := range r.cells {
		t.TextSize, t.Color = theme.TextSize(), colour(theme.ColorNameForeground)
		switch {
		case r.line.head:
			t.TextSize, t.Color = theme.CaptionTextSize(), colour(colorQuiet)
		case r.line.link:
			t.Color = colour(theme.ColorNameHyperlink)
		}
	}
	x.Layout(r.Size())
	x.ground.Refresh()
}
