package draw

import (
	"image"
	"math"
	"slices"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// View says which piece of the drawing an image shows.
type View struct {
	Zoom   float64     // pixels per millimetre of the drawing, above 0
	Offset model.Point // of the drawing that lies at the image's left top corner
}

// ToScreen gives the pixel of a place on the drawing.
func (v View) ToScreen(p model.Point) (x, y float64) {
	return (p.X - v.Offset.X) * v.Zoom, (p.Y - v.Offset.Y) * v.Zoom
}

// ToDrawing gives the place on the drawing of a pixel.
func (v View) ToDrawing(x, y float64) model.Point {
	return model.Point{X: x/v.Zoom + v.Offset.X, Y: y/v.Zoom + v.Offset.Y}
}

// Fit gives the view that shows all of r in the middle of an image of w by h
// pixels, with a border of that many pixels.
func Fit(r place.Rect, w, h int, border float64) View {
	zoom := min((float64(w)-2*border)/max(r.Width(), 1), (float64(h)-2*border)/max(r.Height(), 1))
	zoom = max(zoom, 1e-3)
	c := r.Centre()
	return View{Zoom: zoom, Offset: model.Point{X: c.X - float64(w)/2/zoom, Y: c.Y - float64(h)/2/zoom}}
}

// Screen paints pictures into images, fast enough for every frame: it keeps the
// images of symbols and the masks of texts that it has painted before. Not for
// concurrent use.
type Screen struct {
	Grid float64 // mm between the dots of the ground; 0: none

	pal     Palette
	filler  filler
	symbols map[symbolKey]sprite
	curves  map[curveKey]sprite
	texts   map[textKey]lettered
	bytes   int // held in all three
	letters readable
	room    pixels
}

// mostBytes is how much a screen keeps before it starts anew.
const mostBytes = 64 << 20

const (
	leastText   = 4.0  // px; smaller type is not painted
	leastStroke = 0.8  // px; thinner lines are painted as wide as this
	leastFaint  = 0.45 // of its strength that a faint line keeps where it would be thinner
	leastDash   = 2.0  // px; finer dashes are painted longer
	mostSprite  = 1024 // px; a larger symbol is painted from its figures each time
)

// NewScreen makes a screen.
func NewScreen() *Screen {
	s := &Screen{}
	s.forget()
	return s
}

func (s *Screen) forget() {
	s.symbols, s.curves, s.texts, s.bytes = map[symbolKey]sprite{}, map[curveKey]sprite{}, map[textKey]lettered{}, 0
}

// Draw paints the ground and what the view shows of a picture over all of dst.
func (s *Screen) Draw(dst *image.RGBA, p *Picture, pal Palette, v View) {
	if pal != s.pal || s.bytes > mostBytes {
		s.forget()
		s.pal = pal
	}
	to := surfaceOf(dst)
	to.clear(pal.Colour(Paper))
	if v.Zoom <= 0 || math.IsNaN(v.Zoom) || math.IsInf(v.Zoom, 0) {
		return
	}
	// The drawing moves by whole pixels, so that it does not shimmer.
	v.Offset.X = math.Round(v.Offset.X*v.Zoom) / v.Zoom
	v.Offset.Y = math.Round(v.Offset.Y*v.Zoom) / v.Zoom
	if s.Grid > 0 {
		s.dots(to, v)
	}
	shown := place.Rect{Min: v.Offset, Max: v.ToDrawing(float64(to.w), float64(to.h))}
	heights := s.readable(p, v.Zoom)
	for i := range p.Items {
		it := &p.Items[i]
		if heights != nil {
			if t, ok := it.Figure.(Text); ok {
				if heights[i] > 0 {
					if t = t.larger(heights[i]); t.bounds().Touches(shown) {
						s.text(to, t, v)
					}
				}
				continue
			}
		}
		if !it.Bounds.Touches(shown) {
			continue
		}
		switch f := it.Figure.(type) {
		case Path:
			s.path(to, f, v)
		case Text:
			s.text(to, f, v)
		case Symbol:
			s.symbol(to, f, v)
		}
	}
}

// dots paints the grid, coarser where it would be too dense.
func (s *Screen) dots(to surface, v View) {
	step := s.Grid
	for i := 0; step*v.Zoom < 10; i++ {
		step *= []float64{2, 2, 2.5}[i%3]
	}
	ink := scaled(word(s.pal.Colour(Faint)), 140)
	for y := math.Ceil(v.Offset.Y/step) * step; ; y += step {
		py := int(math.Floor((y - v.Offset.Y) * v.Zoom))
		if py >= to.h {
			break
		}
		for x := math.Ceil(v.Offset.X/step) * step; ; x += step {
			px := int(math.Floor((x - v.Offset.X) * v.Zoom))
			if px >= to.w {
				break
			}
			if px >= 0 && py >= 0 {
				over(to.pix[py*to.stride+4*px:], ink)
			}
		}
	}
}

// path paints a path. Level and upright lines, which is most of a drawing, are
// painted as rectangles; short curves are kept.
func (s *Screen) path(to surface, p Path, v View) {
	at := func(q [2]float64) dot {
		x, y := v.ToScreen(model.Point{X: q[0], Y: q[1]})
		return dot{x, y}
	}
	if p.Style.Fill != None {
		s.fill(to, p.Segments, at, p.Style.Fill)
	}
	if p.Style.Stroke == None || p.Style.Width <= 0 {
		return
	}
	width := max(p.Style.Width*v.Zoom, leastStroke)
	ink := word(s.pal.Colour(p.Style.Stroke))
	if p.Style.Stroke == Faint && p.Style.Width*v.Zoom < leastStroke {
		// What stands back must not come forward because it cannot get thinner.
		ink = scaled(ink, uint32(255*max(p.Style.Width*v.Zoom/leastStroke, leastFaint)))
	}
	if dash := scaledDash(p.Style.Dash, v.Zoom); dash != nil {
		for _, c := range flatten(p.Segments, at) {
			for _, piece := range c.dashed(dash) {
				s.line(to, piece, width, ink)
			}
		}
		return
	}
	if hasCurve(p.Segments) && !s.mixed(to, p, v, at, width, ink) {
		for _, c := range flatten(p.Segments, at) {
			s.filler.fill(to, stroked(c, width), ink)
		}
		return
	} else if hasCurve(p.Segments) {
		return
	}
	for _, c := range flatten(p.Segments, at) {
		s.line(to, c, width, ink)
	}
}

// scaledDash gives a dash pattern in pixels, longer if it would be too fine to be
// seen; nil if it is unbroken.
func scaledDash(dash []float64, zoom float64) []float64 {
	if len(dash) == 0 {
		return nil
	}
	finest := slices.Min(dash)
	if !(finest > 0) {
		return nil
	}
	zoom = max(zoom, leastDash/finest)
	out := make([]float64, len(dash))
	for i, d := range dash {
		out[i] = d * zoom
	}
	return out
}

func hasCurve(segments []catalogue.Segment) bool {
	for i := range segments {
		if segments[i].Op == 'C' {
			return true
		}
	}
	return false
}

// fill paints the inside of a path.
func (s *Screen) fill(to surface, segments []catalogue.Segment, at func([2]float64) dot, role Role) {
	ink := word(s.pal.Colour(role))
	contours := flatten(segments, at)
	rings := make([][]dot, len(contours))
	for i, c := range contours {
		rings[i] = c.dots
	}
	if len(rings) == 1 {
		if a, b, ok := upright(rings[0]); ok {
			to.rect(a.x, a.y, b.x, b.y, ink)
			return
		}
	}
	s.filler.fill(to, rings, ink)
}

// upright says whether a ring is an upright rectangle, and gives its corners.
func upright(ring []dot) (a, b dot, ok bool) {
	if len(ring) == 5 && ring[4] == ring[0] {
		ring = ring[:4]
	}
	if len(ring) != 4 {
		return a, b, false
	}
	for i, p := range ring {
		q := ring[(i+1)%4]
		if p.x != q.x && p.y != q.y {
			return a, b, false
		}
	}
	a, b = ring[0], ring[0]
	for _, p := range ring[1:] {
		a, b = dot{min(a.x, p.x), min(a.y, p.y)}, dot{max(b.x, p.x), max(b.y, p.y)}
	}
	return a, b, true
}

// line paints an unbroken line without curves.
func (s *Screen) line(to surface, c contour, width float64, ink uint32) {
	dots := c.dots
	if c.closed {
		dots = append(dots[:len(dots):len(dots)], dots[0])
	}
	for i := 1; i < len(dots); i++ {
		if !straight(dots[i-1], dots[i]) {
			s.filler.fill(to, stroked(c, width), ink)
			return
		}
	}
	half := width / 2
	for i := 1; i < len(dots); i++ {
		a, b := dots[i-1], dots[i]
		to.rect(min(a.x, b.x)-half, min(a.y, b.y)-half, max(a.x, b.x)+half, max(a.y, b.y)+half, ink)
	}
}

// straight says whether a piece is level or upright to a hundredth of a pixel.
func straight(a, b dot) bool { return math.Abs(a.x-b.x) < 0.01 || math.Abs(a.y-b.y) < 0.01 }

// mixed paints a line of level and upright pieces with short curves between, as
// the hops of runs are. It paints nothing and gives false for another path.
func (s *Screen) mixed(to surface, p Path, v View, at func([2]float64) dot, width float64, ink uint32) bool {
	var from [2]float64
	for i := range p.Segments {
		seg := &p.Segments[i]
		switch seg.Op {
		case 'L':
			if !straight(at(from), at(seg.P[0])) {
				return false
			}
			from = seg.P[0]
		case 'M':
			from = seg.P[0]
		case 'C':
			if math.Abs(seg.P[2][0]-from[0])+math.Abs(seg.P[2][1]-from[1]) > 10 {
				return false
			}
			from = seg.P[2]
		default:
			return false
		}
	}
	half := width / 2
	for i := range p.Segments {
		seg := &p.Segments[i]
		switch seg.Op {
		case 'L':
			a, b := at(from), at(seg.P[0])
			to.rect(min(a.x, b.x)-half, min(a.y, b.y)-half, max(a.x, b.x)+half, max(a.y, b.y)+half, ink)
			from = seg.P[0]
		case 'M':
			from = seg.P[0]
		case 'C':
			s.curve(to, from, seg, v, p.Style)
			from = seg.P[2]
		}
	}
	return true
}
