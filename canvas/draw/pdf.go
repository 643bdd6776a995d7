package draw

import (
	"fmt"
	"io"
	"math"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

var _ Writer = WritePDF

// About is what a document says of itself; empty fields are left out.
type About struct{ Title, Author, Subject string }

// WritePDF writes a picture as a PDF of one page in its true size; see
// [WritePages].
func WritePDF(w io.Writer, p *Picture, pal Palette) error {
	return WritePages(w, []*Picture{p}, pal, About{})
}

// WritePages writes pictures as the pages of one PDF (version 1.6 after
// ISO 32000-1), each of its own true size: lines stay lines, text can be searched
// and copied and is set in the embedded lettering. Layers can be switched. The
// same pictures give the same bytes: the file states no time of writing.
//
// It is an error if there is no page.
func WritePages(w io.Writer, pages []*Picture, pal Palette, about About) error {
	if len(pages) == 0 {
		return fmt.Errorf("a PDF has at least one page")
	}
	d := &pdf{pal: pal, symbols: map[symbolKey]string{}, layers: map[Layer]int{}}
	d.file.begin()
	d.catalogue, d.tree, d.font.object = d.file.reserve(), d.file.reserve(), d.file.reserve()
	d.resources = d.file.reserve()
	for _, p := range pages {
		d.page(p)
	}
	d.finish(about)
	_, err := w.Write(d.file.b)
	if err != nil {
		return fmt.Errorf("writing a PDF: %w", err)
	}
	return nil
}

// pdf is a document being written. All pages share one set of resources.
type pdf struct {
	pal  Palette
	file pdfFile
	font pdfFont

	catalogue, tree, resources int
	pages                      []int

	symbols map[symbolKey]string // names of the forms
	forms   []int                // objects of the forms in order of name
	layers  map[Layer]int        // numbers in order
	groups  []int                // objects of the layers in that order

	content strings.Builder // of the page or form
}

const (
	pointsPerMillimetre = 72 / 25.4
	mostPoints          = 14400 // of a page whose unit is a point (ISO 32000-1, annex C)
)

func (d *pdf) printf(format string, args ...any) { fmt.Fprintf(&d.content, format, args...) }

// page writes one picture. Within it y goes down and the unit is a millimetre.
func (d *pdf) page(p *Picture) {
	b := p.Bounds
	w, h := b.Width()*pointsPerMillimetre, b.Height()*pointsPerMillimetre
	unit := math.Ceil(max(w, h, 1) / mostPoints)
	w, h = max(w/unit, 1), max(h/unit, 1)
	k := pointsPerMillimetre / unit
	d.content.Reset()
	d.printf("%s 0 0 %s %s %s cm 1 J 1 j\n", fine(k), fine(-k), fine(-b.Min.X*k), fine(h+b.Min.Y*k))
	if c := d.pal.Colour(Paper); c.R&c.G&c.B != 255 {
		d.printf("%s rg %s %s %s %s re f\n", colourOf(d.pal, Paper), number(b.Min.X), number(b.Min.Y), number(b.Width()), number(b.Height()))
	}
	var layer Layer
	open := false
	for i := range p.Items {
		it := &p.Items[i]
		if !open || it.Layer != layer {
			if open {
				d.printf("EMC\n")
			}
			layer, open = it.Layer, true
			d.printf("/OC /L%d BDC\n", d.layer(layer))
		}
		d.figure(it.Figure)
	}
	if open {
		d.printf("EMC\n")
	}
	content := d.file.stream("", d.content.String())
	extra := ""
	if unit > 1 {
		extra = fmt.Sprintf(" /UserUnit %.0f", unit)
	}
	d.pages = append(d.pages, d.file.add(fmt.Sprintf("<< /Type /Page /Parent %d 0 R /MediaBox [0 0 %s %s]%s /Resources %d 0 R /Contents %d 0 R >>",
		d.tree, number(w), number(h), extra, d.resources, content)))
}

// layer gives the number of a layer.
func (d *pdf) layer(l Layer) int {
	n, ok := d.layers[l]
	if !ok {
		n = len(d.groups)
		d.layers[l] = n
		d.groups = append(d.groups, d.file.add("<< /Type /OCG /Name "+pdfText(string(l))+" >>"))
	}
	return n
}

func (d *pdf) figure(f Figure) {
	switch f := f.(type) {
	case Path:
		d.path(f)
	case Text:
		d.text(f)
	case Symbol:
		d.symbol(f)
	}
}

// fine writes a factor so that the far corner of a sheet is still right.
func fine(v float64) string {
	return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.8f", v), "0"), ".")
}

func colourOf(pal Palette, r Role) string {
	c := pal.Colour(r)
	part := func(v uint8) string { return number(float64(v) / 255) }
	return part(c.R) + " " + part(c.G) + " " + part(c.B)
}

func (d *pdf) path(p Path) {
	st := p.Style
	fill, stroke := st.Fill != None, st.Stroke != None && st.Width > 0
	if !fill && !stroke || len(p.Segments) == 0 {
		return
	}
	paint := "n"
	switch {
	case fill && stroke:
		paint = "B"
	case fill:
		paint = "f"
	case stroke:
		paint = "S"
	}
	dashed := stroke && len(st.Dash) > 0
	if fill {
		d.printf("%s rg ", colourOf(d.pal, st.Fill))
	}
	if stroke {
		d.printf("%s RG %s w ", colourOf(d.pal, st.Stroke), number(st.Width))
	}
	if dashed {
		d.printf("0 J [")
		for i, v := range st.Dash {
			if i > 0 {
				d.printf(" ")
			}
			d.printf("%s", number(v))
		}
		d.printf("] 0 d ")
	}
	d.segments(p.Segments)
	d.printf("%s\n", paint)
	if dashed {
		d.printf("1 J [] 0 d\n")
	}
}

func (d *pdf) segments(segments []catalogue.Segment) {
	op := map[byte]string{'M': "m", 'L': "l", 'C': "c", 'Z': "h"}
	for _, s := range segments {
		for _, q := range s.P[:points(s.Op)] {
			d.printf("%s %s ", number(q[0]), number(q[1]))
		}
		d.printf("%s ", op[s.Op])
	}
}

// symbol sets a symbol by its form, which is written once.
func (d *pdf) symbol(s Symbol) {
	if sx, sy := s.stretch(); sx != 1 || sy != 1 {
		for _, f := range s.Figures() {
			d.figure(f)
		}
		return
	}
	key := symbolKey{kind: s.Kind, turn: s.Turn, mirrored: s.Mirrored, position: s.Position, letters: s.Letters,
		numbered: s.Numbered, moved: s.Moved, fails: s.Fails, ink: s.Ink, medium: s.Medium, level: s.Level}
	name, ok := d.symbols[key]
	if !ok {
		plain := s
		plain.At, plain.Scale = model.Point{}, 0
		b := plain.bounds().Grown(2)
		page := d.content.String()
		d.content.Reset()
		for _, f := range plain.Figures() {
			b = b.Union(f.bounds())
			d.figure(f)
		}
		object := d.file.stream(fmt.Sprintf("/Type /XObject /Subtype /Form /BBox [%s %s %s %s] /Resources %d 0 R ",
			number(b.Min.X), number(b.Min.Y), number(b.Max.X), number(b.Max.Y), d.resources), d.content.String())
		d.content.Reset()
		d.content.WriteString(page)
		name = fmt.Sprintf("S%d", len(d.forms))
		d.forms = append(d.forms, object)
		d.symbols[key] = name
	}
	k := fine(s.scale())
	d.printf("q %s 0 0 %s %s %s cm /%s Do Q\n", k, k, number(s.At.X), number(s.At.Y), name)
}

// text sets a text with the kerning that its width was measured with.
func (d *pdf) text(t Text) {
	if t.String == "" || t.Role == None {
		return
	}
	shown, exact := d.font.shown(t.String)
	at := model.Placed(model.Point{X: t.left(TextWidth(t.String, t.Height)), Y: t.Height / 2}, t.At, t.Turn, false)
	along, up := model.Turned(model.Point{X: 1}, t.Turn, false), model.Turned(model.Point{Y: -1}, t.Turn, false)
	if !exact { // what is read differs from what the letters stand for
		d.printf("/Span << /ActualText %s >> BDC ", pdfText(t.String))
	}
	d.printf("BT /F0 %s Tf %s rg %s %s %s %s %s %s Tm [%s] TJ ET", number(emOf(t.Height)), colourOf(d.pal, t.Role),
		number(along.X), number(along.Y), number(up.X), number(up.Y), number(at.X), number(at.Y), shown)
	if !exact {
		d.printf(" EMC")
	}
	d.printf("\n")
}

// finish writes what pages refer to.
func (d *pdf) finish(about About) {
	d.font.write(&d.file)
	var r strings.Builder
	fmt.Fprintf(&r, "<< /Font << /F0 %d 0 R >> /XObject <<", d.font.object)
	for i, o := range d.forms {
		fmt.Fprintf(&r, " /S%d %d 0 R", i, o)
	}
	r.WriteString(" >> /Properties <<")
	var all strings.Builder
	for i, o := range d.groups {
		fmt.Fprintf(&r, " /L%d %d 0 R", i, o)
		fmt.Fprintf(&all, " %d 0 R", o)
	}
	r.WriteString(" >> >>")
	d.file.set(d.resources, r.String())
	var kids strings.Builder
	for _, p := range d.pages {
		fmt.Fprintf(&kids, " %d 0 R", p)
	}
	d.file.set(d.tree, fmt.Sprintf("<< /Type /Pages /Count %d /Kids [%s ] >>", len(d.pages), kids.String()))
	d.file.set(d.catalogue, fmt.Sprintf("<< /Type /Catalog /Pages %d 0 R /OCProperties << /OCGs [%s ] /D << /Order [%s ] /ON [%s ] >> >> >>",
		d.tree, all.String(), all.String(), all.String()))
	info := "<< /Producer (Rinsewright)"
	for _, e := range [][2]string{{"Title", about.Title}, {"Author", about.Author}, {"Subject", about.Subject}} {
		if e[1] != "" {
			info += " /" + e[0] + " " + pdfText(e[1])
		}
	}
	d.file.end(d.catalogue, d.file.add(info+" >>"))
}
