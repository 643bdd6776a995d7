package window

import (
	"image/color"

	"rinsewright/canvas/edit"
	"rinsewright/canvas/place"
	"rinsewright/checks"
	"rinsewright/model"
)

// mostMarks is how many marks of findings are shown at once.
const mostMarks = 250

// showFindings marks the findings on the drawing.
func (b *board) showFindings(list []checks.Finding) {
	b.findings = list
	b.refreshOverlay()
}

// mark lights the places of one finding up and brings them into view; nil puts
// the light out.
func (b *board) mark(f *checks.Finding) {
	b.picked = f
	if f != nil {
		var all place.Rect
		d := b.on.drawing()
		for _, p := range f.Places {
			all = all.Union(b.placeBounds(d, p))
		}
		for _, p := range f.Way {
			all = all.Union(b.placeBounds(d, p))
		}
		b.lookAt(all)
	}
	b.refreshOverlay()
}

// readable is the scale from which tags can be read and marks stand apart.
const readable = 0.55

// lookAt brings r into view, near enough to tell what is what.
func (b *board) lookAt(r place.Rect) {
	if r.Empty() {
		return
	}
	if b.view.scale() < readable && b.Size().Width > 1 {
		v := b.view
		v.Zoom = readable * unitsPerMillimetre
		if near := fitted(r.Grown(20), b.Size()); near.Zoom < v.Zoom {
			v.Zoom = max(near.Zoom, b.view.Zoom)
		}
		b.setView(v.centred(r.Centre(), b.Size()))
		return
	}
	b.bringIntoView(r)
}

func (b *board) placeBounds(d *edit.Drawing, p model.Place) place.Rect {
	switch d.Circuit().Record(p.Element).(type) {
	case model.Part, *model.Run:
		return d.Bounds(p.Element)
	}
	return place.Rect{}
}

// spot gives where the mark of a place stands; not ok for a place that is not on
// the drawing.
func (b *board) spot(d *edit.Drawing, p model.Place) (model.Point, bool) {
	switch r := d.Circuit().Record(p.Element).(type) {
	case model.Part:
		kind := b.on.cat.Kind(r.Meta().Kind)
		if kind != nil {
			if port, ok := kind.Port(p.Port); ok {
				at, _ := port.PortAt(r.Meta())
				return at, true
			}
		}
		box := d.Box(r)
		return model.Point{X: box.Max.X, Y: box.Min.Y}, true
	case *model.Run:
		line := d.Line(r)
		if piece, _ := place.Longest(line); piece >= 0 {
			return model.Point{X: (line[piece].X + line[piece+1].X) / 2, Y: (line[piece].Y + line[piece+1].Y) / 2}, true
		}
	}
	return model.Point{}, false
}

// paintFindings marks each place once, with its gravest finding, and lights the
// way of the one that is picked up.
func (b *board) paintFindings() {
	d := b.on.drawing()
	if b.picked != nil {
		b.paintPicked(d, b.picked)
	}
	shown := b.view.shown(b.Size())
	side := float32(14)
	if b.view.scale() < readable/1.5 {
		side = 10
	}
	taken := map[model.Point]bool{}
	count := 0
	for i := range b.findings { // worst first
		f := &b.findings[i]
		at, ok := b.spot(d, f.At)
		if !ok || taken[at] || !shown.Contains(at) || b.view.Zoom < 0.4 {
			continue
		}
		taken[at] = true
		if count++; count > mostMarks {
			break
		}
		// Beside the spot, so that a port stays to be seen and taken.
		b.over.icon(b.view.on(at).AddXY(side*0.6, -side*0.6), side, severityIcon(f.Severity))
	}
}

func (b *board) paintPicked(d *edit.Drawing, f *checks.Finding) {
	name := severityColour(f.Severity)
	if f.NotAssessed {
		name = colorUnknown
	}
	c, ok := colour(name).(color.NRGBA)
	if !ok {
		return
	}
	faint := color.NRGBA{c.R, c.G, c.B, 80}
	light := func(p model.Place, strong bool) {
		stroke, width := faint, float32(7)
		if strong {
			stroke = color.NRGBA{c.R, c.G, c.B, 140}
		}
		switch r := d.Circuit().Record(p.Element).(type) {
		case model.Part:
			k, q := b.corners(d.Box(r), 5)
			edge := color.NRGBA{c.R, c.G, c.B, 120}
			if strong {
				edge = c
			}
			b.over.box(k, q, edge, color.NRGBA{c.R, c.G, c.B, 36}, 2)
			if at, ok := b.spot(d, p); ok && p.Port != "" {
				b.over.ring(b.view.on(at), 8, c, color.Transparent, 2)
			}
		case *model.Run:
			b.over.polyline(b.points(d.Line(r)), stroke, width)
		}
	}
	for _, p := range f.Way {
		light(p, false)
	}
	for _, p := range f.Places {
		light(p, true)
	}
	if at, ok := b.spot(d, f.At); ok {
		b.over.ring(b.view.on(at), 13, c, color.Transparent, 2.5)
	}
}
