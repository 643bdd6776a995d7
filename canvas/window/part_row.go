package window

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model/catalogue"
	"rinsewright/model/group"
)

// partRow is one kind in the store of parts, or a ready group.
type partRow struct {
	widget.BaseWidget
	in      *partsPanel
	kind    *catalogue.Kind
	group   *group.Group // nil: a part of the kind, which else only tells what the group is called
	image   *canvas.Image
	hover   bool
	focused bool
	picked  bool // the next click on the board places it
	last    fyne.Position
	dragged bool
}

var (
	_ fyne.Draggable     = (*partRow)(nil)
	_ fyne.Tappable      = (*partRow)(nil)
	_ fyne.Focusable     = (*partRow)(nil)
	_ desktop.Hoverable  = (*partRow)(nil)
	_ desktop.Cursorable = (*partRow)(nil)
)

const (
	rowHigh    = 34
	symbolWide = 38
	symbolGap  = 10
)

func newPartRow(in *partsPanel, k *catalogue.Kind) *partRow {
	r := &partRow{in: in, kind: k, image: &canvas.Image{FillMode: canvas.ImageFillContain, ScaleMode: canvas.ImageScaleSmooth}}
	r.ExtendBaseWidget(r)
	return r
}

func (r *partRow) Tapped(*fyne.PointEvent) { r.in.on.pickKind(r.kind) }
func (r *partRow) Cursor() desktop.Cursor  { return desktop.PointerCursor }
func (r *partRow) FocusGained()            { r.focused = true; r.Refresh() }
func (r *partRow) FocusLost()              { r.focused = false; r.Refresh() }
func (r *partRow) TypedRune(rune)          {}
func (r *partRow) MouseIn(*desktop.MouseEvent) {
	r.hover = true
	r.in.on.tellHint(r.kind.Title + ": " + r.kind.Help)
	r.Refresh()
}
func (r *partRow) MouseMoved(*desktop.MouseEvent) {}
func (r *partRow) MouseOut() {
	r.hover = false
	r.in.on.tellHint("")
	r.Refresh()
}

func (r *partRow) TypedKey(e *fyne.KeyEvent) {
	if r.in.on.function(e.Name) {
		return
	}
	switch e.Name {
	case fyne.KeyUp:
		r.in.step(r, -1)
	case fyne.KeyDown:
		r.in.step(r, 1)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		r.in.on.placeInView(r.kind)
	case fyne.KeyEscape:
		r.in.on.focusBoard()
	case fyne.KeyDelete:
		r.in.on.askRemoveGroup(r.group)
	}
}

// Dragged carries the part over the board; the row gets the whole gesture.
func (r *partRow) Dragged(e *fyne.DragEvent) {
	r.dragged = true
	r.last = e.AbsolutePosition
	r.in.on.carry(r.kind, e.AbsolutePosition)
}

func (r *partRow) DragEnd() {
	if r.dragged {
		r.dragged = false
		r.in.on.drop(r.kind, r.last)
	}
}

func (r *partRow) CreateRenderer() fyne.WidgetRenderer {
	x := &partRowRenderer{r: r, ground: canvas.NewRectangle(color.Transparent), text: canvas.NewText(r.kind.Title, color.Black)}
	x.Refresh()
	return x
}

type partRowRenderer struct {
	r      *partRow
	ground *canvas.Rectangle
	text   *canvas.Text
}

func (x *partRowRenderer) Layout(s fyne.Size) {
	x.ground.Resize(s)
	x.r.image.Move(fyne.NewPos(4, 3))
	x.r.image.Resize(fyne.NewSize(symbolWide, s.Height-6))
	x.text.Text = cutToFit(x.r.kind.Title, s.Width-symbolWide-symbolGap, x.text.TextSize, x.text.TextStyle)
	x.text.Move(fyne.NewPos(symbolWide+symbolGap, 0))
	x.text.Resize(fyne.NewSize(s.Width-symbolWide-symbolGap, s.Height))
}

func (x *partRowRenderer) MinSize() fyne.Size { return fyne.NewSize(160, rowHigh) }
func (x *partRowRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{x.ground, x.r.image, x.text}
}
func (x *partRowRenderer) Destroy() {}

func (x *partRowRenderer) Refresh() {
	if x.r.image.Image == nil {
		x.r.image.Image = x.r.picture(2*symbolWide, 2*(rowHigh-6))
		x.r.image.Refresh()
	}
	x.text.Color = colour(theme.ColorNameForeground)
	x.text.TextSize = theme.TextSize()
	x.ground.CornerRadius = 4
	switch {
	case x.r.picked:
		x.ground.FillColor = colour(theme.ColorNameSelection)
	case x.r.focused:
		x.ground.FillColor = colour(theme.ColorNameFocus)
	case x.r.hover:
		x.ground.FillColor = colour(theme.ColorNameHover)
	default:
		x.ground.FillColor = color.Transparent
	}
	x.ground.Refresh()
	x.text.Refresh()
}
