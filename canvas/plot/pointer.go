package plot

import "rinsewright/model"

// ValueAt gives the values, in the units of the axes, that lie at a place of the
// picture of width by height mm; not ok outside the axes.
func (c Chart) ValueAt(width, height float64, at model.Point) (x, y float64, ok bool) {
	f := c.frame(width, height)
	if !(at.X >= f.left && at.X <= f.right && at.Y >= f.top && at.Y <= f.bottom) {
		return 0, 0, false
	}
	return f.x.from + (at.X-f.left)/(f.right-f.left)*(f.x.to-f.x.from), f.y.from + (f.bottom-at.Y)/(f.bottom-f.top)*(f.y.to-f.y.from), true
}

// PlaceOf gives where values, in the units of the axes, lie on the picture of width
// by height mm.
func (c Chart) PlaceOf(width, height, x, y float64) model.Point {
	return c.frame(width, height).at([2]float64{x, y})
}

// Frame gives the corners of the field of the curves on the picture of width by
// height mm.
func (c Chart) Frame(width, height float64) (leftTop, rightBottom model.Point) {
	f := c.frame(width, height)
	return model.Point{X: f.left, Y: f.top}, model.Point{X: f.right, Y: f.bottom}
}
