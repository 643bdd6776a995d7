package window

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// overlay is a light layer of lines, boxes, rings and icons. It is filled anew
// at every change and holds only what is to be seen.
type overlay struct {
	widget.BaseWidget
	objects []fyne.CanvasObject
	lines   pool[*canvas.Line]
	boxes   pool[*canvas.Rectangle]
	rings   pool[*canvas.Circle]
	icons   pool[*canvas.Image]
	texts   pool[*canvas.Text]
}

// pool hands out objects that are used again at the next filling.
type pool[T fyne.CanvasObject] struct {
	all  []T
	used int
	make func() T
}

func (p *pool[T]) next() T {
	if p.used == len(p.all) {
		p.all = append(p.all, p.make())
	}
	p.used++
	return p.all[p.used-1]
}

func newOverlay() *overlay {
	o := &overlay{}
	o.lines.make = func() *canvas.Line { return canvas.NewLine(color.Black) }
	o.boxes.make = func() *canvas.Rectangle { return canvas.NewRectangle(color.Transparent) }
	o.rings.make = func() *canvas.Circle { return canvas.NewCircle(color.Transparent) }
	o.icons.make = func() *canvas.Image { return &canvas.Image{FillMode: canvas.ImageFillContain} }
	o.texts.make = func() *canvas.Text { return canvas.NewText("", color.Black) }
	o.ExtendBaseWidget(o)
	return o
}

func (o *overlay) CreateRenderer() fyne.WidgetRenderer { return &overlayRenderer{o} }

type overlayRenderer struct{ o *overlay }

func (r *overlayRenderer) Layout(fyne.Size)             {}
func (r *overlayRenderer) MinSize() fyne.Size           { return fyne.Size{} }
func (r *overlayRenderer) Objects() []fyne.CanvasObject { return r.o.objects }
func (r *overlayRenderer) Refresh()                     {}
func (r *overlayRenderer) Destroy()                     {}

func (o *overlay) begin() {
	o.objects = o.objects[:0:0]
	o.lines.used, o.boxes.used, o.rings.used, o.icons.used, o.texts.used = 0, 0, 0, 0, 0
}

func (o *overlay) line(a, b fyne.Position, c color.Color, width float32) {
	l := o.lines.next()
	l.Position1, l.Position2, l.StrokeColor, l.StrokeWidth = a, b, c, width
	o.objects = append(o.objects, l)
}

func (o *overlay) polyline(points []fyne.Position, c color.Color, width float32) {
	for i := 1; i < len(points); i++ {
		o.line(points[i-1], points[i], c, width)
	}
}

// box draws a rectangle between two corners.
func (o *overlay) box(a, b fyne.Position, stroke, fill color.Color, width float32) {
	r := o.boxes.next()
	r.StrokeColor, r.FillColor, r.StrokeWidth = stroke, fill, width
	r.CornerRadius = 2
	r.Move(a)
	r.Resize(fyne.NewSize(b.X-a.X, b.Y-a.Y))
	o.objects = append(o.objects, r)
}

func (o *overlay) ring(at fyne.Position, radius float32, stroke, fill color.Color, width float32) {
	c := o.rings.next()
	c.StrokeColor, c.FillColor, c.StrokeWidth = stroke, fill, width
	c.Position1 = fyne.NewPos(at.X-radius, at.Y-radius)
	c.Position2 = fyne.NewPos(at.X+radius, at.Y+radius)
	o.objects = append(o.objects, c)
}

func (o *overlay) icon(at fyne.Position, side float32, res fyne.Resource) {
	i := o.icons.next()
	if i.Resource != res {
		i.Resource = res
		i.Refresh()
	}
	i.Move(fyne.NewPos(at.X-side/2, at.Y-side/2))
	i.Resize(fyne.NewSize(side, side))
	o.objects = append(o.objects, i)
}
