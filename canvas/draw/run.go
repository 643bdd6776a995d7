package draw

import (
	"math"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

const (
	mainLine   = 0.7 // mm, process runs
	otherLine  = 0.5 // steam, condensate, air
	thinLine   = 0.35
	leastArrow = 6.0  // mm of straight piece for an arrow
	farArrow   = 90.0 // mm of straight piece for a second one
	labelGap   = 1.0  // mm between a line and its label
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
	role Role
}

func (d *drawing) runs() {
	lines := d.lines()
	d.run = make([]drawnRun, len(lines))
	for i, r := range d.c.Runs() {
		d.run[i] = drawnRun{run: r, line: lines[i]}
	}
	findHops(d.run)
	for i := range d.run {
		d.drawRun(&d.run[i])
	}
}

// medium tells what is in a run: what the step brings, or else what the run
// says itself.
func (d *drawing) medium(r *model.Run) (model.Medium, bool) {
	if m, ok := d.opt.Media[r.ID]; ok {
		return m, true
	}
	return r.Carries.Get()
}

func (d *drawing) drawRun(dr *drawnRun) {
	if len(dr.line) < 2 {
		return
	}
	r := dr.run
	from, _ := place.EndOf(d.c, d.cat, r.From)
	to, _ := place.EndOf(d.c, d.cat, r.To)
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
	dr.role = st.Stroke
	d.pic.Add(LayerRun, r.ID, Path{Segments: dr.segments(), Style: st})
	if way != 0 && !d.opt.HideArrows {
		d.arrows(dr, way)
	}
}

// arrows puts the sign of flow on the longest piece, and on every other that is
// very long.
func (d *drawing) arrows(dr *drawnRun, way int) {
	longest, _ := place.Longest(dr.line)
	for i := 1; i < len(dr.line); i++ {
		a, b := dr.line[i-1], dr.line[i]
		length := math.Abs(b.X-a.X) + math.Abs(b.Y-a.Y)
		if length < leastArrow || i-1 != longest && length < farArrow {
			continue
		}
		at, ok := dr.free(i-1, arrow.Symbol.Box[2])
		if !ok {
			continue
		}
		along := b.Sub(a)
		if way < 0 {
			along = a.Sub(b)
		}
		turn := model.Turn(0)
		switch {
		case math.Abs(along.Y) > math.Abs(along.X) && along.Y > 0:
			turn = 1
		case math.Abs(along.Y) > math.Abs(along.X):
			turn = 3
		case along.X < 0:
			turn = 2
		}
		d.pic.Add(LayerRun, dr.run.ID, Symbol{Kind: arrow, At: at, Turn: turn, Ink: dr.role, Medium: dr.role})
	}
}

// free gives the place on a piece nearest to its middle, of a few, that is at
// least room from any crossing.
func (dr *drawnRun) free(piece int, room float64) (model.Point, bool) {
	a, b := dr.line[piece], dr.line[piece+1]
	for _, t := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
		at := model.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}
		ok := true
		for _, list := range [][]hop{dr.hops, dr.over} {
			for _, h := range list {
				if h.piece == piece && math.Abs(at.X-h.at.X)+math.Abs(at.Y-h.at.Y) < room+h.half {
					ok = false
				}
			}
		}
		if ok {
			return at, true
		}
	}
	return model.Point{}, false
}

// labels writes tag, size and medium of each run beside its longest piece, or as
// much of it as there is room for: above the middle if nothing else is there.
func (d *drawing) labels() {
	room := d.taken()
	for i := range d.run {
		dr := &d.run[i]
		piece, length := place.Longest(dr.line)
		if piece < 0 {
			continue
		}
		size, letters := d.sizeText(dr.run), ""
		if m, ok := d.medium(dr.run); ok {
			letters = Letters(m)
		}
		var pick Text
		for _, text := range []string{joinedWords(dr.run.Tag, size, letters), joinedWords(size, letters), size, letters} {
			if text == "" {
				continue
			}
			width := TextWidth(text, labelHeight)
			if width+2*labelGap > length {
				continue
			}
			t, free := dr.label(piece, length, text, width, room)
			if free || pick.String == "" {
				pick = t
			}
			if free {
				break
			}
		}
		if pick.String != "" {
			d.pic.Add(LayerLabel, dr.run.ID, pick)
			room.add(pick.capitals(TextWidth(pick.String, pick.Height)))
		}
	}
}

// taken gives the room that runs, parts and tags take.
func (d *drawing) taken() *crowd {
	room := newCrowd(d.pic.Bounds)
	for i := range d.pic.Items {
		it := &d.pic.Items[i]
		switch it.Layer {
		case LayerPart:
			room.add(it.Bounds.Grown(-1))
		case LayerTag:
			if t, ok := it.Figure.(Text); ok {
				room.add(t.capitals(TextWidth(t.String, t.Height)))
			}
		}
	}
	for i := range d.run {
		line := d.run[i].line
		for j := 1; j < len(line); j++ {
			room.add(place.Spanned(line[j-1], line[j]).Grown(mainLine / 2))
		}
	}
	return room
}

// label places a text beside a piece of the line where it is free, or else above
// the middle.
func (dr *drawnRun) label(piece int, length float64, text string, width float64, room *crowd) (t Text, free bool) {
	a, b := dr.line[piece], dr.line[piece+1]
	off := mainLine/2 + labelGap + labelHeight/2
	half := (width/2 + labelGap) / length
	var first Text
	for _, side := range []float64{-1, 1} {
		for n, share := range []float64{0.5, 0.38, 0.62, 0.25, 0.75} {
			if share-half < 0 || share+half > 1 {
				continue
			}
			t = Text{String: text, Height: labelHeight, Role: Ink,
				At: model.Point{X: a.X + share*(b.X-a.X), Y: a.Y + share*(b.Y-a.Y)}}
			if math.Abs(b.Y-a.Y) > math.Abs(b.X-a.X) {
				t.Turn, t.At.X = 3, t.At.X+side*off // reads upwards, first choice on the left
			} else {
				t.At.Y += side * off
			}
			if n == 0 && side < 0 {
				first = t
			}
			if room.free(t.capitals(width)) {
				return t, true
			}
		}
	}
	return first, false
}

// capitals gives the box of a text's capitals; width is that of the text.
func (t Text) capitals(width float64) place.Rect {
	left := t.left(width)
	return place.Spanned(
		model.Placed(model.Point{X: left, Y: -t.Height / 2}, t.At, t.Turn, false),
		model.Placed(model.Point{X: left + width, Y: t.Height / 2}, t.At, t.Turn, false),
	)
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
