package window

import (
	"fyne.io/fyne/v2"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/model"
)

// view says which piece of the drawing the board shows, in fyne's units. The
// painter turns units into pixels.
type view struct{ draw.View }

// unitsPerMillimetre is the zoom of 100 %: fyne's unit stands for 1/96 inch, as
// the pixel of CSS does (CSS Values and Units 3, 6.2).
const unitsPerMillimetre = 96 / 25.4

const (
	leastZoom = 0.02 * unitsPerMillimetre
	mostZoom  = 16 * unitsPerMillimetre
)

// scale gives the zoom as a share of the natural size.
func (v view) scale() float64 { return v.Zoom / unitsPerMillimetre }

// at gives the place on the drawing of a point of the board.
func (v view) at(p fyne.Position) model.Point { return v.ToDrawing(float64(p.X), float64(p.Y)) }

// on gives the point of the board of a place on the drawing.
func (v view) on(p model.Point) fyne.Position {
	x, y := v.ToScreen(p)
	return fyne.NewPos(float32(x), float32(y))
}

// zoomed gives the view zoomed by a factor so that what lies under p stays there.
func (v view) zoomed(factor float64, p fyne.Position) view {
	fixed := v.at(p)
	v.Zoom = min(max(v.Zoom*factor, leastZoom), mostZoom)
	v.Offset = model.Point{X: fixed.X - float64(p.X)/v.Zoom, Y: fixed.Y - float64(p.Y)/v.Zoom}
	return v
}

// moved gives the view with the drawing pushed by a distance on the board.
func (v view) moved(dx, dy float64) view {
	v.Offset.X -= dx / v.Zoom
	v.Offset.Y -= dy / v.Zoom
	return v
}

// fitted gives the view that shows all of r.
func fitted(r place.Rect, size fyne.Size) view {
	const border = 36
	v := view{draw.Fit(r, int(size.Width), int(size.Height), border)}
	if most := 2 * unitsPerMillimetre; v.Zoom > most {
		v.Zoom = most
		v = v.centred(r.Centre(), size)
	}
	v.Zoom = max(v.Zoom, leastZoom)
	return v
}

// centred gives the view with a place in the middle of the board.
func (v view) centred(p model.Point, size fyne.Size) view {
	v.Offset = model.Point{X: p.X - float64(size.Width)/2/v.Zoom, Y: p.Y - float64(size.Height)/2/v.Zoom}
	return v
}

// shown gives the piece of the drawing that a board of that size shows.
func (v view) shown(size fyne.Size) place.Rect {
	return place.Rect{Min: v.Offset, Max: v.at(fyne.NewPos(size.Width, size.Height))}
}
