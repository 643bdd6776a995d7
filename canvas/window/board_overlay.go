package window

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/edit"
	"rinsewright/canvas/place"
	"rinsewright/model"
)

// mostOutlined is the number of selected things beyond which one box around all
// stands for them.
const mostOutlined = 300

// refreshOverlay shows what lies over the drawing.
func (b *board) refreshOverlay() {
	o := b.over
	o.begin()
	b.paintCompared()
	b.paintFindings()
	b.paintPins()
	b.paintLoose()
	b.paintFlash()
	b.paintPointed()
	b.paintSelection()
	tool := b.ed.Overlay()
	b.paintTool(tool)
	b.paintTip(tool.Tip, tool.TipAt)
	b.paintLegend()
	b.paintRulers()
	b.paintEmpty()
	b.map_.follow()
	if cv := fyne.CurrentApp().Driver().CanvasForObject(b.over); cv != nil {
		cv.Refresh(b.over)
	}
}

func (b *board) accent(alpha uint8) color.NRGBA {
	c := palette(darkNow()).Colour(draw.Accent)
	return color.NRGBA{c.R, c.G, c.B, alpha}
}

// drawing gives the drawing with the preview of the gesture under way in it.
func (b *board) drawing() *edit.Drawing {
	if c := b.ed.Circuit(); c != b.on.circuit() {
		return edit.NewDrawing(c, b.on.cat).Along(b.routes)
	}
	return b.on.drawing()
}

func (b *board) corners(r place.Rect, grow float32) (fyne.Position, fyne.Position) {
	p, q := b.view.on(r.Min), b.view.on(r.Max)
	return fyne.NewPos(p.X-grow, p.Y-grow), fyne.NewPos(q.X+grow, q.Y+grow)
}

func (b *board) points(line []model.Point) []fyne.Position {
	out := make([]fyne.Position, len(line))
	for i, p := range line {
		out[i] = b.view.on(p)
	}
	return out
}

func (b *board) paintSelection() {
	ids := b.on.doc.Selection()
	if len(ids) == 0 {
		return
	}
	d := b.drawing()
	if len(ids) > mostOutlined {
		p, q := b.corners(d.Bounds(ids...), 4)
		b.over.box(p, q, b.accent(255), b.accent(24), 1.5)
		return
	}
	for _, id := range ids {
		switch r := d.Circuit().Record(id).(type) {
		case model.Part:
			p, q := b.corners(d.Box(r), 4)
			b.over.box(p, q, b.accent(255), b.accent(22), 1.5)
		case *model.Run:
			b.over.polyline(b.points(d.Line(r)), b.accent(110), 6)
		}
	}
	if len(ids) == 1 {
		b.paintPorts(d, ids[0])
	}
}

// paintPorts rings the free ports of a part: a run can be drawn from there.
func (b *board) paintPorts(d *edit.Drawing, id model.ID) {
	p := d.Circuit().Part(id)
	if p == nil || b.view.Zoom < 0.8 {
		return
	}
	paper := palette(darkNow()).Colour(draw.Paper)
	for _, port := range place.Ports(p, b.on.cat.Kind(p.Meta().Kind)) {
		if d.PortFree(id, port.Name) {
			b.over.ring(b.view.on(port.Place), 3.5, b.accent(255), paper, 1.5)
		}
	}
}

func (b *board) paintTool(o edit.Overlay) {
	d := b.on.drawing()
	accent := b.accent(255)
	switch o.Hover.Kind {
	case edit.HitPart, edit.HitPort:
		if p := d.Circuit().Part(o.Hover.ID); p != nil && !b.on.doc.Selected(o.Hover.ID) {
			c1, c2 := b.corners(d.Box(p), 3)
			b.over.box(c1, c2, b.accent(130), color.Transparent, 1)
		}
		b.paintPorts(d, o.Hover.ID)
		if o.Hover.Kind == edit.HitPort {
			b.over.ring(b.view.on(o.Hover.At), 6, accent, b.accent(60), 2)
		}
	case edit.HitRun:
		if r := d.Circuit().Run(o.Hover.ID); r != nil {
			b.over.polyline(b.points(d.Line(r)), b.accent(70), 5)
		}
	case edit.HitHandle:
		b.over.ring(b.view.on(o.Hover.At), 7, accent, b.accent(60), 2)
	}
	paper := palette(darkNow()).Colour(draw.Paper)
	for _, h := range o.Handles {
		p := b.view.on(h.At)
		b.over.box(fyne.NewPos(p.X-4, p.Y-4), fyne.NewPos(p.X+4, p.Y+4), accent, paper, 1.5)
	}
	for _, g := range o.Guides {
		b.over.line(b.view.on(g.From), b.view.on(g.To), b.accent(150), 1)
	}
	b.over.polyline(b.points(o.Line), accent, 2.5)
	if o.Target != nil {
		p := b.view.on(o.Target.At)
		b.over.ring(p, 7, accent, b.accent(60), 2)
		if o.Tee {
			b.over.ring(p, 2.5, accent, accent, 1)
		}
	}
	if o.Band != nil {
		p, q := b.corners(*o.Band, 0)
		b.over.box(p, q, accent, b.accent(28), 1)
	}
}

// spanned gives the rectangle of a symbol's box about a place.
func spanned(at model.Point, box [4]float64) place.Rect {
	return place.Spanned(model.Point{X: at.X + box[0], Y: at.Y + box[1]}, model.Point{X: at.X + box[2], Y: at.Y + box[3]})
}

// paintEmpty says how to begin while nothing is drawn, and how to come back while
// nothing of the drawing is in view.
func (b *board) paintEmpty() {
	lines := []string{
		"Drag a tank from the left to begin.",
		"Then a pump and a valve; pull a run from one port to the next.",
		"File, Open demo circuit shows a whole station.",
	}
	if c := b.ed.Circuit(); len(c.Parts())+len(c.Runs()) > 0 {
		if b.draw().Bounds.Touches(b.view.shown(b.Size())) {
			return
		}
		lines = []string{"Nothing of the drawing is in view.", "F shows all of it."}
	}
	y := b.Size().Height/2 - 34
	for i, text := range lines {
		t := b.over.texts.next()
		t.Text, t.Color, t.Alignment = text, colour(colorQuiet), fyne.TextAlignCenter
		t.TextSize, t.TextStyle.Bold = theme.TextSize(), i == 0
		t.Resize(fyne.NewSize(b.Size().Width, 20))
		t.Move(fyne.NewPos(0, y+float32(i)*24))
		b.over.objects = append(b.over.objects, t)
	}
}
