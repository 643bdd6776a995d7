package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// stack lays objects under one another without the gaps of a box. Its number is
// how far each reaches into the one before.
type stack float32

// tight is for a title and its subtitle.
const tight stack = 8

func (by stack) MinSize(objects []fyne.CanvasObject) fyne.Size {
	s := fyne.NewSize(0, float32(by))
	for _, o := range objects {
		if o.Visible() {
			m := o.MinSize()
			s.Width = max(s.Width, m.Width)
			s.Height += m.Height - float32(by)
		}
	}
	return s
}

func (by stack) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	y := float32(0)
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		h := o.MinSize().Height
		o.Move(fyne.NewPos(0, y))
		o.Resize(fyne.NewSize(size.Width, h))
		y += h - float32(by)
	}
}

// sidePadding keeps a form clear of the scroll bar.
type sidePadding struct{}

func (sidePadding) MinSize(o []fyne.CanvasObject) fyne.Size {
	return o[0].MinSize().Add(fyne.NewSize(12, 8))
}

func (sidePadding) Layout(o []fyne.CanvasObject, size fyne.Size) {
	o[0].Move(fyne.NewPos(2, 4))
	o[0].Resize(fyne.NewSize(size.Width-12, size.Height-8))
}

// fixedWidth gives an object a width of its own choosing.
type fixedWidth float32

func (w fixedWidth) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(float32(w), o[0].MinSize().Height)
}

func (w fixedWidth) Layout(o []fyne.CanvasObject, size fyne.Size) {
	o[0].Move(fyne.NewPos(0, 0))
	o[0].Resize(size)
}

// ground is a rectangle whose colour follows the theme.
type ground struct {
	widget.BaseWidget
	name fyne.ThemeColorName
}

func newGround(name fyne.ThemeColorName) *ground {
	g := &ground{name: name}
	g.ExtendBaseWidget(g)
	return g
}

func (g *ground) CreateRenderer() fyne.WidgetRenderer {
	return &groundRenderer{g: g, rect: canvas.NewRectangle(colour(g.name))}
}

type groundRenderer struct {
	g    *ground
	rect *canvas.Rectangle
}

func (r *groundRenderer) Layout(s fyne.Size)           { r.rect.Resize(s) }
func (r *groundRenderer) MinSize() fyne.Size           { return fyne.Size{} }
func (r *groundRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.rect} }
func (r *groundRenderer) Destroy()                     {}
func (r *groundRenderer) Refresh() {
	r.rect.FillColor = colour(r.g.name)
	r.rect.Refresh()
}

// panel puts content on the ground of a side panel.
func panel(content fyne.CanvasObject) fyne.CanvasObject {
	return container.NewStack(newGround(colorPanel), container.NewPadded(content))
}

// bar puts content on the ground of a header.
func bar(content fyne.CanvasObject) fyne.CanvasObject {
	return container.NewStack(newGround(theme.ColorNameHeaderBackground), content)
}
