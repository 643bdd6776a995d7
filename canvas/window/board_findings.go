package window

import (
	"image/color"
	"strconv"
	"time"

	"fyne.io/fyne/v2"

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
	b.bring(f)
	b.refreshOverlay()
}

// markHere is mark with the view left as it is.
func (b *board) markHere(f *checks.Finding) {
	b.picked = f
	b.refreshOverlay()
}

func (b *board) bring(f *checks.Finding) {
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

// paintFindings marks each thing once, with its gravest finding and how many
// there are, and lights up the places of the one that is picked.
func (b *board) paintFindings() {
	if b.picked != nil {
		b.paintPicked(b.on.drawing(), b.picked)
	}
	if b.view.Zoom < 0.4 {
		return
	}
	shown := b.view.shown(b.Size()).Grown(5)
	size := sizeOfMark(b.view.scale())
	count := 0
	for _, m := range b.marks() { // worst first
		if !shown.Contains(m.at) { // nor what has no place
			continue
		}
		if count++; count > mostMarks {
			break
		}
		p := b.view.on(m.at)
		b.over.icon(p, size.side, severityIcon(m.worst))
		if m.count > 1 && size.count > 0 {
			t := b.over.texts.next()
			t.Text, t.Color, t.Alignment = strconv.Itoa(m.count), colour(severityColour(m.worst)), fyne.TextAlignLeading
			t.TextSize, t.TextStyle = 10, fyne.TextStyle{Bold: true}
			t.Move(p.AddXY(size.side/2+1, -size.side/2))
			t.Resize(fyne.NewSize(20, size.side))
			b.over.objects = append(b.over.objects, t)
		}
	}
}

// paintPicked frames what a finding is about: its parts by a line about them that
// leaves them to be seen, its runs by a pale band, a port by a ring.
func (b *board) paintPicked(d *edit.Drawing, f *checks.Finding) {
	name := severityColour(f.Severity)
	if f.NotAssessed {
		name = colorUnknown
	}
	c, ok := colour(name).(color.NRGBA)
	if !ok {
		return
	}
	band := color.NRGBA{c.R, c.G, c.B, 70}
	light := func(p model.Place, strong bool) {
		switch r := d.Circuit().Record(p.Element).(type) {
		case model.Part:
			k, q := b.corners(d.Box(r), 6)
			edge, width := color.NRGBA{c.R, c.G, c.B, 110}, float32(1.5)
			if strong {
				edge, width = c, 2
			}
			b.over.box(k, q, edge, color.NRGBA{c.R, c.G, c.B, 20}, width)
			if at, ok := b.spot(d, p); ok && p.Port != "" {
				b.over.ring(b.view.on(at), 8, c, color.Transparent, 2)
			}
		case *model.Run:
			b.over.polyline(b.points(d.Line(r)), band, 9)
		}
	}
	seen := map[model.Place]bool{}
	for _, list := range [][]model.Place{f.Places, f.Way} {
		for i, p := range list {
			if !seen[p] {
				seen[p] = true
				light(p, i == 0 || p.Element == f.At.Element)
			}
		}
	}
}

// flash frames things for a moment, so that the eye finds them.
func (b *board) flash(ids ...model.ID) {
	b.flashed = ids
	if b.flashing != nil {
		b.flashing.Stop()
	}
	b.flashing = time.AfterFunc(flashFor, func() {
		fyne.Do(func() {
			b.flashed = nil
			b.refreshOverlay()
		})
	})
	b.refreshOverlay()
}

const flashFor = 1800 * time.Millisecond

func (b *board) paintFlash() {
	if len(b.flashed) == 0 {
		return
	}
	d := b.on.drawing()
	for _, id := range b.flashed {
		switch r := d.Circuit().Record(id).(type) {
		case model.Part:
			p, q := b.corners(d.Box(r), 9)
			b.over.box(p, q, b.accent(255), b.accent(40), 3)
		case *model.Run:
			b.over.polyline(b.points(d.Line(r)), b.accent(120), 11)
		}
	}
}
