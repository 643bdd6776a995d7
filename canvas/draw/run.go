package draw

import (
	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

const (
	mainLine  = 0.7 // mm, process runs
	otherLine = 0.5 // steam, condensate, air
	thinLine  = 0.35
)

var (
	stillDash  = []float64{2.5, 1.5}
	signalDash = []float64{1.5, 1.5}
)

// drawnRun is a run on its way into the picture.
type drawnRun struct {
	run  *model.Run
	line []model.Point
	hops []hop // in order of piece and place
	over []hop // where others hop over it

	from, to place.End
	same     sameness
	style    Style
	way      int // as styleOf gives it
	arrows   []Symbol
}

// runs draws the runs, and gives the lines that they make up.
func (d *drawing) runs() []line {
	lines := d.lines()
	d.run = make([]drawnRun, len(lines))
	for i, r := range d.c.Runs() {
		dr := &d.run[i]
		dr.run, dr.line, dr.same = r, lines[i], d.sameness(r)
		dr.from, _ = place.EndOf(d.c, d.cat, r.From)
		dr.to, _ = place.EndOf(d.c, d.cat, r.To)
		dr.style, dr.way = d.styleOf(r, dr.from, dr.to)
		d.pic.Bounds = d.pic.Bounds.Union(place.Around(dr.line))
	}
	findHops(d.run)
	joined := d.joined(func(a, b *drawnRun) bool { return a.same == b.same })
	d.arrows(joined)
	for i := range d.run {
		dr := &d.run[i]
		if len(dr.line) < 2 {
			continue
		}
		if pieces, ok := d.pieces(dr.run); ok {
			d.drawPieces(dr, pieces)
		} else {
			d.pic.Add(LayerRun, dr.run.ID, Path{Segments: dr.segments(), Style: dr.style})
		}
		for _, a := range dr.arrows {
			d.pic.Add(LayerRun, dr.run.ID, a)
		}
	}
	return joined
}

// medium tells what is in a run: what the step brings, or else what the run
// says itself.
func (d *drawing) medium(r *model.Run) (model.Medium, bool) {
	if m, ok := d.opt.Media[r.ID]; ok {
		return m, true
	}
	return r.Carries.Get()
}

// styleOf tells how a run is drawn and which way it flows: 1 from From to To, -1
// the other way, 0 not at all or nobody knows.
func (d *drawing) styleOf(r *model.Run, from, to place.End) (Style, int) {
	st := Style{Stroke: Ink, Width: mainLine}
	switch service(from, to) {
	case "process":
	case "signal":
		st.Width, st.Dash = thinLine, signalDash
	default:
		st.Width = otherLine
	}
	if m, ok := d.medium(r); ok {
		st.Stroke = OfMedium(m)
	}
	way := direction(from, to)
	if d.opt.Flow != nil {
		switch d.opt.Flow[r.ID] {
		case Forward:
			way = 1
		case Backward:
			way = -1
		case Undecided:
			way = 0
		case Still:
			way, st.Width, st.Dash = 0, thinLine, stillDash
		default:
			way, st.Width, st.Stroke = 0, thinLine, Faint
		}
	}
	return st, way
}

// segments gives the line with an arc at each hop.
func (dr *drawnRun) segments() []catalogue.Segment {
	out := make([]catalogue.Segment, 0, len(dr.line)+2*len(dr.hops))
	out = append(out, MoveTo(dr.line[0]))
	next := 0
	for i := 1; i < len(dr.line); i++ {
		for next < len(dr.hops) && dr.hops[next].piece == i-1 {
			out = dr.hops[next].over(out, dr.line[i].Sub(dr.line[i-1]))
			next++
		}
		out = append(out, LineTo(dr.line[i]))
	}
	return out
}
