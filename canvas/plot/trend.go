package plot

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/quantity"
	"rinsewright/model/wash"
)

// Trend is a quantity that is shown over the time of a programme.
type Trend string

const (
	Temperature  Trend = "temperature"
	Conductivity Trend = "conductivity"
	Flow         Trend = "flow"
	Level        Trend = "level"
)

// Trends lists the quantities.
func Trends() []Trend { return []Trend{Temperature, Conductivity, Flow, Level} }

// Title gives a trend as a menu names it: "Temperature".
func (t Trend) Title() string {
	if t == Level {
		return "Tank levels"
	}
	return strings.ToUpper(string(t[:1])) + string(t[1:])
}

// Ends of the way at which trends are kept in every step.
const (
	Supply = "supply"
	Return = "return"
)

// TrendPlaces lists where a record keeps trends: supply and return first, then
// parts and runs in the order in which they come along the way.
func TrendPlaces(r *wash.Record) []string {
	var out, others []string
	for _, t := range r.Trends {
		switch {
		case t.What == Supply || t.What == Return:
			if !slices.Contains(out, t.What) {
				out = append(out, t.What)
			}
		case !slices.Contains(others, t.What):
			others = append(others, t.What)
		}
	}
	slices.Sort(out)
	slices.Reverse(out) // supply before return
	return append(out, others...)
}

// TrendOptions say what is drawn of a record.
type TrendOptions struct {
	Places []string // of [TrendPlaces]; levels are of tanks and do not depend on them
	Name   func(model.ID) string
	System quantity.System
	Number func(*model.Step) int // of a step within its programme, from 1; nil: its place in the record
}

// TrendChart draws a quantity over the time of a programme, in minutes, with the
// steps marked by their numbers.
func TrendChart(r *wash.Record, of Trend, o TrendOptions) Chart {
	c := Chart{Title: of.Title(), X: Axis{Name: "Time, min", FromZero: true, Tight: true}}
	for i, s := range r.Steps {
		if s.Time <= 0 {
			continue
		}
		n := i + 1
		if o.Number != nil {
			n = o.Number(s.Step)
		}
		c.Uprights = append(c.Uprights, Upright{At: minutes(s.Start), Text: fmt.Sprint(n)})
	}
	c.X.End = minutes(r.Cycle)
	if of == Level {
		c.levels(r, o)
		return c
	}
	unit := quantity.DisplayUnit[quantity.Temperature](o.System)
	value := func(x wash.Sample) (float64, bool) {
		v, ok := x.Temperature.Get()
		return unit.FromSI(float64(v)), ok
	}
	switch of {
	case Conductivity:
		unit = quantity.DisplayUnit[quantity.Conductivity](o.System)
		value = func(x wash.Sample) (float64, bool) {
			v, ok := x.At25.Get() // as meters show it, and as the ends of steps are told
			return unit.FromSI(float64(v)), ok
		}
	case Flow:
		unit = quantity.DisplayUnit[quantity.Flow](o.System)
		value = func(x wash.Sample) (float64, bool) { return unit.FromSI(float64(x.Flow)), true }
	}
	c.Y = Axis{Name: of.Title() + ", " + unit.Name, FromZero: of != Temperature}
	if of == Conductivity {
		c.Y.Name = "Conductivity at 25 °C, " + unit.Name
	}
	for i, place := range o.Places {
		l := lineStyle(i)
		l.Name = place
		l.Points = points(r, place, value)
		if slices.ContainsFunc(l.Points, func(p [2]float64) bool { return !math.IsNaN(p[1]) }) {
			c.Lines = append(c.Lines, l)
		}
	}
	return c
}

func minutes(t quantity.Duration) float64 { return float64(t) / 60 }

// lineStyle gives the look of line i of a chart: told apart by colour and by dash.
func lineStyle(i int) Line {
	roles := []draw.Role{draw.Accent, draw.Ink, draw.Warning, draw.Advice, draw.Accepted, draw.Error}
	dashes := [][]float64{nil, {2.5, 1.2}, {1, 0.8}, {4, 1, 1, 1}, nil, {2.5, 1.2}}
	i %= len(roles)
	return Line{Role: roles[i], Dash: dashes[i]}
}

// points gives a value at a place over time; a gap where nothing passes. The return
// of one programme may lie at several destinations, one after the other.
func points(r *wash.Record, place string, value func(wash.Sample) (float64, bool)) [][2]float64 {
	var all []wash.Sample
	for _, t := range r.Trends {
		if t.What == place {
			all = append(all, t.Points...)
		}
	}
	slices.SortStableFunc(all, func(a, b wash.Sample) int {
		switch {
		case a.Time < b.Time:
			return -1
		case a.Time > b.Time:
			return 1
		}
		return 0
	})
	hole := [2]float64{math.NaN(), math.NaN()}
	var out [][2]float64
	for i, x := range all {
		if i > 0 && x.Step > all[i-1].Step+1 || i > 0 && x.Step != all[i-1].Step && x.Time-all[i-1].Time > 1 {
			out = append(out, hole) // a step between in which nothing flowed
		}
		v, ok := value(x)
		if !ok {
			if n := len(out); n > 0 && !math.IsNaN(out[n-1][0]) {
				out = append(out, hole)
			}
			continue
		}
		out = append(out, [2]float64{minutes(x.Time), v})
	}
	return thinned(out)
}

// thinned leaves out points between two of the same value.
func thinned(in [][2]float64) [][2]float64 {
	out := in[:0:0]
	for i, p := range in {
		if i > 0 && i+1 < len(in) && in[i-1][1] == p[1] && p[1] == in[i+1][1] {
			continue
		}
		out = append(out, p)
	}
	return out
}

func (c *Chart) levels(r *wash.Record, o TrendOptions) {
	unit := quantity.DisplayUnit[quantity.Length](o.System)
	c.Y = Axis{Name: "Level, " + unit.Name, FromZero: true}
	for i, t := range r.Tanks {
		l := lineStyle(i)
		l.Name = o.Name(t.Vessel)
		known := false
		for _, x := range t.Points {
			v, ok := x.Level.Get()
			if !ok {
				l.Points = append(l.Points, [2]float64{math.NaN(), math.NaN()})
				continue
			}
			known = true
			l.Points = append(l.Points, [2]float64{minutes(x.Time), unit.FromSI(float64(v))})
		}
		l.Points = thinned(l.Points)
		if known {
			c.Lines = append(c.Lines, l)
		}
	}
}

// ValuesAt gives the value of each line at x, on the straight line between its
// points; NaN where it has none.
func (c Chart) ValuesAt(x float64) []float64 {
	out := make([]float64, len(c.Lines))
	for i, l := range c.Lines {
		out[i] = math.NaN()
		for j, p := range l.Points {
			if math.IsNaN(p[0]) {
				continue
			}
			if p[0] > x+1e-9 {
				break
			}
			out[i] = p[1]
			switch last := j+1 == len(l.Points); {
			case last || math.IsNaN(l.Points[j+1][0]):
				if x > p[0]+1e-6 {
					out[i] = math.NaN() // nothing passes
				}
			case l.Points[j+1][0] > x && l.Points[j+1][0] > p[0]:
				q := l.Points[j+1]
				out[i] = p[1] + (x-p[0])/(q[0]-p[0])*(q[1]-p[1])
			}
		}
	}
	return out
}

// Head gives the line of the title, in mm: where what stands on it ends, and how high the
// line is. In a compact chart the legend may stand on it too.
func (c Chart) Head(width, height float64) (end, high float64) {
	f := c.frame(width, height)
	end = f.left + draw.TextWidth(c.Title, titleHeight)
	if at, ok := c.besideTitle(f); ok && c.Compact {
		end = at
		for _, l := range c.Lines {
			if l.Name != "" {
				end += sample + gap/2 + draw.TextWidth(l.Name, textHeight) + 2*gap
			}
		}
	}
	return end, 1.8 * titleHeight
}

// Upright gives where x lies in the picture of width by height mm: its distance
// from the left, and the ends of the chart above and below.
func (c Chart) Upright(width, height, x float64) (at, top, bottom float64) {
	f := c.frame(width, height)
	p := f.at([2]float64{x, f.y.from})
	return p.X, f.top, f.bottom
}

// Stacked draws charts under one another on one sheet of a width, each of a
// height, in mm, beneath a title and above a remark.
func Stacked(charts []Chart, title, remark string, width, height float64) *draw.Picture {
	const border = 5.0
	p := &draw.Picture{}
	p.Add(draw.LayerSheet, "", draw.Text{At: model.Point{X: border, Y: 2 * titleHeight}, String: title, Height: titleHeight, Anchor: draw.Start, Role: draw.Ink})
	y := 4 * titleHeight
	left := 0.0
	for _, c := range charts {
		left = max(left, c.frame(width, height).left)
	}
	for _, c := range charts {
		c.Left = left
		p.Append(c.Picture(width, height), model.Point{Y: y})
		y += height + gap
	}
	p.Add(draw.LayerSheet, "", draw.Text{At: model.Point{X: border, Y: y + textHeight}, String: remark, Height: textHeight, Anchor: draw.Start, Role: draw.Ink})
	p.Add(draw.LayerSheet, "", draw.Path{Segments: draw.Polyline([]model.Point{{}, {X: width, Y: y + 3*textHeight}})})
	return p
}
