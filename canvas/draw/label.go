package draw

import (
	"math"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

const (
	labelGap   = 1.3 // mm between a line and its label
	labelEnds  = 0.5 // mm of line that a label leaves at its ends
	labelClear = 0.4 // mm that are kept free about a label
	labelTries = 8   // pieces of a line that are tried, longest first
	shortLine  = 15  // mm; a shorter line without a size has no label
)

// labels writes tag, size and medium of each line once beside one of its longest
// pieces, or as much of it as there is room for. Values of runs come before them:
// what they leave no room for is not written.
func (d *drawing) labels(lines []line) {
	for i := range lines {
		l := &lines[i]
		if len(l.pieces) == 0 || d.placed != nil && d.placed[i] {
			continue
		}
		s := d.run[l.runs[0]].same
		length := 0.0
		for _, p := range l.pieces {
			length += p.length
		}
		if s.size == "" && s.tag == "" && length < shortLine {
			continue
		}
		if t, run, free, ok := d.label(l, s); ok && (free || len(d.opt.Values) == 0) {
			d.pic.Add(LayerLabel, d.run[run].run.ID, t)
			d.room.add(t.capitals(TextWidth(t.String, t.Height)))
		}
	}
}

// label finds a free place for the label of a line: with all of its words rather
// than on its longest piece. Without any it takes that which is covered least.
func (d *drawing) label(l *line, s sameness) (pick Text, run int, free, ok bool) {
	least := math.Inf(1)
	last := ""
	for _, text := range []string{joinedWords(s.tag, s.size, s.letters), joinedWords(s.size, s.letters), s.size, s.letters} {
		if text == "" || text == last {
			continue
		}
		last = text
		width := TextWidth(text, labelHeight)
		for i, p := range l.pieces {
			if i == labelTries || width+2*labelEnds > p.length {
				break
			}
			t, covered := d.beside(p, Text{String: text, Height: labelHeight, Role: Ink}, width)
			if covered == 0 {
				return t, p.run, true, true
			}
			if covered < least {
				pick, run, ok, least = t, p.run, true, covered
			}
		}
	}
	return pick, run, false, ok
}

// beside places a text beside a piece of a line where it is free, or else where
// it is covered least: above before below, left before right, and near the middle.
func (d *drawing) beside(p linePiece, t Text, width float64) (best Text, least float64) {
	points := d.run[p.run].line
	a, b := points[p.piece], points[p.piece+1]
	off := mainLine/2 + labelGap + t.Height/2
	half := (width/2 + labelEnds) / p.length
	least = math.Inf(1)
	for _, side := range []float64{-1, 1} {
		for _, share := range []float64{0.5, 0.38, 0.62, 0.25, 0.75, 0.12, 0.88} {
			if share != 0.5 && (share-half < 0 || share+half > 1) {
				continue
			}
			t := t
			t.At = model.Point{X: a.X + share*(b.X-a.X), Y: a.Y + share*(b.Y-a.Y)}
			if math.Abs(b.Y-a.Y) > math.Abs(b.X-a.X) {
				t.Turn, t.At.X, t.Away.X = 3, t.At.X+side*off, side // reads upwards
			} else {
				t.At.Y, t.Away.Y = t.At.Y+side*off, side
			}
			r := t.capitals(width).Grown(labelClear)
			if d.room.free(r) {
				return t, 0
			}
			if c := d.room.covered(r); c < least {
				best, least = t, c
			}
		}
	}
	return best, least
}

// capitals gives the box of a text's capitals; width is that of the text.
func (t Text) capitals(width float64) place.Rect {
	left := t.left(width)
	return place.Spanned(
		model.Placed(model.Point{X: left, Y: -t.Height / 2}, t.At, t.Turn, false),
		model.Placed(model.Point{X: left + width, Y: t.Height / 2}, t.At, t.Turn, false),
	)
}
