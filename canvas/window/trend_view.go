package window

import (
	"image"
	"image/color"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/plot"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// trendView shows one trend with a cursor at the time of the play. The curves are
// painted once; the cursor is moved over them.
type trendView struct {
	widget.BaseWidget
	on          *Window
	of          plot.Trend
	raster      *canvas.Raster
	screen      *draw.Screen
	chart       plot.Chart
	line        *canvas.Line
	ground      *canvas.Rectangle
	text        *canvas.Text
	cursor      float64 // min
	cursorShown bool
}

var (
	_ desktop.Hoverable = (*trendView)(nil)
	_ fyne.Tappable     = (*trendView)(nil)
	_ fyne.Draggable    = (*trendView)(nil)
)

func newTrendView(on *Window, of plot.Trend) *trendView {
	v := &trendView{on: on, of: of, screen: draw.NewScreen(), line: canvas.NewLine(color.Black), ground: canvas.NewRectangle(color.Transparent), text: canvas.NewText("", color.Black)}
	v.raster = canvas.NewRaster(v.paint)
	v.raster.ScaleMode = canvas.ImageScalePixels
	v.line.StrokeWidth = 1.5
	v.ExtendBaseWidget(v)
	return v
}

func (v *trendView) CreateRenderer() fyne.WidgetRenderer { return &trendRenderer{v} }
func (v *trendView) MinSize() fyne.Size                  { return fyne.NewSize(120, 60) }

type trendRenderer struct{ v *trendView }

func (r *trendRenderer) Layout(s fyne.Size) {
	r.v.raster.Resize(s)
	r.v.place()
}
func (r *trendRenderer) MinSize() fyne.Size { return fyne.NewSize(120, 60) }
func (r *trendRenderer) Destroy()           {}
func (r *trendRenderer) Refresh() {
	r.v.raster.Refresh()
	r.v.place()
}
func (r *trendRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.v.raster, r.v.line, r.v.ground, r.v.text}
}

// show draws a chart.
func (v *trendView) show(c plot.Chart) {
	// There is little room: the title tells the unit, the hint the time.
	c.Compact, c.Title = true, c.Y.Name
	v.chart = c
	v.Refresh()
}

// setCursor moves the cursor to a time in minutes; not shown without a play.
func (v *trendView) setCursor(t float64, shown bool) {
	v.cursor, v.cursorShown = t, shown
	v.place()
}

// place puts cursor and values where they belong.
func (v *trendView) place() {
	size := v.raster.Size()
	if !v.cursorShown || size.Width < 1 || len(v.chart.Lines) == 0 {
		v.line.Hide()
		v.text.Hide()
		v.ground.Hide()
		return
	}
	at, top, bottom := v.chart.Upright(float64(size.Width)/plotZoom, float64(size.Height)/plotZoom, v.cursor)
	x := float32(at * plotZoom)
	v.line.StrokeColor = colour(theme.ColorNamePrimary)
	v.line.Position1, v.line.Position2 = fyne.NewPos(x, float32(top*plotZoom)), fyne.NewPos(x, float32(bottom*plotZoom))
	v.line.Show()
	v.line.Refresh()
	// The values stand above the curves, behind the title where they fit, else in its
	// place: in a small chart they would hide what they tell of.
	v.text.TextSize, v.text.Color = theme.CaptionTextSize(), colour(theme.ColorNameForeground)
	v.text.Text = cutToFit(v.cursorWords(), size.Width-12, v.text.TextSize, v.text.TextStyle)
	m := fyne.MeasureText(v.text.Text, v.text.TextSize, v.text.TextStyle)
	end, high := v.chart.Head(float64(size.Width)/plotZoom, float64(size.Height)/plotZoom)
	p := fyne.NewPos(float32(end*plotZoom)+10, max((float32(high*plotZoom)-m.Height)/2, 0))
	instead := p.X+m.Width > size.Width-4
	if instead {
		p.X = max(size.Width-m.Width, 0) / 2
	}
	v.text.Move(p)
	v.text.Resize(m)
	v.text.Show()
	v.text.Refresh()
	ground := palette(darkNow()).Colour(draw.Paper)
	v.ground.FillColor = color.NRGBA{ground.R, ground.G, ground.B, 0xff}
	v.ground.Move(p.AddXY(-3, 0))
	v.ground.Resize(m.AddWidthHeight(6, 0))
	if instead {
		v.ground.Move(fyne.NewPos(0, 0))
		v.ground.Resize(fyne.NewSize(size.Width, max(p.Y+m.Height, float32(high*plotZoom))))
	}
	v.ground.Show()
	v.ground.Refresh()
}

// cursorWords tells the values at the cursor: "supply 74.8, return 68.2 °C".
func (v *trendView) cursorWords() string {
	var words []string
	for i, x := range v.chart.ValuesAt(v.cursor) {
		if !math.IsNaN(x) {
			words = append(words, v.chart.Lines[i].Name+" "+shortNumber(x))
		}
	}
	if len(words) == 0 {
		if v.of == plot.Flow {
			return "nothing flows"
		}
		return "no value here"
	}
	_, unit, _ := strings.Cut(v.chart.Y.Name, ", ")
	return strings.Join(words, ", ") + " " + unit
}

func (v *trendView) paint(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	zoom := plotZoom
	if size := v.raster.Size(); size.Width > 0 {
		zoom *= float64(w) / float64(size.Width)
	}
	v.screen.Draw(img, v.chart.Picture(float64(w)/zoom, float64(h)/zoom), palette(darkNow()), draw.View{Zoom: zoom})
	return img
}

// timeAt gives the time under the pointer, min.
func (v *trendView) timeAt(p fyne.Position) (float64, bool) {
	size := v.raster.Size()
	x, _, ok := v.chart.ValueAt(float64(size.Width)/plotZoom, float64(size.Height)/plotZoom, model.Point{X: float64(p.X) / plotZoom, Y: float64(p.Y) / plotZoom})
	return x, ok
}

func (v *trendView) MouseIn(e *desktop.MouseEvent) { v.MouseMoved(e) }

func (v *trendView) MouseMoved(e *desktop.MouseEvent) {
	x, ok := v.timeAt(e.Position)
	if !ok {
		v.on.tellHint("")
		return
	}
	was := v.cursor
	v.cursor = x
	text := clockWords(quantity.Duration(60*x)) + ": " + v.cursorWords()
	v.cursor = was
	v.on.tellHint(text + ". A click goes there.")
}

func (v *trendView) MouseOut() { v.on.tellHint("") }

func (v *trendView) Tapped(e *fyne.PointEvent) { v.seek(e.Position) }

// Dragged scrubs.
func (v *trendView) Dragged(e *fyne.DragEvent) { v.seek(e.Position) }
func (v *trendView) DragEnd()                  {}

func (v *trendView) seek(p fyne.Position) {
	if x, ok := v.timeAt(p); ok {
		v.on.guard("go to a time", func() { v.on.player.seek(quantity.Duration(60 * x)) })
	}
}
