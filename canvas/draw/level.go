package draw

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// Level is how full a vessel is, as a share of its inside height. The zero Level
// is not known: the vessel is drawn a little more than half full.
type Level quantity.Opt[float64]

// Filled gives the level at a share from 0 to 1; what lies beyond is taken to the
// nearer end, and what is not a number is not known.
func Filled(share float64) Level {
	if math.IsNaN(share) {
		return Level{}
	}
	return Level(quantity.Some(min(max(share, 0), 1)))
}

const (
	usualLevel = 0.6  // drawn for a level that is not known
	levelLine  = 0.25 // mm
)

// in gives the figures of what a vessel holds. The outline is that of its inside,
// as it lies on the drawing; the surface is level however the symbol is turned.
func (l Level) in(outline []catalogue.Segment, fill, ink Role) []Figure {
	share := quantity.Opt[float64](l).Or(usualLevel)
	ring := ringOf(outline)
	if len(ring) < 3 || share == 0 {
		return nil
	}
	top, bottom := math.Inf(1), math.Inf(-1)
	for _, d := range ring {
		top, bottom = min(top, d.y), max(bottom, d.y)
	}
	surface := bottom - share*(bottom-top)
	wet := below(ring, surface)
	if len(wet) < 3 {
		return nil
	}
	out := []Figure{Path{Segments: append(Polyline(pointsOf(wet)), Close()), Style: Style{Fill: fill}}}
	if share < 1 {
		left, right := math.Inf(1), math.Inf(-1)
		for _, d := range wet {
			if d.y <= surface+1e-9 {
				left, right = min(left, d.x), max(right, d.x)
			}
		}
		line := Polyline([]model.Point{{X: left, Y: surface}, {X: right, Y: surface}})
		out = append(out, Path{Segments: line, Style: Style{Stroke: ink, Width: levelLine, Dash: symbolDash}})
	}
	return out
}

// ringOf gives the first figure of an outline as a polygon in mm, its curves to
// within a hundredth of one.
func ringOf(outline []catalogue.Segment) []dot {
	const fine = flatness / 0.01
	contours := flatten(outline, func(p [2]float64) dot { return dot{p[0] * fine, p[1] * fine} })
	if len(contours) == 0 {
		return nil
	}
	ring := contours[0].dots
	for i := range ring {
		ring[i].x /= fine
		ring[i].y /= fine
	}
	if n := len(ring); n > 1 && ring[0] == ring[n-1] {
		ring = ring[:n-1]
	}
	return ring
}

// below cuts off of a polygon what lies above a height; y goes down.
// I. E. Sutherland and G. W. Hodgman, Reentrant polygon clipping, 1974.
func below(ring []dot, surface float64) []dot {
	var out []dot
	last := ring[len(ring)-1]
	for _, d := range ring {
		if (d.y >= surface) != (last.y >= surface) {
			t := (surface - last.y) / (d.y - last.y)
			out = append(out, dot{last.x + t*(d.x-last.x), surface})
		}
		if d.y >= surface {
			out = append(out, d)
		}
		last = d
	}
	return out
}

func pointsOf(dots []dot) []model.Point {
	out := make([]model.Point, len(dots))
	for i, d := range dots {
		out[i] = model.Point{X: d.x, Y: d.y}
	}
	return out
}
