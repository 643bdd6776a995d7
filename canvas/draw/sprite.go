package draw

import (
	"image"
	"math"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// sprite is a kept image; x and y is where its left top corner lies from the
// whole pixel at its place.
type sprite struct {
	surface
	x, y int
}

// phases is the number of steps between two pixels at which sprites are kept.
const phases = 2

// phase parts a place into a whole pixel and the nearest step beyond it.
func phase(v float64) (whole int, step uint8) {
	n := int(math.Round(v * phases))
	whole = int(math.Floor(float64(n) / phases))
	return whole, uint8(n - whole*phases)
}

type symbolKey struct {
	kind        *catalogue.Kind
	turn        model.Turn
	mirrored    bool
	position    string
	letters     string
	numbered    bool
	moved       model.Actuation
	fails       model.FailsTo
	ink, medium Role
	level       Level
	zoom        float64
	px, py      uint8
}

// symbol paints a symbol, from its sprite unless it is stretched, scaled or very large.
func (s *Screen) symbol(to surface, f Symbol, v View) {
	if sx, sy := f.stretch(); sx != 1 || sy != 1 || f.scale() != 1 || f.tooLarge(v.Zoom) {
		for _, g := range f.Figures() {
			s.figure(to, g, v)
		}
		return
	}
	x, y := v.ToScreen(f.At)
	wx, px := phase(x)
	wy, py := phase(y)
	key := symbolKey{f.Kind, f.Turn, f.Mirrored, f.Position, f.Letters, f.Numbered, f.Moved, f.Fails, f.Ink, f.Medium, f.Level, v.Zoom, px, py}
	sp, ok := s.symbols[key]
	if !ok {
		sp = s.newSprite(f, v.Zoom, px, py)
		s.symbols[key] = sp
	}
	to.image(sp.surface, wx+sp.x, wy+sp.y)
}

func (f Symbol) tooLarge(zoom float64) bool {
	b := f.Kind.Symbol.Box
	return max(b[2]-b[0], b[3]-b[1])*zoom > mostSprite
}

func (s *Screen) figure(to surface, f Figure, v View) {
	switch f := f.(type) {
	case Path:
		s.path(to, f, v)
	case Text:
		s.text(to, f, v)
	}
}

func (s *Screen) newSprite(f Symbol, zoom float64, px, py uint8) sprite {
	f.At = model.Point{}
	figures := f.Figures()
	var box place.Rect
	for _, g := range figures {
		box = box.Union(g.bounds())
	}
	sp := s.blank(box, zoom)
	v := View{Zoom: zoom, Offset: model.Point{
		X: (float64(sp.x) - float64(px)/phases) / zoom,
		Y: (float64(sp.y) - float64(py)/phases) / zoom,
	}}
	for _, g := range figures {
		s.figure(sp.surface, g, v)
	}
	return sp
}

// blank makes a clear sprite for what lies in box about its place.
func (s *Screen) blank(box place.Rect, zoom float64) sprite {
	x0, y0 := int(math.Floor(box.Min.X*zoom))-1, int(math.Floor(box.Min.Y*zoom))-1
	x1, y1 := int(math.Ceil(box.Max.X*zoom))+2, int(math.Ceil(box.Max.Y*zoom))+2
	sp := sprite{newSurface(x1-x0, y1-y0), x0, y0}
	s.bytes += len(sp.pix) + 200
	return sp
}

// curveKey tells a short curve by its shape in thousandths of a millimetre.
type curveKey struct {
	shape  [6]int32
	width  float64
	role   Role
	zoom   float64
	px, py uint8
}

// curve paints a short curve from its sprite.
func (s *Screen) curve(to surface, from [2]float64, seg *catalogue.Segment, v View, st Style) {
	key := curveKey{width: st.Width, role: st.Stroke, zoom: v.Zoom}
	for i, p := range seg.P {
		key.shape[2*i] = int32(math.Round((p[0] - from[0]) * 1000))
		key.shape[2*i+1] = int32(math.Round((p[1] - from[1]) * 1000))
	}
	x, y := v.ToScreen(model.Point{X: from[0], Y: from[1]})
	var wx, wy int
	wx, key.px = phase(x)
	wy, key.py = phase(y)
	sp, ok := s.curves[key]
	if !ok {
		rel := func(i int) model.Point {
			return model.Point{X: float64(key.shape[2*i]) / 1000, Y: float64(key.shape[2*i+1]) / 1000}
		}
		p := Path{Segments: []catalogue.Segment{MoveTo(model.Point{}), CurveTo(rel(0), rel(1), rel(2))}, Style: st}
		width := max(st.Width*v.Zoom, leastStroke)
		sp = s.blank(p.bounds().Grown(width/v.Zoom), v.Zoom)
		at := func(q [2]float64) dot {
			return dot{q[0]*v.Zoom - float64(sp.x) + float64(key.px)/phases, q[1]*v.Zoom - float64(sp.y) + float64(key.py)/phases}
		}
		for _, c := range flatten(p.Segments, at) {
			s.filler.fill(sp.surface, stroked(c, width), word(s.pal.Colour(st.Stroke)))
		}
		s.curves[key] = sp
	}
	to.image(sp.surface, wx+sp.x, wy+sp.y)
}

type textKey struct {
	text   string
	height float64 // px of capitals
	anchor Anchor
	turn   model.Turn
}

// lettered is the mask of a text; x and y as in sprite.
type lettered struct {
	mask *image.Alpha
	x, y int
}

// text paints a text unless it is too small to be read.
func (s *Screen) text(to surface, t Text, v View) {
	if t.String == "" || t.Role == None || emOf(t.Height)*v.Zoom < leastText {
		return
	}
	key := textKey{t.String, math.Round(t.Height*v.Zoom*8) / 8, t.Anchor, t.Turn}
	l, ok := s.texts[key]
	if !ok {
		l = s.letter(key)
		s.texts[key] = l
		s.bytes += len(l.mask.Pix) + 200
	}
	x, y := v.ToScreen(t.At)
	to.mask(l.mask, int(math.Round(x))+l.x, int(math.Round(y))+l.y, word(s.pal.Colour(t.Role)))
}

func (s *Screen) letter(key textKey) lettered {
	rings := textRings(Text{String: key.text, Height: key.height, Anchor: key.anchor, Turn: key.turn})
	var box place.Rect
	for _, ring := range rings {
		for _, d := range ring {
			p := model.Point{X: d.x, Y: d.y}
			box = box.Union(place.Rect{Min: p, Max: p}.Grown(1e-3))
		}
	}
	x0, y0 := int(math.Floor(box.Min.X))-1, int(math.Floor(box.Min.Y))-1
	w, h := int(math.Ceil(box.Max.X))+1-x0, int(math.Ceil(box.Max.Y))+1-y0
	m := s.filler.rasterised(rings, x0, y0, w, h)
	kept := image.NewAlpha(m.Rect)
	copy(kept.Pix, m.Pix)
	return lettered{kept, x0, y0}
}

// textRings gives the outlines of a text about its place as polygons.
func textRings(t Text) [][]dot {
	var p ringPen
	left := t.left(TextWidth(t.String, t.Height))
	p.at = func(x, y float64) dot {
		q := model.Placed(model.Point{X: x + left, Y: y + t.Height/2}, t.At, t.Turn, false)
		return dot{q.X, q.Y}
	}
	outlineText(t.String, t.Height, &p)
	return p.rings
}

// ringPen takes outlines as polygons.
type ringPen struct {
	at    func(x, y float64) dot
	rings [][]dot
}

func (p *ringPen) moveTo(x, y float64) { p.rings = append(p.rings, []dot{p.at(x, y)}) }

func (p *ringPen) lineTo(x, y float64) {
	n := len(p.rings) - 1
	p.rings[n] = append(p.rings[n], p.at(x, y))
}

func (p *ringPen) quadTo(cx, cy, x, y float64) {
	n := len(p.rings) - 1
	a, c, b := p.rings[n][len(p.rings[n])-1], p.at(cx, cy), p.at(x, y)
	for i := 1; i <= 4; i++ {
		t := float64(i) / 4
		u := 1 - t
		p.rings[n] = append(p.rings[n], dot{u*u*a.x + 2*u*t*c.x + t*t*b.x, u*u*a.y + 2*u*t*c.y + t*t*b.y})
	}
}

func (p *ringPen) closePath() {}
