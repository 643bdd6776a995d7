package window

import (
	"fyne.io/fyne/v2"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/edit"
	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// pinner is the tool that places marks: a click on a part, on a run or on free
// ground, or a drag over an area.
type pinner struct {
	of   *audit
	up   bool
	from *model.Point // where the button went down
	to   model.Point
}

const pinHint = "Click a part, a place on a run or free ground to mark it, or drag over an area. Return marks the whole circuit, Escape leaves."

func (p *pinner) begin() {
	p.up, p.from = true, nil
	w := p.of.on
	w.board.ed.UseSelect()
	w.tools.refresh()
	w.tellHint(pinHint)
	w.refreshMenu()
	w.focusBoard()
}

func (p *pinner) stop() {
	if p.up {
		p.up, p.from = false, nil
		p.of.on.tellHint("")
		p.of.on.refreshMenu()
		p.of.on.board.refreshOverlay()
	}
}

// event takes an event of the board while the tool is up, and a click on the sign
// of a mark at any time. It says whether it has taken it.
func (p *pinner) event(kind edit.EventKind, at model.Point, button edit.Button, key string, tolerance float64) bool {
	w := p.of.on
	if !p.up {
		if kind == edit.Press && button == edit.Primary && !w.board.ed.Busy() && !w.board.drawingRun() {
			if k := p.signAt(at); k != nil {
				p.of.show(p.of.marksTab)
				p.of.marks.pickMark(k.ID)
				return true
			}
		}
		return false
	}
	switch kind {
	case edit.Press:
		if button != edit.Primary {
			p.stop()
			return true
		}
		p.from, p.to = &at, at
	case edit.Move:
		if p.from != nil {
			p.to = at
			w.board.refreshOverlay()
		}
		w.tellHint(pinHint)
	case edit.Release:
		if p.from == nil {
			return true
		}
		pin := p.pinOf(*p.from, at, tolerance)
		p.stop()
		p.of.note(pin, nil)
	case edit.Key:
		switch key {
		case edit.KeyEscape:
			p.stop()
		case edit.KeyEnter:
			p.stop()
			p.of.note(model.Pin{}, nil)
		default:
			return false
		}
	}
	return true
}

// pinOf gives where a mark sits that was made by pressing at one place and letting
// go at another.
func (p *pinner) pinOf(from, to model.Point, tolerance float64) model.Pin {
	d := p.of.on.drawing()
	if place.Spanned(from, to).Width() > 2*tolerance || place.Spanned(from, to).Height() > 2*tolerance {
		return model.Pin{At: &from, To: &to}
	}
	h := d.Hit(from, tolerance, func(model.ID) bool { return false })
	switch r := d.Circuit().Record(h.ID).(type) {
	case *model.Frame:
	case model.Part:
		return model.Pin{On: r.RecordID()}
	case *model.Run:
		return model.Pin{On: r.ID, Along: quantity.Some(quantity.Strength(shareAlong(d.Line(r), from)))}
	}
	return model.Pin{At: &from}
}

// shareAlong gives at which share of its length a line passes nearest to a place.
func shareAlong(line []model.Point, at model.Point) float64 {
	piece, near, _ := place.Nearest(line, at)
	before, all := 0.0, 0.0
	for i := 1; i < len(line); i++ {
		_, l := place.Longest(line[i-1 : i+1])
		all += l
		if i <= piece {
			before += l
		}
	}
	if all == 0 || piece < 0 || piece >= len(line) {
		return 0
	}
	_, rest := place.Longest([]model.Point{line[piece], near})
	return min(max((before+rest)/all, 0), 1)
}

// pinSide is the size of a sign on the board, in fyne's units.
const pinSide = 20

// signPoint gives where the sign of a mark stands on the board: at the left upper
// corner of a part or an area, else at its place. Marks of one place stand side by
// side.
func (p *pinner) signPoint(k *model.Mark, taken map[model.Point]int) (fyne.Position, bool) {
	w := p.of.on
	d := w.board.drawing()
	at, ok := d.PinPlace(k)
	if !ok {
		return fyne.Position{}, false
	}
	off := float32(0)
	if part := d.Circuit().Part(k.Pin.On); part != nil {
		at, off = d.Box(part).Min, -pinSide/2
	} else if k.Pin.On == "" && k.Pin.To != nil {
		at = place.Spanned(*k.Pin.At, *k.Pin.To).Min
	}
	n := taken[at]
	taken[at]++
	return w.board.view.on(at).AddXY(off+float32(n)*(pinSide+2), off), true
}

// signAt gives the mark whose sign lies at a place of the drawing, or nil.
func (p *pinner) signAt(at model.Point) *model.Mark {
	b := p.of.on.board
	here := b.view.on(at)
	taken := map[model.Point]int{}
	var found *model.Mark
	for _, k := range p.of.on.circuit().Marks() {
		if q, ok := p.signPoint(k, taken); ok && abs32(q.X-here.X) <= pinSide/2 && abs32(q.Y-here.Y) <= pinSide/2 {
			found = k // the one in front
		}
	}
	return found
}

func abs32(x float32) float32 { return max(x, -x) }

// paintPins sets the signs of reviewers' marks over the drawing.
func (b *board) paintPins() {
	a := b.on.audit
	if a == nil {
		return
	}
	taken := map[model.Point]int{}
	for _, k := range b.on.circuit().Marks() {
		p, ok := a.pinner.signPoint(k, taken)
		if !ok {
			continue
		}
		if k.Pin.On == "" && k.Pin.To != nil {
			c1, c2 := b.corners(place.Spanned(*k.Pin.At, *k.Pin.To), 0)
			b.dashedBox(c1, c2, b.accent(200), 1.5)
		}
		if k.ID == a.marks.picked {
			b.over.ring(p, pinSide*0.8, b.accent(255), b.accent(50), 2)
		}
		b.over.icon(p, pinSide, signOf(k))
		t := b.over.texts.next()
		t.Text, t.Color, t.Alignment = markName(k), palette(darkNow()).Colour(draw.Paper), fyne.TextAlignCenter
		if settledMark(k) {
			t.Color = palette(darkNow()).Colour(draw.Ink)
		}
		t.TextSize, t.TextStyle = 9, fyne.TextStyle{Bold: true}
		if k.Number > 99 {
			t.TextSize = 7
		}
		t.Move(p.AddXY(-pinSide, -pinSide/2))
		t.Resize(fyne.NewSize(2*pinSide, pinSide))
		b.over.objects = append(b.over.objects, t)
	}
	if q := a.pinner; q.up && q.from != nil {
		c1, c2 := b.corners(place.Spanned(*q.from, q.to), 0)
		b.dashedBox(c1, c2, b.accent(255), 1.5)
	}
}

// pinPictures sets reviewers' marks on a picture for paper.
func (w *Window) pinPictures(p *draw.Picture) { draw.Pins(p, pinsOf(w)) }
