package draw

import "math"

// stroked gives polygons that together cover the line of a contour, each turning
// the same way so that they can be filled in one go. Corners are mitred; where a
// corner is sharp the line is parted and rounded.
func stroked(c contour, width float64) [][]dot {
	dots := distinct(c)
	half := width / 2
	if len(dots) == 1 {
		return [][]dot{disc(dots[0], half)}
	}
	var out [][]dot
	if c.closed && len(dots) > 2 {
		// Begin in the middle of a piece, so that every corner is joined.
		first := dot{(dots[0].x + dots[1].x) / 2, (dots[0].y + dots[1].y) / 2}
		dots = append(append([]dot{first}, dots[1:]...), dots[0], first)
	} else {
		out = append(out, disc(dots[0], half), disc(dots[len(dots)-1], half))
	}
	var left, right []dot
	flush := func() {
		if len(left) < 2 {
			return
		}
		ring := append([]dot(nil), left...)
		for i := len(right) - 1; i >= 0; i-- {
			ring = append(ring, right[i])
		}
		out = append(out, ring)
		left, right = nil, nil
	}
	put := func(p dot, nx, ny float64) {
		left = append(left, dot{p.x + nx, p.y + ny})
		right = append(right, dot{p.x - nx, p.y - ny})
	}
	for i := 0; i+1 < len(dots); i++ {
		nx, ny := normal(dots[i], dots[i+1])
		if len(left) == 0 {
			put(dots[i], nx*half, ny*half)
		}
		if i+2 == len(dots) {
			put(dots[i+1], nx*half, ny*half)
			break
		}
		mx, my := normal(dots[i+1], dots[i+2])
		bx, by := nx+mx, ny+my
		square := bx*bx + by*by // 2 + 2 cos of the turn
		if square < 1 {         // a turn of more than 120°
			put(dots[i+1], nx*half, ny*half)
			flush()
			out = append(out, disc(dots[i+1], half))
			continue
		}
		k := 2 * half / square
		put(dots[i+1], bx*k, by*k)
	}
	flush()
	for i := range out {
		if area(out[i]) < 0 {
			for a, b := 0, len(out[i])-1; a < b; a, b = a+1, b-1 {
				out[i][a], out[i][b] = out[i][b], out[i][a]
			}
		}
	}
	return out
}

// distinct gives the dots of a contour without repeated ones.
func distinct(c contour) []dot {
	out := c.dots[:1:1]
	for _, d := range c.dots[1:] {
		last := out[len(out)-1]
		if math.Abs(d.x-last.x)+math.Abs(d.y-last.y) > 1e-4 {
			out = append(out, d)
		}
	}
	if last := out[len(out)-1]; c.closed && len(out) > 1 && math.Abs(out[0].x-last.x)+math.Abs(out[0].y-last.y) < 1e-4 {
		out = out[:len(out)-1]
	}
	return out
}

func normal(a, b dot) (x, y float64) {
	l := math.Hypot(b.x-a.x, b.y-a.y)
	return -(b.y - a.y) / l, (b.x - a.x) / l
}

// disc is the rounded end or corner of a line.
func disc(c dot, radius float64) []dot {
	n := min(max(int(4*math.Sqrt(radius)+4), 8), 64)
	out := make([]dot, n)
	for i := range out {
		s, co := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = dot{c.x + radius*co, c.y + radius*s}
	}
	return out
}

func area(ring []dot) float64 {
	sum := 0.0
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		sum += a.x*b.y - b.x*a.y
	}
	return sum
}
