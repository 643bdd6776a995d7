package window

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// panes lays out the centre with a pane to its left, right and bottom. Each pane
// keeps its share of the window: until it is dragged one that suits the size.
type panes struct {
	left, right, bottom, centre fyne.CanvasObject
	bars                        [3]*divider
	share                       [3]float32 // of width or height that left, right and bottom have been given; 0: by default
	laid                        [3]float32 // size that each has got
	hidden                      [3]bool
	least                       float32 // height of the bottom pane while it is hidden: its header stays
	box                         *fyne.Container
	onResize                    func()
}

const (
	paneLeft = iota
	paneRight
	paneBottom
)

const (
	barWide     = 5
	centreLeast = 220
)

func newPanes(left, right, bottom, centre fyne.CanvasObject) *panes {
	p := &panes{left: left, right: right, bottom: bottom, centre: centre}
	for i := range p.bars {
		p.bars[i] = newDivider(i == paneBottom, func(d float32) { p.drag(i, d) }, func() {
			if p.onResize != nil {
				p.onResize()
			}
		})
	}
	p.box = withLayout(p, centre, left, right, bottom, p.bars[0], p.bars[1], p.bars[2])
	return p
}

func (p *panes) drag(i int, d float32) {
	if p.hidden[i] {
		return
	}
	if i != paneLeft {
		d = -d
	}
	whole := p.box.Size().Width
	if i == paneBottom {
		whole = p.box.Size().Height
	}
	if whole <= 0 {
		return
	}
	p.share[i] = min(max((p.laid[i]+d)/whole, 0.02), 0.95)
	p.Layout(nil, p.box.Size())
}

// wish gives the size that a pane should have in a window of a size.
func (p *panes) wish(i int, size fyne.Size) float32 {
	whole := size.Width
	if i == paneBottom {
		whole = size.Height
	}
	if p.share[i] > 0 {
		return p.share[i] * whole
	}
	switch i {
	case paneLeft:
		return min(max(whole*0.155, 180), 236)
	case paneRight:
		return min(max(whole*0.225, 260), 380)
	}
	return whole * 0.35
}

// show shows or hides a pane.
func (p *panes) show(i int, shown bool) {
	p.hidden[i] = !shown
	p.Layout(nil, p.box.Size())
}

// MinSize leaves room for the centre and the least of each pane.
func (p *panes) MinSize([]fyne.CanvasObject) fyne.Size {
	w := float32(centreLeast)
	if !p.hidden[paneLeft] {
		w += p.left.MinSize().Width + barWide
	}
	if !p.hidden[paneRight] {
		w += p.right.MinSize().Width + barWide
	}
	return fyne.NewSize(w, centreLeast+p.least)
}

// Layout places all; panes give way when the window is small.
func (p *panes) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	fit := func(i int, least, most float32) float32 {
		s := max(p.wish(i, size), least)
		s = max(min(s, most), 0)
		return float32(math.Round(float64(s))) // whole units: no column of pixels of the board is lost
	}
	var l, r float32
	if !p.hidden[paneLeft] {
		l = fit(paneLeft, p.left.MinSize().Width, size.Width*0.4)
	}
	if !p.hidden[paneRight] {
		r = fit(paneRight, p.right.MinSize().Width, size.Width-l-centreLeast)
	}
	b := p.least
	if !p.hidden[paneBottom] {
		b = fit(paneBottom, p.least+60, size.Height-centreLeast/1.5)
	}
	p.laid = [3]float32{l, r, b}
	put := func(o fyne.CanvasObject, visible bool, x, y, w, h float32) {
		if visible {
			o.Show()
		} else {
			o.Hide()
		}
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(max(w, 0), max(h, 0)))
	}
	bar := func(i int) float32 {
		if p.hidden[i] {
			return 0
		}
		return barWide
	}
	bl, br, bb := bar(paneLeft), bar(paneRight), bar(paneBottom)
	top := size.Height - b - bb
	put(p.left, !p.hidden[paneLeft], 0, 0, l, size.Height)
	put(p.bars[paneLeft], !p.hidden[paneLeft], l, 0, bl, size.Height)
	put(p.right, !p.hidden[paneRight], size.Width-r, 0, r, top)
	put(p.bars[paneRight], !p.hidden[paneRight], size.Width-r-br, 0, br, top)
	put(p.centre, true, l+bl, 0, size.Width-l-bl-r-br, top)
	put(p.bars[paneBottom], !p.hidden[paneBottom], l+bl, top, size.Width-l-bl, bb)
	put(p.bottom, true, l+bl, top+bb, size.Width-l-bl, b)
}

// divider is the bar between two panes.
type divider struct {
	widget.BaseWidget
	level    bool // lies level and is dragged up and down
	hovered  bool
	onDrag   func(d float32)
	onFinish func()
	line     *canvas.Rectangle
}

var (
	_ fyne.Draggable     = (*divider)(nil)
	_ desktop.Hoverable  = (*divider)(nil)
	_ desktop.Cursorable = (*divider)(nil)
)

func newDivider(level bool, onDrag func(float32), onFinish func()) *divider {
	d := &divider{level: level, onDrag: onDrag, onFinish: onFinish, line: canvas.NewRectangle(colour(theme.ColorNameSeparator))}
	d.ExtendBaseWidget(d)
	return d
}

func (d *divider) CreateRenderer() fyne.WidgetRenderer {
	return &dividerRenderer{d}
}

func (d *divider) Cursor() desktop.Cursor {
	if d.level {
		return desktop.VResizeCursor
	}
	return desktop.HResizeCursor
}

func (d *divider) Dragged(e *fyne.DragEvent) {
	if d.level {
		d.onDrag(e.Dragged.DY)
	} else {
		d.onDrag(e.Dragged.DX)
	}
}

func (d *divider) DragEnd()                       { d.onFinish() }
func (d *divider) MouseIn(*desktop.MouseEvent)    { d.hovered = true; d.Refresh() }
func (d *divider) MouseMoved(*desktop.MouseEvent) {}
func (d *divider) MouseOut()                      { d.hovered = false; d.Refresh() }

type dividerRenderer struct{ d *divider }

func (r *dividerRenderer) Layout(s fyne.Size) {
	if r.d.level {
		r.d.line.Move(fyne.NewPos(0, 0))
		r.d.line.Resize(fyne.NewSize(s.Width, r.thick()))
		return
	}
	r.d.line.Move(fyne.NewPos((s.Width-r.thick())/2, 0))
	r.d.line.Resize(fyne.NewSize(r.thick(), s.Height))
}

func (r *dividerRenderer) thick() float32 {
	if r.d.hovered {
		return barWide - 2
	}
	return 1
}

func (r *dividerRenderer) MinSize() fyne.Size           { return fyne.NewSize(barWide, barWide) }
func (r *dividerRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.d.line} }
func (r *dividerRenderer) Destroy()                     {}
func (r *dividerRenderer) Refresh() {
	name := theme.ColorNameSeparator
	if r.d.hovered {
		name = theme.ColorNamePrimary
	}
	r.d.line.FillColor = colour(name)
	r.Layout(r.d.Size())
	r.d.line.Refresh()
}
