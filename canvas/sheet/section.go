package sheet

import (
	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/model"
)

// Section is a table on sheets of its own behind the drawing: what is done, in which
// order, and room to sign for it.
type Section struct {
	Heading string
	Note    string // a sentence beneath the heading
	Columns []string
	Shares  []float64 // of the width, one a column, 1 in sum
	Rows    [][]string
	Signs   []draw.Sign // one a row, set in the first column; nil: none
	Signed  int         // so many of the last columns are boxes to be signed by hand
}

const (
	sectionText  = 2.0 // mm of capitals
	sectionPitch = 3.3
	sectionHead  = 2.8
	sectionGap   = 6.0
	cellPad      = 1.4
	signedHeight = 8.5 // mm that a hand needs to sign
	mostLines    = 12  // of a cell
)

// sectionPages sets the sections one below the other, on as many sheets as they
// need. A table that goes on has its headings again.
func (b *book) sectionPages() {
	room := b.blocks.drawing.Grown(-aroundWhole)
	var now []func(*draw.Picture)
	y := room.Min.Y
	flush := func() {
		if len(now) == 0 {
			return
		}
		list := now
		b.pages = append(b.pages, page{title: b.opt.SectionsTitle, list: func(to *draw.Picture, _ place.Rect) {
			for _, do := range list {
				do(to)
			}
		}})
		now, y = nil, room.Min.Y
	}
	for i := range b.opt.Sections {
		s := &b.opt.Sections[i]
		head := func(again bool) {
			from := y
			now = append(now, func(to *draw.Picture) { s.setHead(to, room, from, again) })
			y += s.headHeight(room)
		}
		first := 0.0
		if len(s.Rows) > 0 {
			first = s.rowHeight(0, room)
		}
		if y > room.Min.Y && y+s.headHeight(room)+first > room.Max.Y {
			flush()
		}
		head(false)
		for r := range s.Rows {
			h := s.rowHeight(r, room)
			if y+h > room.Max.Y && len(now) > 1 {
				flush()
				head(true)
			}
			from := y
			now = append(now, func(to *draw.Picture) { s.setRow(to, r, room, from) })
			y += h
		}
		y += sectionGap
	}
	flush()
}

func (s *Section) note(room place.Rect) []string {
	if s.Note == "" {
		return nil
	}
	return wrapped(s.Note, sectionText, room.Width(), 6)
}

func (s *Section) headHeight(room place.Rect) float64 {
	h := 2.2*sectionHead + float64(len(s.note(room)))*sectionPitch
	if len(s.Columns) > 0 {
		h += 2 * sectionPitch
	}
	return h
}

func (s *Section) setHead(to *draw.Picture, room place.Rect, y float64, again bool) {
	heading := s.Heading
	if again {
		heading += " (continued)"
	}
	words(to, heading, model.Point{X: room.Min.X, Y: y + 0.9*sectionHead}, sectionHead, room.Width(), draw.Ink)
	y += 2.2 * sectionHead
	for _, line := range s.note(room) {
		words(to, line, model.Point{X: room.Min.X, Y: y + sectionPitch/2}, sectionText, room.Width(), draw.Ink)
		y += sectionPitch
	}
	if len(s.Columns) == 0 {
		return
	}
	for i, c := range s.Columns {
		x0, x1 := s.column(i, room)
		words(to, c, model.Point{X: x0 + cellPad, Y: y + sectionPitch}, 1.8, x1-x0-2*cellPad, draw.Faint)
	}
	y += 2 * sectionPitch
	straight(to, 0.35, model.Point{X: room.Min.X, Y: y}, model.Point{X: room.Max.X, Y: y})
}

// column gives where a column begins and ends.
func (s *Section) column(i int, room place.Rect) (x0, x1 float64) {
	at := 0.0
	for k := range i {
		at += s.Shares[k]
	}
	return room.Min.X + at*room.Width(), room.Min.X + (at+s.Shares[i])*room.Width()
}

// cell gives the lines of a cell.
func (s *Section) cell(r, i int, room place.Rect) []string {
	x0, x1 := s.column(i, room)
	return wrapped(s.Rows[r][i], sectionText, x1-x0-2*cellPad, mostLines)
}

func (s *Section) rowHeight(r int, room place.Rect) float64 {
	most := 1
	for i := range s.Rows[r] {
		most = max(most, len(s.cell(r, i, room)))
	}
	h := float64(most)*sectionPitch + 2*cellPad
	if s.Signed > 0 {
		h = max(h, signedHeight)
	}
	if s.Signs != nil {
		h = max(h, 7.5)
	}
	return h
}

func (s *Section) setRow(to *draw.Picture, r int, room place.Rect, y float64) {
	h := s.rowHeight(r, room)
	for i := range s.Rows[r] {
		x0, x1 := s.column(i, room)
		if i == 0 && s.Signs != nil {
			s.Signs[r].Set(to, model.Point{X: x0 + 4.5, Y: y + h/2})
			continue
		}
		if i >= len(s.Rows[r])-s.Signed {
			straight(to, thinLine, model.Point{X: x0, Y: y}, model.Point{X: x0, Y: y + h})
			if i == len(s.Rows[r])-1 {
				straight(to, thinLine, model.Point{X: x1, Y: y}, model.Point{X: x1, Y: y + h})
			}
		}
		lines := s.cell(r, i, room)
		first := y + h/2 - float64(len(lines)-1)*sectionPitch/2
		for k, line := range lines {
			words(to, line, model.Point{X: x0 + cellPad, Y: first + float64(k)*sectionPitch}, sectionText, x1-x0-2*cellPad, draw.Ink)
		}
	}
	straight(to, thinLine, model.Point{X: room.Min.X, Y: y + h}, model.Point{X: room.Max.X, Y: y + h})
}
