package draw

import (
	"fmt"
	"math"
	"strconv"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Severity says how grave what a mark marks is.
type Severity uint8

const (
	Note Severity = iota // look at it: a circle
	Fix                  // put it right: a triangle
	Stop                 // must not be built or run so: an octagon
)

// Mark is a numbered sign on a drawing for one finding.
type Mark struct {
	Place    model.Place
	Severity Severity
	Number   int
	Text     string // of its line in the list, see [FindingList]
}

const (
	markSize   = 2.6 // mm from a mark's middle to its rim
	markLetter = 1.9 // mm of capitals
	markRoom   = 3.6 // mm in which the number stands
)

// Findings sets a numbered mark beside each place, told by number and shape and
// not by colour alone. Marks keep off each other; a thin line leads from one to
// its place. A place that is not on the drawing, as that of a step, has no mark.
func Findings(p *Picture, marks []Mark) {
	spots := newSpots(p)
	room := newCrowd(p.Bounds)
	for i := range p.Items {
		switch f := p.Items[i].Figure.(type) {
		case Text:
			room.add(f.capitals(TextWidth(f.String, f.Height)))
		case Symbol:
			if p.Items[i].Layer == LayerPart {
				room.add(p.Items[i].Bounds.Grown(-1))
			}
		}
	}
	type set struct {
		mark Mark
		at   model.Point
	}
	var placed []set
	for _, m := range marks {
		spot, ok := spots.of(m.Place)
		if !ok {
			continue
		}
		at := freeMark(room, spot)
		room.add(boxAbout(at, markSize))
		placed = append(placed, set{m, at})
		lead := Polyline([]model.Point{spot, at})
		p.Add(LayerFinding, m.Place.Element, Path{Segments: lead, Style: Style{Stroke: m.Severity.role(), Width: symbolLine}})
	}
	for _, s := range placed { // over all of the lines
		s.mark.draw(p, LayerFinding, s.at)
	}
}

// freeMark finds a place for a mark on rings about its spot, up and to the right
// first; if all is taken, the outermost.
func freeMark(room *crowd, spot model.Point) model.Point {
	const turns = 8
	var at model.Point
	for ring := 1; ring <= 5; ring++ {
		for i := range turns {
			a := (float64(i)*2*math.Pi/turns + math.Pi/4) * -1
			far := markSize * (0.4 + 1.5*float64(ring))
			at = model.Point{X: spot.X + far*math.Cos(a), Y: spot.Y + far*math.Sin(a)}
			if room.free(boxAbout(at, markSize+0.3)) {
				return at
			}
		}
	}
	return at
}

func (s Severity) role() Role {
	switch s {
	case Stop:
		return Error
	case Fix:
		return Warning
	}
	return Advice
}

// Set draws the sign of a mark with its middle at a place, as in a list; the place
// that it marks is not told.
func (m Mark) Set(p *Picture, at model.Point) {
	m.Place = model.Place{}
	m.draw(p, LayerSheet, at)
}

// draw sets shape and number of a mark.
func (m Mark) draw(p *Picture, layer Layer, at model.Point) {
	ring := func(n int, radius, first float64) []catalogue.Segment {
		points := make([]model.Point, n)
		for i := range points {
			a := first + float64(i)*2*math.Pi/float64(n)
			points[i] = model.Point{X: at.X + radius*math.Sin(a), Y: at.Y - radius*math.Cos(a)}
		}
		return append(Polyline(points), Close())
	}
	var shape []catalogue.Segment
	middle, most := at, markRoom
	switch m.Severity {
	case Stop:
		shape = ring(8, markSize, math.Pi/8)
	case Fix:
		shape = ring(3, markSize*1.45, 0)
		middle.Y += markSize * 0.17
		most = markRoom * 0.8
	default:
		shape = Circle(at, markSize)
	}
	id := m.Place.Element
	p.Add(layer, id, Path{Segments: shape, Style: Style{Stroke: m.Severity.role(), Width: 0.4, Fill: Paper}})
	t := Text{At: middle, String: strconv.Itoa(m.Number), Height: markLetter, Role: Ink}
	if w := TextWidth(t.String, t.Height); w > most {
		t.Height *= most / w
	}
	p.Add(layer, id, t)
}

// spots tells where the records of a picture are.
type spots struct {
	symbols map[model.ID]Symbol
	lines   map[model.ID][]model.Point
	boxes   map[model.ID]place.Rect // of parts of an unknown kind
}

func newSpots(p *Picture) *spots {
	s := &spots{map[model.ID]Symbol{}, map[model.ID][]model.Point{}, map[model.ID]place.Rect{}}
	for i := range p.Items {
		it := &p.Items[i]
		switch f := it.Figure.(type) {
		case Symbol:
			if it.Layer != LayerRun {
				s.symbols[it.Record] = f
			}
		case Path:
			switch it.Layer {
			case LayerRun:
				s.lines[it.Record] = endsOf(f.Segments)
			case LayerPart, LayerFrame:
				s.boxes[it.Record] = it.Bounds
			}
		}
	}
	return s
}

// endsOf gives where the pieces of a path end.
func endsOf(segments []catalogue.Segment) []model.Point {
	var out []model.Point
	for _, g := range segments {
		if n := points(g.Op); n > 0 {
			out = append(out, model.Point{X: g.P[n-1][0], Y: g.P[n-1][1]})
		}
	}
	return out
}

// of gives the port that a place names, else the right upper corner of a part or
// the middle of the longest piece of a run.
func (s *spots) of(at model.Place) (model.Point, bool) {
	if f, ok := s.symbols[at.Element]; ok {
		if port, ok := f.Kind.Port(at.Port); ok {
			at := f.placed(port.At)
			return model.Point{X: f.At.X + (at.X-f.At.X)*f.scale(), Y: f.At.Y + (at.Y-f.At.Y)*f.scale()}, true
		}
		b := f.bounds().Grown(-1)
		return model.Point{X: b.Max.X, Y: b.Min.Y}, true
	}
	if line := s.lines[at.Element]; len(line) > 1 {
		piece, _ := place.Longest(line)
		return model.Point{X: (line[piece].X + line[piece+1].X) / 2, Y: (line[piece].Y + line[piece+1].Y) / 2}, true
	}
	if b, ok := s.boxes[at.Element]; ok {
		return model.Point{X: b.Max.X, Y: b.Min.Y}, true
	}
	return model.Point{}, false
}

const (
	listColumn = 88.0 // mm
	listLine   = 6.0
	listText   = 1.9
	listRows   = 24 // that a column has at most
)

// FindingList sets a heading and the marks with their texts beneath a picture, in
// as many columns as its width has room for, and says how many found no room.
func FindingList(p *Picture, heading string, marks []Mark) {
	s := under(p)
	s.text(heading, sheetText)
	s.feed()
	columns := max(1, int((s.right-s.left)/listColumn))
	width := (s.right - s.left) / float64(columns)
	shown := min(len(marks), columns*listRows)
	rows := max(1, (shown+columns-1)/columns)
	top := s.y + 0.5
	for i, m := range marks[:shown] {
		at := model.Point{X: s.left + float64(i/rows)*width + 3, Y: top + float64(i%rows)*listLine}
		m.Place = model.Place{} // the list is no place of the record
		m.draw(p, LayerSheet, at)
		text := fitted(m.Text, listText, width-9)
		p.Add(LayerSheet, "", Text{At: model.Point{X: at.X + 4, Y: at.Y}, String: text, Height: listText, Anchor: Start, Role: Ink})
	}
	if shown < len(marks) {
		s.y = top + float64(rows)*listLine
		s.text(fmt.Sprintf("and %d more; the whole list is in the findings file", len(marks)-shown), listText)
	}
}
