package sheet

import (
	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Lines of a sheet in mm, after the frame and reference border of ISO 5457.
const (
	frameLine = 0.7
	gridLine  = 0.35
	thinLine  = 0.25
	gridBand  = 5.0 // width of the reference border
	gridText  = 3.0 // mm of capitals
	markInner = 5.0 // how far a centring mark enters the frame
)

// border draws the frame, the reference border with its zones and the centring
// marks. A4 has letters and numbers above and on the right alone, for want of
// room.
func border(to *draw.Picture, p paper, drawing place.Rect) {
	outer := p.frame.Grown(gridBand)
	small := p.Name == "A4"
	stroke(to, gridLine, draw.Box(outer))
	stroke(to, frameLine, draw.Box(p.frame))
	columns := p.edges(p.columns, p.frame.Min.X, p.frame.Max.X)
	rows := p.edges(p.rows, p.frame.Min.Y, p.frame.Max.Y)
	bands := []struct {
		inner, outer float64
		shown        bool
	}{{p.frame.Min.Y, outer.Min.Y, true}, {p.frame.Max.Y, outer.Max.Y, !small}}
	for _, b := range bands {
		if !b.shown {
			continue
		}
		for i := range p.columns {
			if i > 0 {
				straight(to, gridLine, model.Point{X: columns[i], Y: b.inner}, model.Point{X: columns[i], Y: b.outer})
			}
			letter(to, p.columnName(i), model.Point{X: (columns[i] + columns[i+1]) / 2, Y: (b.inner + b.outer) / 2})
		}
	}
	bands[0].inner, bands[0].outer, bands[0].shown = p.frame.Min.X, outer.Min.X, !small
	bands[1].inner, bands[1].outer, bands[1].shown = p.frame.Max.X, outer.Max.X, true
	for _, b := range bands {
		if !b.shown {
			continue
		}
		for i := range p.rows {
			if i > 0 {
				straight(to, gridLine, model.Point{X: b.inner, Y: rows[i]}, model.Point{X: b.outer, Y: rows[i]})
			}
			letter(to, p.rowName(i), model.Point{X: (b.inner + b.outer) / 2, Y: (rows[i] + rows[i+1]) / 2})
		}
	}
	c := p.frame.Centre()
	// Marks enter the frame where the drawing is, not among the words.
	right, foot := 0.0, 0.0
	if drawing.Max.X == p.frame.Max.X {
		right = markInner
	}
	if drawing.Max.Y == p.frame.Max.Y {
		foot = markInner
	}
	for _, m := range [][2]model.Point{
		{{X: c.X, Y: outer.Min.Y}, {X: c.X, Y: p.frame.Min.Y + markInner}}, {{X: c.X, Y: outer.Max.Y}, {X: c.X, Y: p.frame.Max.Y - foot}},
		{{X: outer.Min.X, Y: c.Y}, {X: p.frame.Min.X + markInner, Y: c.Y}}, {{X: outer.Max.X, Y: c.Y}, {X: p.frame.Max.X - right, Y: c.Y}},
	} {
		straight(to, frameLine, m[0], m[1])
	}
}

func letter(to *draw.Picture, s string, at model.Point) {
	to.Add(draw.LayerSheet, "", draw.Text{At: at, String: s, Height: gridText, Role: draw.Ink})
}

func stroke(to *draw.Picture, width float64, segments []catalogue.Segment) {
	to.Add(draw.LayerSheet, "", draw.Path{Segments: segments, Style: draw.Style{Stroke: draw.Ink, Width: width}})
}

func straight(to *draw.Picture, width float64, points ...model.Point) {
	stroke(to, width, draw.Polyline(points))
}

// words writes one line of text from its left end, smaller where it has no room.
func words(to *draw.Picture, s string, at model.Point, height, room float64, role draw.Role) {
	if s == "" {
		return
	}
	if w := draw.TextWidth(s, height); w > room {
		height *= room / w
	}
	to.Add(draw.LayerSheet, "", draw.Text{At: at, String: s, Height: height, Anchor: draw.Start, Role: role})
}

func rect(x0, y0, x1, y1 float64) place.Rect {
	return place.Rect{Min: model.Point{X: x0, Y: y0}, Max: model.Point{X: x1, Y: y1}}
}
