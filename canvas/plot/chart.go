package plot

import (
	"math"

	"rinsewright/canvas/draw"
	"rinsewright/model"
)

// Chart is what a plot shows. Numbers are in the units that its axes name.
type Chart struct {
	Title string
	X, Y  Axis
	Lines []Line
	Dots  []Dot

	Uprights []Upright
	Left     float64 // mm that are left of the axis at least, so that charts above each other line up
	Compact  bool    // for little room: the names of the axes are left out and the legend stands beside the title
}

// Upright is an upright line across the chart, such as where a step begins.
type Upright struct {
	At   float64
	Text string // at its head, to its right
}

// Axis is one axis: a quantity with its unit, and what it must reach at least.
type Axis struct {
	Name       string  // "Flow, m³/h"
	FromZero   bool    // begins at zero although the values do not
	Tight      bool    // ends with the last value, not with a round number
	Least, End float64 // must be within the axis; both zero: the values decide
}

// Line is one curve. A NaN in it is a gap.
type Line struct {
	Name   string // beside its end and in the legend
	Points [][2]float64
	Role   draw.Role
	Dash   []float64 // mm; nil: unbroken. Lines are told apart by dash as well as by colour
}

// Dot is one marked point with its words.
type Dot struct {
	At   [2]float64
	Text string
	Role draw.Role
}

// Sizes in mm.
const (
	textHeight  = 2.3
	smallText   = 1.8
	titleHeight = 2.8
	gap         = 2.0
	tick        = 1.2
	thin        = 0.18
	axisLine    = 0.35
	stepLine    = 0.45
	curveLine   = 0.6
	dotRadius   = 1.1
	sample      = 7.5 // of a line in the legend
	legendPitch = 4.0
)

// frame is where the curves lie in the picture, and how values become places.
type frame struct {
	left, top, right, bottom float64 // mm
	x, y                     scale
}

func (f frame) at(p [2]float64) model.Point {
	return model.Point{X: f.left + f.x.share(p[0])*(f.right-f.left), Y: f.bottom - f.y.share(p[1])*(f.bottom-f.top)}
}

// Picture draws the chart in a box of width by height mm. A chart without a
// single value gives its axes and the words "no values".
func (c Chart) Picture(width, height float64) *draw.Picture {
	p := &draw.Picture{}
	f := c.frame(width, height)
	p.Add(draw.LayerSheet, "", draw.Path{Segments: draw.Polyline([]model.Point{{}, {X: width, Y: height}}), Style: draw.Style{}})
	c.axes(p, f)
	c.uprights(p, f)
	empty := true
	for _, l := range c.Lines {
		empty = c.line(p, f, l) && empty
	}
	for _, d := range c.Dots {
		c.dot(p, f, d)
		empty = false
	}
	if empty {
		p.Add(draw.LayerLabel, "", draw.Text{At: model.Point{X: (f.left + f.right) / 2, Y: (f.top + f.bottom) / 2}, String: "no values", Height: textHeight, Role: draw.Faint})
	}
	c.legend(p, f)
	p.Add(draw.LayerSheet, "", draw.Text{At: model.Point{X: f.left, Y: titleHeight}, String: c.Title, Height: titleHeight, Anchor: draw.Start, Role: draw.Ink})
	return p
}

func (c Chart) frame(width, height float64) frame {
	var xs, ys []float64
	for _, l := range c.Lines {
		for _, q := range l.Points {
			if !math.IsNaN(q[0]) && !math.IsNaN(q[1]) {
				xs, ys = append(xs, q[0]), append(ys, q[1])
			}
		}
	}
	for _, d := range c.Dots {
		xs, ys = append(xs, d.At[0]), append(ys, d.At[1])
	}
	for _, u := range c.Uprights {
		xs = append(xs, u.At)
	}
	f := frame{x: newScale(c.X, xs), y: newScale(c.Y, ys)}
	wide := 0.0
	for _, v := range f.y.ticks() {
		wide = max(wide, draw.TextWidth(f.y.text(v), textHeight))
	}
	f.left = 2*textHeight + wide + 2*gap + tick
	if c.Compact {
		f.left = wide + 1.5*gap + tick
	}
	f.left = max(f.left, c.Left)
	f.right = width - 4*gap
	rows := 1
	c.eachEntry(f.left, f.right, func(row int, _ float64, _ Line) { rows = row + 1 })
	f.top = 3*titleHeight + textHeight + gap + float64(rows-1)*legendPitch
	if c.Compact {
		f.right = width - 2*gap
		f.top = 2*titleHeight + float64(rows)*legendPitch
		if _, ok := c.besideTitle(f); ok {
			f.top -= float64(rows) * legendPitch
		}
	}
	if len(c.Uprights) > 0 {
		f.top += 1.5 * smallText // for their texts
	}
	f.bottom = height - 3*textHeight - 2*gap - tick
	if c.Compact {
		f.bottom = height - 1.5*textHeight - gap - tick
	}
	return f
}

func (c Chart) axes(p *draw.Picture, f frame) {
	grid := draw.Style{Stroke: draw.Faint, Width: thin}
	for _, v := range f.x.ticks() {
		at := f.at([2]float64{v, f.y.from})
		p.Add(draw.LayerFrame, "", draw.Path{Segments: draw.Polyline([]model.Point{{X: at.X, Y: f.top}, {X: at.X, Y: f.bottom + tick}}), Style: grid})
		p.Add(draw.LayerLabel, "", draw.Text{At: model.Point{X: at.X, Y: f.bottom + tick + gap}, String: f.x.text(v), Height: textHeight, Role: draw.Ink})
	}
	for _, v := range f.y.ticks() {
		at := f.at([2]float64{f.x.from, v})
		p.Add(draw.LayerFrame, "", draw.Path{Segments: draw.Polyline([]model.Point{{X: f.left - tick, Y: at.Y}, {X: f.right, Y: at.Y}}), Style: grid})
		p.Add(draw.LayerLabel, "", draw.Text{At: model.Point{X: f.left - tick - gap/2, Y: at.Y}, String: f.y.text(v), Height: textHeight, Anchor: draw.End, Role: draw.Ink})
	}
	axis := []model.Point{{X: f.left, Y: f.top}, {X: f.left, Y: f.bottom}, {X: f.right, Y: f.bottom}}
	p.Add(draw.LayerFrame, "", draw.Path{Segments: draw.Polyline(axis), Style: draw.Style{Stroke: draw.Ink, Width: axisLine}})
	if c.Compact {
		return
	}
	p.Add(draw.LayerLabel, "", draw.Text{At: model.Point{X: (f.left + f.right) / 2, Y: f.bottom + tick + 2*gap + 1.5*textHeight}, String: c.X.Name, Height: textHeight, Role: draw.Ink})
	p.Add(draw.LayerLabel, "", draw.Text{At: model.Point{X: textHeight, Y: (f.top + f.bottom) / 2}, String: c.Y.Name, Height: textHeight, Turn: 3, Role: draw.Ink})
}

// uprights draws the upright lines; a text that would run into the next one is left
// out.
func (c Chart) uprights(p *draw.Picture, f frame) {
	for i, u := range c.Uprights {
		at := f.at([2]float64{u.At, f.y.from})
		p.Add(draw.LayerFrame, "", draw.Path{Segments: draw.Polyline([]model.Point{{X: at.X, Y: f.top}, {X: at.X, Y: f.bottom}}), Style: draw.Style{Stroke: draw.Faint, Width: stepLine}})
		end := f.right
		if i+1 < len(c.Uprights) {
			end = f.at([2]float64{c.Uprights[i+1].At, f.y.from}).X
		}
		if at.X+draw.TextWidth(u.Text, smallText)+gap/2 < end {
			p.Add(draw.LayerLabel, "", draw.Text{At: model.Point{X: at.X + gap/4, Y: f.top - smallText}, String: u.Text, Height: smallText, Anchor: draw.Start, Role: draw.Ink})
		}
	}
}

// line draws one curve and says whether there was nothing to draw.
func (c Chart) line(p *draw.Picture, f frame, l Line) (empty bool) {
	style := draw.Style{Stroke: l.Role, Width: curveLine, Dash: l.Dash}
	var piece []model.Point
	flush := func() {
		if len(piece) > 1 {
			p.Add(draw.LayerRun, "", draw.Path{Segments: draw.Polyline(piece), Style: style})
		}
		piece = nil
	}
	empty = true
	for _, q := range l.Points {
		if math.IsNaN(q[0]) || math.IsNaN(q[1]) {
			flush()
			continue
		}
		piece = append(piece, f.at(q))
		empty = false
	}
	flush()
	return empty
}

func (c Chart) dot(p *draw.Picture, f frame, d Dot) {
	at := f.at(d.At)
	p.Add(draw.LayerMark, "", draw.Path{Segments: draw.Circle(at, dotRadius), Style: draw.Style{Stroke: d.Role, Width: axisLine, Fill: draw.Paper}})
	t := draw.Text{At: model.Point{X: at.X + 2*dotRadius, Y: at.Y - textHeight}, String: d.Text, Height: textHeight, Anchor: draw.Start, Role: draw.Ink}
	if at.X+2*dotRadius+draw.TextWidth(d.Text, textHeight) > f.right {
		t.Anchor, t.At.X = draw.End, at.X-2*dotRadius
	}
	if t.At.Y < f.top+textHeight {
		t.At.Y = at.Y + 1.5*textHeight
	}
	// The label stands clear of the curves that it lies over.
	wide := draw.TextWidth(d.Text, textHeight)
	left := t.At.X
	if t.Anchor == draw.End {
		left -= wide
	}
	box := draw.Across(model.Point{X: left - gap/4, Y: t.At.Y - 0.8*textHeight}, model.Point{X: left + wide + gap/4, Y: t.At.Y + 0.8*textHeight})
	p.Add(draw.LayerMark, "", draw.Path{Segments: box, Style: draw.Style{Fill: draw.Paper}})
	p.Add(draw.LayerLabel, "", t)
}

// legend names the lines under the title, in rows.
func (c Chart) legend(p *draw.Picture, f frame) {
	left, top := f.left, 2.2*titleHeight+textHeight
	if c.Compact {
		top = titleHeight + legendPitch
		if at, ok := c.besideTitle(f); ok {
			left, top = at, titleHeight
		}
	}
	c.eachEntry(left, f.right, func(row int, x float64, l Line) {
		y := top + float64(row)*legendPitch
		p.Add(draw.LayerSheet, "", draw.Path{Segments: draw.Polyline([]model.Point{{X: x, Y: y}, {X: x + sample, Y: y}}), Style: draw.Style{Stroke: l.Role, Width: curveLine, Dash: l.Dash}})
		p.Add(draw.LayerSheet, "", draw.Text{At: model.Point{X: x + sample + gap/2, Y: y}, String: l.Name, Height: textHeight, Anchor: draw.Start, Role: draw.Ink})
	})
}

// besideTitle gives where the legend begins if all of it has room beside the title.
func (c Chart) besideTitle(f frame) (left float64, ok bool) {
	left = f.left + draw.TextWidth(c.Title, titleHeight) + 2*gap
	end := left
	for _, l := range c.Lines {
		end += sample + gap/2 + draw.TextWidth(l.Name, textHeight) + 2*gap
	}
	return left, end-2*gap <= f.right
}

// eachEntry gives row and left end of each entry of the legend between two ends.
func (c Chart) eachEntry(left, right float64, do func(row int, x float64, l Line)) {
	row, x := 0, left
	for _, l := range c.Lines {
		if l.Name == "" {
			continue
		}
		wide := sample + gap/2 + draw.TextWidth(l.Name, textHeight)
		if x > left && x+wide > right {
			row, x = row+1, left
		}
		do(row, x, l)
		x += wide + 2*gap
	}
}
