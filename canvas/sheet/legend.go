package sheet

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

const (
	headingSize = 1.9
	headingRoom = 6.0
	entrySize   = 1.6
	mostPitch   = 8.5
	leastPitch  = 5.4
	mediaPitch  = 4.4
	sampleWide  = 10.0
	wantedEntry = 37.0 // mm of width of an entry
)

// used gives the kinds of symbol on a page by their titles.
func used(p *draw.Picture) []draw.Symbol {
	seen := map[*catalogue.Kind]bool{}
	var out []draw.Symbol
	for i := range p.Items {
		s, ok := p.Items[i].Figure.(draw.Symbol)
		if !ok || seen[s.Kind] || s.Kind.Title == "" || s.Kind.Class == model.ClassFrame {
			continue
		}
		seen[s.Kind] = true
		out = append(out, s)
	}
	slices.SortFunc(out, func(a, b draw.Symbol) int {
		return cmp.Or(strings.Compare(a.Kind.Title, b.Kind.Title), strings.Compare(a.Kind.Name, b.Kind.Name))
	})
	return out
}

// legendOf is what a page's legend tells.
type legendOf struct {
	symbols []draw.Symbol
	media   []model.Medium
	step    bool // styles of runs
	keys    []draw.KeyEntry
	signs   []SignEntry
}

func (l legendOf) empty() bool { return len(l.symbols)+len(l.media)+len(l.keys)+len(l.signs) == 0 }

func columnsOf(width float64) int { return max(1, int(width/wantedEntry)) }

func (l legendOf) lineEntries() int {
	n := len(l.keys) + len(l.signs)
	if l.step {
		n += 3
	}
	return n
}

// height gives what the legend needs at a pitch of its symbols.
func (l legendOf) height(width, pitch float64) float64 {
	columns := columnsOf(width)
	rows := func(n int) float64 { return math.Ceil(float64(n) / float64(columns)) }
	h := 0.0
	if len(l.symbols) > 0 {
		h += headingRoom + rows(len(l.symbols))*pitch + 1
	}
	if n := len(l.media) + l.lineEntries(); n > 0 {
		h += headingRoom + rows(n)*mediaPitch + 1
	}
	return h
}

// pitch gives the distance of rows at which the legend fits into a height; false
// if it does not.
func (l legendOf) pitch(width, room float64) (float64, bool) {
	if l.height(width, leastPitch) > room {
		return 0, false
	}
	for p := mostPitch; p > leastPitch; p -= 0.1 {
		if l.height(width, p) <= room {
			return p, true
		}
	}
	return leastPitch, true
}

// set draws the legend from the top of a box, column by column.
func (l legendOf) set(to *draw.Picture, box place.Rect, pitch float64) {
	columns := columnsOf(box.Width() - 2*cellMargin)
	wide := (box.Width() - 2*cellMargin) / float64(columns)
	y := box.Min.Y
	heading := func(s string) {
		words(to, s, model.Point{X: box.Min.X + cellMargin, Y: y + headingRoom/2}, headingSize, box.Width(), draw.Ink)
		y += headingRoom
	}
	if n := len(l.symbols); n > 0 {
		heading("Symbols used")
		rows := (n + columns - 1) / columns
		for i, s := range l.symbols {
			x0, y0 := box.Min.X+cellMargin+float64(i/rows)*wide, y+float64(i%rows)*pitch
			sample(to, s, rect(x0, y0, x0+sampleWide, y0+pitch))
			l.entry(to, s.Kind.Title, rect(x0+sampleWide+1.5, y0, x0+wide-0.5, y0+pitch))
		}
		y += float64(rows)*pitch + 1
	}
	n := len(l.media) + l.lineEntries()
	if n == 0 {
		return
	}
	heading("Media and lines")
	rows := (n + columns - 1) / columns
	at := func(i int) (swatch, text place.Rect) {
		x0, y0 := box.Min.X+cellMargin+float64(i/rows)*wide, y+float64(i%rows)*mediaPitch
		return rect(x0, y0, x0+sampleWide, y0+mediaPitch), rect(x0+sampleWide+1.5, y0, x0+wide-0.5, y0+mediaPitch)
	}
	for i, m := range l.media {
		swatch, text := at(i)
		c := swatch.Centre().Y
		to.Add(draw.LayerSheet, "", draw.Path{Segments: draw.Box(rect(swatch.Min.X+1, c-0.9, swatch.Max.X-1, c+0.9)), Style: draw.Style{Fill: draw.OfMedium(m)}})
		l.entry(to, draw.Letters(m)+"  "+strings.ReplaceAll(string(m), "-", " "), text)
	}
	for i, k := range l.keys {
		swatch, text := at(len(l.media) + i)
		c := swatch.Centre()
		to.Add(draw.LayerSheet, "", draw.Path{Segments: draw.Polyline([]model.Point{{X: swatch.Min.X, Y: c.Y}, {X: swatch.Max.X, Y: c.Y}}), Style: k.Style})
		l.entry(to, k.Words, text)
	}
	for i, k := range l.signs {
		swatch, text := at(len(l.media) + len(l.keys) + i)
		sign := &draw.Picture{}
		k.Sign.Set(sign, model.Point{})
		small := draw.Transfer{Scale: 0.55, By: swatch.Centre()}
		for j := range sign.Items {
			to.Add(draw.LayerSheet, "", small.Figure(sign.Items[j].Figure))
		}
		l.entry(to, k.Words, text)
	}
	if !l.step {
		return
	}
	for i, e := range []struct {
		words string
		style draw.Style
	}{{"flowing", draw.Style{Stroke: draw.Ink, Width: 0.7}}, {"standing", draw.Style{Stroke: draw.Ink, Width: 0.35, Dash: []float64{2.5, 1.5}}}, {"dry", draw.Style{Stroke: draw.Faint, Width: 0.35}}} {
		swatch, text := at(len(l.media) + len(l.keys) + len(l.signs) + i)
		c := swatch.Centre()
		to.Add(draw.LayerSheet, "", draw.Path{Segments: draw.Polyline([]model.Point{{X: swatch.Min.X + 1, Y: c.Y}, {X: swatch.Max.X - 1, Y: c.Y}}), Style: e.style})
		if i == 0 {
			head := []model.Point{{X: c.X + 1.4, Y: c.Y}, {X: c.X - 1.4, Y: c.Y + 1.1}, {X: c.X - 1.4, Y: c.Y - 1.1}}
			to.Add(draw.LayerSheet, "", draw.Path{Segments: append(draw.Polyline(head), draw.Close()), Style: draw.Style{Fill: draw.Ink}})
		}
		l.entry(to, e.words, text)
	}
}

func (legendOf) entry(to *draw.Picture, s string, box place.Rect) {
	lines := 1
	if box.Height() >= 2*1.5*entrySize {
		lines = 2
	}
	size, text := fit(s, entrySize, 1.2, box.Width(), lines)
	first := box.Centre().Y - float64(len(text)-1)*0.75*size
	for i, l := range text {
		words(to, l, model.Point{X: box.Min.X, Y: first + float64(i)*1.5*size}, size, box.Width(), draw.Ink)
	}
}

// sample sets a symbol upright and without a medium in the middle of a box, made
// to fit.
func sample(to *draw.Picture, of draw.Symbol, box place.Rect) {
	s := draw.Symbol{Kind: of.Kind, Letters: of.Letters, Moved: of.Moved}
	if s.Letters == "" {
		s.Letters = of.Kind.Prefix
	}
	b := s.Kind.Symbol.Box
	k := min((box.Width()-0.6)/max(b[2]-b[0], 1), (box.Height()-0.9)/max(b[3]-b[1], 1), 1)
	s.Scale = k
	c := box.Centre()
	s.At = model.Point{X: c.X - k*(b[0]+b[2])/2, Y: c.Y - k*(b[1]+b[3])/2}
	to.Add(draw.LayerSheet, "", s)
}
