package draw

import (
	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Transfer takes figures from one drawing to another: scaled about [0, 0], then
// moved. Lines and letters are scaled with the rest.
type Transfer struct {
	Scale float64 // above zero
	By    model.Point
}

// Point gives where a point comes to lie.
func (t Transfer) Point(p model.Point) model.Point {
	return model.Point{X: p.X*t.Scale + t.By.X, Y: p.Y*t.Scale + t.By.Y}
}

// Rect gives where a rectangle comes to lie.
func (t Transfer) Rect(r place.Rect) place.Rect {
	return place.Rect{Min: t.Point(r.Min), Max: t.Point(r.Max)}
}

// Figure gives a figure as it stands in the other drawing.
func (t Transfer) Figure(f Figure) Figure {
	switch f := f.(type) {
	case Path:
		segments := make([]catalogue.Segment, len(f.Segments))
		for i, s := range f.Segments {
			segments[i].Op = s.Op
			for j, q := range s.P[:points(s.Op)] {
				p := t.Point(model.Point{X: q[0], Y: q[1]})
				segments[i].P[j] = [2]float64{p.X, p.Y}
			}
		}
		f.Segments = segments
		f.Style.Width *= t.Scale
		if len(f.Style.Dash) > 0 {
			dash := make([]float64, len(f.Style.Dash))
			for i, d := range f.Style.Dash {
				dash[i] = d * t.Scale
			}
			f.Style.Dash = dash
		}
		return f
	case Text:
		f.At, f.Height = t.Point(f.At), f.Height*t.Scale
		return f
	case Symbol:
		f.At, f.Scale = t.Point(f.At), f.scale()*t.Scale
		return f
	}
	return f
}

// scaledFigures gives the figures of a symbol that is larger or smaller than its
// kind's.
func (s Symbol) scaledFigures() []Figure {
	at := s.At
	t := Transfer{Scale: s.scale(), By: at}
	s.At, s.Scale = model.Point{}, 0
	out := s.Figures()
	for i := range out {
		out[i] = t.Figure(out[i])
	}
	return out
}
