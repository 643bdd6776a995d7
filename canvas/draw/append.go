package draw

import (
	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Append puts the figures of another picture, moved, in front of those of p.
func (p *Picture) Append(q *Picture, by model.Point) {
	for i := range q.Items {
		it := q.Items[i]
		it.Figure = moved(it.Figure, by)
		it.Bounds = place.Rect{Min: it.Bounds.Min.Add(by), Max: it.Bounds.Max.Add(by)}
		p.Items = append(p.Items, it)
		p.Bounds = p.Bounds.Union(it.Bounds)
	}
}

func moved(f Figure, by model.Point) Figure {
	switch f := f.(type) {
	case Path:
		segments := make([]catalogue.Segment, len(f.Segments))
		for i, s := range f.Segments {
			for k := range points(s.Op) {
				s.P[k][0] += by.X
				s.P[k][1] += by.Y
			}
			segments[i] = s
		}
		f.Segments = segments
		return f
	case Text:
		f.At = f.At.Add(by)
		return f
	case Symbol:
		f.At = f.At.Add(by)
		return f
	}
	return f
}
