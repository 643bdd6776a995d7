package draw

import (
	"math"

	"rinsewright/model/catalogue"
)

// dot is a place in pixels.
type dot struct{ x, y float64 }

// contour is one line of a path in pixels.
type contour struct {
	dots   []dot
	closed bool
}

// flatness is how far in pixels a straight piece may lie from its curve.
const flatness = 0.1

// flatten takes a path to pixels and its curves to straight pieces.
func flatten(segments []catalogue.Segment, to func([2]float64) dot) []contour {
	var out []contour
	var cur contour
	begin := func(d dot) {
		if len(cur.dots) > 1 || cur.closed {
			out = append(out, cur)
		}
		cur = contour{dots: []dot{d}}
	}
	for _, s := range segments {
		switch s.Op {
		case 'M':
			begin(to(s.P[0]))
		case 'L':
			cur.dots = append(cur.dots, to(s.P[0]))
		case 'C':
			cur.dots = cubic(cur.dots, to(s.P[0]), to(s.P[1]), to(s.P[2]))
		case 'Z':
			if len(cur.dots) > 0 {
				cur.closed = true
				begin(cur.dots[0])
			}
		}
	}
	if len(cur.dots) > 1 {
		out = append(out, cur)
	}
	return out
}

// cubic adds the straight pieces of a curve from the last dot.
func cubic(dots []dot, a, b, end dot) []dot {
	from := dots[len(dots)-1]
	// The second differences bound how far a chord strays: n pieces stray at
	// most d/(8 n²) with d = 6 times the largest second difference.
	d := 6 * max(math.Hypot(from.x-2*a.x+b.x, from.y-2*a.y+b.y), math.Hypot(a.x-2*b.x+end.x, a.y-2*b.y+end.y))
	n := int(math.Ceil(math.Sqrt(d / (8 * flatness))))
	n = min(max(n, 1), 100)
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		u := 1 - t
		k0, k1, k2, k3 := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
		dots = append(dots, dot{
			k0*from.x + k1*a.x + k2*b.x + k3*end.x,
			k0*from.y + k1*a.y + k2*b.y + k3*end.y,
		})
	}
	return dots
}

// mostDashes is how many dashes a line has at most; beyond it is unbroken.
const mostDashes = 20000

// dashed cuts a contour into its dashes; lengths in pixels.
func (c contour) dashed(dash []float64) []contour {
	dots := c.dots
	if c.closed {
		dots = append(append([]dot(nil), dots...), dots[0])
	}
	length, period := 0.0, 0.0
	for i := 1; i < len(dots); i++ {
		length += math.Hypot(dots[i].x-dots[i-1].x, dots[i].y-dots[i-1].y)
	}
	for _, d := range dash {
		period += d
	}
	if !(length/period < mostDashes) {
		return []contour{{dots: dots}}
	}
	var out []contour
	on, left, k := true, dash[0], 0
	cur := contour{dots: []dot{dots[0]}}
	for i := 1; i < len(dots); i++ {
		a, b := dots[i-1], dots[i]
		length := math.Hypot(b.x-a.x, b.y-a.y)
		at := 0.0
		for length-at > left {
			at += left
			p := dot{a.x + (b.x-a.x)*at/length, a.y + (b.y-a.y)*at/length}
			if on {
				out = append(out, contour{dots: append(cur.dots, p)})
			}
			cur = contour{dots: []dot{p}}
			on, k = !on, (k+1)%len(dash)
			left = dash[k]
		}
		left -= length - at
		if on {
			cur.dots = append(cur.dots, b)
		}
	}
	if on && len(cur.dots) > 1 {
		out = append(out, cur)
	}
	return out
}
