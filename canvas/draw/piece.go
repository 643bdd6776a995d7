package draw

import (
	"math"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Piece is a length of a run that is drawn in its own way. From and To are shares
// of the length of the run's line, from its From, 0 to 1.
type Piece struct {
	From, To float64
	Style    Style  // of the stroke
	Letters  string // of the medium in it, for those who cannot tell it by colour; empty: none
}

// Holding gives the piece of a run that holds a medium, moving or standing. Air is
// drawn as a dry run.
func Holding(from, to float64, m model.Medium, moving bool) Piece {
	p := Piece{From: from, To: to, Style: Style{Stroke: OfMedium(m), Width: mainLine}, Letters: Letters(m)}
	switch {
	case m == model.Air:
		p.Style, p.Letters = Style{Stroke: Faint, Width: thinLine}, ""
	case !moving:
		p.Style.Width, p.Style.Dash = thinLine, stillDash
	}
	return p
}

// pieces gives how the pieces of a run are drawn; not ok for one drawn as a whole.
func (d *drawing) pieces(r *model.Run) ([]Piece, bool) {
	p, ok := d.opt.Pieces[r.ID]
	return p, ok
}

// track measures a line of a run: how far along it its corners and hops lie, mm.
type track struct {
	corners []float64
	hops    []float64
}

func (dr *drawnRun) track() track {
	t := track{corners: make([]float64, len(dr.line))}
	for i := 1; i < len(dr.line); i++ {
		t.corners[i] = t.corners[i-1] + far(dr.line[i-1], dr.line[i])
	}
	for _, h := range dr.hops {
		t.hops = append(t.hops, t.corners[h.piece]+far(dr.line[h.piece], h.at))
	}
	return t
}

func far(a, b model.Point) float64 { return math.Hypot(b.X-a.X, b.Y-a.Y) }

// length of the line, mm.
func (t track) length() float64 { return t.corners[len(t.corners)-1] }

// clear moves a place on the line out of a hop, to its nearer end.
func (dr *drawnRun) clear(t track, s float64) float64 {
	for i, at := range t.hops {
		if half := dr.hops[i].half; s > at-half && s < at+half {
			if s < at {
				return at - half
			}
			return at + half
		}
	}
	return s
}

// between gives the line from one place on it to another, both in mm along it and
// clear of hops, with the hops in between.
func (dr *drawnRun) between(t track, from, to float64) []catalogue.Segment {
	at := func(piece int, s float64) model.Point {
		a, b := dr.line[piece], dr.line[piece+1]
		long := t.corners[piece+1] - t.corners[piece]
		if long == 0 {
			return a
		}
		k := (s - t.corners[piece]) / long
		return model.Point{X: a.X + k*(b.X-a.X), Y: a.Y + k*(b.Y-a.Y)}
	}
	var out []catalogue.Segment
	next := 0
	for i := 0; i+1 < len(dr.line); i++ {
		begin, end := max(from, t.corners[i]), min(to, t.corners[i+1])
		first := next
		for next < len(dr.hops) && dr.hops[next].piece == i {
			next++
		}
		if begin >= end {
			continue
		}
		if out == nil {
			out = append(out, MoveTo(at(i, begin)))
		}
		for k := first; k < next; k++ {
			if t.hops[k] > begin && t.hops[k] < end {
				out = dr.hops[k].over(out, dr.line[i+1].Sub(dr.line[i]))
			}
		}
		out = append(out, LineTo(at(i, end)))
	}
	return out
}

// drawPieces draws a run piece by piece over itself as a dry one.
func (d *drawing) drawPieces(dr *drawnRun, pieces []Piece) {
	d.pic.Add(LayerRun, dr.run.ID, Path{Segments: dr.segments(), Style: Style{Stroke: Faint, Width: thinLine}})
	t := dr.track()
	long := t.length()
	for _, p := range pieces {
		from, to := dr.clear(t, max(p.From, 0)*long), dr.clear(t, min(p.To, 1)*long)
		if p.Style.Stroke == None || p.Style.Stroke == Faint || !(to > from) {
			continue
		}
		if segments := dr.between(t, from, to); segments != nil {
			d.pic.Add(LayerRun, dr.run.ID, Path{Segments: segments, Style: p.Style})
		}
	}
}

// pieceAt gives the piece that lies at a place on a straight piece of the line.
func (dr *drawnRun) pieceAt(pieces []Piece, straight int, at model.Point) (Piece, bool) {
	t := dr.track()
	long := t.length()
	if long == 0 {
		return Piece{}, false
	}
	a, b := dr.line[straight], dr.line[straight+1]
	d := direct(b.Sub(a))
	along := (at.X-a.X)*d.X + (at.Y-a.Y)*d.Y
	s := (t.corners[straight] + min(max(along, 0), far(a, b))) / long
	for _, p := range pieces {
		if s >= p.From && s <= p.To {
			return p, true
		}
	}
	return Piece{}, false
}

const (
	widestLetters = "PROD" // room is kept for, so that letters stay where they are when the medium changes
	lettersApart  = 70     // mm between the letters of a line
	leastLettered = 9.0    // mm of straight piece that has letters
)

// letters writes beside runs that are drawn piece by piece the letters of what lies
// there now, at places that do not depend on it.
func (d *drawing) letters(lines []line) {
	if len(d.opt.Pieces) == 0 || d.opt.HideMedia {
		return
	}
	width := TextWidth(widestLetters, labelHeight)
	for i := range lines {
		var placed []model.Point
		for j, p := range lines[i].pieces {
			if j == valueTries || p.length < leastLettered {
				break
			}
			dr := &d.run[p.run]
			pieces, ok := d.pieces(dr.run)
			if !ok {
				continue
			}
			t, covered := d.beside(p, Text{String: widestLetters, Height: labelHeight, Role: Ink}, width)
			if covered > 0 || near(placed, t.At, lettersApart) {
				continue
			}
			placed = append(placed, t.At)
			d.room.add(t.capitals(width))
			if at, ok := dr.pieceAt(pieces, p.piece, t.At); ok && at.Letters != "" {
				t.String = at.Letters
				d.pic.Add(LayerLabel, dr.run.ID, t)
			}
		}
	}
}

// outlineRoom is kept between a part and the line about it, mm.
const outlineRoom = 1.2

func (d *drawing) outline(p model.Part) place.Rect {
	return place.Box(p, d.cat.Kind(p.Meta().Kind)).Grown(outlineRoom)
}

// outlines draws lines about parts, above all parts.
func (d *drawing) outlines() {
	if len(d.opt.Outlines) == 0 {
		return
	}
	for _, p := range d.c.Parts() {
		style, ok := d.opt.Outlines[p.RecordID()]
		if !ok {
			continue
		}
		box := d.outline(p)
		style.Fill = None
		d.pic.Add(LayerMark, p.RecordID(), Path{Segments: Box(box), Style: style})
	}
}

// Key writes beneath a picture what the styles of its lines mean, each beside a
// sample. It comes before [Caption].
func Key(p *Picture, title string, entries []KeyEntry) {
	s := under(p)
	s.text(title, sheetText)
	s.gap(5)
	for _, e := range entries {
		s.room(keySample + 2 + TextWidth(e.Words, sheetSmall))
		r := s.swatch()
		p.Add(LayerSheet, "", Path{Segments: Polyline([]model.Point{r.Min, {X: r.Min.X + keySample, Y: r.Max.Y}}), Style: e.Style})
		s.gap(keySample - swatchWidth)
		s.text(e.Words, sheetSmall)
		s.gap(5)
	}
	s.feed()
}

// keySample is the length of a sample, mm: long enough to show its dashes.
const keySample = 14.0

// KeyEntry is a style of lines with its meaning.
type KeyEntry struct {
	Style Style
	Words string
}
