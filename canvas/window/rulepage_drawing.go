package window

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/draw"
)

// smallDrawing shows a picture as large as its place allows.
type smallDrawing struct {
	widget.BaseWidget
	raster  *canvas.Raster
	screen  *draw.Screen
	picture *draw.Picture
	tall    float32
}

// nearest is the most that a small drawing is enlarged, units of a millimetre: about
// the size at which letters on it are as large as those of the window.
const nearest = 4.2

// newSmallDrawing makes a drawing for a place of a width.
func newSmallDrawing(p *draw.Picture, wide float32) *smallDrawing {
	d := &smallDrawing{screen: draw.NewScreen(), picture: p}
	b := p.Bounds
	zoom := min(nearest, (float64(wide)-12)/max(b.Width(), 1))
	d.tall = float32(min(zoom*b.Height(), 340)) + 12
	d.raster = canvas.NewRaster(d.paint)
	d.raster.ScaleMode = canvas.ImageScalePixels
	d.ExtendBaseWidget(d)
	return d
}

func (d *smallDrawing) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(d.raster)
}
func (d *smallDrawing) MinSize() fyne.Size { return fyne.NewSize(200, d.tall) }

func (d *smallDrawing) paint(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	scale := 1.0
	if size := d.raster.Size(); size.Width > 0 {
		scale = float64(w) / float64(size.Width)
	}
	v := draw.Fit(d.picture.Bounds, w, h, 6*scale)
	if most := nearest * scale; v.Zoom > most {
		c := d.picture.Bounds.Centre()
		v.Zoom = most
		v.Offset.X, v.Offset.Y = c.X-float64(w)/2/most, c.Y-float64(h)/2/most
	}
	d.screen.Draw(img, d.picture, palette(darkNow()), v)
	return img
}
