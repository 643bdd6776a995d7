package draw

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

var _ Writer = WriteDXF

// WriteDXF writes a picture as ASCII DXF of the release AC1015 ("2000"), the
// first that states its unit: millimetres. The left lower corner of the picture
// is the origin and y goes up. Each layer of the picture is a layer, each symbol a
// block, texts stay texts whose height is that of their capitals, and what was
// drawn as arc or circle is one again.
//
// Colours are the nearest of the 255 numbered ones, ink that of number 7, which
// readers show black or white as their ground asks. Grounds in the colour of the
// paper are left out: the format has no such colour.
func WriteDXF(w io.Writer, p *Picture, pal Palette) error {
	d := &dxf{pal: pal, blocks: map[symbolKey]*dxfBlock{}, lines: map[string]string{}, named: map[string]int{}}
	d.layers = append(d.layers, "0")
	model, paper := d.handle(), d.handle()
	d.origin, d.owner, d.layer = p.Bounds, model, "0"
	d.to = &d.entities
	for i := range p.Items {
		it := &p.Items[i]
		d.layer = d.layerName(it.Layer)
		d.figure(it.Figure)
	}
	_, err := io.WriteString(w, d.file(model, paper))
	if err != nil {
		return fmt.Errorf("writing a DXF: %w", err)
	}
	return nil
}

// dxf is a drawing being written: pairs of a group code and a value, a line each.
type dxf struct {
	pal    Palette
	last   int // handle
	layers []string
	blocks map[symbolKey]*dxfBlock
	order  []*dxfBlock
	named  map[string]int    // blocks by the name of their kind
	lines  map[string]string // types of dashed lines by pattern
	dashes [][]float64       // their patterns in order

	entities, inBlocks strings.Builder

	to      *strings.Builder
	owner   int // block that entities belong to
	layer   string
	inBlock bool
	origin  place.Rect // whose left lower corner is [0, 0]; within a block empty
}

type dxfBlock struct {
	name   string
	record int
}

func (d *dxf) handle() int { d.last++; return d.last + 0x1F } // the lower ones are kept for tables

func put(to *strings.Builder, code int, value any) {
	switch v := value.(type) {
	case float64:
		if v = math.Round(v*1e6) / 1e6; v == 0 {
			v = 0 // no minus sign before zero
		}
		fmt.Fprintf(to, "%3d\n%s\n", code, strconv.FormatFloat(v, 'f', -1, 64))
	default:
		fmt.Fprintf(to, "%3d\n%v\n", code, v)
	}
}

func hex(handle int) string { return strconv.FormatInt(int64(handle), 16) }

// layerName makes a name that the format takes, and remembers it.
func (d *dxf) layerName(l Layer) string {
	name := dxfName(string(l))
	if !slices.Contains(d.layers, name) {
		d.layers = append(d.layers, name)
	}
	return name
}

// dxfName keeps letters, figures, hyphen and underscore of a name.
func dxfName(s string) string {
	name := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '_':
			return r
		}
		return '_'
	}, s)
	if name == "" {
		return "_"
	}
	return name[:min(len(name), 200)]
}

// dxfText makes one line of plain signs: others are written by their number, and
// signs that begin a code of the format lose that meaning.
func dxfText(s string) string {
	var b strings.Builder
	signs := []rune(s)
	for i, r := range signs {
		twice := i > 0 && signs[i-1] == r || i+1 < len(signs) && signs[i+1] == r
		switch {
		case r < ' ' || r == 0x7F:
			b.WriteByte(' ')
		case r == '%' && twice, r == '\\', r == '^':
			fmt.Fprintf(&b, `\U+%04X`, r)
		case r < 0x7F:
			b.WriteRune(r)
		case r < 0x10000:
			fmt.Fprintf(&b, `\U+%04X`, r)
		default:
			b.WriteByte('?')
		}
	}
	return b.String()
}

// begin begins an entity.
func (d *dxf) begin(kind, class string, colour Role, width float64, dash []float64) {
	put(d.to, 0, kind)
	put(d.to, 5, hex(d.handle()))
	put(d.to, 330, hex(d.owner))
	put(d.to, 100, "AcDbEntity")
	put(d.to, 8, d.layer)
	if len(dash) > 0 {
		put(d.to, 6, d.lineType(dash))
	}
	if colour != None {
		put(d.to, 62, d.colour(colour))
	}
	if width > 0 {
		put(d.to, 370, lineWeight(width))
	}
	put(d.to, 100, class)
}

func (d *dxf) colour(r Role) int {
	if r == Ink {
		return 7
	}
	return nearestIndex(d.pal.Colour(r))
}

// lineType gives the name of the line type of a pattern.
func (d *dxf) lineType(dash []float64) string {
	key := ""
	for _, v := range dash {
		key += "_" + number(v)
	}
	name, ok := d.lines[key]
	if !ok {
		name = "DASH" + dxfName(strings.ReplaceAll(key, ".", "-"))
		d.lines[key] = name
		d.dashes = append(d.dashes, dash)
	}
	return name
}

// lineWeights are those that the format knows, in hundredths of a millimetre.
var lineWeights = []int{5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211}

func lineWeight(mm float64) int {
	best := lineWeights[0]
	for _, w := range lineWeights {
		if math.Abs(float64(w)-100*mm) < math.Abs(float64(best)-100*mm) {
			best = w
		}
	}
	return best
}

// at takes a point to the coordinates of the file.
func (d *dxf) at(p model.Point) model.Point {
	if d.inBlock {
		return model.Point{X: p.X, Y: -p.Y}
	}
	return model.Point{X: p.X - d.origin.Min.X, Y: d.origin.Max.Y - p.Y}
}

func (d *dxf) figure(f Figure) {
	switch f := f.(type) {
	case Path:
		d.path(f)
	case Text:
		d.text(f)
	case Symbol:
		d.symbol(f)
	}
}

func (d *dxf) path(p Path) {
	rings := bulged(p.Segments, d.at)
	if p.Style.Fill != None && p.Style.Fill != Paper {
		d.hatch(rings, p.Style.Fill)
	}
	if p.Style.Stroke == None || p.Style.Width <= 0 {
		return
	}
	for _, r := range rings {
		d.outline(r, p.Style)
	}
}

// outline writes a line as what it is: circle, arc, straight line or polyline.
func (d *dxf) outline(r bulgedRing, st Style) {
	point := func(code int, p model.Point) {
		put(d.to, code, p.X)
		put(d.to, code+10, p.Y)
		put(d.to, code+20, 0.0)
	}
	if centre, radius, ok := r.circle(); ok {
		d.begin("CIRCLE", "AcDbCircle", st.Stroke, st.Width, st.Dash)
		point(10, centre)
		put(d.to, 40, radius)
		return
	}
	if len(r.at) == 2 && !r.closed {
		if r.bulge[0] == 0 {
			d.begin("LINE", "AcDbLine", st.Stroke, st.Width, st.Dash)
			point(10, r.at[0])
			point(11, r.at[1])
			return
		}
		centre, radius, from, to := r.arc()
		d.begin("ARC", "AcDbCircle", st.Stroke, st.Width, st.Dash)
		point(10, centre)
		put(d.to, 40, radius)
		put(d.to, 100, "AcDbArc")
		put(d.to, 50, from)
		put(d.to, 51, to)
		return
	}
	d.begin("LWPOLYLINE", "AcDbPolyline", st.Stroke, st.Width, st.Dash)
	put(d.to, 90, len(r.at))
	closed := 0
	if r.closed {
		closed = 1
	}
	put(d.to, 70, closed)
	r.vertices(d.to, closed == 1)
}

// hatch fills rings; where one lies in another it is a hole.
func (d *dxf) hatch(rings []bulgedRing, fill Role) {
	rings = slices.DeleteFunc(slices.Clone(rings), func(r bulgedRing) bool { return len(r.at) < 2 })
	if len(rings) == 0 {
		return
	}
	d.begin("HATCH", "AcDbHatch", fill, 0, nil)
	for _, pair := range []struct {
		code  int
		value any
	}{{10, 0.0}, {20, 0.0}, {30, 0.0}, {210, 0.0}, {220, 0.0}, {230, 1.0}, {2, "SOLID"}, {70, 1}, {71, 0}, {91, len(rings)}} {
		put(d.to, pair.code, pair.value)
	}
	for _, r := range rings {
		put(d.to, 92, 2) // a polyline
		put(d.to, 72, 1) // with bulges
		put(d.to, 73, 1) // closed
		put(d.to, 93, len(r.at))
		for i, p := range r.at {
			put(d.to, 10, p.X)
			put(d.to, 20, p.Y)
			put(d.to, 42, r.bulge[i])
		}
		put(d.to, 97, 0)
	}
	put(d.to, 75, 0)
	put(d.to, 76, 1)
	put(d.to, 98, 0)
}

func (d *dxf) text(t Text) {
	if strings.TrimSpace(t.String) == "" || t.Role == None {
		return
	}
	at := d.at(t.At)
	d.begin("TEXT", "AcDbText", t.Role, 0, nil)
	left := at
	if t.Turn%4 == 0 { // where it begins; the place that counts is the second one
		left.X += t.left(TextWidth(t.String, t.Height))
		left.Y -= t.Height / 2
	}
	put(d.to, 10, left.X)
	put(d.to, 20, left.Y)
	put(d.to, 30, 0.0)
	put(d.to, 40, t.Height)
	put(d.to, 1, dxfText(t.String))
	put(d.to, 50, float64((4-((t.Turn%4)+4)%4)%4*90))
	put(d.to, 7, "STANDARD")
	put(d.to, 72, map[Anchor]int{Start: 0, Middle: 1, End: 2}[t.Anchor])
	put(d.to, 11, at.X)
	put(d.to, 21, at.Y)
	put(d.to, 31, 0.0)
	put(d.to, 100, "AcDbText")
	put(d.to, 73, 2) // the middle of the capitals
}

// symbol sets a symbol as a block, which is written once for each look.
func (d *dxf) symbol(s Symbol) {
	if sx, sy := s.stretch(); sx != 1 || sy != 1 || d.inBlock {
		for _, f := range s.Figures() {
			d.figure(f)
		}
		return
	}
	key := symbolKey{kind: s.Kind, turn: s.Turn, mirrored: s.Mirrored, position: s.Position, letters: s.Letters,
		numbered: s.Numbered, moved: s.Moved, fails: s.Fails, ink: s.Ink, medium: s.Medium, level: s.Level}
	block, ok := d.blocks[key]
	if !ok {
		block = d.newBlock(s)
		d.blocks[key] = block
	}
	at := d.at(s.At)
	d.begin("INSERT", "AcDbBlockReference", None, 0, nil)
	put(d.to, 2, block.name)
	put(d.to, 10, at.X)
	put(d.to, 20, at.Y)
	put(d.to, 30, 0.0)
	for _, code := range []int{41, 42, 43} {
		put(d.to, code, s.scale())
	}
}

func (d *dxf) newBlock(s Symbol) *dxfBlock {
	name := dxfName(s.Kind.Name)
	d.named[name]++
	if n := d.named[name]; n > 1 {
		name += "_" + strconv.Itoa(n)
	}
	block := &dxfBlock{name, d.handle()}
	d.order = append(d.order, block)
	to, owner, layer := d.to, d.owner, d.layer
	d.to, d.owner, d.layer, d.inBlock = &d.inBlocks, block.record, "0", true
	d.blockBegin(name)
	s.At, s.Scale = model.Point{}, 0
	for _, f := range s.Figures() {
		d.figure(f)
	}
	d.blockEnd()
	d.to, d.owner, d.layer, d.inBlock = to, owner, layer, false
	return block
}

func (d *dxf) blockBegin(name string) {
	d.begin("BLOCK", "AcDbBlockBegin", None, 0, nil)
	put(d.to, 2, name)
	put(d.to, 70, 0)
	for _, code := range []int{10, 20, 30} {
		put(d.to, code, 0.0)
	}
	put(d.to, 3, name)
	put(d.to, 1, "")
}

func (d *dxf) blockEnd() { d.begin("ENDBLK", "AcDbBlockEnd", None, 0, nil) }
