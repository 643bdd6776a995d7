package window

import (
	"image"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/edit"
	"rinsewright/canvas/place"
	"rinsewright/canvas/route"
	"rinsewright/checks"
	"rinsewright/model"
)

// board is the drawing under the hand: an image of the circuit, and over it what
// is hovered, selected, previewed and found.
type board struct {
	widget.BaseWidget
	on *Window
	ed *edit.Editor

	view view
	fits bool // the view is as fit left it: it fits again when the board grows
	grid bool

	raster  *canvas.Raster
	over    *overlay
	screen  *draw.Screen
	routes  *route.Cache
	buffer  *image.RGBA
	picture *draw.Picture
	shows   *model.Circuit // of which the picture is
	with    *shownLineUp   // and its line-up
	moment  *draw.Options  // shown in place of the line-up; nil: none
	lens    *lens          // whose options the moment is; nil: of none

	findings []checks.Finding
	picked   *checks.Finding
	marking  marking // which findings are marked
	marked   []findingMark
	markKey  markLayoutKey // for which marked was made
	flashed  []model.ID    // framed for a moment
	flashing *time.Timer
	pointed  model.Place // that something elsewhere in the window tells of

	pressed  bool
	button   edit.Button
	held     edit.Modifiers
	turned   []layer // that are not as at first
	rulers   bool
	map_     *overview
	space    bool // held: the primary button pulls the drawing
	inside   bool
	pointer  fyne.Position
	menuAt   *fyne.Position // a menu is asked for when the button comes up
	menuHit  edit.Hit
	carrying string      // kind that is dragged in from the store of parts
	told     string      // hint that was told last
	edge     *time.Timer // moves the view on while a gesture rests at the edge
}

var (
	_ fyne.Widget         = (*board)(nil)
	_ fyne.Draggable      = (*board)(nil)
	_ fyne.Scrollable     = (*board)(nil)
	_ fyne.DoubleTappable = (*board)(nil)
	_ fyne.Focusable      = (*board)(nil)
	_ desktop.Mouseable   = (*board)(nil)
	_ desktop.Hoverable   = (*board)(nil)
	_ desktop.Keyable     = (*board)(nil)
	_ desktop.Cursorable  = (*board)(nil)
)

func newBoard(on *Window) *board {
	b := &board{on: on, ed: edit.NewEditor(on.doc), fits: true, grid: true, marking: markAll, screen: draw.NewScreen(), routes: route.NewCache(on.cat)}
	b.view = view{draw.View{Zoom: unitsPerMillimetre}}
	b.screen.Grid = edit.Grid
	b.ed.OnPan = b.pulled
	b.ed.OnOpen = func(model.ID) { on.focusProperties() }
	b.ed.OnMenu = func(h edit.Hit) { at := b.pointer; b.menuAt, b.menuHit = &at, h }
	b.raster = canvas.NewRaster(b.paint)
	b.raster.ScaleMode = canvas.ImageScalePixels
	b.over = newOverlay()
	b.map_ = newOverview(b)
	b.ed.Labels = b.labelAt
	b.readLayers()
	b.ExtendBaseWidget(b)
	return b
}

func (b *board) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewClip(container.NewStack(b.raster, b.over, container.NewWithoutLayout(b.map_))))
}

func (b *board) MinSize() fyne.Size { return fyne.NewSize(160, 120) }

func (b *board) Resize(s fyne.Size) {
	was := b.Size()
	b.BaseWidget.Resize(s)
	if s == was {
		return
	}
	if b.fits {
		b.fit()
	} else {
		b.refreshOverlay()
	}
	b.tellView()
}

// paint draws the circuit on an image of w by h pixels.
func (b *board) paint(w, h int) image.Image {
	if b.buffer == nil || b.buffer.Rect.Dx() != w || b.buffer.Rect.Dy() != h {
		b.buffer = image.NewRGBA(image.Rect(0, 0, w, h))
	}
	v := b.view.View
	if width := b.Size().Width; width > 0 {
		v.Zoom *= float64(w) / float64(width)
	}
	b.screen.Grid = 0
	if b.grid {
		b.screen.Grid = edit.Grid * 2
	}
	b.screen.Draw(b.buffer, b.draw(), palette(darkNow()), v)
	return b.buffer
}

// draw gives the picture of the circuit as it is to be seen now.
func (b *board) draw() *draw.Picture {
	c := b.ed.Circuit()
	if b.picture == nil || b.shows != c || b.with != b.on.lines || b.signsOff() {
		opt := b.on.lines.options
		if b.moment != nil {
			opt = b.momentOptions()
		}
		opt = b.layered(opt)
		opt.Routes = b.routes
		b.picture = draw.Circuit(c, b.on.cat, opt)
		b.putSigns()
		b.shows, b.with = c, b.on.lines
	}
	return b.picture
}

// repaint draws the circuit anew, and what lies over it.
func (b *board) repaint() {
	b.raster.Refresh()
	b.refreshOverlay()
}

// setView shows another piece of the drawing.
func (b *board) setView(v view) {
	if v == b.view {
		return
	}
	b.view, b.fits = v, false
	b.repaint()
	b.on.status.tellZoom(v.scale())
	b.tellView()
}

// tellView lets a test compute where on the screen something lies.
func (b *board) tellView() {
	if b.on.events == nil || !b.on.started {
		return
	}
	cv := b.on.win.Canvas()
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(b)
	s := float64(cv.Scale())
	b.on.events.tell("view", map[string]any{
		"x": float64(at.X) * s, "y": float64(at.Y) * s, "width": float64(b.Size().Width) * s, "height": float64(b.Size().Height) * s,
		"zoom": b.view.Zoom * s, "offset_x": b.view.Offset.X, "offset_y": b.view.Offset.Y,
	})
}

// fit shows the whole circuit.
func (b *board) fit() {
	if b.Size().Width > 1 && b.Size().Height > 1 {
		r := b.on.drawing().Bounds()
		if r.Empty() {
			r = place.Rect{Max: model.Point{X: 297, Y: 180}} // about an A4 sheet lying down
		}
		b.setView(fitted(r.Grown(4), b.Size()))
	}
	b.fits = true
}

// natural shows the drawing at 100 %, with what is in the middle kept there.
func (b *board) natural() {
	b.zoomBy(1 / b.view.scale())
}

// zoomBy zooms about the pointer if it is over the board, else about the middle.
func (b *board) zoomBy(factor float64) {
	p := fyne.NewPos(b.Size().Width/2, b.Size().Height/2)
	if b.inside {
		p = b.pointer
	}
	b.setView(b.view.zoomed(factor, p))
}

// bringIntoView moves the view as little as is needed to show r with room
// around it.
func (b *board) bringIntoView(r place.Rect) {
	if r.Empty() || b.Size().Width <= 1 {
		return
	}
	shown := b.view.shown(b.Size())
	margin := min(shown.Width(), shown.Height()) * 0.08
	switch {
	case shown.Grown(-margin).Holds(r):
	case r.Width() > shown.Width()-2*margin || r.Height() > shown.Height()-2*margin:
		b.setView(fitted(r.Grown(10), b.Size()))
	default:
		b.setView(b.view.centred(r.Centre(), b.Size()))
	}
	b.refreshOverlay()
}

// pulled moves the view so that what lies at from comes to the point to.
func (b *board) pulled(from, to model.Point) {
	v := b.view
	v.Offset = v.Offset.Sub(to.Sub(from))
	b.setView(v)
}

// drawingRun says whether the run tool is up.
func (b *board) drawingRun() bool {
	s := b.ed.State()
	return len(s) > 4 && s[:4] == "run."
}

func (b *board) snap() bool { return b.ed.SnapToGrid }
