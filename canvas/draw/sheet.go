package draw

import (
	"strings"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

const (
	sheetMargin = 5.0 // mm about all that is on the sheet
	sheetGap    = 6.0 // mm between the drawing and what stands beneath it
	leastSheet  = 180 // mm; narrower drawings have a sheet of this width
	sheetText   = 2.2 // mm of capitals
	sheetSmall  = 1.7
	sheetLine   = 5.0 // mm from line to line
)

// sheet sets text and figures beneath what a picture holds, from left to right and
// in lines.
type sheet struct {
	p           *Picture
	left, right float64
	x, y        float64 // where the next word begins; y is half way up its capitals
	pitch       float64
}

// under begins a strip beneath a picture, with a thin line above it.
func under(p *Picture) *sheet {
	b := p.Bounds
	width := max(b.Width(), leastSheet)
	s := &sheet{p: p, left: b.Min.X, right: b.Min.X + width, x: b.Min.X, y: b.Max.Y + sheetGap, pitch: sheetLine}
	rule := Polyline([]model.Point{{X: s.left, Y: s.y}, {X: s.right, Y: s.y}})
	p.Add(LayerSheet, "", Path{Segments: rule, Style: Style{Stroke: Faint, Width: thinLine}})
	s.y += s.pitch
	return s
}

// text sets a text at the next place, in a new line if the present one has no
// room for it.
func (s *sheet) text(text string, height float64) {
	s.room(TextWidth(text, height))
	s.p.Add(LayerSheet, "", Text{At: model.Point{X: s.x, Y: s.y}, String: text, Height: height, Anchor: Start, Role: Ink})
	s.x += TextWidth(text, height)
}

// room begins a new line if the present one has no room for so much.
func (s *sheet) room(width float64) {
	if s.x > s.left && s.x+width > s.right {
		s.feed()
	}
}

func (s *sheet) feed() { s.x, s.y = s.left, s.y+s.pitch }

func (s *sheet) gap(width float64) { s.x += width }

// framed gives a picture a margin, and a ground to a sheet that is wider than the
// drawing.
func framed(p *Picture, right float64) {
	p.Bounds = p.Bounds.With(model.Point{X: right, Y: p.Bounds.Max.Y})
	p.Bounds = p.Bounds.Grown(sheetMargin)
}

// fitted shortens a text to a width.
func fitted(text string, height, width float64) string {
	if TextWidth(text, height) <= width {
		return text
	}
	runes := []rune(text)
	for n := len(runes) - 1; n > 0; n-- {
		if short := strings.TrimRight(string(runes[:n]), " ,;:") + "…"; TextWidth(short, height) <= width {
			return short
		}
	}
	return ""
}

const swatchWidth = 9.0 // mm

// swatch gives the room of a sample at the next place and goes on behind it.
func (s *sheet) swatch() place.Rect {
	at := model.Point{X: s.x, Y: s.y}
	s.x += swatchWidth + 1.5
	return place.Rect{Min: at, Max: at.Add(model.Point{X: swatchWidth})}
}
