package window

import (
	"image"
	"io"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/plot"
	"rinsewright/model"
)

// plotView shows a chart, or in words why there is none.
type plotView struct {
	widget.BaseWidget
	on      *Window
	raster  *canvas.Raster
	screen  *draw.Screen
	chart   plot.Chart
	why     string // there is no chart
	dot     *plot.Dot
	onHover func(x, y float64) *plot.Dot // the pointer is on these values; the dot is marked
	onTap   func()
}

var (
	_ desktop.Hoverable = (*plotView)(nil)
	_ fyne.Tappable     = (*plotView)(nil)
)

// plotZoom is the units of a millimetre of a plot: its lettering is then about as
// large as the captions of the window.
const plotZoom = 3.5

// Size of an exported plot, mm.
const plotWide, plotHigh = 180, 110

const dotRole = draw.Error

func newPlotView(on *Window) *plotView {
	v := &plotView{on: on, screen: draw.NewScreen(), why: "Nothing is solved yet."}
	v.raster = canvas.NewRaster(v.paint)
	v.raster.ScaleMode = canvas.ImageScalePixels
	v.ExtendBaseWidget(v)
	return v
}

func (v *plotView) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(v.raster) }
func (v *plotView) MinSize() fyne.Size                  { return fyne.NewSize(120, 60) }

// show draws a chart, or the words why there is none.
func (v *plotView) show(c plot.Chart, why string) {
	v.chart, v.why, v.dot = c, why, nil
	v.raster.Refresh()
}

func (v *plotView) picture(width, height float64) *draw.Picture {
	if v.why != "" {
		pic := &draw.Picture{}
		pic.Add(draw.LayerSheet, "", draw.Text{At: model.Point{X: width / 2, Y: height / 2}, String: v.why, Height: 2.3, Role: draw.Ink})
		return pic
	}
	c := v.chart
	if v.dot != nil {
		c.Dots = append(c.Dots[:len(c.Dots):len(c.Dots)], *v.dot)
	}
	return c.Picture(width, height)
}

// paint draws at the scale of the screen's pixels.
func (v *plotView) paint(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	zoom := plotZoom
	if size := v.raster.Size(); size.Width > 0 {
		zoom *= float64(w) / float64(size.Width)
	}
	v.screen.Draw(img, v.picture(float64(w)/zoom, float64(h)/zoom), palette(darkNow()), draw.View{Zoom: zoom})
	return img
}

func (v *plotView) MouseIn(e *desktop.MouseEvent) { v.MouseMoved(e) }

func (v *plotView) MouseMoved(e *desktop.MouseEvent) {
	if v.why != "" || v.onHover == nil {
		return
	}
	size := v.raster.Size()
	x, y, ok := v.chart.ValueAt(float64(size.Width)/plotZoom, float64(size.Height)/plotZoom,
		model.Point{X: float64(e.Position.X) / plotZoom, Y: float64(e.Position.Y) / plotZoom})
	if !ok {
		v.leave()
		return
	}
	was := v.dot
	if v.dot = v.onHover(x, y); was == nil && v.dot != nil || was != nil && (v.dot == nil || *v.dot != *was) {
		v.raster.Refresh()
	}
}

func (v *plotView) MouseOut() { v.leave() }

func (v *plotView) leave() {
	v.on.tellHint("")
	v.on.board.point(model.Place{})
	if v.dot != nil {
		v.dot = nil
		v.raster.Refresh()
	}
}

func (v *plotView) Tapped(*fyne.PointEvent) {
	if v.onTap != nil {
		v.on.guard("go to a place", v.onTap)
	}
}

// halves gives two things a half of the width each, in whole units.
type halves struct{}

func (halves) MinSize(o []fyne.CanvasObject) fyne.Size {
	a, b := o[0].MinSize(), o[1].MinSize()
	return fyne.NewSize(2*max(a.Width, b.Width), max(a.Height, b.Height))
}

func (halves) Layout(o []fyne.CanvasObject, s fyne.Size) {
	const apart = 6
	w := float32(int((s.Width - apart) / 2))
	for i, x := range o {
		x.Move(fyne.NewPos(float32(i)*(w+apart), 0))
		x.Resize(fyne.NewSize(w, float32(int(s.Height))))
	}
}

// save gives the button that writes the plot to a file.
func (v *plotView) save(name string) fyne.CanvasObject {
	var b *button
	b = newButton(v.on, "", theme.DownloadIcon(), func() {
		m := fyne.NewMenu("")
		for _, kind := range []string{".png", ".svg"} {
			m.Items = append(m.Items, fyne.NewMenuItem("Export this plot as "+kindName(kind)+"…", func() {
				v.on.fromMenu(&action{label: "Export the plot", run: func() { v.export(name, kind) }})
			}))
		}
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(b)
		widget.ShowPopUpMenuAtPosition(m, v.on.win.Canvas(), at.AddXY(0, b.Size().Height))
	})
	return b
}

func kindName(ending string) string {
	if ending == ".svg" {
		return "SVG"
	}
	return "PNG"
}

// export asks where to and writes the plot on white paper.
func (v *plotView) export(name, kind string) {
	if v.why != "" {
		v.on.tellHint(v.why)
		return
	}
	pic := v.chart.Picture(plotWide, plotHigh)
	v.on.exportNamed("Export the plot", " "+name, kind, func(out io.Writer) error {
		if kind == ".svg" {
			return draw.WriteSVG(out, pic, draw.Light)
		}
		return draw.WritePNG(out, pic, draw.Light, exportDots)
	})
}
