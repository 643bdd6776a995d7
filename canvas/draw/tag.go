package draw

import (
	"slices"
	"sync"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

const (
	tagGap   = 1.0 // mm between a symbol and its tag
	tagClear = 0.7 // mm that are kept free about a tag
)

// tags writes the tag of each part where nothing else stands: at the place of its
// kind if that is free, else at the first free one of those about its symbol.
// Where none is free it takes the place that is covered least.
func (d *drawing) tags() {
	var beside []int // parts whose tag is still to be placed
	for i, p := range d.c.Parts() {
		m := p.Meta()
		kind := d.cat.Kind(m.Kind)
		if m.Tag == "" || titled(p, kind) {
			continue
		}
		if number, ok := LoopNumber(p, kind); ok {
			if d.opt.HideLetters {
				continue
			}
			t := d.loopNumber(p, kind, number)
			d.pic.Add(LayerTag, m.ID, t)
			continue
		}
		if m.Label != nil {
			continue // it is written already
		}
		t := d.ownTag(p, kind)
		if kind != nil && insideTag(p, kind, t) {
			d.addTag(m.ID, t)
			continue
		}
		beside = append(beside, i)
	}
	for _, i := range beside {
		p := d.c.Parts()[i]
		d.addTag(p.RecordID(), d.placedTag(p))
	}
}

func (d *drawing) addTag(id model.ID, t Text) {
	d.pic.Add(LayerTag, id, t)
	d.room.add(t.capitals(TextWidth(t.String, t.Height)))
}

// insideTag says whether a tag stands within the box of its symbol, as that of a
// vessel does.
func insideTag(p model.Part, kind *catalogue.Kind, t Text) bool {
	return place.Box(p, kind).Holds(t.capitals(TextWidth(t.String, t.Height)))
}

// rankOf tells how soon a tag is given up where there is little room.
func rankOf(p model.Part) Rank {
	switch p.Class() {
	case model.ClassVessel:
		return RankVessel
	case model.ClassPump, model.ClassObject:
		return RankMachine
	case model.ClassValve:
		return RankValve
	}
	return RankPlain
}

// ownTag gives the tag at the place of its kind.
func (d *drawing) ownTag(p model.Part, kind *catalogue.Kind) Text {
	m := p.Meta()
	box := place.Box(p, kind)
	t := Text{String: m.Tag, Height: tagHeight, Role: Ink, Rank: rankOf(p)}
	if kind == nil {
		t.At = model.Point{X: box.Centre().X, Y: box.Min.Y - tagHeight}
		return t
	}
	sx, sy := place.Stretch(p, kind)
	v := model.Turned(model.Point{X: kind.Symbol.Tag[0] * sx, Y: kind.Symbol.Tag[1] * sy}, m.Turn, m.Mirrored)
	t.At = m.At.Add(v)
	if m.Turn%2 != 0 && !box.Contains(t.At) {
		// What stood above or below now stands beside: the text runs away from
		// the symbol.
		switch {
		case t.At.X > box.Max.X:
			t.Anchor, t.At.X = Start, t.At.X-tagHeight/2
		case t.At.X < box.Min.X:
			t.Anchor, t.At.X = End, t.At.X+tagHeight/2
		}
	}
	return t
}

// placedTag gives the tag at the best of its places.
func (d *drawing) placedTag(p model.Part) Text {
	t := d.ownTag(p, d.cat.Kind(p.Meta().Kind))
	width := TextWidth(t.String, t.Height)
	clear := func(t Text) place.Rect { return t.capitals(width).Grown(tagClear) }
	if d.room.free(clear(t)) {
		return t
	}
	best, least := t, d.room.covered(clear(t))
	d.places = tagPlaces(d.places[:0], d.painted(p))
	for _, at := range d.places {
		t.At, t.Anchor = at.at, at.anchor
		if d.room.free(clear(t)) {
			return t
		}
		if c := d.room.covered(clear(t)); c < least {
			best, least = t, c
		}
	}
	return best
}

type tagPlace struct {
	at     model.Point
	anchor Anchor
}

// tagPlaces appends where a tag may stand about the box of its symbol, best first
// and near before far.
func tagPlaces(out []tagPlace, b place.Rect) []tagPlace {
	c := b.Centre()
	for _, off := range []float64{tagGap, tagGap + 2, tagGap + tagHeight + 2} {
		above, below := b.Min.Y-off-tagHeight/2, b.Max.Y+off+tagHeight/2
		left, right := b.Min.X-off, b.Max.X+off
		out = append(out,
			tagPlace{model.Point{X: c.X, Y: below}, Middle},
			tagPlace{model.Point{X: c.X, Y: above}, Middle},
			tagPlace{model.Point{X: right, Y: c.Y}, Start},
			tagPlace{model.Point{X: left, Y: c.Y}, End},
			// Beside a run that leaves upwards or downwards.
			tagPlace{model.Point{X: c.X + off, Y: below}, Start},
			tagPlace{model.Point{X: c.X - off, Y: below}, End},
			tagPlace{model.Point{X: c.X + off, Y: above}, Start},
			tagPlace{model.Point{X: c.X - off, Y: above}, End},
			// Above or below a run that leaves to a side.
			tagPlace{model.Point{X: right, Y: c.Y - off - tagHeight/2}, Start},
			tagPlace{model.Point{X: right, Y: c.Y + off + tagHeight/2}, Start},
			tagPlace{model.Point{X: left, Y: c.Y - off - tagHeight/2}, End},
			tagPlace{model.Point{X: left, Y: c.Y + off + tagHeight/2}, End},
		)
	}
	return out
}

// painted gives the box of what is drawn of a part's symbol: of a valve without
// the actuators that it does not have.
func (d *drawing) painted(p model.Part) place.Rect {
	var all place.Rect
	d.eachShape(p, func(r place.Rect) { all = all.Union(r) })
	if all.Empty() {
		return place.Box(p, d.cat.Kind(p.Meta().Kind))
	}
	return all
}

// eachShape calls do with the box of each figure that is drawn of a part.
func (d *drawing) eachShape(p model.Part, do func(place.Rect)) {
	m := p.Meta()
	kind := d.cat.Kind(m.Kind)
	if kind == nil {
		do(place.Box(p, nil))
		return
	}
	moved, fails := model.Actuation(""), model.FailsTo("")
	if v, ok := p.(*model.Valve); ok {
		moved, fails = v.Actuation.Or(""), v.FailsTo.Or("")
	}
	sx, sy := place.Stretch(p, kind)
	for i, b := range shapeBoxes(kind) {
		// All positions count: a tag does not move with the valve.
		if b.Empty() || len(kind.Symbol.Draw[i].Actuated) > 0 && !slices.Contains(kind.Symbol.Draw[i].Actuated, moved) {
			continue
		}
		if f := kind.Symbol.Draw[i].Fails; len(f) > 0 && !slices.Contains(f, fails) {
			continue
		}
		do(place.Spanned(
			model.Placed(model.Point{X: b.Min.X * sx, Y: b.Min.Y * sy}, m.At, m.Turn, m.Mirrored),
			model.Placed(model.Point{X: b.Max.X * sx, Y: b.Max.Y * sy}, m.At, m.Turn, m.Mirrored),
		))
	}
}

// boxed holds the boxes of each kind's figures, by *catalogue.Kind.
var boxed sync.Map

// shapeBoxes gives the box of each figure of a kind's symbol; an empty one for a
// figure that lies within another that is always drawn.
func shapeBoxes(k *catalogue.Kind) []place.Rect {
	if v, ok := boxed.Load(k); ok {
		return v.([]place.Rect)
	}
	out := make([]place.Rect, len(k.Symbol.Draw))
	for i, segments := range outlines(k) {
		switch shape := &k.Symbol.Draw[i]; {
		case segments != nil:
			out[i] = Path{Segments: segments}.bounds()
		case shape.Text != "" && shape.Text != "$letters":
			t := Text{At: model.Point{X: shape.At[0], Y: shape.At[1]}, String: shape.Text, Height: shape.Size}
			if t.Height == 0 {
				t.Height = symbolLetter
			}
			out[i] = t.capitals(TextWidth(t.String, t.Height))
		}
	}
	for i := range out {
		for j := range out {
			always := len(k.Symbol.Draw[j].Actuated)+len(k.Symbol.Draw[j].Fails) == 0
			if i != j && always && !out[j].Empty() && out[j].Holds(out[i]) {
				out[i] = place.Rect{}
				break
			}
		}
	}
	boxed.Store(k, out)
	return out
}
