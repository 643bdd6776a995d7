package sheet

import (
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/model"
)

// field is one box of the title block: a small label above what is told. The
// fields are those that ISO 7200 asks for (owner, number, title, creator, date of
// issue, revision, sheet; from memory) and what the reader of a line-up needs.
type field struct {
	label, value string
	share        float64 // of the row's width
}

type fieldRow struct {
	height float64
	lines  int
	size   float64 // of the letters, at most
	fields []field
}

const (
	labelSize  = 1.3
	valueSize  = 2.2
	leastValue = 1.4
	rowHeight  = 7.5
	cellMargin = 1.3
)

// titleRows gives the rows of the title block, first what it is, then its numbers.
func (b *book) titleRows(n int) (what, numbers []fieldRow) {
	h := b.circuit.Header()
	name := h.Name
	if name == "" {
		name = "Circuit without a name"
	}
	what = []fieldRow{
		{13, 2, 3.2, []field{{"Title", name, 1}}},
		{rowHeight, 1, valueSize, []field{{"Plant", h.Plant, 1}}},
	}
	if h.Customer != "" || h.Project != "" {
		what = append(what, fieldRow{rowHeight, 1, valueSize, []field{{"Customer", h.Customer, 0.5}, {"Project", h.Project, 0.5}}})
	}
	shown := b.opt.Shown
	if t := b.pages[n].title; t != "" {
		shown = strings.TrimPrefix(shown+"  ·  "+t, "  ·  ")
	}
	what = append(what, fieldRow{12, 3, valueSize, []field{{"Shown", shown, 1}}})
	size := b.paper.Name
	numbers = []fieldRow{
		{rowHeight, 1, 2.5, []field{{"Drawing number", h.DrawingNumber, 0.7}, {"Revision", h.Revision, 0.3}}},
		{rowHeight, 1, valueSize, []field{{"Sheet", sheetNumber(n, len(b.pages)), 0.3}, {"Paper", size, 0.3}, {"Size of the drawing", percent(b.pages[n].scale), 0.4}}},
		{rowHeight, 1, valueSize, []field{{"Date", h.Date, 0.3}, {"Drawn by", h.Author, 0.4}, {"Limits", h.Profile, 0.3}}},
	}
	return what, numbers
}

func height(rows []fieldRow) float64 {
	sum := 0.0
	for _, r := range rows {
		sum += r.height
	}
	return sum
}

// setRows draws rows from the top of a box.
func setRows(to *draw.Picture, rows []fieldRow, box place.Rect) {
	y := box.Min.Y
	for i, r := range rows {
		if i > 0 {
			straight(to, thinLine, model.Point{X: box.Min.X, Y: y}, model.Point{X: box.Max.X, Y: y})
		}
		x := box.Min.X
		for j, f := range r.fields {
			if j > 0 {
				straight(to, thinLine, model.Point{X: x, Y: y}, model.Point{X: x, Y: y + r.height})
			}
			w := f.share * box.Width()
			words(to, f.label, model.Point{X: x + cellMargin, Y: y + 1.7}, labelSize, w-2*cellMargin, draw.Faint)
			size, lines := fit(f.value, r.size, leastValue, w-2*cellMargin, r.lines)
			// The lines stand in the middle of what the label leaves.
			pitch := 1.75 * size
			first := y + 2.6 + (r.height-2.6-float64(len(lines)-1)*pitch)/2
			for k, l := range lines {
				words(to, l, model.Point{X: x + cellMargin, Y: first + float64(k)*pitch}, size, w-2*cellMargin, draw.Ink)
			}
			x += w
		}
		y += r.height
	}
}

const cautionHeight = 8.0

// cautionWords stand on every sheet.
const cautionWords = draw.Caution + " Follow site rules, lock-out and local codes. Steam, pressure and electrical work is for licensed people."

// setCaution writes the caution, or other words in its place.
func setCaution(to *draw.Picture, box place.Rect, told string) {
	if told == "" {
		told = cautionWords
	}
	size, lines := fit(told, 1.6, 1.35, box.Width()-2*cellMargin, 2)
	if draw.TextWidth(told, size) > 2*(box.Width()-2*cellMargin) {
		size, lines = fit(told, 1.5, 1.1, box.Width()-2*cellMargin, 3)
	}
	pitch := min(1.6*size, box.Height()/float64(len(lines)+1))
	first := box.Centre().Y - float64(len(lines)-1)*pitch/2
	for i, l := range lines {
		words(to, l, model.Point{X: box.Min.X + cellMargin, Y: first + float64(i)*pitch}, size, box.Width()-2*cellMargin, draw.Ink)
	}
}

const (
	revisionRow   = 4.6
	mostRevisions = 5 // the last ones are shown
)

// revisions gives the lines of the table, the newest at the top.
func (b *book) revisions() []model.Revision {
	h := b.circuit.Header()
	out := make([]model.Revision, 0, mostRevisions)
	for i := len(h.Revisions) - 1; i >= 0 && len(out) < mostRevisions; i-- {
		out = append(out, h.Revisions[i])
	}
	return out
}

func (b *book) revisionHeight() float64 {
	if n := len(b.revisions()); n > 0 {
		return float64(n+1) * revisionRow
	}
	return 0
}

func (b *book) setRevisions(to *draw.Picture, box place.Rect) {
	list := b.revisions()
	if len(list) == 0 {
		return
	}
	columns := []float64{0, 0.1, 0.34, 0.56, 1}
	row := func(y float64, size float64, role draw.Role, cells ...string) {
		for i, c := range cells {
			x0, x1 := box.Min.X+columns[i]*box.Width(), box.Min.X+columns[i+1]*box.Width()
			room := x1 - x0 - 2*cellMargin
			if lines := wrapped(c, leastValue, room, 1); len(lines) > 0 && draw.TextWidth(c, leastValue) > room {
				c = lines[0]
			}
			words(to, c, model.Point{X: x0 + cellMargin, Y: y + revisionRow/2}, size, room, role)
		}
	}
	row(box.Min.Y, labelSize, draw.Faint, "Rev.", "Date", "By", "Change")
	for i, r := range list {
		y := box.Min.Y + float64(i+1)*revisionRow
		straight(to, thinLine, model.Point{X: box.Min.X, Y: y}, model.Point{X: box.Max.X, Y: y})
		row(y, 1.8, draw.Ink, r.Mark, r.Date, r.By, r.What)
	}
	for _, c := range columns[1:4] {
		x := box.Min.X + c*box.Width()
		straight(to, thinLine, model.Point{X: x, Y: box.Min.Y}, model.Point{X: x, Y: box.Max.Y})
	}
}
