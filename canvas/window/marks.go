package window

import (
	"math"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/edit"
	"rinsewright/canvas/place"
	"rinsewright/checks"
	"rinsewright/model"
)

// Marks of findings, by the user's choice.
type marking string

const (
	markAll   marking = "all"
	markGrave marking = "grave" // stops and fixes
	markNone  marking = "none"
)

// findingMark stands for all findings about one thing.
type findingMark struct {
	of    model.ID
	worst checks.Severity
	count int
	at    model.Point // centre of the sign, on the drawing
}

// markSize is what a mark takes on the screen, in fyne's units.
type markSize struct{ side, count float32 }

// sizeOfMark gives smaller marks the smaller the drawing is shown.
func sizeOfMark(scale float64) markSize {
	switch {
	case scale < 0.3:
		return markSize{8, 0}
	case scale < readable:
		return markSize{10, 0}
	}
	return markSize{13, 9}
}

// markLayoutKey says for what the places of the marks were found.
type markLayoutKey struct {
	circuit *model.Circuit
	first   *checks.Finding
	n       int
	show    marking
	zoom    float64
}

// marks gives one mark for each part and run that findings are about, beside it
// where it covers no symbol, tag or line.
func (b *board) marks() []findingMark {
	key := markLayoutKey{circuit: b.on.circuit(), n: len(b.findings), show: b.marking, zoom: b.view.Zoom}
	if len(b.findings) > 0 {
		key.first = &b.findings[0]
	}
	if key == b.markKey {
		return b.marked
	}
	b.markKey = key
	b.marked = groupMarks(b.findings, b.marking)
	b.placeMarks(b.marked)
	return b.marked
}

// groupMarks counts the findings about each thing, in the order in which it comes
// first.
func groupMarks(list []checks.Finding, show marking) []findingMark {
	var out []findingMark
	at := map[model.ID]int{}
	for i := range list {
		f := &list[i]
		if show == markNone || show == markGrave && f.Severity < checks.Fix {
			continue
		}
		id := f.At.Element
		j, seen := at[id]
		if !seen {
			j = len(out)
			at[id] = j
			out = append(out, findingMark{of: id, worst: f.Severity})
		}
		out[j].count++
		out[j].worst = max(out[j].worst, f.Severity)
	}
	return out
}

// placeMarks finds room for marks. Those of things that are not on the drawing
// get a place that is not a number.
func (b *board) placeMarks(marks []findingMark) {
	if len(marks) == 0 {
		return
	}
	d := b.on.drawing()
	room := b.takenRoom(d)
	size := sizeOfMark(b.view.scale())
	w, h := float64(size.side)/b.view.Zoom, float64(size.side)/b.view.Zoom
	for i := range marks {
		m := &marks[i]
		wide := w
		if m.count > 1 {
			wide += float64(size.count) / b.view.Zoom
		}
		var spots []model.Point // left upper corners, the best first
		switch r := d.Circuit().Record(m.of).(type) {
		case model.Part:
			spots = spotsAbout(d.Box(r), wide, h, 1.5/b.view.Zoom)
		case *model.Run:
			spots = spotsAlong(d.Line(r), wide, h, 2/b.view.Zoom)
		}
		m.at = model.Point{X: math.NaN(), Y: math.NaN()}
		least := math.Inf(1)
		for _, p := range spots {
			r := place.Rect{Min: p, Max: model.Point{X: p.X + wide, Y: p.Y + h}}
			if c := room.covered(r, least); c < least {
				least, m.at = c, model.Point{X: p.X + w/2, Y: p.Y + h/2}
				if c == 0 {
					break
				}
			}
		}
		if least < math.Inf(1) {
			room.add(place.Spanned(model.Point{X: m.at.X - w/2, Y: m.at.Y - h/2}, model.Point{X: m.at.X - w/2 + wide, Y: m.at.Y + h/2}))
		}
	}
}

// takenRoom holds what marks should not cover.
func (b *board) takenRoom(d *edit.Drawing) *taken {
	room := newTaken()
	for i := range b.draw().Items {
		switch it := &b.picture.Items[i]; it.Layer {
		case draw.LayerPart, draw.LayerTag, draw.LayerLabel:
			room.add(it.Bounds)
		case draw.LayerFrame:
			if _, text := it.Figure.(draw.Text); text {
				room.add(it.Bounds)
			}
		}
	}
	for _, line := range d.Lines() {
		for i := 1; i < len(line); i++ {
			room.add(place.Spanned(line[i-1], line[i]).Grown(0.3))
		}
	}
	return room
}

// spotsAbout gives the places for a mark round a box, at two distances.
func spotsAbout(box place.Rect, w, h, gap float64) []model.Point {
	var out []model.Point
	for _, far := range []float64{0, 1.2} {
		left, right := box.Min.X-w-gap-far*w, box.Max.X+gap+far*w
		above, below := box.Min.Y-h-gap-far*h, box.Max.Y+gap+far*h
		midX, midY := box.Centre().X-w/2, box.Centre().Y-h/2
		out = append(out,
			model.Point{X: right, Y: above}, model.Point{X: right, Y: box.Min.Y}, model.Point{X: box.Max.X - w, Y: above},
			model.Point{X: left, Y: above}, model.Point{X: left, Y: box.Min.Y}, model.Point{X: box.Min.X, Y: above},
			model.Point{X: right, Y: below}, model.Point{X: right, Y: box.Max.Y - h}, model.Point{X: box.Max.X - w, Y: below},
			model.Point{X: left, Y: below}, model.Point{X: left, Y: box.Max.Y - h}, model.Point{X: box.Min.X, Y: below},
			model.Point{X: midX, Y: above}, model.Point{X: midX, Y: below}, model.Point{X: left, Y: midY}, model.Point{X: right, Y: midY})
	}
	return out
}

// spotsAlong gives the places for a mark beside the pieces of a line, those of
// the longest piece first.
func spotsAlong(line []model.Point, w, h, gap float64) []model.Point {
	longest, _ := place.Longest(line)
	if longest < 0 {
		return nil
	}
	var out []model.Point
	beside := func(piece int) {
		a, b := line[piece], line[piece+1]
		for _, share := range []float64{0.5, 0.35, 0.65, 0.2, 0.8} {
			p := model.Point{X: a.X + (b.X-a.X)*share, Y: a.Y + (b.Y-a.Y)*share}
			if math.Abs(b.X-a.X) >= math.Abs(b.Y-a.Y) {
				out = append(out, model.Point{X: p.X - w/2, Y: p.Y - h - gap}, model.Point{X: p.X - w/2, Y: p.Y + gap})
			} else {
				out = append(out, model.Point{X: p.X + gap, Y: p.Y - h/2}, model.Point{X: p.X - w - gap, Y: p.Y - h/2})
			}
		}
	}
	beside(longest)
	for i := range line[1:] {
		if i != longest {
			beside(i)
		}
	}
	return out
}

// taken is room that is taken on the drawing, by squares of a grid.
type taken struct{ cells map[[2]int32][]place.Rect }

const takenCell = 25.0 // mm

func newTaken() *taken { return &taken{cells: map[[2]int32][]place.Rect{}} }

// each calls do with the squares that r meets; one of no sensible size meets
// few.
func (t *taken) each(r place.Rect, do func([2]int32)) {
	x0, y0 := math.Floor(r.Min.X/takenCell), math.Floor(r.Min.Y/takenCell)
	x1, y1 := math.Floor(r.Max.X/takenCell), math.Floor(r.Max.Y/takenCell)
	for x := x0; x <= x1 && x < x0+400; x++ {
		for y := y0; y <= y1 && y < y0+400; y++ {
			do([2]int32{int32(x), int32(y)})
		}
	}
}

func (t *taken) add(r place.Rect) {
	t.each(r, func(c [2]int32) { t.cells[c] = append(t.cells[c], r) })
}

// covered gives how much of r is taken, in mm²; what is taken twice counts twice.
// It may stop at most.
func (t *taken) covered(r place.Rect, most float64) float64 {
	sum := 0.0
	t.each(r, func(c [2]int32) {
		if sum >= most {
			return
		}
		for _, q := range t.cells[c] {
			w := min(r.Max.X, q.Max.X) - max(r.Min.X, q.Min.X)
			h := min(r.Max.Y, q.Max.Y) - max(r.Min.Y, q.Min.Y)
			if w > 0 && h > 0 {
				sum += w * h
			}
		}
	})
	return sum
}
