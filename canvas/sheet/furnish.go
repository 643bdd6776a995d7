package sheet

import (
	"fmt"
	"math"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/model"
)

// blocks are the boxes of a sheet within its frame. A sheet that lies has them in
// a column on the right, which leaves the drawing a room of nearly the shape of
// the sheet; one that stands has them in a band at the foot.
type blocks struct {
	drawing, legend, revisions, caution place.Rect
	what, numbers                       place.Rect // of the title block
	lines                               [][2]model.Point
}

// besideLeast is the width in mm from which a legend stands beside the title block.
const besideLeast = 60.0

// arrange divides the frame.
func (b *book) arrange() {
	b.pages = []page{{scale: 1}} // rows are as high as they are, whatever they hold
	what, numbers := b.titleRows(0)
	b.pages = nil
	hWhat, hNumbers, hRev := height(what), height(numbers), b.revisionHeight()
	f := b.paper.frame
	line := func(x0, y0, x1, y1 float64) {
		b.blocks.lines = append(b.blocks.lines, [2]model.Point{{X: x0, Y: y0}, {X: x1, Y: y1}})
	}
	if !b.standing {
		x := f.Max.X - min(max(0.2*f.Width(), 62), 110)
		y := f.Max.Y - cautionHeight
		b.blocks.caution = rect(x, y, f.Max.X, f.Max.Y)
		b.blocks.numbers = rect(x, y-hNumbers, f.Max.X, y)
		b.blocks.what = rect(x, y-hNumbers-hWhat, f.Max.X, y-hNumbers)
		y -= hNumbers + hWhat
		b.blocks.revisions = rect(x, y-hRev, f.Max.X, y)
		b.blocks.legend = rect(x, f.Min.Y, f.Max.X, y-hRev)
		b.blocks.drawing = rect(f.Min.X, f.Min.Y, x, f.Max.Y)
		line(x, f.Min.Y, x, f.Max.Y)
		for _, r := range []place.Rect{b.blocks.caution, b.blocks.numbers, b.blocks.what, b.blocks.revisions} {
			if r.Height() > 0 {
				line(x, r.Min.Y, f.Max.X, r.Min.Y)
			}
		}
		_, ok := b.legend.pitch(b.blocks.legend.Width()-2*cellMargin, b.blocks.legend.Height())
		b.apart = !ok
		return
	}
	wide := min(180, f.Width()) // the width of the title block of ISO 7200
	left := f.Max.X - wide
	half := left + wide/2
	high := max(hWhat, hNumbers+cautionHeight)
	top := f.Max.Y - high
	b.blocks.what = rect(left, top, half, f.Max.Y)
	b.blocks.numbers = rect(half, top, f.Max.X, top+hNumbers)
	b.blocks.caution = rect(half, top+hNumbers, f.Max.X, f.Max.Y)
	b.blocks.revisions = rect(left, top-hRev, f.Max.X, top)
	line(half, top, half, f.Max.Y)
	line(half, top+hNumbers, f.Max.X, top+hNumbers)
	line(left, top, f.Max.X, top)
	top -= hRev
	legend := rect(f.Min.X, top, left, f.Max.Y)
	beside := left-f.Min.X > besideLeast
	if beside {
		// The band is as high as the legend needs, up to a quarter of the frame.
		need := b.legend.height(legend.Width()-2*cellMargin, leastPitch+1)
		if most := f.Height() / 4; need < most {
			legend.Min.Y = min(legend.Min.Y, f.Max.Y-need)
		}
	} else if need := b.legend.height(f.Width()-2*cellMargin, leastPitch+0.6); need > 0 && need < f.Height()/4 {
		legend = rect(f.Min.X, top-need, f.Max.X, top)
	}
	b.blocks.legend = legend
	_, ok := b.legend.pitch(legend.Width()-2*cellMargin, legend.Height())
	b.apart = !ok
	foot := min(top, legend.Min.Y)
	if !beside && b.apart {
		foot = top
	}
	b.blocks.drawing = rect(f.Min.X, f.Min.Y, f.Max.X, foot)
	line(f.Min.X, foot, f.Max.X, foot)
	line(left, top, f.Max.X, top)
	if beside {
		line(left, foot, left, f.Max.Y)
	}
}

// furnish sets border, title block, revisions and legend of a page.
func (b *book) furnish(to *draw.Picture, n int) {
	border(to, b.paper, b.blocks.drawing)
	for _, l := range b.blocks.lines {
		straight(to, gridLine, l[0], l[1])
	}
	what, numbers := b.titleRows(n)
	setRows(to, what, b.blocks.what)
	setRows(to, numbers, b.blocks.numbers)
	setCaution(to, b.blocks.caution, b.opt.Caution)
	b.setRevisions(to, b.blocks.revisions)
	if b.pages[n].list != nil {
		return
	}
	legend := b.legend
	if b.apart {
		legend.symbols = nil
	}
	room := b.blocks.legend
	if pitch, ok := legend.pitch(room.Width()-2*cellMargin, room.Height()); ok && !legend.empty() {
		legend.set(to, room, pitch)
		room.Min.Y += legend.height(room.Width()-2*cellMargin, pitch)
	}
	b.setNotes(to, room)
}

const (
	noteText  = 1.8
	notePitch = 3.0
)

// setNotes writes the note of the circuit where the blocks leave room: above the
// title block of a sheet that stands, under the legend of one that lies.
func (b *book) setNotes(to *draw.Picture, room place.Rect) {
	if b.standing {
		room = place.Rect{}
		if left := b.blocks.what.Min.X; left > b.paper.frame.Min.X+besideLeast { // the legend stands beside
			room = rect(left, b.blocks.drawing.Max.Y, b.paper.frame.Max.X, b.blocks.what.Min.Y-b.revisionHeight())
		}
	}
	lines := int((room.Height() - headingRoom - 2) / notePitch)
	note := b.circuit.Header().Note
	if note == "" || lines < 1 {
		return
	}
	words(to, "Notes", model.Point{X: room.Min.X + cellMargin, Y: room.Min.Y + headingRoom/2}, headingSize, room.Width(), draw.Ink)
	for i, l := range wrapped(note, noteText, room.Width()-2*cellMargin, lines) {
		words(to, l, model.Point{X: room.Min.X + cellMargin, Y: room.Min.Y + headingRoom + (float64(i)+0.5)*notePitch}, noteText, room.Width(), draw.Ink)
	}
}

// legendPages gives the legend sheets of its own.
func (b *book) legendPages() {
	room := b.blocks.drawing.Grown(-aroundWhole)
	rest := b.legend
	for n := len(rest.symbols); !rest.empty(); n = len(rest.symbols) {
		part := rest
		for n > 0 && part.height(room.Width(), mostPitch) > room.Height() {
			n--
			part = legendOf{symbols: rest.symbols[:n]}
		}
		whole := len(part.symbols) == len(rest.symbols) && len(part.media) == len(rest.media) && len(part.keys)+len(part.signs) == len(rest.keys)+len(rest.signs)
		b.pages = append(b.pages, page{title: "Legend", list: func(to *draw.Picture, _ place.Rect) { part.set(to, room, mostPitch) }})
		if whole || n == 0 {
			return
		}
		rest.symbols = rest.symbols[n:]
	}
}

const (
	findingColumn = 85.0
	findingPitch  = 8.5
	findingText   = 1.9
)

// findingPages gives the list of findings sheets of its own.
func (b *book) findingPages() {
	room := b.blocks.drawing.Grown(-aroundWhole)
	columns := max(1, int(room.Width()/findingColumn))
	wide := room.Width() / float64(columns)
	rows := max(1, int((room.Height()-headingRoom*2)/findingPitch))
	if b.opt.Heading == "" && len(b.opt.Marks) == 0 {
		return
	}
	// Without a finding the heading alone says that it was looked for.
	for start := 0; start == 0 || start < len(b.opt.Marks); start += rows * columns {
		part := b.opt.Marks[start:min(start+rows*columns, len(b.opt.Marks))]
		each := max(1, min(rows, int(math.Ceil(float64(len(part))/float64(columns)))))
		b.pages = append(b.pages, page{title: "Findings", list: func(to *draw.Picture, _ place.Rect) {
			words(to, b.opt.Heading, model.Point{X: room.Min.X, Y: room.Min.Y + 2}, 2.4, room.Width(), draw.Ink)
			for i, m := range part {
				at := model.Point{X: room.Min.X + float64(i/each)*wide + 4, Y: room.Min.Y + headingRoom*2 + float64(i%each)*findingPitch}
				m.Set(to, at)
				size, lines := fit(m.Text, findingText, 1.5, wide-12, 2)
				for k, l := range lines {
					words(to, l, model.Point{X: at.X + 5, Y: at.Y + (float64(k)-float64(len(lines)-1)/2)*1.7*size}, size, wide-12, draw.Ink)
				}
			}
		}})
	}
}

func sheetNumber(n, of int) string { return fmt.Sprintf("%d of %d", n+1, of) }

// percent tells the size of a drawing; a list has none.
func percent(scale float64) string {
	if scale == 0 {
		return "–"
	}
	return fmt.Sprintf("%.0f %%", 100*scale)
}
