package place

import (
	"math"

	"rinsewright/model"
)

// Rect is an upright rectangle; Min is its left top corner. The zero Rect is
// empty and adds nothing to a union.
type Rect struct{ Min, Max model.Point }

// Spanned gives the smallest rectangle with two opposite corners a and b.
func Spanned(a, b model.Point) Rect {
	return Rect{
		model.Point{X: min(a.X, b.X), Y: min(a.Y, b.Y)},
		model.Point{X: max(a.X, b.X), Y: max(a.Y, b.Y)},
	}
}

// Around gives the smallest rectangle that holds all points; empty for none.
func Around(points []model.Point) Rect {
	if len(points) == 0 {
		return Rect{}
	}
	r := Rect{points[0], points[0]}
	for _, p := range points[1:] {
		r = r.With(p)
	}
	return r
}

// Empty says whether r is the zero Rect.
func (r Rect) Empty() bool { return r == Rect{} }

// Width gives the extent in x.
func (r Rect) Width() float64 { return r.Max.X - r.Min.X }

// Height gives the extent in y.
func (r Rect) Height() float64 { return r.Max.Y - r.Min.Y }

// Centre gives the middle.
func (r Rect) Centre() model.Point {
	return model.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2}
}

// Grown gives r with d more on every side.
func (r Rect) Grown(d float64) Rect {
	return Rect{model.Point{X: r.Min.X - d, Y: r.Min.Y - d}, model.Point{X: r.Max.X + d, Y: r.Max.Y + d}}
}

// Moved gives r moved by v.
func (r Rect) Moved(v model.Point) Rect { return Rect{r.Min.Add(v), r.Max.Add(v)} }

// With gives the smallest rectangle that holds r and p.
func (r Rect) With(p model.Point) Rect {
	return Rect{
		model.Point{X: min(r.Min.X, p.X), Y: min(r.Min.Y, p.Y)},
		model.Point{X: max(r.Max.X, p.X), Y: max(r.Max.Y, p.Y)},
	}
}

// Union gives the smallest rectangle that holds r and q.
func (r Rect) Union(q Rect) Rect {
	if r.Empty() {
		return q
	}
	if q.Empty() {
		return r
	}
	return r.With(q.Min).With(q.Max)
}

// Contains says whether p is in r or on its border.
func (r Rect) Contains(p model.Point) bool {
	return p.X >= r.Min.X && p.X <= r.Max.X && p.Y >= r.Min.Y && p.Y <= r.Max.Y
}

// Holds says whether all of q is in r.
func (r Rect) Holds(q Rect) bool { return r.Contains(q.Min) && r.Contains(q.Max) }

// Touches says whether r and q have a point in common.
func (r Rect) Touches(q Rect) bool {
	return r.Min.X <= q.Max.X && q.Min.X <= r.Max.X && r.Min.Y <= q.Max.Y && q.Min.Y <= r.Max.Y
}

// Distance gives how far p is from r; 0 inside.
func (r Rect) Distance(p model.Point) float64 {
	dx := max(r.Min.X-p.X, 0, p.X-r.Max.X)
	dy := max(r.Min.Y-p.Y, 0, p.Y-r.Max.Y)
	return math.Hypot(dx, dy)
}
