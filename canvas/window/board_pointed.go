package window

import (
	"image/color"

	"rinsewright/model"
)

// point marks a place that something elsewhere in the window tells of; the zero
// place takes the mark away.
func (b *board) point(at model.Place) {
	if b.pointed != at {
		b.pointed = at
		b.refreshOverlay()
	}
}

func (b *board) paintPointed() {
	d := b.drawing()
	switch r := d.Circuit().Record(b.pointed.Element).(type) {
	case model.Part:
		p, q := b.corners(d.Box(r), 6)
		b.over.box(p, q, b.accent(255), b.accent(40), 2)
		if at, ok := b.spot(d, b.pointed); ok && b.pointed.Port != "" {
			b.over.ring(b.view.on(at), 8, b.accent(255), color.Transparent, 2)
		}
	case *model.Run:
		b.over.polyline(b.points(d.Line(r)), b.accent(120), 10)
	}
}
