package edit

import (
	"math"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

// near is the distance in mm within which two places are one.
const near = 1e-6

func distance(a, b model.Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

func scaled(v model.Point, by float64) model.Point { return model.Point{X: v.X * by, Y: v.Y * by} }

func dot(a, b model.Point) float64 { return a.X*b.X + a.Y*b.Y }

func samePlace(a, b model.Point) bool { return distance(a, b) < near }

// lengthOf adds up the pieces of a polyline.
func lengthOf(line []model.Point) float64 {
	sum := 0.0
	for i := 1; i < len(line); i++ {
		sum += distance(line[i-1], line[i])
	}
	return sum
}

// spot is a place on a polyline.
type spot struct {
	piece int         // it is on the piece from line[piece] to line[piece+1]
	at    model.Point // the place itself
	along float64     // drawn length from the start
	part  float64     // the same as a part of the whole, 0 to 1
}

// spotOn gives the place of a polyline that is nearest to p.
func spotOn(line []model.Point, p model.Point) spot {
	piece, at, _ := place.Nearest(line, p)
	s := spot{piece: piece, at: at, along: lengthOf(line[:piece+1]) + distance(line[piece], at), part: 0.5}
	if whole := lengthOf(line); whole > 0 {
		s.part = s.along / whole
	}
	return s
}

// bendsBefore counts the bends of a run that its line passes before a place.
func bendsBefore(line, bends []model.Point, s spot) int {
	from := 0
	for i, b := range bends {
		// The line passes its bends in order, so the search goes on from the last.
		piece, at, _ := place.Nearest(line[from:], b)
		along := lengthOf(line[:from+piece+1]) + distance(line[from+piece], at)
		if along > s.along+near {
			return i
		}
		from += piece
	}
	return len(bends)
}

// corners gives the inner points of a polyline that it turns at.
func corners(line []model.Point) []model.Point {
	var out []model.Point
	for i := 1; i+1 < len(line); i++ {
		a, b := line[i].Sub(line[i-1]), line[i+1].Sub(line[i])
		if math.Abs(a.X*b.Y-a.Y*b.X) > near*near || dot(a, b) < 0 {
			out = append(out, line[i])
		}
	}
	return out
}

// sameLine says whether two polylines run the same way from end to end.
func sameLine(a, b []model.Point) bool {
	if len(a) == 0 || len(b) == 0 {
		return len(a) == len(b)
	}
	p, q := corners(a), corners(b)
	if len(p) != len(q) || !samePlace(a[0], b[0]) || !samePlace(a[len(a)-1], b[len(b)-1]) {
		return false
	}
	for i := range p {
		if !samePlace(p[i], q[i]) {
			return false
		}
	}
	return true
}

// rightAngled says whether every piece is level or upright.
func rightAngled(line []model.Point) bool {
	for i := 1; i < len(line); i++ {
		if math.Abs(line[i].X-line[i-1].X) > near && math.Abs(line[i].Y-line[i-1].Y) > near {
			return false
		}
	}
	return true
}

// Snapped gives the point of the grid nearest to p.
func Snapped(p model.Point) model.Point {
	return model.Point{X: math.Round(p.X/Grid) * Grid, Y: math.Round(p.Y/Grid) * Grid}
}
