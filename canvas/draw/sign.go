package draw

import (
	"math"
	"strconv"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Shape is that of a [Sign], told apart without colour.
type Shape uint8

const (
	Square   Shape = iota // locked
	Pointing              // a pentagon that points down: liquid runs out here
	Roof                  // a pentagon that points up: air comes in here
	Disc                  // proved to be at zero
	Diamond               // where something begins
)

// Sign is a filled sign with a number in it that stands beside a part or a run.
// Signs are filled and marks of findings are not, so that one is not taken for the
// other.
type Sign struct {
	Place  model.Place
	Shape  Shape
	Number int // 0: none is written
	Role   Role
}

// SignSize is what lies between the middle of a sign and its edge, mm.
const SignSize = 2.7

// Signs sets signs beside their places. They keep off each other and off tags where
// there is room; a thin line leads to the place. One whose place is not on the drawing
// is left out. They are as large as they are on paper times scale, 1 or more.
func Signs(p *Picture, signs []Sign, scale float64) {
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
	places := make([]model.Point, len(signs))
	for i, s := range signs {
		spot, ok := spots.of(s.Place)
		if !ok {
			places[i].X = math.NaN()
			continue
		}
		places[i] = freeSign(room, spot, scale*SignSize)
		room.add(boxAbout(places[i], scale*SignSize))
		p.Add(LayerFinding, s.Place.Element, Path{Segments: Polyline([]model.Point{spot, places[i]}), Style: Style{Stroke: s.Role, Width: symbolLine}})
	}
	for i, s := range signs { // over all of the lines
		if !math.IsNaN(places[i].X) {
			s.set(p, LayerFinding, places[i], scale)
		}
	}
}

// freeSign finds a place for a sign on rings about its spot, up and to the right first;
// if all is taken, the outermost.
func freeSign(room *crowd, spot model.Point, size float64) model.Point {
	const turns = 12
	var at model.Point
	for ring := 1; ring <= 4; ring++ {
		for i := range turns {
			a := -(float64(i)*2*math.Pi/turns + math.Pi/4)
			far := size * (0.6 + 1.2*float64(ring))
			at = model.Point{X: spot.X + far*math.Cos(a), Y: spot.Y + far*math.Sin(a)}
			if room.free(boxAbout(at, size*1.1)) {
				return at
			}
		}
	}
	return at
}

// Set draws a sign with its middle at a place, as in a list.
func (s Sign) Set(p *Picture, at model.Point) {
	s.Place = model.Place{}
	s.set(p, LayerSheet, at, 1)
}

func (s Sign) set(p *Picture, layer Layer, at model.Point, scale float64) {
	k := SignSize * scale
	corner := func(x, y float64) model.Point { return model.Point{X: at.X + k*x, Y: at.Y + k*y} }
	var shape []catalogue.Segment
	middle, most := at, 1.7*k
	switch s.Shape {
	case Square:
		shape = Box(place.Rect{Min: corner(-0.9, -0.9), Max: corner(0.9, 0.9)})
	case Pointing:
		shape = append(Polyline([]model.Point{corner(-0.9, -1), corner(0.9, -1), corner(0.9, 0.35), corner(0, 1.25), corner(-0.9, 0.35)}), Close())
		middle.Y -= 0.2 * k
	case Roof:
		shape = append(Polyline([]model.Point{corner(-0.9, 1), corner(0.9, 1), corner(0.9, -0.35), corner(0, -1.25), corner(-0.9, -0.35)}), Close())
		middle.Y += 0.2 * k
	case Diamond:
		shape = append(Polyline([]model.Point{corner(0, -1.25), corner(1.25, 0), corner(0, 1.25), corner(-1.25, 0)}), Close())
		most = 1.3 * k
	default:
		shape = Circle(at, k)
		most = 1.5 * k
	}
	p.Add(layer, s.Place.Element, Path{Segments: shape, Style: Style{Fill: s.Role, Stroke: Paper, Width: 0.3}})
	if s.Number == 0 {
		return
	}
	t := Text{At: middle, String: strconv.Itoa(s.Number), Height: markLetter * scale, Role: Paper}
	if w := TextWidth(t.String, t.Height); w > most {
		t.Height *= most / w
	}
	p.Add(layer, s.Place.Element, t)
}
