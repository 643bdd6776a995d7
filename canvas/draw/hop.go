package draw

import (
	"cmp"
	"math"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// hopRadius is the radius in mm of the arc by which a run passes over another.
const hopRadius = 1.25

// hop is an arc over one crossing, or over several that lie close together.
type hop struct {
	piece int
	at    model.Point // middle
	half  float64     // half its length along the piece, at least hopRadius
}

// piece is one straight part of a run's line.
type piece struct {
	run, number int
	fixed       float64 // y of a level one, x of an upright one
	lo, hi      float64
}

// findHops fills in where each run passes over another. At a crossing the level
// line hops; the upright one does where the level one has no room.
func findHops(runs []drawnRun) {
	var level, upright []piece
	for i := range runs {
		line := runs[i].line
		for j := 1; j < len(line); j++ {
			a, b := line[j-1], line[j]
			if math.Abs(b.X-a.X) >= math.Abs(b.Y-a.Y) {
				level = append(level, piece{i, j - 1, a.Y, min(a.X, b.X), max(a.X, b.X)})
			} else {
				upright = append(upright, piece{i, j - 1, a.X, min(a.Y, b.Y), max(a.Y, b.Y)})
			}
		}
	}
	slices.SortStableFunc(upright, func(a, b piece) int { return cmp.Compare(a.fixed, b.fixed) })
	const near = 0.01 // mm; a line that ends on another does not cross it
	for _, h := range level {
		first, _ := slices.BinarySearchFunc(upright, h.lo+near, func(p piece, x float64) int { return cmp.Compare(p.fixed, x) })
		for _, v := range upright[first:] {
			if v.fixed >= h.hi-near {
				break
			}
			if h.fixed <= v.lo+near || h.fixed >= v.hi-near {
				continue
			}
			over, under, along := h, v, v.fixed
			if !h.room(v.fixed) && v.room(h.fixed) {
				over, under, along = v, h, h.fixed
			}
			if !over.room(along) {
				continue
			}
			at := hop{piece: over.number, at: model.Point{X: v.fixed, Y: h.fixed}, half: hopRadius}
			runs[over.run].hops = append(runs[over.run].hops, at)
			at.piece = under.number
			runs[under.run].over = append(runs[under.run].over, at)
		}
	}
	for i := range runs {
		if len(runs[i].hops) > 0 {
			runs[i].hops = ordered(runs[i].hops, runs[i].line)
		}
	}
}

// room says whether an arc about a place fits on the piece.
func (p piece) room(at float64) bool { return at-p.lo > hopRadius+0.1 && p.hi-at > hopRadius+0.1 }

// ordered brings hops into the order of the line and joins those that touch.
func ordered(hops []hop, line []model.Point) []hop {
	along := func(h hop) float64 {
		a := line[h.piece]
		return math.Abs(h.at.X-a.X) + math.Abs(h.at.Y-a.Y)
	}
	slices.SortFunc(hops, func(a, b hop) int { return cmp.Or(cmp.Compare(a.piece, b.piece), cmp.Compare(along(a), along(b))) })
	out := hops[:1]
	for _, h := range hops[1:] {
		last := &out[len(out)-1]
		lo, hi := along(*last)-last.half, along(h)+h.half
		if last.piece != h.piece || along(h)-h.half > along(*last)+last.half+0.2 {
			out = append(out, h)
			continue
		}
		a, b := line[h.piece], line[h.piece+1]
		d := direct(b.Sub(a))
		mid := (lo + hi) / 2
		last.at, last.half = model.Point{X: a.X + d.X*mid, Y: a.Y + d.Y*mid}, (hi-lo)/2
	}
	return out
}

// over appends the line to the hop and the arc, for a piece that goes along v.
// An arc over a level piece rises, one over an upright piece swings left.
func (h hop) over(out []catalogue.Segment, v model.Point) []catalogue.Segment {
	d := direct(v)
	side := model.Point{Y: -1}
	if d.X == 0 {
		side = model.Point{X: -1}
	}
	at := func(along, across float64) model.Point {
		return model.Point{X: h.at.X + d.X*along + side.X*across, Y: h.at.Y + d.Y*along + side.Y*across}
	}
	const r = hopRadius
	k := 0.5522847498 * r
	out = append(out, LineTo(at(-h.half, 0)), CurveTo(at(-h.half, k), at(-h.half+r-k, r), at(-h.half+r, r)))
	if h.half > r {
		out = append(out, LineTo(at(h.half-r, r)))
	}
	return append(out, CurveTo(at(h.half-r+k, r), at(h.half, k), at(h.half, 0)))
}

// direct gives the unit vector of a level or upright vector.
func direct(v model.Point) model.Point {
	if math.Abs(v.X) >= math.Abs(v.Y) {
		return model.Point{X: math.Copysign(1, v.X)}
	}
	return model.Point{Y: math.Copysign(1, v.Y)}
}
