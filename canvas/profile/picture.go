package profile

import (
	"fmt"
	"math"
	"slices"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/canvas/plot"
	"rinsewright/model"
	. "rinsewright/model/quantity"
)

// View is a profile drawn in a box of width by height mm.
type View struct {
	Of            *Profile
	Title         string
	System        System
	Width, Height float64 // mm
	Picked        model.ID
	Least, Most   float64 // m that the axis of heights holds at least; both zero: the profile decides
}

// Sizes in mm.
const (
	tube      = 0.6
	thin      = 0.18
	small     = 1.8
	word      = 2.1
	signSize  = 1.4
	tagsApart = 2.6
	tagRoom   = 14.0 // at the head, for the tags of parts
	slopeRoom = 9.0  // a stretch that is drawn shorter has no figure
)

var notToScale = []float64{1.2, 1}

func (v View) units() (x, y Unit) {
	u := DisplayUnit[Length](v.System)
	return u, u
}

// chart gives axes that hold all stops and levels.
func (v View) chart() plot.Chart {
	ux, uy := v.units()
	var points [][2]float64
	for _, s := range v.Of.Stops {
		if z, ok := s.Height.Get(); ok {
			points = append(points, [2]float64{ux.FromSI(s.Distance), uy.FromSI(float64(z))})
		}
	}
	for i := range v.Of.Legs {
		if z, ok := v.Of.Legs[i].Level.Get(); ok {
			points = append(points, [2]float64{ux.FromSI(v.Of.Stops[i].Distance), uy.FromSI(float64(z))})
		}
	}
	title := v.Title
	for i := range v.Of.Legs {
		if v.Of.Legs[i].Nominal && v.Of.Legs[i].Part == "" {
			title += " (dashed: length not known, not to scale)"
			break
		}
	}
	return plot.Chart{Title: title,
		X:     plot.Axis{Name: "Distance along the way, as on a plan, " + ux.Name, FromZero: true, Tight: true},
		Y:     plot.Axis{Name: "Height, " + uy.Name, Least: uy.FromSI(v.Least), End: uy.FromSI(v.Most)},
		Lines: []plot.Line{{Points: points, Role: draw.None}}}
}

// At gives where a stop lies on the picture; not ok if its height is not known.
func (v View) At(stop int) (model.Point, bool) {
	s := v.Of.Stops[stop]
	z, ok := s.Height.Get()
	if !ok {
		return model.Point{}, false
	}
	return v.at(s.Distance, float64(z)), true
}

func (v View) at(distance, height float64) model.Point {
	ux, uy := v.units()
	return v.chart().PlaceOf(v.Width, v.Height, ux.FromSI(distance), uy.FromSI(height))
}

// Fall gives the difference of height in m that a distance down the picture, in
// mm, stands for; negative is upwards.
func (v View) Fall(down float64) float64 {
	a, b := v.at(0, 0), v.at(0, 1)
	return down / (a.Y - b.Y)
}

// Heights gives the heights in m at the lower and upper end of the axis.
func (v View) Heights() (least, most float64) {
	leftTop, rightBottom := v.chart().Frame(v.Width, v.Height)
	base := v.at(0, 0)
	return v.Fall(base.Y - rightBottom.Y), v.Fall(base.Y - leftTop.Y)
}

// Near gives the stop nearest to a place of the picture within reach mm, or -1.
func (v View) Near(at model.Point, reach float64) int {
	best, far := -1, reach
	place := v.placer()
	for i, s := range v.Of.Stops {
		if z, ok := s.Height.Get(); ok {
			p := place(s.Distance, float64(z))
			if d := math.Hypot(p.X-at.X, p.Y-at.Y); d <= far {
				best, far = i, d
			}
		}
	}
	return best
}

// placer is at, with the axes worked out once.
func (v View) placer() func(distance, height float64) model.Point {
	a, b := v.at(0, 0), v.at(1, 1)
	return func(distance, height float64) model.Point {
		return model.Point{X: a.X + distance*(b.X-a.X), Y: a.Y + height*(b.Y-a.Y)}
	}
}

// Picture draws the profile. Liquid that stays fills the line up to its level;
// stretches are told apart by dash and words as well as by colour.
func (v View) Picture() *draw.Picture {
	p := v.chart().Picture(v.Width, v.Height)
	if len(v.Of.Legs) == 0 {
		return p
	}
	d := &drawing{v: v, pic: p, place: v.placer()}
	d.leftTop, d.rightBottom = v.chart().Frame(v.Width, v.Height)
	for i := range v.Of.Legs {
		d.liquid(i)
		d.air(i)
	}
	for i := range v.Of.Legs {
		d.leg(i)
	}
	d.marks()
	return p
}

type drawing struct {
	v                    View
	pic                  *draw.Picture
	place                func(distance, height float64) model.Point
	leftTop, rightBottom model.Point
	lastTag              float64
	taken                []place.Rect // by words
}

func (d *drawing) stop(i int) (distance, height float64, ok bool) {
	s := d.v.Of.Stops[i]
	z, ok := s.Height.Get()
	return s.Distance, float64(z), ok
}

func (d *drawing) add(segments []model.Point, style draw.Style, id model.ID) {
	s := draw.Polyline(segments)
	d.pic.Add(draw.LayerRun, id, draw.Path{Segments: s, Style: style})
}

// liquid fills a leg between the tube and the level to which liquid stands in it.
func (d *drawing) liquid(i int) {
	leg := d.v.Of.Legs[i]
	level, ok := leg.Level.Get()
	if !ok {
		return
	}
	d.fill(i, float64(level), draw.OfMedium(model.Water), 1)
}

func (d *drawing) air(i int) {
	if down, ok := d.v.Of.Legs[i].AirDown.Get(); ok {
		d.fill(i, float64(down), draw.OfMedium(model.Air), -1)
	}
}

// fill fills what of a leg lies below a level (sign 1), or above it (-1).
func (d *drawing) fill(i int, level float64, role draw.Role, sign float64) {
	x0, z0, ok0 := d.stop(i)
	x1, z1, ok1 := d.stop(i + 1)
	if !ok0 || !ok1 {
		return
	}
	under := func(z float64) float64 { return sign * (level - z) }
	if under(z0) <= 0 && under(z1) <= 0 {
		return
	}
	if under(z0) < 0 {
		k := under(z0) / (under(z0) - under(z1))
		x0, z0 = x0+k*(x1-x0), level
	}
	if under(z1) < 0 {
		k := under(z0) / (under(z0) - under(z1))
		x1, z1 = x0+k*(x1-x0), level
	}
	corners := []model.Point{d.place(x0, z0), d.place(x1, z1), d.place(x1, level), d.place(x0, level), d.place(x0, z0)}
	d.add(corners, draw.Style{Fill: role}, "")
}

// leg draws a piece of the tube, and how it falls.
func (d *drawing) leg(i int) {
	leg := d.v.Of.Legs[i]
	x0, z0, ok0 := d.stop(i)
	x1, z1, ok1 := d.stop(i + 1)
	if !ok0 || !ok1 {
		return
	}
	a, b := d.place(x0, z0), d.place(x1, z1)
	style := draw.Style{Stroke: draw.Ink, Width: tube}
	if leg.Nominal && leg.Part == "" {
		style.Dash = notToScale
	}
	id := leg.Run + leg.Part
	switch leg.Verdict {
	case FallLittle:
		style.Stroke = draw.Warning
	case FallAgainst:
		style.Stroke = draw.Error
	}
	if d.v.Picked != "" && id == d.v.Picked {
		d.add([]model.Point{a, b}, draw.Style{Stroke: draw.Accent, Width: 4 * tube}, id)
	}
	d.add([]model.Point{a, b}, style, id)
	text := d.slope(leg)
	if text == "" || math.Abs(b.X-a.X) < max(slopeRoom, draw.TextWidth(text, small)) {
		return
	}
	at := model.Point{X: (a.X + b.X) / 2, Y: (a.Y+b.Y)/2 + 1.6*small}
	if at.Y+small > d.rightBottom.Y {
		at.Y = (a.Y+b.Y)/2 - 1.6*small
	}
	role := draw.Ink
	if leg.Verdict == FallLittle || leg.Verdict == FallAgainst {
		role = style.Stroke
	}
	if wide := draw.TextWidth(text, small); d.take(at.X-wide/2, at.Y, wide) {
		d.pic.Add(draw.LayerLabel, id, draw.Text{At: at, String: text, Height: small, Role: role})
	}
}

// take takes room for words of a width from their left end, and says whether it
// was free.
func (d *drawing) take(left, y, wide float64) bool {
	r := place.Spanned(model.Point{X: left - 0.4, Y: y - 0.8*word}, model.Point{X: left + wide + 0.4, Y: y + 0.8*word})
	for _, other := range d.taken {
		if other.Touches(r) {
			return false
		}
	}
	d.taken = append(d.taken, r)
	return true
}

// slope tells the fall of a stretch beside the limit.
func (d *drawing) slope(leg Leg) string {
	fall, ok := leg.Fall.Get()
	if !ok {
		return ""
	}
	pct := 100 * float64(fall)
	text := fmt.Sprintf("%.2g %%", math.Abs(pct))
	if math.Abs(pct) < 0.005 {
		text = "level"
	}
	switch leg.Verdict {
	case FallLittle:
		return fmt.Sprintf("%s, least %.2g %%", text, 100*d.v.Of.LeastFall)
	case FallAgainst:
		return text + " the wrong way"
	}
	return text
}

func (d *drawing) marks() {
	d.lastTag = math.Inf(-1)
	// What stays is told before what hangs where: the first words find room.
	marks := slices.Clone(d.v.Of.Marks)
	rank := func(m Mark) int {
		if m.Sign == SignPool || m.Sign == SignPocket {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(marks, func(a, b Mark) int { return rank(a) - rank(b) })
	for _, m := range marks {
		x, z, ok := d.stop(m.Stop)
		if !ok {
			continue
		}
		at := d.place(x, z)
		switch m.Sign {
		case SignPart:
			d.tag(m, at)
		case SignDrain, SignVent:
			d.sign(m, at)
		case SignSill:
			d.pic.Add(draw.LayerMark, "", draw.Path{Segments: draw.Circle(at, signSize/2), Style: draw.Style{Stroke: draw.Warning, Width: 2 * thin}})
		case SignPool, SignPocket:
			d.body(m, at)
		}
	}
}

// tag names a part at the head of the field, where there is room.
func (d *drawing) tag(m Mark, at model.Point) {
	part := d.v.Of.Plant.Circuit.Part(m.Part)
	if part == nil {
		return
	}
	d.pic.Add(draw.LayerMark, m.Part, draw.Path{Segments: draw.Circle(at, tube), Style: draw.Style{Stroke: draw.Ink, Width: 2 * thin, Fill: draw.Paper}})
	tag := part.Meta().Tag
	if tag == "" || at.X-d.lastTag < tagsApart {
		return
	}
	d.lastTag = at.X
	wide := draw.TextWidth(tag, small)
	top := max(d.leftTop.Y+wide/2+1, at.Y-wide/2-3*small)
	if top+wide/2 > at.Y-small { // no room above: below the line
		top = at.Y + wide/2 + 3*small
	} else {
		top = d.leftTop.Y + wide/2 + 1
		d.pic.Add(draw.LayerFrame, "", draw.Path{Segments: draw.Polyline([]model.Point{{X: at.X, Y: top + wide/2 + 0.5}, {X: at.X, Y: at.Y - tube}}), Style: draw.Style{Stroke: draw.Faint, Width: thin}})
	}
	d.pic.Add(draw.LayerTag, m.Part, draw.Text{At: model.Point{X: at.X, Y: top}, String: tag, Height: small, Turn: 3, Role: draw.Ink})
}

// sign draws where a drain or a vent hangs on the line: an arrow out of it.
func (d *drawing) sign(m Mark, at model.Point) {
	way, word := 1.0, "drain "
	if m.Sign == SignVent {
		way, word = -1, "vent "
	}
	if part := d.v.Of.Plant.Circuit.Part(m.Part); part != nil {
		word += part.Meta().Tag
	}
	tip := model.Point{X: at.X, Y: at.Y + way*4*signSize}
	d.add([]model.Point{at, tip}, draw.Style{Stroke: draw.Accent, Width: 2 * thin}, m.Part)
	base := tip.Y - way*1.5*signSize
	d.add([]model.Point{tip, {X: tip.X - signSize/2, Y: base}, {X: tip.X + signSize/2, Y: base}, tip}, draw.Style{Fill: draw.Accent}, m.Part)
	d.words(word, model.Point{X: tip.X + signSize, Y: tip.Y}, draw.Accent, m.Part)
}

// body tells of liquid or air that stays.
func (d *drawing) body(m Mark, at model.Point) {
	how, role := "liquid stays", draw.Error
	y := at.Y + 3.4*small
	if y+word > d.rightBottom.Y {
		y = at.Y - 3*small
	}
	if m.Sign == SignPocket {
		how, role, y = "air unless swept", draw.Advice, at.Y-3*small
	}
	text := how
	if v, ok := m.Volume.Get(); ok {
		text = Text(v, d.v.System) + " " + how
	}
	d.pic.Add(draw.LayerMark, "", draw.Path{Segments: draw.Circle(at, signSize), Style: draw.Style{Stroke: role, Width: 2 * thin}})
	d.words(text, model.Point{X: at.X + signSize, Y: y}, role, "")
}

// words writes beside a place, on the side where there is room, over a ground of
// paper.
func (d *drawing) words(text string, at model.Point, role draw.Role, id model.ID) {
	wide := draw.TextWidth(text, word)
	t := draw.Text{At: at, String: text, Height: word, Anchor: draw.Start, Role: role}
	left := at.X
	if at.X+wide > d.rightBottom.X {
		t.Anchor, t.At.X = draw.End, at.X-2*signSize
		left = t.At.X - wide
	}
	for try := 0; !d.take(left, t.At.Y, wide); try++ {
		if try == 3 {
			return // the sign speaks for itself
		}
		t.At.Y += 1.7 * word
	}
	at = t.At
	box := draw.Across(model.Point{X: left - 0.4, Y: at.Y - 0.8*word}, model.Point{X: left + wide + 0.4, Y: at.Y + 0.8*word})
	d.pic.Add(draw.LayerMark, "", draw.Path{Segments: box, Style: draw.Style{Fill: draw.Paper}})
	d.pic.Add(draw.LayerLabel, id, t)
}
