package window

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/draw"
)

// overview is the whole drawing, small, in the corner of the board, with a frame
// about what is in view. A click or a drag on it brings that place into view. It
// hides while the whole drawing is in view anyway.
type overview struct {
	widget.BaseWidget
	of     *board
	folded bool

	raster  *canvas.Raster
	frame   *canvas.Rectangle
	ground  *canvas.Rectangle
	screen  *draw.Screen
	buffer  *image.RGBA
	painted *draw.Picture // that is in the buffer
	dark    bool          // and its palette
	view    draw.View     // with which it was painted, in pixels
}

var (
	_ fyne.Draggable     = (*overview)(nil)
	_ desktop.Mouseable  = (*overview)(nil)
	_ desktop.Hoverable  = (*overview)(nil)
	_ desktop.Cursorable = (*overview)(nil)
)

const (
	overviewWide = 184
	overviewHigh = 124
	overviewAway = 10 // from the edges of the board
	overviewRim  = 4
)

func newOverview(of *board) *overview {
	o := &overview{of: of, screen: draw.NewScreen()}
	o.raster = canvas.NewRaster(o.paint)
	o.frame = canvas.NewRectangle(nil)
	o.ground = canvas.NewRectangle(nil)
	o.ground.StrokeWidth, o.frame.StrokeWidth = 1, 1.5
	o.ExtendBaseWidget(o)
	o.Hide()
	return o
}

func (o *overview) CreateRenderer() fyne.WidgetRenderer {
	inside := container.New(layout.NewCustomPaddedLayout(1, 1, 1, 1), o.raster)
	return widget.NewSimpleRenderer(container.NewStack(o.ground, inside, container.NewWithoutLayout(o.frame)))
}

func (o *overview) MinSize() fyne.Size { return fyne.NewSize(overviewWide, overviewHigh) }

// follow places the map and its frame for the present view.
func (o *overview) follow() {
	b := o.of
	size := b.Size()
	whole := b.draw().Bounds
	if o.folded || whole.Empty() || size.Width < 3*overviewWide || size.Height < 2*overviewHigh || b.view.shown(size).Holds(whole) {
		if o.Visible() {
			o.Hide()
		}
		return
	}
	o.ground.FillColor, o.ground.StrokeColor = colour(colorBoard), colour(colorQuiet)
	o.Move(fyne.NewPos(size.Width-overviewWide-overviewAway, size.Height-overviewHigh-overviewAway))
	o.Resize(o.MinSize())
	if !o.Visible() {
		o.Show()
	}
	// While a gesture is under way the map may lag: what is dragged must not.
	if (o.painted != b.picture || o.dark != darkNow()) && (!b.gesturing() || o.painted == nil) {
		o.raster.Refresh()
	}
	v := o.mapped()
	shown := b.view.shown(size)
	x0, y0 := v.ToScreen(shown.Min)
	x1, y1 := v.ToScreen(shown.Max)
	in := func(v float64, most float32) float32 { return min(max(float32(v), 1), most-1) }
	o.frame.StrokeColor, o.frame.FillColor = b.accent(255), b.accent(28)
	o.frame.Move(fyne.NewPos(in(x0, overviewWide), in(y0, overviewHigh)))
	o.frame.Resize(fyne.NewSize(in(x1, overviewWide)-in(x0, overviewWide), in(y1, overviewHigh)-in(y0, overviewHigh)))
	o.frame.Refresh()
}

// mapped is the view of the map in fyne's units.
func (o *overview) mapped() draw.View {
	return draw.Fit(o.of.draw().Bounds, overviewWide, overviewHigh, overviewRim)
}

// paint draws the map on an image of w by h pixels.
func (o *overview) paint(w, h int) image.Image {
	if o.buffer == nil || o.buffer.Rect.Dx() != w || o.buffer.Rect.Dy() != h {
		o.buffer, o.painted = image.NewRGBA(image.Rect(0, 0, w, h)), nil
	}
	p := o.of.draw()
	if o.painted == p && o.dark == darkNow() {
		return o.buffer
	}
	v := o.mapped()
	v.Zoom *= float64(w) / overviewWide
	o.screen.Draw(o.buffer, p, palette(darkNow()), v)
	o.painted, o.dark = p, darkNow()
	return o.buffer
}

// goTo brings the place under a point of the map into the middle of the board.
func (o *overview) goTo(at fyne.Position) {
	b := o.of
	b.setView(b.view.centred(o.mapped().ToDrawing(float64(at.X), float64(at.Y)), b.Size()))
}

func (o *overview) MouseDown(e *desktop.MouseEvent) {
	if e.Button == desktop.MouseButtonPrimary {
		o.goTo(e.Position)
	}
}
func (o *overview) MouseUp(*desktop.MouseEvent)    {}
func (o *overview) Dragged(e *fyne.DragEvent)      { o.goTo(e.Position) }
func (o *overview) DragEnd()                       {}
func (o *overview) MouseMoved(*desktop.MouseEvent) {}
func (o *overview) MouseOut()                      {}
func (o *overview) Cursor() desktop.Cursor         { return desktop.PointerCursor }
func (o *overview) MouseIn(*desktop.MouseEvent) {
	o.of.on.status.tellHint("Click or drag on the map to look elsewhere; O folds it away")
	o.of.told = ""
}
