package sheet

import (
	"fmt"
	"math"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Orientation is how a sheet lies.
type Orientation int

// Orientations. Best takes the one on which the drawing is larger.
const (
	Best Orientation = iota
	Landscape
	Portrait
)

// Split says how a drawing is parted.
type Split int

const (
	// Whole sets the drawing on one sheet; at a fixed scale on as many as it needs.
	Whole Split = iota
	// ByFrame sets the whole on a first sheet and each named station frame on one
	// of its own.
	ByFrame
)

// Options say how a drawing is set. Format must be one of [Formats].
type Options struct {
	Format      Format
	Orientation Orientation
	Scale       float64 // of the drawing, 0.1 to 4; 0: as large as fits, at most 1
	Split       Split
	NoLegend    bool
	Step        *model.Step // that the drawing shows; nil: at rest
	Shown       string      // words for that in the title block
	Flow        map[model.ID]draw.Flow

	// Findings that are marked on the drawing get a list on sheets of their own.
	Heading string
	Marks   []draw.Mark

	// Tables on sheets of their own.
	Sections      []Section
	SectionsTitle string
	Caution       string // on every sheet; empty: that of a drawing

	// What lines and signs mean that only this drawing has, for the legend.
	Keys  []draw.KeyEntry
	Signs []SignEntry
}

// SignEntry is a sign with its meaning.
type SignEntry struct {
	Sign  draw.Sign
	Words string
}

// Book is a drawing on its sheets.
type Book struct {
	Pages  []*draw.Picture
	Paper  string  // "A3 landscape"
	Scale  float64 // of the smallest drawing
	Letter float64 // mm of capitals of the smallest tag
	Notes  []string
}

// LeastLetter is the smallest nominal height of lettering of ISO 3098-1 in mm.
const LeastLetter = 1.8

// Set sets the picture of a circuit on sheets. The error says that a scale is out
// of range or gives more sheets than can be of use.
func Set(c *model.Circuit, cat *catalogue.Catalogue, p *draw.Picture, opt Options) (*Book, error) {
	if opt.Scale != 0 && !(opt.Scale >= 0.1 && opt.Scale <= 4) {
		return nil, fmt.Errorf("the scale is from 0.1 to 4, not %v", opt.Scale)
	}
	if opt.Format.Wide <= 0 {
		return nil, fmt.Errorf("no format of paper is chosen")
	}
	var best *book
	for _, standing := range []bool{false, true} {
		if opt.Orientation == Landscape && standing || opt.Orientation == Portrait && !standing {
			continue
		}
		b := &book{circuit: c, cat: cat, opt: opt, picture: p, paper: opt.Format.paper(standing), standing: standing}
		b.plan()
		if best == nil || len(b.pages) < len(best.pages) || len(b.pages) == len(best.pages) && b.least() > best.least()+0.005 {
			best = b
		}
	}
	if len(best.pages) > mostPages {
		return nil, fmt.Errorf("%d sheets are more than the %d that can be of use; choose larger paper or a smaller scale", len(best.pages), mostPages)
	}
	return best.set(), nil
}

const mostPages = 100

// book is a set of sheets being made.
type book struct {
	circuit  *model.Circuit
	cat      *catalogue.Catalogue
	opt      Options
	picture  *draw.Picture
	paper    paper
	standing bool

	legend legendOf
	apart  bool // the legend has a sheet of its own
	blocks blocks
	pages  []page
}

// page is one sheet: a window of the drawing, or a list.
type page struct {
	window   place.Rect
	whole    bool // shows all of the drawing
	title    string
	scale    float64
	transfer draw.Transfer
	exits    []exit
	list     func(to *draw.Picture, room place.Rect) // in place of a drawing
}

const (
	aroundWhole = 5.0  // mm between the drawing and what bounds it
	aroundPart  = 36.0 // where connectors stand
)

// plan finds what goes on which sheet.
func (b *book) plan() {
	if !b.opt.NoLegend {
		b.legend = legendOf{symbols: used(b.picture), media: draw.UsedMedia(b.picture), step: b.opt.Step != nil, keys: b.opt.Keys, signs: b.opt.Signs}
	}
	b.arrange()
	room := b.blocks.drawing
	whole := b.picture.Bounds
	scale := b.opt.Scale
	if scale == 0 {
		scale = fitScale(whole, room.Grown(-aroundWhole))
	}
	fits := whole.Width()*scale <= room.Width()-2*aroundWhole+0.01 && whole.Height()*scale <= room.Height()-2*aroundWhole+0.01
	switch {
	case b.opt.Split == ByFrame:
		b.put(page{window: whole, whole: true, scale: fitScale(whole, room.Grown(-aroundWhole))})
		windows, titles := frames(b.circuit, b.cat)
		for i, w := range windows {
			free := b.beside(w)
			k := fitScale(w, free)
			if b.opt.Scale != 0 {
				k = min(k, b.opt.Scale)
			}
			b.putIn(page{window: w, title: titles[i], scale: k}, free)
		}
	case fits:
		b.put(page{window: whole, whole: true, scale: scale})
	default:
		windows := tiles(b.picture, room.Grown(-aroundPart), scale)
		for i, w := range windows {
			b.put(page{window: w, scale: scale, title: fmt.Sprintf("part %d of %d", i+1, len(windows))})
		}
	}
	if b.apart {
		b.legendPages()
	}
	b.findingPages()
	b.sectionPages()
}

// put adds a page whose window lies in the middle of the room for the drawing.
func (b *book) put(p page) { b.putIn(p, b.blocks.drawing) }

func (b *book) putIn(p page, room place.Rect) {
	c, at := p.window.Centre(), room.Centre()
	p.transfer = draw.Transfer{Scale: p.scale, By: model.Point{X: at.X - p.scale*c.X, Y: at.Y - p.scale*c.Y}}
	b.pages = append(b.pages, p)
}

// beside gives the room for a window of which runs go on at some sides, where
// connectors are to stand.
func (b *book) beside(w place.Rect) place.Rect {
	room := b.blocks.drawing.Grown(-aroundWhole)
	const more = aroundPart - aroundWhole
	sides := map[model.Point]bool{}
	for i := range b.picture.Items {
		if path, ok := b.picture.Items[i].Figure.(draw.Path); ok && b.picture.Items[i].Layer == draw.LayerRun {
			_, exits := clipped(path, w)
			for _, e := range exits {
				sides[e.out] = true
			}
		}
	}
	if sides[model.Point{X: -1}] {
		room.Min.X += more
	}
	if sides[model.Point{X: 1}] {
		room.Max.X -= more
	}
	if sides[model.Point{Y: -1}] {
		room.Min.Y += more
	}
	if sides[model.Point{Y: 1}] {
		room.Max.Y -= more
	}
	return room
}

func (b *book) least() float64 {
	least := math.Inf(1)
	for _, p := range b.pages {
		if p.list == nil {
			least = min(least, p.scale)
		}
	}
	return least
}

// set makes the sheets.
func (b *book) set() *Book {
	out := &Book{Paper: b.paper.Name + " landscape", Scale: b.least(), Letter: math.Inf(1)}
	if b.standing {
		out.Paper = b.paper.Name + " portrait"
	}
	contents := make([]*draw.Picture, len(b.pages))
	for i := range b.pages {
		contents[i] = b.content(i)
	}
	for i := range b.pages {
		p := &b.pages[i]
		if p.list == nil {
			b.connectors(contents[i], i) // all exits are known now
			draw.Enlarged(contents[i], LeastLetter)
			for _, it := range contents[i].Items {
				if t, ok := it.Figure.(draw.Text); ok && it.Layer == draw.LayerTag {
					out.Letter = min(out.Letter, t.Height)
				}
			}
		}
		b.furnish(contents[i], i)
		contents[i].Bounds = b.paper.size
		out.Pages = append(out.Pages, contents[i])
	}
	if out.Letter < LeastLetter-0.01 {
		out.Notes = append(out.Notes, fmt.Sprintf("the smallest tags and loop numbers are %.1f mm high; ISO 3098 begins at %.1f mm: choose larger paper, a fixed scale over several sheets, or a sheet for each frame", out.Letter, LeastLetter))
	}
	return out
}

// content gives what a page shows of the drawing, in its place on the paper.
func (b *book) content(n int) *draw.Picture {
	p := &b.pages[n]
	to := &draw.Picture{}
	if p.list != nil {
		p.list(to, b.blocks.drawing)
		return to
	}
	add := func(it *draw.Item, f draw.Figure) { to.Add(it.Layer, it.Record, p.transfer.Figure(f)) }
	if p.whole {
		for i := range b.picture.Items {
			add(&b.picture.Items[i], b.picture.Items[i].Figure)
		}
		return to
	}
	home := map[model.ID]model.Point{} // where parts stand
	for i := range b.picture.Items {
		it := &b.picture.Items[i]
		if _, ok := it.Figure.(draw.Symbol); ok && it.Layer == draw.LayerPart {
			home[it.Record] = it.Bounds.Centre()
		}
	}
	for i := range b.picture.Items {
		it := &b.picture.Items[i]
		path, isPath := it.Figure.(draw.Path)
		switch {
		case it.Layer == draw.LayerRun && isPath:
			kept, exits := clipped(path, p.window)
			exits = append(exits, b.parted(it.Record, ends(path.Segments), home, p.window)...)
			for _, e := range exits {
				e.run, e.style = it.Record, path.Style
				p.exits = append(p.exits, e)
			}
			if len(kept.Segments) > 0 {
				add(it, kept)
			}
			continue
		case it.Layer == draw.LayerFrame && !p.window.Holds(it.Bounds):
			b.cutFrame(it, p, add)
			continue
		}
		at, ok := home[it.Record]
		if !ok || it.Layer == draw.LayerLabel {
			at = it.Bounds.Centre()
		}
		if within(p.window, at) {
			add(it, it.Figure)
		}
	}
	return to
}

// parted gives the exits of a run that ends on one side of a border at a symbol
// that stands on the other: a symbol is never cut, it belongs to the sheet that
// its middle lies on.
func (b *book) parted(id model.ID, line []model.Point, home map[model.ID]model.Point, w place.Rect) []exit {
	run := b.circuit.Run(id)
	if run == nil || len(line) < 2 {
		return nil
	}
	var out []exit
	for i, end := range []model.End{run.From, run.To} {
		at := line[i*(len(line)-1)]
		middle, ok := home[end.Part]
		if !ok || within(w, at) == within(w, middle) {
			continue
		}
		e := exit{at: at, leaving: i == 1, target: &middle}
		way := middle.Sub(at) // from the run to the part
		if within(w, middle) {
			// The part is here, the run on the other sheet.
			way, e.leaving = at.Sub(middle), i == 0
			e.target = &at
		}
		if math.Abs(way.X) >= math.Abs(way.Y) {
			e.out = model.Point{X: math.Copysign(1, way.X)}
		} else {
			e.out = model.Point{Y: math.Copysign(1, way.Y)}
		}
		out = append(out, e)
	}
	return out
}

// cutFrame shows what of a frame lies in a window.
func (b *book) cutFrame(it *draw.Item, p *page, add func(*draw.Item, draw.Figure)) {
	figures := []draw.Figure{it.Figure}
	if s, ok := it.Figure.(draw.Symbol); ok {
		figures = s.Figures()
	}
	for _, f := range figures {
		switch f := f.(type) {
		case draw.Path:
			if kept, _ := clipped(f, p.window); len(kept.Segments) > 0 && f.Style.Stroke != draw.None {
				add(it, kept)
			}
		case draw.Text:
			if within(p.window, f.At) {
				add(it, f)
			}
		}
	}
}
