package sheet

import (
	"math"
	"slices"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// exit is where a line leaves or enters a window.
type exit struct {
	run     model.ID
	at      model.Point   // on the border, in the drawing
	out     model.Point   // unit vector away from the window
	leaving bool          // in the order of the line: from the From of its run to its To
	beyond  []model.Point // where the line goes on, away from the window
	target  *model.Point  // where it goes on, if that is told: beyond a symbol on the border
	style   draw.Style
}

// clipped gives what of a line lies in a window, and where it crosses the border.
// A curve is kept if it lies in the window as a whole, else it is a straight piece.
func clipped(path draw.Path, w place.Rect) (draw.Path, []exit) {
	var out []catalogue.Segment
	var exits []exit
	var from, first model.Point
	along := ends(path.Segments)
	n := -1      // of the last point along
	pen := false // the last point is in what is kept
	line := func(to model.Point) {
		a, b, ok := cutLine(from, to, w)
		if !ok {
			pen = false
			from = to
			return
		}
		if !pen || a != from {
			out = append(out, draw.MoveTo(a))
		}
		out = append(out, draw.LineTo(b))
		if a != from {
			exits = append(exits, exit{at: a, out: outward(a, w), beyond: backward(along[:min(n, len(along))])})
		}
		if b != to {
			exits = append(exits, exit{at: b, out: outward(b, w), leaving: true, beyond: along[min(n, len(along)):]})
		}
		pen = b == to
		from = to
	}
	for _, s := range path.Segments {
		n++
		switch s.Op {
		case 'M':
			from = model.Point{X: s.P[0][0], Y: s.P[0][1]}
			first, pen = from, false
		case 'L':
			line(model.Point{X: s.P[0][0], Y: s.P[0][1]})
		case 'C':
			to := model.Point{X: s.P[2][0], Y: s.P[2][1]}
			if w.Contains(from) && w.Contains(to) {
				if !pen {
					out = append(out, draw.MoveTo(from))
				}
				out = append(out, s)
				pen, from = true, to
				continue
			}
			line(to)
		case 'Z':
			line(first)
		}
	}
	path.Segments = out
	path.Style.Fill = draw.None
	return path, exits
}

// ends gives where the pieces of a path end.
func ends(segments []catalogue.Segment) []model.Point {
	var out []model.Point
	for _, s := range segments {
		switch s.Op {
		case 'M', 'L':
			out = append(out, model.Point{X: s.P[0][0], Y: s.P[0][1]})
		case 'C':
			out = append(out, model.Point{X: s.P[2][0], Y: s.P[2][1]})
		}
	}
	return out
}

func backward(points []model.Point) []model.Point {
	out := slices.Clone(points)
	slices.Reverse(out)
	return out
}

// cutLine cuts a straight piece to a window (Liang and Barsky 1984). It gives
// false where nothing is left.
func cutLine(a, b model.Point, w place.Rect) (model.Point, model.Point, bool) {
	t0, t1 := 0.0, 1.0
	d := b.Sub(a)
	for _, side := range [][2]float64{{-d.X, a.X - w.Min.X}, {d.X, w.Max.X - a.X}, {-d.Y, a.Y - w.Min.Y}, {d.Y, w.Max.Y - a.Y}} {
		switch p, q := side[0], side[1]; {
		case p == 0 && q < 0:
			return a, b, false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	if t1-t0 <= 1e-9 {
		return a, b, false
	}
	at := func(t float64) model.Point { return model.Point{X: a.X + t*d.X, Y: a.Y + t*d.Y} }
	from, to := a, b
	if t0 > 0 {
		from = at(t0)
	}
	if t1 < 1 {
		to = at(t1)
	}
	return from, to, true
}

// outward tells which side of a window a point of its border lies on.
func outward(p model.Point, w place.Rect) model.Point {
	sides := []struct {
		far float64
		out model.Point
	}{
		{math.Abs(p.X - w.Min.X), model.Point{X: -1}}, {math.Abs(p.X - w.Max.X), model.Point{X: 1}},
		{math.Abs(p.Y - w.Min.Y), model.Point{Y: -1}}, {math.Abs(p.Y - w.Max.Y), model.Point{Y: 1}},
	}
	best := sides[0]
	for _, s := range sides[1:] {
		if s.far < best.far {
			best = s
		}
	}
	return best.out
}
