package window

import (
	"image"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/profile"
	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// heightView is the picture of the height view under the hand.
type heightView struct {
	widget.BaseWidget
	of     *heightPanel
	raster *canvas.Raster
	screen *draw.Screen

	down    bool
	from    fyne.Position // where the button went down
	stop    int           // that was taken, or -1
	scale   profile.View  // as it was then: the axes stay while a point is dragged
	moved   bool
	edit    model.Edit
	preview *profile.Profile
	hover   int
}

var (
	_ desktop.Mouseable = (*heightView)(nil)
	_ desktop.Hoverable = (*heightView)(nil)
	_ fyne.Draggable    = (*heightView)(nil)
	_ fyne.Focusable    = (*heightView)(nil)
)

// heightReach is how near to a point a click must be, mm of the picture.
const heightReach = 3.0

// Steps in m to which a dragged point keeps, and by which keys raise one.
const (
	heightStep = 0.01
	heightFar  = 0.1
)

func newHeightView(of *heightPanel) *heightView {
	v := &heightView{of: of, screen: draw.NewScreen(), stop: -1, hover: -1}
	v.raster = canvas.NewRaster(v.paint)
	v.raster.ScaleMode = canvas.ImageScalePixels
	v.ExtendBaseWidget(v)
	return v
}

func (v *heightView) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(v.raster) }
func (v *heightView) MinSize() fyne.Size                  { return fyne.NewSize(200, 90) }
func (v *heightView) refresh()                            { v.raster.Refresh() }

// shown gives the profile as it is drawn now, for the size of the widget.
func (v *heightView) shown() profile.View {
	size := v.raster.Size()
	x := profile.View{Of: v.of.shown, Title: v.of.title(), System: v.of.on.system,
		Width: float64(size.Width) / plotZoom, Height: float64(size.Height) / plotZoom}
	if v.preview != nil {
		x.Of = v.preview
		x.Least, x.Most = v.scale.Heights()
	}
	return x
}

func (v *heightView) picture(width, height float64) *draw.Picture {
	if v.of.why != "" || v.of.shown == nil {
		pic := &draw.Picture{}
		why := v.of.why
		if why == "" {
			why = "Show a step, or select runs, to see their way from the side."
		}
		pic.Add(draw.LayerSheet, "", draw.Text{At: model.Point{X: width / 2, Y: height / 2}, String: why, Height: 2.3, Role: draw.Ink})
		return pic
	}
	x := v.shown()
	x.Width, x.Height = width, height
	pic := x.Picture()
	for _, s := range []int{v.hover, v.of.pick} {
		if s >= 0 && s < len(x.Of.Stops) {
			if at, ok := x.At(s); ok {
				pic.Add(draw.LayerMark, "", draw.Path{Segments: draw.Circle(at, 1.6), Style: draw.Style{Stroke: draw.Accent, Width: 0.5}})
			}
		}
	}
	return pic
}

// paint draws at the scale of the screen's pixels.
func (v *heightView) paint(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	zoom := plotZoom
	if size := v.raster.Size(); size.Width > 0 {
		zoom *= float64(w) / float64(size.Width)
	}
	v.screen.Draw(img, v.picture(float64(w)/zoom, float64(h)/zoom), palette(darkNow()), draw.View{Zoom: zoom})
	return img
}

// near gives the stop under a point of the widget, or -1.
func (v *heightView) near(p fyne.Position) int {
	if v.of.why != "" || v.of.shown == nil {
		return -1
	}
	return v.shown().Near(model.Point{X: float64(p.X) / plotZoom, Y: float64(p.Y) / plotZoom}, heightReach)
}

func (v *heightView) MouseDown(e *desktop.MouseEvent) {
	if e.Button != desktop.MouseButtonPrimary {
		return
	}
	v.of.on.focus(v)
	v.down, v.moved, v.from = true, false, e.Position
	v.stop = v.near(e.Position)
	v.scale = v.shown()
}

func (v *heightView) MouseUp(*desktop.MouseEvent) { v.release() }

func (v *heightView) DragEnd() { v.release() }

// release ends a gesture: a click picks a point and shows it on the drawing, a
// drag raises it.
func (v *heightView) release() {
	if !v.down {
		return
	}
	v.down = false
	e := v.edit
	v.edit, v.preview = model.Edit{}, nil
	switch {
	case v.stop < 0:
	case v.moved:
		v.of.pick = v.stop
		v.of.on.try(e, nil)
	default:
		v.choose(v.stop)
	}
	v.refresh()
}

// choose picks a stop and shows on the drawing what it belongs to.
func (v *heightView) choose(stop int) {
	p := v.of
	p.pick = stop
	n := p.shown.Plant.Nodes[p.shown.Stops[stop].Node]
	w := p.on
	w.guard("go to a place", func() {
		id := n.Part
		if id == "" {
			id = n.Run
		}
		w.board.bringIntoView(w.drawing().Bounds(id))
		if n.Part != "" && len(p.runs()) == 0 { // selected runs are what is looked at
			w.doc.Select(n.Part)
		} else {
			w.board.point(model.PlaceOf(id))
		}
	})
	p.showField()
	v.refresh()
}

func (v *heightView) Dragged(e *fyne.DragEvent) {
	if !v.down || v.stop < 0 {
		return
	}
	step := heightStep
	if held()&fyne.KeyModifierAlt != 0 {
		step /= 10
	}
	z, ok := v.of.shown.Stops[v.stop].Height.Get()
	if !ok {
		return
	}
	to := float64(z) - v.scale.Fall(float64(e.Position.Y-v.from.Y)/plotZoom)
	by := quantity.Length(math.Round(to/step)*step) - z
	v.moved = true
	v.try(by)
}

// try shows what raising the point that was taken would do.
func (v *heightView) try(by quantity.Length) {
	w := v.of.on
	v.edit, v.preview = model.Edit{}, nil
	e, err := v.of.raise(v.stop, by)
	if err != nil {
		w.tellHint(sentence(err.Error()))
		return
	}
	c, err := w.circuit().Apply(e)
	if err != nil {
		w.tellHint(sentence(err.Error()))
		return
	}
	v.edit = e
	plant := network.Build(c, w.cat)
	const quick = 500 // parts: of more, what stays is worked out when the point is let go
	v.preview, _ = w.heightProfile(plant, v.of.runs(), v.of.leastFall(), len(c.Parts()) <= quick)
	z, _ := v.of.shown.Stops[v.stop].Height.Get()
	w.tellHint(e.Label + ": to " + quantity.Text(z+by, w.system) + ". Let go to take it over; Escape cancels")
	v.refresh()
}

func (v *heightView) MouseIn(e *desktop.MouseEvent) { v.MouseMoved(e) }

func (v *heightView) MouseMoved(e *desktop.MouseEvent) {
	at := v.near(e.Position)
	if at == v.hover {
		return
	}
	v.hover = at
	v.tell(at)
	v.refresh()
}

// tell says at the foot of the window what a stop is.
func (v *heightView) tell(stop int) {
	w := v.of.on
	if stop < 0 {
		w.tellHint("")
		w.board.point(model.Place{})
		return
	}
	s := v.of.shown.Stops[stop]
	n := v.of.shown.Plant.Nodes[s.Node]
	id := n.Part
	if id == "" {
		id = n.Run
	}
	text := nameOf(w.circuit().Record(id), w.cat)
	if z, ok := s.Height.Get(); ok {
		text += " at " + quantity.Text(z, w.system)
	}
	if v.of.shown.Draining != nil {
		if over, ok := v.of.shown.Draining.Spill[s.Node].Get(); ok {
			text += "; liquid here gets out at " + quantity.Text(over, w.system)
		}
	}
	w.tellHint(text + ". Drag it up or down; click shows it on the drawing")
	w.board.point(model.PlaceOf(id))
}

func (v *heightView) MouseOut() {
	v.hover = -1
	v.tell(-1)
	v.refresh()
}

func (v *heightView) FocusGained()   {}
func (v *heightView) FocusLost()     {}
func (v *heightView) TypedRune(rune) {}

// TypedKey goes from point to point, raises and lowers the one that is picked, and
// leads to its field.
func (v *heightView) TypedKey(e *fyne.KeyEvent) {
	p := v.of
	if p.on.function(e.Name) {
		return
	}
	far := held()&fyne.KeyModifierShift != 0
	switch e.Name {
	case fyne.KeyEscape:
		if v.down {
			v.down, v.stop, v.edit, v.preview = false, -1, model.Edit{}, nil
			v.refresh()
			return
		}
		p.on.focusBoard()
	case fyne.KeyLeft, fyne.KeyRight:
		if p.shown != nil && len(p.shown.Stops) > 0 {
			by := 1
			if e.Name == fyne.KeyLeft {
				by = -1
			}
			p.pick = min(max(p.pick+by, 0), len(p.shown.Stops)-1)
			v.tell(p.pick)
			p.showField()
			v.refresh()
		}
	case fyne.KeyUp, fyne.KeyDown:
		by := quantity.Length(heightStep)
		if far {
			by = heightFar
		}
		if e.Name == fyne.KeyDown {
			by = -by
		}
		if p.shown != nil && p.pick >= 0 {
			edit, err := p.raise(p.pick, by)
			if err == nil {
				err = p.on.doc.ApplyTyped(edit, "raise")
			}
			p.on.tellIf(err)
			if err == nil {
				v.tell(p.pick)
			}
		}
	case fyne.KeyReturn, fyne.KeyEnter:
		if p.pick >= 0 {
			v.choose(p.pick)
			p.on.focus(p.field)
		}
	}
}
