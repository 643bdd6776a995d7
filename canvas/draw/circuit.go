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
	d.runs()
	for _, p := range c.Parts() {
		if p.Class() != model.ClassFrame {
			d.part(LayerPart, p)
		}
	}
	if !opt.HideTags {
		for _, p := range c.Parts() {
			d.tag(p)
		}
	}
	if !opt.HideLabels {
		d.labels()
	}
	return &d.pic
}

type drawing struct {
	c    *model.Circuit
	cat  *catalogue.Catalogue
	opt  Options
	pic  Picture
	run  []drawnRun
	text []Text
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
			d.pic.Add(layer, m.ID, Text{At: at, String: text, Height: tagHeight, Anchor: Start, Role: Ink})
		}
	}
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

// tag writes the tag of a part beside its symbol.
func (d *drawing) tag(p model.Part) {
	m := p.Meta()
	if m.Tag == "" {
		return
	}
	kind := d.cat.Kind(m.Kind)
	if titled(p, kind) {
		return
	}
	if number, ok := LoopNumber(p, kind); ok {
		d.pic.Add(LayerTag, m.ID, d.loopNumber(p, kind, number))
		return
	}
	box := place.Box(p, kind)
	t := Text{String: m.Tag, Height: tagHeight, Role: Ink}
	if kind == nil {
		t.At = model.Point{X: box.Centre().X, Y: box.Min.Y - tagHeight}
		d.pic.Add(LayerTag, m.ID, t)
		return
	}
	sx, sy := place.Stretch(p, kind)
	v := model.Turned(model.Point{X: kind.Symbol.Tag[0] * sx, Y: kind.Symbol.Tag[1] * sy}, m.Turn, m.Mirrored)
	t.At = m.At.Add(v)
	if m.Turn%2 != 0 && !box.Contains(t.At) {
		// What stood above or below now stands beside: the text runs away from
		// the symbol.
		switch {
		case t.At.X > box.Max.X:
			t.Anchor, t.At.X = Start, t.At.X-tagHeight/2
		case t.At.X < box.Min.X:
			t.Anchor, t.At.X = End, t.At.X+tagHeight/2
		}
	}
	d.pic.Add(LayerTag, m.ID, t)
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
