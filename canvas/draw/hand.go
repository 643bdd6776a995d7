package draw

import (
	"math"

	"rinsewright/canvas/place"
	"rinsewright/canvas/route"
	"rinsewright/model"
)

// leaderFrom is how far in mm a tag that was placed by hand stands from its
// symbol before a thin line leads from one to the other.
const leaderFrom = 8.0

// byHand writes the tags and labels whose places the file tells, before all that
// find their own: those keep off them.
func (d *drawing) byHand(lines []line) {
	if !d.opt.HideTags {
		for _, p := range d.c.Parts() {
			d.tagByHand(p)
		}
	}
	if d.opt.HideLabels {
		return
	}
	for i := range lines {
		l := &lines[i]
		for _, n := range l.runs {
			if d.run[n].run.Label != nil && len(d.run[n].line) > 1 {
				if d.placed == nil {
					d.placed = make([]bool, len(lines))
				}
				d.placed[i] = d.labelByHand(&d.run[n]) || d.placed[i]
			}
		}
	}
}

func (d *drawing) tagByHand(p model.Part) {
	m := p.Meta()
	kind := d.cat.Kind(m.Kind)
	if m.Label == nil || m.Tag == "" || titled(p, kind) {
		return
	}
	if _, ok := LoopNumber(p, kind); ok {
		return // it stands in the balloon
	}
	t := Text{At: m.At.Add(*m.Label), String: m.Tag, Height: tagHeight, Role: Ink, Rank: rankOf(p)}
	d.addTag(m.ID, t)
	from, to, far := between(t.capitals(TextWidth(t.String, t.Height)).Grown(tagClear), d.painted(p))
	if far > leaderFrom {
		d.pic.Add(LayerTag, m.ID, Path{Segments: Polyline([]model.Point{from, to}), Style: Style{Stroke: Faint, Width: thinLine}})
	}
}

// between gives the shortest line from one box to another.
func between(a, b place.Rect) (from, to model.Point, length float64) {
	from = nearest(a, b.Centre())
	to = nearest(b, from)
	from = nearest(a, to)
	return from, to, math.Hypot(to.X-from.X, to.Y-from.Y)
}

// nearest gives the point of a box nearest to another point.
func nearest(r place.Rect, p model.Point) model.Point {
	return model.Point{X: min(max(p.X, r.Min.X), r.Max.X), Y: min(max(p.Y, r.Min.Y), r.Max.Y)}
}

// labelByHand writes the label of a run at its own place and says whether there
// was something to write. Beside an upright piece it reads upwards.
func (d *drawing) labelByHand(dr *drawnRun) bool {
	text := joinedWords(dr.same.tag, dr.same.size, dr.same.letters)
	if text == "" {
		return false
	}
	t := Text{At: route.Half(dr.line).Add(*dr.run.Label), String: text, Height: labelHeight, Role: Ink}
	least := math.Inf(1)
	for i := 1; i < len(dr.line); i++ {
		a, b := dr.line[i-1], dr.line[i]
		on := nearest(place.Spanned(a, b), t.At)
		if far := math.Hypot(on.X-t.At.X, on.Y-t.At.Y); far < least {
			least, t.Turn = far, 0
			if math.Abs(b.Y-a.Y) > math.Abs(b.X-a.X) && far < 2*labelHeight {
				t.Turn = 3
			}
		}
	}
	d.pic.Add(LayerLabel, dr.run.ID, t)
	d.room.add(t.capitals(TextWidth(text, labelHeight)))
	return true
}

// heights writes what Options.Heights says beside parts, where there is room.
func (d *drawing) heights() {
	if len(d.opt.Heights) == 0 {
		return
	}
	for _, p := range d.c.Parts() {
		text := d.opt.Heights[p.RecordID()]
		if text == "" {
			continue
		}
		t := Text{String: text, Height: labelHeight, Role: Accent}
		width := TextWidth(text, t.Height)
		d.places = tagPlaces(d.places[:0], d.painted(p))
		for _, at := range d.places {
			t.At, t.Anchor = at.at, at.anchor
			if r := t.capitals(width).Grown(labelClear); d.room.free(r) {
				d.pic.Add(LayerLabel, p.RecordID(), t)
				d.room.add(r)
				break
			}
		}
	}
}
