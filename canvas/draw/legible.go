package draw

import (
	"rinsewright/canvas/place"
	"rinsewright/model"
)

// Enlarged brings tags and titles that are lower than least (mm of capitals) to
// that height, or half way, where they then cover nothing else; the others keep
// their size, as do the loop numbers in balloons. It is for a drawing that was
// scaled down to a sheet.
func Enlarged(p *Picture, least float64) {
	e := &enlarging{p: p, room: newCrowd(p.Bounds), balloons: map[model.ID]bool{}}
	for i := range p.Items {
		e.takeItem(i)
	}
	for i := range p.Items {
		it := &p.Items[i]
		t, ok := it.Figure.(Text)
		if !ok || it.Layer == LayerLabel || t.Height >= least || it.Layer == LayerTag && e.balloons[it.Record] {
			continue
		}
		for _, height := range []float64{least, (least + t.Height) / 2} {
			if next, ok := e.larger(i, t, height); ok {
				it.Figure, it.Bounds = next, next.bounds()
				e.take(i, next.capitals(TextWidth(next.String, next.Height)))
				break
			}
		}
	}
}

// enlarging is what takes room while texts are made larger.
type enlarging struct {
	p        *Picture
	room     *crowd
	owner    []int // by entry of room: the item
	balloons map[model.ID]bool
}

func (e *enlarging) take(i int, r place.Rect) {
	e.room.add(r)
	e.owner = append(e.owner, i)
}

func (e *enlarging) takeItem(i int) {
	it := &e.p.Items[i]
	switch f := it.Figure.(type) {
	case Text:
		e.take(i, f.capitals(TextWidth(f.String, f.Height)))
	case Symbol:
		e.balloons[it.Record] = e.balloons[it.Record] || f.Numbered
		box := it.Bounds.Grown(-f.scale())
		if it.Layer != LayerFrame {
			e.take(i, box)
			return
		}
		for _, side := range sides(box) {
			e.take(i, side)
		}
	case Path:
		if it.Layer == LayerRun || it.Layer == LayerFrame {
			line := endsOf(f.Segments)
			for j := 1; j < len(line); j++ {
				e.take(i, place.Spanned(line[j-1], line[j]).Grown(f.Style.Width/2))
			}
		}
	}
}

// larger gives a text at a height, moved by up to what it grows by, at a place
// where it covers nothing that it did not cover before.
func (e *enlarging) larger(i int, t Text, height float64) (Text, bool) {
	const clear = 0.3 // mm
	before := t.capitals(TextWidth(t.String, t.Height))
	next := t
	next.Height = height
	r := next.capitals(TextWidth(next.String, height))
	dx, dy := (r.Width()-before.Width())/2, (r.Height()-before.Height())/2
	for _, by := range []model.Point{{}, {Y: dy}, {Y: -dy}, {X: dx}, {X: -dx}, {X: dx, Y: dy}, {X: -dx, Y: dy}, {X: dx, Y: -dy}, {X: -dx, Y: -dy}} {
		if e.free(i, r.Moved(by).Grown(clear), before.Grown(clear)) {
			next.At = t.At.Add(by)
			return next, true
		}
	}
	return t, false
}

func (e *enlarging) free(i int, r, before place.Rect) bool {
	free := true
	e.room.each(r, func(cell int) bool {
		for n := e.room.first[cell]; n >= 0 && free; n = e.room.entry[n].next {
			taken := e.room.entry[n].taken
			other := e.room.taken[taken]
			free = e.owner[taken] == i || !overlap(other, r) || overlap(other, before)
		}
		return free
	})
	return free
}
