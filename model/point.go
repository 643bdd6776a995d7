package model

// Point is a place on the drawing in millimetres, x to the right, y down. It
// says nothing about the plant: heights and lengths are told separately.
type Point struct{ X, Y float64 }

// Add gives p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub gives p - q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// MarshalJSON writes [x, y].
func (p Point) MarshalJSON() ([]byte, error) { return marshalPair(p.X, p.Y) }

// UnmarshalJSON reads [x, y].
func (p *Point) UnmarshalJSON(b []byte) error {
	pair, err := unmarshalPair(b)
	p.X, p.Y = pair[0], pair[1]
	return err
}

// Turn is a rotation clockwise in quarter turns, 0 to 3.
type Turn int

// Placed tells where a point of a symbol lies once the part is mirrored left to
// right, turned, and moved to at: in that order.
func Placed(p, at Point, turn Turn, mirrored bool) Point {
	return Turned(p, turn, mirrored).Add(at)
}

// Turned tells which way a vector of a symbol points once the part is mirrored
// left to right and then turned.
func Turned(v Point, turn Turn, mirrored bool) Point {
	if mirrored {
		v.X = -v.X
	}
	switch ((turn % 4) + 4) % 4 {
	case 1:
		return Point{-v.Y, v.X}
	case 2:
		return Point{-v.X, -v.Y}
	case 3:
		return Point{v.Y, -v.X}
	}
	return v
}
