package draw

import (
	"math"
	"strconv"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// LayerReview holds the marks of reviewers.
const LayerReview Layer = "review"

// Pin is a reviewer's mark as it stands on a drawing: a sign whose shape tells its
// class, with "M" and its number in it. What must be done is a square, what should
// be a diamond, a question a capsule, praise a five-sided shield.
type Pin struct {
	Mark    model.ID
	Class   model.MarkClass
	Number  int
	Settled bool // done or rejected: drawn faint, its rim dashed
	At      model.Point
	Area    *place.Rect // that it is about; nil: the place At
}

const (
	pinHalf   = 2.8 // mm from the middle of a sign to its side
	pinLetter = 1.7 // mm of capitals
)

// Label gives what stands in the sign: "M12".
func (p Pin) Label() string { return "M" + strconv.Itoa(p.Number) }

// Pins sets the signs of reviewers' marks on a picture, beside their places where
// there is room, with a thin line to the place. Areas are framed.
func Pins(p *Picture, pins []Pin) {
	if len(pins) == 0 {
		return
	}
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
	middles := make([]model.Point, len(pins))
	for i, pin := range pins {
		spot := pin.At
		if a := pin.Area; a != nil {
			p.Add(LayerReview, pin.Mark, Path{Segments: Box(*a), Style: pin.rim()})
			spot = model.Point{X: a.Max.X, Y: a.Min.Y}
		}
		middles[i] = freeMark(room, spot)
		room.add(boxAbout(middles[i], pinHalf))
		p.Add(LayerReview, pin.Mark, Path{Segments: Polyline([]model.Point{spot, middles[i]}), Style: Style{Stroke: pin.role(), Width: symbolLine}})
	}
	for i, pin := range pins { // over all of the lines
		pin.Set(p, LayerReview, middles[i])
	}
}

func (p Pin) role() Role {
	if p.Settled {
		return Faint
	}
	return Accent
}

func (p Pin) rim() Style {
	s := Style{Stroke: p.role(), Width: 0.4}
	if p.Settled {
		s.Dash = []float64{0.8, 0.6}
	}
	return s
}

// Outline gives the shape of the sign with its middle at a place.
func (p Pin) Outline(at model.Point) []catalogue.Segment {
	around := func(points ...[2]float64) []catalogue.Segment {
		out := make([]model.Point, len(points))
		for i, q := range points {
			out[i] = model.Point{X: at.X + q[0]*pinHalf, Y: at.Y + q[1]*pinHalf}
		}
		return append(Polyline(out), Close())
	}
	switch p.Class {
	case model.MarkMust:
		return around([2]float64{-1, -1}, [2]float64{1, -1}, [2]float64{1, 1}, [2]float64{-1, 1})
	case model.MarkShould:
		return around([2]float64{0, -1.45}, [2]float64{1.45, 0}, [2]float64{0, 1.45}, [2]float64{-1.45, 0})
	case model.MarkPraise:
		return around([2]float64{-1, -1}, [2]float64{1, -1}, [2]float64{1, 0.45}, [2]float64{0, 1.35}, [2]float64{-1, 0.45})
	}
	const n = 8 // points of each rounded end
	var points [][2]float64
	for i := range 2*n + 2 {
		a := -math.Pi/2 + float64(i)*math.Pi/n
		middle := 0.6
		if i > n {
			a, middle = a-math.Pi/n, -0.6
		}
		points = append(points, [2]float64{middle + 0.9*math.Cos(a), 0.9 * math.Sin(a)})
	}
	return around(points...)
}

// Set draws the sign with its middle at a place, as in a list.
func (p Pin) Set(to *Picture, layer Layer, at model.Point) {
	style := p.rim()
	style.Fill = Paper
	to.Add(layer, p.Mark, Path{Segments: p.Outline(at), Style: style})
	t := Text{At: at, String: p.Label(), Height: pinLetter, Role: Ink}
	if p.Settled {
		t.Role = Faint
	}
	if p.Class == model.MarkPraise {
		t.At.Y -= 0.2
	}
	const room = 2*pinHalf - 0.9
	if w := TextWidth(t.String, t.Height); w > room {
		t.Height *= room / w
	}
	to.Add(layer, p.Mark, t)
}
