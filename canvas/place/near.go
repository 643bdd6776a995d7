package place

import (
	"math"

	"rinsewright/model"
)

// Nearest gives the point of a polyline nearest to p, the number of the piece
// it is on (0 for the one from line[0] to line[1]) and how far it is. Of
// equally near pieces it is the first. A line of one point has piece 0; for an
// empty line the distance is infinite.
func Nearest(line []model.Point, p model.Point) (piece int, at model.Point, distance float64) {
	distance = math.Inf(1)
	if len(line) == 1 {
		return 0, line[0], math.Hypot(p.X-line[0].X, p.Y-line[0].Y)
	}
	for i := 1; i < len(line); i++ {
		q := onPiece(line[i-1], line[i], p)
		if d := math.Hypot(p.X-q.X, p.Y-q.Y); d < distance {
			piece, at, distance = i-1, q, d
		}
	}
	return piece, at, distance
}

// onPiece gives the point between a and b that is nearest to p.
func onPiece(a, b, p model.Point) model.Point {
	ab := b.Sub(a)
	square := ab.X*ab.X + ab.Y*ab.Y
	if square == 0 {
		return a
	}
	t := ((p.X-a.X)*ab.X + (p.Y-a.Y)*ab.Y) / square
	t = min(max(t, 0), 1)
	return model.Point{X: a.X + t*ab.X, Y: a.Y + t*ab.Y}
}

// Longest gives the number of the longest piece of a polyline and its length;
// of equal ones the first. A line of fewer than two points gives -1.
func Longest(line []model.Point) (piece int, length float64) {
	piece = -1
	for i := 1; i < len(line); i++ {
		l := math.Hypot(line[i].X-line[i-1].X, line[i].Y-line[i-1].Y)
		if piece < 0 || l > length+1e-9 {
			piece, length = i-1, l
		}
	}
	return piece, length
}
