package draw

import (
	"slices"

	"rinsewright/canvas/place"
	"rinsewright/canvas/route"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

const (
	tagHeight   = 2.5 // mm of capitals
	labelHeight = 1.8
	frameMargin = 2.0 // mm from a frame's border to its text
	panelMargin = 1.0 // from a panel's upper border, where its heading has little room
)

// Circuit makes the picture of a circuit: frames behind, then runs, parts, tags
// and labels. It holds what the file says and opt adds, nothing of what the user
// has selected or of findings.
func Circuit(c *model.Circuit, cat *catalogue.Catalogue, opt Options) *Picture {
	d := &drawing{c: c, cat: cat, opt: opt}
	n := len(c.Parts()) + len(c.Runs())
	d.pic.Items = make([]Item, 0, 4*n)
	for _, p := range c.Parts() {
		if p.Class() == model.ClassFrame {
			d.part(LayerFrame, p)
		}
	}
	lines := d.runs()
	for _, p := range c.Parts() {
		if p.Class() != model.ClassFrame {
			d.part(LayerPart, p)
		}
	}
	d.outlines()
	if !opt.HideTags || !opt.HideLabels || len(opt.Heights) > 0 {
		d.takeRoom()
		d.byHand(lines)
	}
	if !opt.HideTags {
		d.tags()
	}
	d.heights()
	if !opt.HideLabels {
		d.values()
		d.letters(lines)
		d.labels(lines)
	}
	return &d.pic
}

type drawing struct {
	c    *model.Circuit
	cat  *catalogue.Catalogue
	opt  Options
	pic  Picture
	run  []drawnRun
	room *crowd

	places []tagPlace // used again for each tag
	placed []bool     // by line: its label was placed by hand
}

// takeRoom takes the room of all that tags and labels keep off: symbols, runs with
// their arrows, and the borders and texts of frames.
func (d *drawing) takeRoom() {
	d.room = newCrowd(d.pic.Bounds)
	for _, p := range d.c.Parts() {
		if titled(p, d.cat.Kind(p.Meta().Kind)) {
			for _, side := range sides(place.Box(p, d.cat.Kind(p.Meta().Kind))) {
				d.room.add(side)
			}
			continue
		}
		d.eachShape(p, func(r place.Rect) { d.room.add(r) })
		if _, ok := d.opt.Outlines[p.RecordID()]; ok {
			for _, side := range sides(d.outline(p)) {
				d.room.add(side)
			}
		}
	}
	for i := range d.pic.Items {
		it := &d.pic.Items[i]
		if t, ok := it.Figure.(Text); ok && it.Layer == LayerFrame {
			d.room.add(t.capitals(TextWidth(t.String, t.Height)))
		}
	}
	for i := range d.run {
		line := d.run[i].line
		for j := 1; j < len(line); j++ {
			d.room.add(place.Spanned(line[j-1], line[j]).Grown(mainLine / 2))
		}
		for _, a := range d.run[i].arrows {
			d.room.add(boxAbout(a.At, arrowRoom))
		}
	}
}

// sides gives the borders of a box.
func sides(r place.Rect) [4]place.Rect {
	a, b, c, e := r.Min, model.Point{X: r.Max.X, Y: r.Min.Y}, r.Max, model.Point{X: r.Min.X, Y: r.Max.Y}
	return [4]place.Rect{
		place.Spanned(a, b).Grown(symbolLine / 2), place.Spanned(b, c).Grown(symbolLine / 2),
		place.Spanned(e, c).Grown(symbolLine / 2), place.Spanned(a, e).Grown(symbolLine / 2),
	}
}

func (d *drawing) lines() [][]model.Point {
	if d.opt.Routes != nil {
		return d.opt.Routes.Lines(d.c)
	}
	return route.All(d.c, d.cat)
}

// part draws the symbol of a part, or a dashed box with the name of its kind if
// the catalogue has no such kind.
func (d *drawing) part(layer Layer, p model.Part) {
	m := p.Meta()
	kind := d.cat.Kind(m.Kind)
	if kind == nil {
		b := place.Box(p, nil)
		d.pic.Add(layer, m.ID, Path{Segments: Box(b), Style: Style{Stroke: Ink, Width: symbolLine, Dash: symbolDash, Fill: Paper}})
		name := Text{At: b.Centre(), String: m.Kind, Height: labelHeight, Role: Ink}
		if w, most := TextWidth(name.String, name.Height), b.Width()-2; w > most {
			name.Height *= most / w
		}
		d.pic.Add(layer, m.ID, name)
		return
	}
	d.pic.Add(layer, m.ID, d.symbol(p, kind))
	if f, ok := p.(*model.Frame); ok {
		text := f.Text.Or("")
		if titled(p, kind) && !d.opt.HideTags {
			text = joinedWords(m.Tag, text)
		}
		if text != "" {
			b := place.Box(p, kind)
			at := b.Min.Add(model.Point{X: frameMargin, Y: frameMargin + tagHeight/2})
			if !titled(p, kind) {
				at.Y = b.Min.Y + panelMargin + tagHeight/2
			}
			d.pic.Add(layer, m.ID, Text{At: at, String: text, Height: tagHeight, Anchor: Start, Role: Ink, Rank: frameRank(kind)})
		}
	}
}

// frameRank lets the title of a station be read from afar.
func frameRank(kind *catalogue.Kind) Rank {
	if kind.Has(catalogue.TraitBoundary) {
		return RankMachine
	}
	return RankPlain
}

// titled says whether a part is a frame whose tag stands inside it; there it is
// the first word of the frame's text.
func titled(p model.Part, kind *catalogue.Kind) bool {
	if p.Class() != model.ClassFrame || kind == nil {
		return false
	}
	t, b := kind.Symbol.Tag, kind.Symbol.Box
	return t[0] >= b[0] && t[0] <= b[2] && t[1] >= b[1] && t[1] <= b[3]
}

func (d *drawing) symbol(p model.Part, kind *catalogue.Kind) Symbol {
	m := p.Meta()
	s := SymbolOf(p, kind)
	if pos, ok := d.opt.Positions[m.ID]; ok {
		s.Position = pos
	}
	if medium, ok := d.opt.Media[m.ID]; ok {
		s.Medium = OfMedium(medium)
	}
	if kind.Has(catalogue.TraitBoundary) {
		s.Ink = Faint
	}
	if d.opt.HideLetters && p.Class() == model.ClassInstrument {
		s.Letters, s.Numbered = "", false
	}
	if ink, ok := d.opt.Inks[m.ID]; ok {
		s.Ink = ink
	}
	if share, ok := d.opt.Levels[m.ID]; ok {
		s.Level = Filled(share)
	}
	return s
}

// SymbolOf gives the symbol of a part as its own record tells: a valve in its
// normal position, a vessel with what it holds. kind must not be nil.
func SymbolOf(p model.Part, kind *catalogue.Kind) Symbol {
	m := p.Meta()
	s := Symbol{Kind: kind, At: m.At, Turn: ((m.Turn % 4) + 4) % 4, Mirrored: m.Mirrored}
	if p.Class() == model.ClassFrame {
		s.Stretch[0], s.Stretch[1] = place.Stretch(p, kind)
	}
	switch p := p.(type) {
	case *model.Valve:
		s.Position, s.Moved = p.Normal.Or(""), p.Actuation.Or("")
		s.Fails = p.FailsTo.Or("")
	case *model.Vessel:
		if holds, ok := p.Holds.Get(); ok {
			s.Medium = OfMedium(holds)
		}
	case *model.Terminal:
		if medium, ok := p.Medium.Get(); ok {
			s.Medium = OfMedium(medium)
		}
	case *model.Instrument:
		s.Letters = p.Letters.Or(kind.Prefix)
		_, s.Numbered = LoopNumber(p, kind)
	}
	return s
}

// service tells what a run is for, by the ports that it joins.
func service(from, to place.End) string {
	for _, e := range []place.End{from, to} {
		if e.Port != nil && e.Port.Service != "process" {
			return e.Port.Service
		}
	}
	return "process"
}

// direction tells which way liquid passes by the roles of the ports; 0 if they
// leave it open.
func direction(from, to place.End) int {
	role := func(e place.End) string {
		if e.Port == nil {
			return "any"
		}
		return e.Port.Role
	}
	f, t := role(from), role(to)
	switch {
	case f != "in" && t == "in", f == "out" && t != "out":
		return 1
	case f == "in" && t != "in", f != "out" && t == "out":
		return -1
	}
	return 0
}

// sizeText gives the nominal size of a run, short: "DN50".
func (d *drawing) sizeText(r *model.Run) string {
	size, ok := r.Size.Get()
	if !ok {
		return ""
	}
	if tube, ok := d.cat.Tube(size); ok {
		return tube.Short
	}
	return string(size)
}

func joinedWords(words ...string) string {
	words = slices.DeleteFunc(words, func(w string) bool { return w == "" })
	out := ""
	for i, w := range words {
		if i > 0 {
			out += " "
		}
		out += w
	}
	return out
}
