package draw

import (
	"math"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// bulgedRing is a line of straight pieces and arcs. The bulge of a point is the
// tangent of a quarter of the angle of the arc that leaves it, above zero where
// the arc turns against the clock while y goes up; 0 is a straight piece.
type bulgedRing struct {
	at     []model.Point
	bulge  []float64 // by point; of an open line the last one is 0
	closed bool
}

const (
	arcTolerance = 0.02 // mm that a curve may stray from the arc it is taken for
	curveStep    = 0.02 // mm that a straight piece may stray from a curve that is no arc
)

// bulged takes a path apart into lines of straight pieces and arcs; to gives the
// place of a point in the file, where y goes up.
func bulged(segments []catalogue.Segment, to func(model.Point) model.Point) []bulgedRing {
	var out []bulgedRing
	var cur bulgedRing
	end := func() {
		if len(cur.at) > 1 {
			out = append(out, cur)
		}
		cur = bulgedRing{}
	}
	point := func(q [2]float64) model.Point { return to(model.Point{X: q[0], Y: q[1]}) }
	add := func(p model.Point) {
		cur.at, cur.bulge = append(cur.at, p), append(cur.bulge, 0)
	}
	for _, s := range segments {
		switch s.Op {
		case 'M':
			end()
			add(point(s.P[0]))
		case 'L':
			add(point(s.P[0]))
		case 'C':
			if len(cur.at) == 0 {
				continue
			}
			from, a, b, p := cur.at[len(cur.at)-1], point(s.P[0]), point(s.P[1]), point(s.P[2])
			if bulge, ok := arcOf(from, a, b, p); ok {
				cur.bulge[len(cur.bulge)-1] = bulge
				add(p)
				continue
			}
			k := flatness / curveStep
			for _, d := range cubic([]dot{{from.X * k, from.Y * k}}, dot{a.X * k, a.Y * k}, dot{b.X * k, b.Y * k}, dot{p.X * k, p.Y * k})[1:] {
				add(model.Point{X: d.x / k, Y: d.y / k})
			}
		case 'Z':
			if len(cur.at) == 0 {
				continue
			}
			first := cur.at[0]
			if n := len(cur.at); n > 1 && apart(first, cur.at[n-1]) < 1e-6 {
				cur.at, cur.bulge = cur.at[:n-1], cur.bulge[:n-1]
			}
			cur.closed = true
			end()
			add(first)
		}
	}
	end()
	return out
}

func apart(a, b model.Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// arcOf gives the bulge of the arc that a curve is, if it is one.
func arcOf(from, a, b, to model.Point) (float64, bool) {
	on := func(t float64) model.Point {
		u := 1 - t
		k0, k1, k2, k3 := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
		return model.Point{X: k0*from.X + k1*a.X + k2*b.X + k3*to.X, Y: k0*from.Y + k1*a.Y + k2*b.Y + k3*to.Y}
	}
	chord := apart(from, to)
	if chord < 1e-6 {
		return 0, false
	}
	mid := on(0.5)
	ux, uy := (to.X-from.X)/chord, (to.Y-from.Y)/chord
	along := (mid.X-from.X)*ux + (mid.Y-from.Y)*uy
	rise := (mid.Y-from.Y)*ux - (mid.X-from.X)*uy // left of the chord
	if math.Abs(along-chord/2) > arcTolerance {
		return 0, false
	}
	if math.Abs(rise) < 1e-6 {
		return 0, false
	}
	bulge := -2 * rise / chord
	centre, radius := centreOf(from, to, bulge)
	for _, t := range []float64{0.15, 0.3, 0.7, 0.85} {
		if math.Abs(apart(on(t), centre)-radius) > arcTolerance {
			return 0, false
		}
	}
	return bulge, true
}

// centreOf gives the centre and radius of an arc.
func centreOf(from, to model.Point, bulge float64) (model.Point, float64) {
	// From the middle of the chord to its left by (1-b²)/(4b) of the chord.
	k := (1 - bulge*bulge) / (4 * bulge)
	c := model.Point{
		X: (from.X+to.X)/2 - (to.Y-from.Y)*k,
		Y: (from.Y+to.Y)/2 + (to.X-from.X)*k,
	}
	return c, apart(c, from)
}

// circle gives the circle that a closed line of equal arcs is.
func (r bulgedRing) circle() (model.Point, float64, bool) {
	n := len(r.at)
	if !r.closed || n < 2 {
		return model.Point{}, 0, false
	}
	want := math.Tan(math.Pi / 2 / float64(n))
	var c model.Point
	for i, p := range r.at {
		if math.Abs(math.Abs(r.bulge[i])-want) > 0.002 || r.bulge[i]*r.bulge[0] < 0 {
			return model.Point{}, 0, false
		}
		c.X, c.Y = c.X+p.X/float64(n), c.Y+p.Y/float64(n)
	}
	radius := apart(c, r.at[0])
	for _, p := range r.at {
		if math.Abs(apart(c, p)-radius) > arcTolerance {
			return model.Point{}, 0, false
		}
	}
	return c, radius, true
}

// arc gives a single arc with the angles in degrees between which it runs against
// the clock.
func (r bulgedRing) arc() (centre model.Point, radius, from, to float64) {
	a, b := r.at[0], r.at[1]
	centre, radius = centreOf(a, b, r.bulge[0])
	if r.bulge[0] < 0 {
		a, b = b, a
	}
	angle := func(p model.Point) float64 {
		return math.Mod(math.Atan2(p.Y-centre.Y, p.X-centre.X)*180/math.Pi+360, 360)
	}
	return centre, radius, angle(a), angle(b)
}

// vertices writes the points of a polyline.
func (r bulgedRing) vertices(to *strings.Builder, closed bool) {
	for i, p := range r.at {
		put(to, 10, p.X)
		put(to, 20, p.Y)
		if r.bulge[i] != 0 && (closed || i < len(r.at)-1) {
			put(to, 42, r.bulge[i])
		}
	}
}
