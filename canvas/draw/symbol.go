package draw

import (
	"slices"
	"sync"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

const (
	symbolLine   = 0.35 // mm, where a figure of a symbol states none
	symbolLetter = 2.5  // mm, likewise for text
	textShare    = 0.7  // of a symbol's width that a text in it may take
)

var symbolDash = []float64{1.5, 1}

// Figures takes a symbol apart into paths and texts in the drawing, hindmost
// first. Text stays upright and is never mirrored.
func (s Symbol) Figures() []Figure {
	if s.scale() != 1 {
		return s.scaledFigures()
	}
	position := s.position()
	var out []Figure
	for i, shape := range s.Kind.Symbol.Draw {
		if len(shape.When) > 0 && !slices.Contains(shape.When, position) {
			continue
		}
		if len(shape.Actuated) > 0 && !slices.Contains(shape.Actuated, s.Moved) {
			continue
		}
		if len(shape.Fails) > 0 && !slices.Contains(shape.Fails, s.Fails) {
			continue
		}
		if shape.Text != "" {
			out = append(out, s.text(shape))
			continue
		}
		segments := outlines(s.Kind)[i]
		placed := make([]catalogue.Segment, len(segments))
		for j, seg := range segments {
			placed[j].Op = seg.Op
			for k := range points(seg.Op) {
				q := s.placed(seg.P[k])
				placed[j].P[k] = [2]float64{q.X, q.Y}
			}
		}
		style := s.style(shape, position)
		if shape.Fill == "medium" && s.Kind.Class == model.ClassVessel {
			out = append(out, s.Level.in(placed, style.Fill, s.ink())...)
			continue
		}
		out = append(out, Path{Segments: placed, Style: style})
	}
	return out
}

func (s Symbol) placed(p [2]float64) model.Point {
	sx, sy := s.stretch()
	return model.Placed(model.Point{X: p[0] * sx, Y: p[1] * sy}, s.At, s.Turn, s.Mirrored)
}

func (s Symbol) text(shape catalogue.Shape) Text {
	t := Text{At: s.placed(shape.At), String: shape.Text, Height: shape.Size, Role: s.ink()}
	if t.String == "$letters" {
		t.String = s.Letters
		if s.Numbered {
			t.At.Y -= lettersUp
			t.Height = numberedLetters
		}
	}
	if t.Height == 0 {
		t.Height = symbolLetter
	}
	// Longer words than the symbol was made for become smaller, not wider.
	sx, _ := s.stretch()
	room := textShare * sx * (s.Kind.Symbol.Box[2] - s.Kind.Symbol.Box[0])
	if w := TextWidth(t.String, t.Height); w > room && room > 0 {
		t.Height *= room / w
	}
	return t
}

func (s Symbol) style(shape catalogue.Shape, position string) Style {
	st := Style{Stroke: s.ink(), Width: shape.Line}
	if st.Width == 0 {
		st.Width = symbolLine
	}
	if shape.Dash {
		st.Dash = symbolDash
	}
	if shape.NoLine {
		st.Stroke = None
	}
	switch shape.Fill {
	case "paper":
		st.Fill = Paper
	case "ink":
		st.Fill = s.ink()
	case "medium":
		st.Fill = s.Medium
		if st.Fill == None {
			st.Fill = Paper
		}
	case "seat":
		st.Fill = Paper
		if shut(s.Kind, position) {
			st.Fill = s.ink()
		}
	}
	return st
}

func (s Symbol) ink() Role {
	if s.Ink == None {
		return Ink
	}
	return s.Ink
}

// position gives the position that is drawn: the first while it is unknown.
func (s Symbol) position() string {
	if slices.Contains(s.Kind.Positions, s.Position) || len(s.Kind.Positions) == 0 {
		return s.Position
	}
	return s.Kind.Positions[0]
}

// shut says whether a valve in this position opens none of the ways that it can
// open.
func shut(k *catalogue.Kind, position string) bool {
	moves := false
	for _, p := range k.Paths {
		if len(p.OpenIn) == 0 {
			continue
		}
		moves = true
		if slices.Contains(p.OpenIn, position) {
			return false
		}
	}
	return moves
}

// parsed holds the figures of each kind's symbol, by *catalogue.Kind.
var parsed sync.Map

// outlines gives the figures of a kind's symbol about its reference point; nil
// for a text.
func outlines(k *catalogue.Kind) [][]catalogue.Segment {
	if v, ok := parsed.Load(k); ok {
		return v.([][]catalogue.Segment)
	}
	out := make([][]catalogue.Segment, len(k.Symbol.Draw))
	for i, shape := range k.Symbol.Draw {
		switch {
		case shape.Circle != nil:
			c := *shape.Circle
			out[i] = Circle(model.Point{X: c[0], Y: c[1]}, c[2])
		case shape.Path != "":
			segments, err := catalogue.ParsePath(shape.Path)
			if err != nil {
				panic("draw: symbol of " + k.Name + ": " + err.Error()) // the catalogue refuses such a kind
			}
			out[i] = segments
		}
	}
	parsed.Store(k, out)
	return out
}
