package route

import (
	"math"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

const (
	stub      = 5.0  // mm that a line goes straight on from a port
	margin    = 5.0  // mm that a line keeps from a box it goes round
	clearance = 1.0  // mm from a box within which a line counts as passing through it
	raster    = 2.5  // mm grid on which a line turns where it is free to
	same      = 1e-6 // mm within which two places are one
)

// What a line costs besides its length, in mm of length.
const (
	bendCost     = 40
	throughCost  = 200
	reversalCost = 5000
)

// way is one right-angled line that a leg may take. Points are kept in the
// value itself so that trying one allocates nothing.
type way struct {
	p         [8]model.Point
	n         int
	reversals int
	length    float64
}

// add goes on to q. A place on the way straight on is not kept.
func (w *way) add(q model.Point) {
	if w.n == 0 {
		w.p[0], w.n = q, 1
		return
	}
	last := w.p[w.n-1]
	d := q.Sub(last)
	step := math.Abs(d.X) + math.Abs(d.Y)
	if step < same {
		return
	}
	w.length += step
	if w.n > 1 {
		into, on := w.into(), unit(d)
		if into == on {
			w.p[w.n-1] = q
			return
		}
		if into.X == -on.X && into.Y == -on.Y {
			w.reversals++
		}
	}
	w.p[w.n] = q
	w.n++
}

// into gives the direction in which the last point was reached.
func (w *way) into() model.Point { return unit(w.p[w.n-1].Sub(w.p[w.n-2])) }

// out gives the direction in which the line leaves its first point.
func (w *way) out() model.Point { return unit(w.p[1].Sub(w.p[0])) }

// cost is what the line costs by itself, parts that it meets left out.
func (w *way) cost() float64 {
	return w.length + bendCost*float64(max(w.n-2, 0)) + reversalCost*float64(w.reversals)
}

func (w *way) points() []model.Point { return append([]model.Point(nil), w.p[:w.n]...) }

func (w *way) bounds() place.Rect { return place.Around(w.p[:w.n]) }

// unit gives the direction of a level or upright vector; zero of zero.
func unit(d model.Point) model.Point {
	switch {
	case math.Abs(d.X) < same && math.Abs(d.Y) < same:
		return model.Point{}
	case math.Abs(d.X) >= math.Abs(d.Y):
		return model.Point{X: math.Copysign(1, d.X)}
	}
	return model.Point{Y: math.Copysign(1, d.Y)}
}
