package window

import (
	"image"
	"image/color"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// palette gives the colours of the drawing.
func palette(dark bool) draw.Palette {
	if dark {
		return draw.Dark
	}
	return draw.Light
}

// symbolImage draws a kind's symbol on a small sheet of paper of w by h pixels.
func symbolImage(k *catalogue.Kind, w, h int, dark bool) image.Image {
	p, err := k.New("symbol", model.Point{})
	if err != nil {
		return image.NewRGBA(image.Rect(0, 0, w, h))
	}
	var pic draw.Picture
	pic.Add(draw.LayerPart, "symbol", draw.SymbolOf(p, k))
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	b := k.Symbol.Box
	view := draw.Fit(place.Spanned(model.Point{X: b[0], Y: b[1]}, model.Point{X: b[2], Y: b[3]}), w, h, 7)
	// Small symbols are not blown up beyond what reads well beside large ones.
	if most := 4.2; view.Zoom > most {
		c := model.Point{X: (b[0] + b[2]) / 2, Y: (b[1] + b[3]) / 2}
		view = draw.View{Zoom: most, Offset: model.Point{X: c.X - float64(w)/2/most, Y: c.Y - float64(h)/2/most}}
	}
	draw.NewScreen().Draw(img, &pic, palette(dark), view)
	roundCorners(img, 6)
	return img
}

// roundCorners clears what lies outside corners of radius r.
func roundCorners(m *image.RGBA, r int) {
	b := m.Bounds()
	for y := range r {
		for x := range r {
			dx, dy := float64(r-x)-0.5, float64(r-y)-0.5
			if dx*dx+dy*dy <= float64(r*r) {
				continue
			}
			for _, p := range [][2]int{{x, y}, {b.Dx() - 1 - x, y}, {x, b.Dy() - 1 - y}, {b.Dx() - 1 - x, b.Dy() - 1 - y}} {
				m.SetRGBA(p[0], p[1], color.RGBA{})
			}
		}
	}
}
