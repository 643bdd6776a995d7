package draw

import (
	"io"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Picture is a drawing: figures from the hindmost to the foremost.
type Picture struct {
	Bounds place.Rect // of all items
	Items  []Item
}

// Item is one figure of a picture.
type Item struct {
	Layer  Layer
	Record model.ID   // that it shows; may be empty
	Bounds place.Rect // that it paints in, stroke included
	Figure Figure
}

// Layer groups items by what they are for, so that a reader of the written file
// can switch them.
type Layer string

const (
	LayerFrame   Layer = "frame" // station frames, panels
	LayerRun     Layer = "run"
	LayerPart    Layer = "part"
	LayerTag     Layer = "tag"
	LayerLabel   Layer = "label" // sizes and media of runs
	LayerFinding Layer = "finding"
	LayerMark    Layer = "mark"
	LayerSheet   Layer = "sheet" // border and title block
)

// Figure is a [Path], a [Text] or a [Symbol].
type Figure interface {
	figure()
	bounds() place.Rect
}

// Style tells how a path is painted. The zero Style paints nothing.
type Style struct {
	Stroke Role
	Width  float64   // of the stroke, mm
	Dash   []float64 // lengths of dash and gap in turn, mm; nil: unbroken
	Fill   Role
}

// Path is a figure of lines and curves.
type Path struct {
	Segments []catalogue.Segment
	Style    Style
}

// Anchor is the point of a text's box that lies at its place.
type Anchor int

const (
	Middle Anchor = iota
	Start
	End
)

// Text is one line of text. At is half way up its capitals.
type Text struct {
	At     model.Point
	String string
	Height float64 // of its capitals, mm, as lettering is measured in ISO 3098
	Anchor Anchor
	Turn   model.Turn // clockwise
	Role   Role
	Rank   Rank        // on the screen
	Away   model.Point // of length 1: where it makes way when it is painted larger; zero: it stays
}

// Rank tells how long a text stays to be read while the screen zooms out: one of
// a higher rank is then painted larger than it is, and keeps its place where two
// would cover each other. In files all texts have their own size.
type Rank uint8

// Ranks of texts, from those that are given up first.
const (
	RankPlain   Rank = iota // never larger than it is
	RankValve               // tags of valves
	RankMachine             // of pumps and washed objects
	RankVessel
)

// Symbol is a kind's symbol set in the drawing.
type Symbol struct {
	Kind     *catalogue.Kind
	At       model.Point
	Turn     model.Turn
	Mirrored bool
	Stretch  [2]float64      // in x and y before the turn; zero stands for 1
	Scale    float64         // of all of it with its lines and letters; zero stands for 1
	Position string          // of a valve; empty or unknown: the kind's first
	Ink      Role            // of its lines; None stands for Ink
	Medium   Role            // of what it holds; None: nothing known
	Letters  string          // in place of "$letters"
	Numbered bool            // a loop number stands below the letters, see [LoopNumber]
	Level    Level           // of a vessel, how full it is
	Moved    model.Actuation // how a valve is moved; empty: not known, no actuator is drawn
	Fails    model.FailsTo   // where a valve goes without air or current; empty: not known, not drawn
}

func (Path) figure()   {}
func (Text) figure()   {}
func (Symbol) figure() {}

// Add puts a figure in front of the others.
func (p *Picture) Add(layer Layer, record model.ID, f Figure) {
	b := f.bounds()
	p.Items = append(p.Items, Item{Layer: layer, Record: record, Bounds: b, Figure: f})
	p.Bounds = p.Bounds.Union(b)
}

// Writer renders a picture in one format.
type Writer func(w io.Writer, p *Picture, pal Palette) error

func (p Path) bounds() place.Rect {
	var r place.Rect
	first := true
	for _, s := range p.Segments {
		for _, q := range s.P[:points(s.Op)] {
			at := model.Point{X: q[0], Y: q[1]}
			if first {
				r, first = place.Rect{Min: at, Max: at}, false
			} else {
				r = r.With(at)
			}
		}
	}
	if p.Style.Stroke != None {
		r = r.Grown(p.Style.Width)
	}
	return r
}

// points gives how many points a segment of an operation has.
func points(op byte) int {
	switch op {
	case 'M', 'L':
		return 1
	case 'C':
		return 3
	}
	return 0
}

func (t Text) bounds() place.Rect {
	w := TextWidth(t.String, t.Height)
	left := t.left(w)
	// Room for accents above and tails below the capitals.
	return place.Spanned(
		model.Placed(model.Point{X: left, Y: -t.Height}, t.At, t.Turn, false),
		model.Placed(model.Point{X: left + w, Y: t.Height}, t.At, t.Turn, false),
	)
}

// left gives where a text of a width begins from its place.
func (t Text) left(width float64) float64 {
	switch t.Anchor {
	case Start:
		return 0
	case End:
		return -width
	}
	return -width / 2
}

func (s Symbol) bounds() place.Rect {
	b := s.Kind.Symbol.Box
	sx, sy := s.stretch()
	k := s.scale()
	return place.Spanned(
		model.Placed(model.Point{X: b[0] * sx * k, Y: b[1] * sy * k}, s.At, s.Turn, s.Mirrored),
		model.Placed(model.Point{X: b[2] * sx * k, Y: b[3] * sy * k}, s.At, s.Turn, s.Mirrored),
	).Grown(k)
}

func (s Symbol) scale() float64 {
	if s.Scale == 0 {
		return 1
	}
	return s.Scale
}

func (s Symbol) stretch() (x, y float64) {
	x, y = s.Stretch[0], s.Stretch[1]
	if x == 0 {
		x = 1
	}
	if y == 0 {
		y = 1
	}
	return x, y
}

// MoveTo begins a figure at p.
func MoveTo(p model.Point) catalogue.Segment {
	return catalogue.Segment{Op: 'M', P: [3][2]float64{{p.X, p.Y}}}
}

// LineTo draws a straight line to p.
func LineTo(p model.Point) catalogue.Segment {
	return catalogue.Segment{Op: 'L', P: [3][2]float64{{p.X, p.Y}}}
}

// CurveTo draws a cubic with controls a and b to p.
func CurveTo(a, b, p model.Point) catalogue.Segment {
	return catalogue.Segment{Op: 'C', P: [3][2]float64{{a.X, a.Y}, {b.X, b.Y}, {p.X, p.Y}}}
}

// Close draws a straight line to where the figure began.
func Close() catalogue.Segment { return catalogue.Segment{Op: 'Z'} }

// Polyline gives the figure over the points.
func Polyline(points []model.Point) []catalogue.Segment {
	out := make([]catalogue.Segment, len(points))
	for i, p := range points {
		out[i] = LineTo(p)
		if i == 0 {
			out[i].Op = 'M'
		}
	}
	return out
}

// Box gives the closed figure of a rectangle.
func Box(r place.Rect) []catalogue.Segment { return Across(r.Min, r.Max) }

// Across gives the closed figure of the upright rectangle on a diagonal.
func Across(a, b model.Point) []catalogue.Segment {
	return []catalogue.Segment{
		MoveTo(a), LineTo(model.Point{X: b.X, Y: a.Y}),
		LineTo(b), LineTo(model.Point{X: a.X, Y: b.Y}), Close(),
	}
}

// Circle gives the closed figure of a circle, by four cubics (within 0.03 % of
// the radius).
func Circle(centre model.Point, radius float64) []catalogue.Segment {
	k := 0.5522847498 * radius // 4/3 (sqrt 2 - 1)
	at := func(x, y float64) model.Point { return model.Point{X: centre.X + x, Y: centre.Y + y} }
	r := radius
	return []catalogue.Segment{
		MoveTo(at(r, 0)),
		CurveTo(at(r, k), at(k, r), at(0, r)),
		CurveTo(at(-k, r), at(-r, k), at(-r, 0)),
		CurveTo(at(-r, -k), at(-k, -r), at(0, -r)),
		CurveTo(at(k, -r), at(r, -k), at(r, 0)),
		Close(),
	}
}
