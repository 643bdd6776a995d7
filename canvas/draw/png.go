package draw

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"

	"github.com/fogleman/gg"

	"rinsewright/model"
)

const (
	millimetresPerInch = 25.4
	fineEnough         = 12.0      // px per mm from which lines need no finer painting
	mostPixels         = 400 << 20 // that an image may have; 100 million are 400 MB
)

// PNG gives the writer of PNG at a resolution in dots per inch.
func PNG(dpi float64) Writer {
	return func(w io.Writer, p *Picture, pal Palette) error { return WritePNG(w, p, pal, dpi) }
}

// WritePNG writes a picture as PNG at a resolution in dots per inch, which the
// file states. It is an error if dpi is not above 0 or the image would have more
// than 100 million pixels.
func WritePNG(w io.Writer, p *Picture, pal Palette, dpi float64) error {
	m, err := Raster(p, pal, dpi/millimetresPerInch)
	if err != nil {
		return err
	}
	return png.Encode(&physical{w: w, perMetre: uint32(math.Round(dpi / millimetresPerInch * 1000))}, m)
}

// Raster renders a picture at so many pixels per mm, for a file rather than the
// screen. Errors are those of [WritePNG].
func Raster(p *Picture, pal Palette, zoom float64) (*image.RGBA, error) {
	if !(zoom > 0) || math.IsInf(zoom, 0) {
		return nil, errors.New("the resolution of an image must be above zero")
	}
	// The painter loses strokes shorter than an eighth of a pixel, so a coarse
	// image is painted finer and brought down.
	factor := 1
	for zoom*float64(factor) < fineEnough && factor < 8 {
		factor++
	}
	wide := math.Ceil(p.Bounds.Width() * zoom)
	high := math.Ceil(p.Bounds.Height() * zoom)
	if !(wide*high*4 <= mostPixels) {
		return nil, fmt.Errorf("an image of %.0f by %.0f pixels is too large; choose a lower resolution", wide, high)
	}
	for factor > 1 && wide*high*4*float64(factor*factor) > mostPixels {
		factor--
	}
	width, height := max(int(wide), 1), max(int(high), 1)
	g := &page{
		dc:   gg.NewContext(width*factor, height*factor),
		pal:  pal,
		zoom: zoom * float64(factor),
		min:  p.Bounds.Min,
	}
	g.dc.SetColor(pal.Colour(Paper))
	g.dc.Clear()
	for i := range p.Items {
		g.figure(p.Items[i].Figure)
	}
	m := g.dc.Image().(*image.RGBA)
	return reduced(m, factor), nil
}

// page is a drawing being painted.
type page struct {
	dc   *gg.Context
	pal  Palette
	zoom float64
	min  model.Point
}

func (g *page) at(q [2]float64) (x, y float64) {
	return (q[0] - g.min.X) * g.zoom, (q[1] - g.min.Y) * g.zoom
}

func (g *page) figure(f Figure) {
	switch f := f.(type) {
	case Path:
		g.path(f)
	case Text:
		g.text(f)
	case Symbol:
		for _, part := range f.Figures() {
			g.figure(part)
		}
	}
}

func (g *page) path(p Path) {
	g.dc.ClearPath()
	for _, s := range p.Segments {
		switch s.Op {
		case 'M':
			g.dc.MoveTo(g.at(s.P[0]))
		case 'L':
			g.dc.LineTo(g.at(s.P[0]))
		case 'C':
			ax, ay := g.at(s.P[0])
			bx, by := g.at(s.P[1])
			x, y := g.at(s.P[2])
			g.dc.CubicTo(ax, ay, bx, by, x, y)
		case 'Z':
			g.dc.ClosePath()
		}
	}
	if p.Style.Fill != None {
		g.dc.SetColor(g.pal.Colour(p.Style.Fill))
		g.dc.FillPreserve()
	}
	if p.Style.Stroke != None && p.Style.Width > 0 {
		g.dc.SetColor(g.pal.Colour(p.Style.Stroke))
		g.dc.SetLineWidth(p.Style.Width * g.zoom)
		g.dc.SetLineJoinRound()
		dash := make([]float64, len(p.Style.Dash))
		for i, d := range p.Style.Dash {
			dash[i] = d * g.zoom
		}
		g.dc.SetDash(dash...)
		g.dc.SetLineCapRound()
		if len(dash) > 0 {
			g.dc.SetLineCapButt()
		}
		g.dc.StrokePreserve()
	}
	g.dc.ClearPath()
}

func (g *page) text(t Text) {
	if t.Role == None {
		return
	}
	t.At.X, t.At.Y = g.at([2]float64{t.At.X, t.At.Y})
	t.Height *= g.zoom
	g.dc.ClearPath()
	for _, ring := range textRings(t) {
		for i, d := range ring {
			if i == 0 {
				g.dc.MoveTo(d.x, d.y)
			} else {
				g.dc.LineTo(d.x, d.y)
			}
		}
		g.dc.ClosePath()
	}
	g.dc.SetColor(g.pal.Colour(t.Role))
	g.dc.Fill()
}

// reduced brings an image down by a whole factor, each pixel the mean of a square.
func reduced(m *image.RGBA, factor int) *image.RGBA {
	if factor == 1 {
		return m
	}
	w, h := m.Rect.Dx()/factor, m.Rect.Dy()/factor
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	n := factor * factor
	for y := range h {
		for x := range w {
			var sum [3]int
			for j := range factor {
				row := m.Pix[(y*factor+j)*m.Stride+4*x*factor:]
				for i := range factor {
					sum[0] += int(row[4*i])
					sum[1] += int(row[4*i+1])
					sum[2] += int(row[4*i+2])
				}
			}
			out.SetRGBA(x, y, color.RGBA{uint8((sum[0] + n/2) / n), uint8((sum[1] + n/2) / n), uint8((sum[2] + n/2) / n), 255})
		}
	}
	return out
}
