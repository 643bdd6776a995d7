package report

import (
	"context"
	"fmt"
	"io"
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/model"
)

// Paper is A4 upright after ISO 216; lengths are in mm. Heights of letters are those
// of capitals.
const (
	paperWide = 210.0
	paperHigh = 297.0
	sideEdge  = 18.0
	topEdge   = 24.0
	footEdge  = 20.0

	bodyLetter  = 2.05
	smallLetter = 1.75
	cellLetter  = 1.65
	lead        = 1.95 // from line to line, over the height of capitals
)

const bodyWide = paperWide - 2*sideEdge

// WritePDF writes a report as a PDF for A4 paper. It ends early with the context's
// error.
func (r *Report) WritePDF(ctx context.Context, w io.Writer) error {
	p := &pager{report: r}
	p.cover()
	p.add()
	for _, b := range r.blocks() {
		if err := ctx.Err(); err != nil {
			return err
		}
		p.block(b)
	}
	p.contents()
	p.edges()
	about := draw.About{Title: "Audit report: " + r.Cover.Title, Author: r.Cover.By, Subject: r.Scope.Title}
	if err := draw.WritePages(w, p.pages, draw.Light, about); err != nil {
		return fmt.Errorf("report: %w", err)
	}
	return nil
}

// chapterAt is a line of the contents.
type chapterAt struct {
	title string
	page  int
}

// pager sets blocks on pages from the top down.
type pager struct {
	report   *Report
	pages    []*draw.Picture
	page     *draw.Picture
	y        float64 // of the next line's upper edge
	chapters []chapterAt
	listed   float64 // where on the cover the contents begin
}

func (p *pager) sized(wide, high float64) {
	p.page = &draw.Picture{Bounds: place.Rect{Max: model.Point{X: wide, Y: high}}}
	p.pages = append(p.pages, p.page)
	p.y = topEdge
}

func (p *pager) add() { p.sized(paperWide, paperHigh) }

func (p *pager) bottom() float64 { return p.page.Bounds.Height() - footEdge }

// room begins a new page where less than so much is left.
func (p *pager) room(high float64) {
	if p.y+high > p.bottom() && p.y > topEdge+1 {
		p.add()
	}
}

// text writes one line whose capitals begin at the upper edge y.
func (p *pager) text(x, y float64, s string, height float64, role draw.Role, anchor draw.Anchor) {
	if s == "" {
		return
	}
	p.put(draw.Text{At: model.Point{X: x, Y: y + height/2}, String: s, Height: height, Anchor: anchor, Role: role})
}

// put adds a figure and keeps the page as large as its paper.
func (p *pager) put(f draw.Figure) {
	b := p.page.Bounds
	p.page.Add(draw.LayerSheet, "", f)
	p.page.Bounds = b
}

func (p *pager) line(x0, y0, x1, y1, width float64, role draw.Role) {
	p.put(draw.Path{Segments: draw.Polyline([]model.Point{{X: x0, Y: y0}, {X: x1, Y: y1}}), Style: draw.Style{Stroke: role, Width: width}})
}

// picture sets a drawing with its left upper corner at a place.
func (p *pager) picture(q *draw.Picture, at model.Point, scale float64) {
	t := draw.Transfer{Scale: scale, By: model.Point{X: at.X - q.Bounds.Min.X*scale, Y: at.Y - q.Bounds.Min.Y*scale}}
	for i := range q.Items {
		it := &q.Items[i]
		p.page.Items = append(p.page.Items, draw.Item{Layer: it.Layer, Record: it.Record, Bounds: t.Rect(it.Bounds), Figure: t.Figure(it.Figure)})
	}
}

func (p *pager) sign(set func(*draw.Picture), at model.Point) {
	q := &draw.Picture{}
	set(q)
	for i := range q.Items {
		it := &q.Items[i]
		t := draw.Transfer{Scale: 1, By: at}
		p.page.Items = append(p.page.Items, draw.Item{Layer: it.Layer, Record: it.Record, Bounds: t.Rect(it.Bounds), Figure: t.Figure(it.Figure)})
	}
}

func (p *pager) block(b block) {
	switch b := b.(type) {
	case heading:
		p.heading(b)
	case paragraph:
		p.paragraph(b)
	case pairs:
		p.y += p.pairs(b, sideEdge, bodyWide, true) + 2
	case tally:
		p.tally(b)
	case grid:
		p.grid(b.Table)
	case figure:
		p.figure(b)
	case entry:
		p.entry(b)
	case question:
		p.question(b)
	case signature:
		p.signature(b)
	}
}

func (p *pager) heading(h heading) {
	switch h.level {
	case 1:
		if p.y > topEdge+1 {
			p.room(70)
		}
		if p.y > topEdge+1 {
			p.y += 9
		}
		p.chapters = append(p.chapters, chapterAt{h.text, len(p.pages)})
		p.text(sideEdge, p.y, h.text, 4.4, draw.Ink, draw.Start)
		p.y += 4.4 + 2.6
		p.line(sideEdge, p.y, sideEdge+26, p.y, 0.9, draw.Accent)
		p.line(sideEdge+26, p.y, paperWide-sideEdge, p.y, 0.2, draw.Faint)
		p.y += 4
	case 2:
		p.room(32)
		p.y += 3.5
		for _, l := range wrapped(h.text, 2.7, bodyWide) {
			p.text(sideEdge, p.y, l, 2.7, draw.Accent, draw.Start)
			p.y += 2.7 * lead
		}
		p.y += 0.6
	default:
		p.room(22)
		p.y += 1.6
		p.text(sideEdge, p.y, h.text, 2.2, draw.Ink, draw.Start)
		p.y += 2.2*lead + 0.3
	}
}

func (p *pager) paragraph(b paragraph) {
	height, role, x, wide := bodyLetter, draw.Ink, sideEdge, bodyWide
	if b.quiet {
		height, role = smallLetter, draw.Faint
	}
	if b.alert {
		x, wide = x+4, wide-4
	}
	for _, l := range wrapped(b.text, height, wide) {
		p.room(height * lead)
		if b.alert {
			p.line(sideEdge+1, p.y-0.8, sideEdge+1, p.y+height*lead-0.8, 0.8, draw.Warning)
		}
		p.text(x, p.y, l, height, role, draw.Start)
		p.y += height * lead
	}
	p.y += 1.8
}

const pairLabel = 36.0

// pairs sets names and what they stand for, and gives the height that takes. Where
// flows is set it goes over to new pages by itself and gives 0.
func (p *pager) pairs(list pairs, x, wide float64, flows bool) float64 {
	label := min(pairLabel, wide*0.32)
	y := p.y
	for _, q := range list {
		names := wrapped(q[0], smallLetter, label-2)
		lines := wrapped(q[1], bodyLetter, wide-label)
		high := max(float64(len(lines))*bodyLetter*lead, float64(len(names))*smallLetter*lead)
		if flows {
			p.y = y
			p.room(high)
			y = p.y
		}
		for i, n := range names {
			p.text(x, y+0.2+float64(i)*smallLetter*lead, n, smallLetter, draw.Faint, draw.Start)
		}
		for i, l := range lines {
			p.text(x+label, y+float64(i)*bodyLetter*lead, l, bodyLetter, draw.Ink, draw.Start)
		}
		y += high + 0.3
	}
	if flows {
		p.y = y
		return 0
	}
	return y - p.y
}

func pairsHeight(list pairs, wide float64) float64 {
	label := min(pairLabel, wide*0.32)
	sum := 0.0
	for _, q := range list {
		names, lines := len(wrapped(q[0], smallLetter, label-2)), len(wrapped(q[1], bodyLetter, wide-label))
		sum += max(float64(lines)*bodyLetter, float64(names)*smallLetter)*lead + 0.3
	}
	return sum
}

func (p *pager) tally(t tally) {
	p.room(24)
	const columns = 3
	wide := bodyWide / columns
	for i, c := range t {
		x, y := sideEdge+float64(i%columns)*wide, p.y+float64(i/columns)*13
		if c.sign != nil {
			p.sign(c.sign, model.Point{X: x + 5, Y: y + 4})
		} else {
			p.line(x+5, y, x+5, y+8, 0.9, draw.Faint)
		}
		p.text(x+11, y, fmt.Sprint(c.n), 3.6, draw.Ink, draw.Start)
		p.text(x+11, y+5.6, c.what, smallLetter, draw.Faint, draw.Start)
	}
	p.y += float64((len(t)+columns-1)/columns)*13 + 2
}

func (p *pager) figure(f figure) {
	b := f.picture.Bounds
	wide, high := bodyWide, 120.0
	scale := min(1, wide/max(b.Width(), 1), high/max(b.Height(), 1))
	if scale >= 0.5 {
		p.room(b.Height()*scale + 12)
		p.picture(f.picture, model.Point{X: sideEdge + (bodyWide-b.Width()*scale)/2, Y: p.y}, scale)
		p.y += b.Height()*scale + 3
		p.paragraph(paragraph{text: f.caption, quiet: true})
		return
	}
	// A sheet of its own, lying, on which letters stay to be read: A4, else A3.
	p.paragraph(paragraph{text: f.caption + " The drawing is on the next sheet.", quiet: true})
	paper := [2]float64{paperHigh, paperWide}
	if min((paper[0]-2*sideEdge)/b.Width(), (paper[1]-topEdge-footEdge)/b.Height()) < 0.5 {
		paper = [2]float64{420, 297}
	}
	p.sized(paper[0], paper[1])
	scale = min(1, (paper[0]-2*sideEdge)/b.Width(), (paper[1]-topEdge-footEdge)/b.Height())
	bounds := p.page.Bounds
	p.picture(f.picture, model.Point{X: (paper[0] - b.Width()*scale) / 2, Y: topEdge + (paper[1]-topEdge-footEdge-b.Height()*scale)/2}, scale)
	draw.Enlarged(p.page, 1.5)
	p.page.Bounds = bounds
	p.add()
}

const spotLead = 4.0 // between text and small drawing

func (p *pager) entry(e entry) {
	const signRoom = 11.0
	x, wide := sideEdge+signRoom, bodyWide-signRoom
	if e.spot != nil {
		wide -= e.spot.Bounds.Width() + spotLead
	}
	titles := wrapped(e.title, 2.3, wide)
	texts := wrapped(e.text, bodyLetter, wide)
	if e.text == "" {
		texts = nil
	}
	high := float64(len(titles))*2.3*lead + float64(len(texts))*bodyLetter*lead + 1.2 + pairsHeight(e.facts, wide)
	if e.spot != nil {
		high = max(high, e.spot.Bounds.Height())
	}
	p.room(high + 3)
	top := p.y
	if e.sign != nil {
		p.sign(e.sign, model.Point{X: sideEdge + 4, Y: top + 2.4})
	}
	y := top
	for _, l := range titles {
		p.text(x, y, l, 2.3, draw.Ink, draw.Start)
		y += 2.3 * lead
	}
	for _, l := range texts {
		p.text(x, y, l, bodyLetter, draw.Ink, draw.Start)
		y += bodyLetter * lead
	}
	p.y = y + 1.2
	if top+high <= p.bottom() {
		p.pairs(e.facts, x, wide, false)
	} else { // longer than a page
		p.pairs(e.facts, x, wide, true)
		high = p.y - top
		if high < 0 {
			p.y += 4
			return
		}
	}
	if e.spot != nil {
		p.picture(e.spot, model.Point{X: paperWide - sideEdge - e.spot.Bounds.Width(), Y: top}, 1)
	}
	p.y = top + high + 2.2
	p.line(sideEdge, p.y, paperWide-sideEdge, p.y, 0.12, draw.Faint)
	p.y += 3
}

func (p *pager) question(q question) {
	const x, wide = sideEdge + 28, bodyWide - 28
	texts := wrapped(q.text, bodyLetter, wide)
	high := float64(len(texts))*bodyLetter*lead + pairsHeight(q.facts, wide)
	p.room(high + 2)
	role := draw.Ink
	switch q.reply {
	case "open":
		role = draw.Warning
	case "no":
		role = draw.Error
	}
	box := place.Rect{Min: model.Point{X: sideEdge, Y: p.y - 1.2}, Max: model.Point{X: sideEdge + 24, Y: p.y + bodyLetter + 1.2}}
	style := draw.Style{Stroke: role, Width: 0.25}
	if q.reply == "open" {
		style.Dash = []float64{1, 0.7}
	}
	p.put(draw.Path{Segments: draw.Box(box), Style: style})
	p.text(sideEdge+12, p.y, strings.ToUpper(q.reply), 1.6, role, draw.Middle)
	for i, l := range texts {
		p.text(x, p.y+float64(i)*bodyLetter*lead, l, bodyLetter, draw.Ink, draw.Start)
	}
	p.y += float64(len(texts)) * bodyLetter * lead
	p.y += p.pairs(q.facts, x, wide, false) + 2.6
}

func (p *pager) signature(s signature) {
	p.room(24)
	p.y += 8
	p.text(sideEdge, p.y, s.role, bodyLetter, draw.Ink, draw.Start)
	p.y += 9
	for _, f := range []struct {
		x, wide    float64
		name, text string
	}{{0, 60, "Name", s.name}, {66, 34, "Date", ""}, {106, 68, "Signature", ""}} {
		p.text(sideEdge+f.x, p.y-3.4, f.text, bodyLetter, draw.Ink, draw.Start)
		p.line(sideEdge+f.x, p.y, sideEdge+f.x+f.wide, p.y, 0.25, draw.Ink)
		p.text(sideEdge+f.x, p.y+1.2, f.name, 1.5, draw.Faint, draw.Start)
	}
	p.y += 6
}

// cover sets the first page.
func (p *pager) cover() {
	p.add()
	r := p.report
	p.y = 46
	p.text(sideEdge, p.y, "AUDIT OF A CLEANING CIRCUIT", 2.4, draw.Accent, draw.Start)
	p.y += 10
	title := r.Cover.Title
	if title == "" {
		title = "Circuit without a name"
	}
	for _, l := range wrapped(title, 6.4, bodyWide) {
		p.text(sideEdge, p.y, l, 6.4, draw.Ink, draw.Start)
		p.y += 6.4 * 1.7
	}
	p.y += 3
	p.line(sideEdge, p.y, paperWide-sideEdge, p.y, 0.9, draw.Accent)
	p.y += 9
	p.y += p.pairs(r.coverFacts(), sideEdge, bodyWide, false)
	p.y += 10
	s := &r.Summary
	p.tally(tally{
		{s.Stop, "stop", severitySign(draw.Stop, s.Stop)}, {s.Fix, "fix", severitySign(draw.Fix, s.Fix)}, {s.Note, "note", severitySign(draw.Note, s.Note)},
		{s.Accepted, "accepted", nil}, {s.NotAssessed, "not assessed", nil}, {s.OpenAnswers, "questions open", nil},
	})
	p.y += 8
	p.listed = p.y
	p.y = paperHigh - footEdge - 18
	p.paragraph(paragraph{text: r.Cautions[0], alert: true})
}

// contents sets the chapters with their pages on the cover.
func (p *pager) contents() {
	p.page, p.y = p.pages[0], p.listed
	p.text(sideEdge, p.y, "Contents", 2.3, draw.Ink, draw.Start)
	p.y += 6
	for _, c := range p.chapters {
		p.text(sideEdge, p.y, c.title, bodyLetter, draw.Ink, draw.Start)
		p.text(sideEdge+100, p.y, fmt.Sprint(c.page), bodyLetter, draw.Ink, draw.End)
		from := sideEdge + draw.TextWidth(c.title, bodyLetter) + 2
		p.put(draw.Path{Segments: draw.Polyline([]model.Point{{X: from, Y: p.y + bodyLetter}, {X: sideEdge + 94, Y: p.y + bodyLetter}}),
			Style: draw.Style{Stroke: draw.Faint, Width: 0.2, Dash: []float64{0.3, 1.2}}})
		p.y += bodyLetter * 2.2
	}
}

// edges sets head and foot of all pages but the first one's head.
func (p *pager) edges() {
	r := p.report
	head := r.Cover.Title
	if r.Cover.Revision != "" {
		head += ", revision " + r.Cover.Revision
	}
	for i, page := range p.pages {
		p.page = page
		wide, high := page.Bounds.Width(), page.Bounds.Height()
		if i > 0 {
			p.text(sideEdge, 11, head, smallLetter, draw.Faint, draw.Start)
			p.text(wide-sideEdge, 11, "Audit report "+string(r.Cover.Made), smallLetter, draw.Faint, draw.End)
			p.line(sideEdge, 15, wide-sideEdge, 15, 0.15, draw.Faint)
		}
		p.text(sideEdge, high-11, draw.Caution, smallLetter, draw.Faint, draw.Start)
		p.text(wide-sideEdge, high-11, fmt.Sprintf("%d / %d", i+1, len(p.pages)), smallLetter, draw.Faint, draw.End)
	}
}
