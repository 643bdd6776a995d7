package report

import (
	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// The small drawing of a place, mm on paper.
const (
	spotWide = 58.0
	spotHigh = 40.0
	spotMost = 0.9  // of its size on the drawing
	spotLess = 0.35 // where the place is large
)

// spot draws what lies about the place of a finding: the place framed, the way it
// tells of drawn over, its sign beside it. Nil for a place that is not on the
// drawing.
func (m *maker) spot(f *checks.Finding, sign *draw.Mark) *draw.Picture {
	at := m.boundsOf(f.At)
	if at.Empty() {
		return nil
	}
	scale := min(spotMost, max(spotLess, min(spotWide/(at.Width()+30), spotHigh/(at.Height()+24))))
	middle := m.middleOf(f.At, at)
	half := model.Point{X: spotWide / scale / 2, Y: spotHigh / scale / 2}
	window := place.Rect{Min: middle.Sub(half), Max: middle.Add(half)}

	frame := &draw.Picture{}
	lit := map[model.ID]bool{f.At.Element: true}
	under := &draw.Picture{}
	for _, p := range f.Places {
		if !lit[p.Element] {
			lit[p.Element] = true
			m.light(under, p.Element, draw.Faint)
		}
	}
	m.light(under, f.At.Element, draw.Accent)
	cropped(frame, under, window)
	cropped(frame, m.bare, window)
	out := &draw.Picture{}
	t := draw.Transfer{Scale: scale, By: model.Point{X: -window.Min.X * scale, Y: -window.Min.Y * scale}}
	for _, it := range frame.Items {
		out.Items = append(out.Items, draw.Item{Layer: it.Layer, Record: it.Record, Bounds: t.Rect(it.Bounds), Figure: t.Figure(it.Figure)})
	}
	box := place.Rect{Max: model.Point{X: spotWide, Y: spotHigh}}
	if sign != nil {
		spot := t.Point(model.Point{X: at.Max.X, Y: at.Min.Y})
		if m.Circuit.Run(f.At.Element) != nil {
			spot = t.Point(middle).Add(model.Point{X: 4, Y: -4})
		}
		spot.X = min(max(spot.X+2, 5), spotWide-5)
		spot.Y = min(max(spot.Y-2, 5), spotHigh-5)
		sign.Set(out, spot)
	}
	out.Add(draw.LayerSheet, "", draw.Path{Segments: draw.Box(box), Style: draw.Style{Stroke: draw.Faint, Width: 0.2}})
	out.Bounds = box
	return out
}

// boundsOf gives what the record of a place takes on the drawing; nothing for one
// that is not on it.
func (m *maker) boundsOf(at model.Place) place.Rect {
	switch m.Circuit.Record(at.Element).(type) {
	case model.Part, *model.Run:
		return m.drawing.Bounds(at.Element)
	}
	return place.Rect{}
}

// middleOf gives the middle of a part, or of the longest piece of a run.
func (m *maker) middleOf(at model.Place, bounds place.Rect) model.Point {
	if r := m.Circuit.Run(at.Element); r != nil {
		line := m.drawing.Line(r)
		if i, _ := place.Longest(line); i >= 0 && i+1 < len(line) {
			return model.Point{X: (line[i].X + line[i+1].X) / 2, Y: (line[i].Y + line[i+1].Y) / 2}
		}
	}
	return bounds.Centre()
}

// light lays a frame about a part or a broad line under a run.
func (m *maker) light(p *draw.Picture, id model.ID, role draw.Role) {
	switch r := m.Circuit.Record(id).(type) {
	case model.Part:
		p.Add(draw.LayerSheet, id, draw.Path{Segments: draw.Box(m.drawing.Box(r).Grown(1.6)), Style: draw.Style{Stroke: role, Width: 0.6, Dash: []float64{2.2, 1}}})
	case *model.Run:
		p.Add(draw.LayerSheet, id, draw.Path{Segments: draw.Polyline(m.drawing.Line(r)), Style: draw.Style{Stroke: role, Width: 2.2}})
	}
}

// cropped adds what of a picture lies in a window. Symbols and fillings that cross
// its border are taken apart into their lines; texts that do are left out.
func cropped(to, of *draw.Picture, w place.Rect) {
	for i := range of.Items {
		it := &of.Items[i]
		if !w.Touches(it.Bounds) {
			continue
		}
		if w.Holds(it.Bounds) {
			to.Items = append(to.Items, *it)
			continue
		}
		crop(to, it.Layer, it.Record, it.Figure, w)
	}
}

func crop(to *draw.Picture, layer draw.Layer, id model.ID, f draw.Figure, w place.Rect) {
	switch f := f.(type) {
	case draw.Symbol:
		for _, part := range f.Figures() {
			crop(to, layer, id, part, w)
		}
	case draw.Text:
		half := draw.TextWidth(f.String, f.Height)/2 + f.Height
		if w.Holds(place.Rect{Min: f.At, Max: f.At}.Grown(half)) {
			to.Add(layer, id, f)
		}
	case draw.Path:
		if segments := cutTo(f.Segments, w); len(segments) > 0 {
			if !inside(f.Segments, w) {
				f.Style.Fill = draw.None
			}
			f.Segments = segments
			if f.Style.Stroke != draw.None && f.Style.Width > 0 || f.Style.Fill != draw.None {
				to.Add(layer, id, f)
			}
		}
	}
}

// curvePieces is how many straight pieces stand for a curve that is cut.
const curvePieces = 8

// cutTo gives the lines of a path that lie in a window.
func cutTo(segments []catalogue.Segment, w place.Rect) []catalogue.Segment {
	if inside(segments, w) {
		return segments
	}
	var out []catalogue.Segment
	var from, first model.Point
	pen := false
	line := func(to model.Point) {
		a, b, ok := cutLine(from, to, w)
		if ok {
			if !pen || a != from {
				out = append(out, draw.MoveTo(a))
			}
			out = append(out, draw.LineTo(b))
		}
		pen = ok && b == to
		from = to
	}
	for _, s := range segments {
		switch s.Op {
		case 'M':
			from = model.Point{X: s.P[0][0], Y: s.P[0][1]}
			first, pen = from, false
		case 'L':
			line(model.Point{X: s.P[0][0], Y: s.P[0][1]})
		case 'C':
			start := from
			for k := 1; k <= curvePieces; k++ {
				line(cubic(start, s.P, float64(k)/curvePieces))
			}
		case 'Z':
			line(first)
		}
	}
	return out
}

func cubic(a model.Point, p [3][2]float64, t float64) model.Point {
	u := 1 - t
	at := func(a, b, c, d float64) float64 { return u*u*u*a + 3*u*u*t*b + 3*u*t*t*c + t*t*t*d }
	return model.Point{X: at(a.X, p[0][0], p[1][0], p[2][0]), Y: at(a.Y, p[0][1], p[1][1], p[2][1])}
}

func inside(segments []catalogue.Segment, w place.Rect) bool {
	for _, s := range segments {
		n := map[byte]int{'M': 1, 'L': 1, 'C': 3}[s.Op]
		for _, q := range s.P[:n] {
			if !w.Contains(model.Point{X: q[0], Y: q[1]}) {
				return false
			}
		}
	}
	return true
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
	from, to := a, b
	if t0 > 0 {
		from = model.Point{X: a.X + t0*d.X, Y: a.Y + t0*d.Y}
	}
	if t1 < 1 {
		to = model.Point{X: a.X + t1*d.X, Y: a.Y + t1*d.Y}
	}
	return from, to, true
}
