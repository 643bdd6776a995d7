package draw

import (
	"encoding/binary"
	"fmt"
	"slices"
	"strings"
	"unicode/utf16"

	"github.com/golang/freetype/truetype"
	"golang.org/x/image/font/gofont/goregular"
)

// pdfFont is the embedded lettering as far as a document uses it. Letters are
// written by their number in the font.
type pdfFont struct {
	object int
	used   map[truetype.Index]rune // first rune that each letter was used for
}

// shown gives the letters of a text with their kerning, and whether the letters
// alone tell what was written.
func (f *pdfFont) shown(s string) (letters string, exact bool) {
	if f.used == nil {
		f.used = map[truetype.Index]rune{}
	}
	font := lettering().font
	var b strings.Builder
	b.WriteByte('<')
	exact = true
	var last truetype.Index
	for n, r := range s {
		i := font.Index(r)
		if n > 0 {
			if k := font.Kern(unit, last, i); k != 0 {
				fmt.Fprintf(&b, "> %s <", number(-1000*float64(k)/float64(unit)))
			}
		}
		if first, ok := f.used[i]; !ok {
			f.used[i] = r
		} else if first != r {
			exact = false
		}
		if i == 0 {
			exact = false
		}
		fmt.Fprintf(&b, "%04X", uint16(i))
		last = i
	}
	b.WriteByte('>')
	return b.String(), exact
}

// write writes the font with the letters that are used.
func (f *pdfFont) write(file *pdfFile) {
	t := lettering()
	var glyphs []truetype.Index
	for i := range f.used {
		glyphs = append(glyphs, i)
	}
	slices.Sort(glyphs)
	data := subset(goregular.TTF, glyphs)
	embedded := file.stream(fmt.Sprintf("/Length1 %d ", len(data)), string(data))
	thousand := func(v float64) string { return number(1000 * v / float64(unit)) }
	b := t.font.Bounds(unit)
	const name = "RINSEW+GoRegular"
	descriptor := file.add(fmt.Sprintf("<< /Type /FontDescriptor /FontName /%s /Flags 4 /FontBBox [%s %s %s %s] /ItalicAngle 0 /Ascent %s /Descent %s /CapHeight %s /StemV 80 /FontFile2 %d 0 R >>",
		name, thousand(float64(b.Min.X)), thousand(float64(b.Min.Y)), thousand(float64(b.Max.X)), thousand(float64(b.Max.Y)),
		thousand(float64(b.Max.Y)), thousand(float64(b.Min.Y)), thousand(t.capital), embedded))
	var widths, names strings.Builder
	for _, i := range glyphs {
		fmt.Fprintf(&widths, " %d [%s]", i, thousand(t.glyph(i).advance))
	}
	letters := file.add(fmt.Sprintf("<< /Type /Font /Subtype /CIDFontType2 /BaseFont /%s /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor %d 0 R /CIDToGIDMap /Identity /W [%s ] >>",
		name, descriptor, widths.String()))
	names.WriteString("/CIDInit /ProcSet findresource begin 12 dict begin begincmap\n" +
		"/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n/CMapName /Adobe-Identity-UCS def /CMapType 2 def\n" +
		"1 begincodespacerange <0000> <FFFF> endcodespacerange\n")
	const atOnce = 100 // entries of one block, at most (ISO 32000-1, 9.10.3 and the CMap specification)
	for start := 0; start < len(glyphs); start += atOnce {
		part := glyphs[start:min(start+atOnce, len(glyphs))]
		fmt.Fprintf(&names, "%d beginbfchar\n", len(part))
		for _, i := range part {
			fmt.Fprintf(&names, "<%04X> <", uint16(i))
			for _, u := range utf16.Encode([]rune{f.used[i]}) {
				fmt.Fprintf(&names, "%04X", u)
			}
			names.WriteString(">\n")
		}
		names.WriteString("endbfchar\n")
	}
	names.WriteString("endcmap CMapName currentdict /CMap defineresource pop end end\n")
	unicode := file.stream("", names.String())
	file.set(f.object, fmt.Sprintf("<< /Type /Font /Subtype /Type0 /BaseFont /%s /Encoding /Identity-H /DescendantFonts [%d 0 R] /ToUnicode %d 0 R >>", name, letters, unicode))
}

// subset gives a TrueType file in which only some letters have an outline, with
// those that they are made up of. Numbers of letters stay (Apple TrueType
// Reference Manual, tables glyf and loca). The font must be sound, as the embedded
// one is.
func subset(font []byte, glyphs []truetype.Index) []byte {
	be := binary.BigEndian
	table := map[string][]byte{}
	for i := range int(be.Uint16(font[4:])) {
		e := font[12+16*i:]
		table[string(e[:4])] = font[be.Uint32(e[8:]) : be.Uint32(e[8:])+be.Uint32(e[12:])]
	}
	long := be.Uint16(table["head"][50:]) == 1
	offset := func(i int) int {
		if long {
			return int(be.Uint32(table["loca"][4*i:]))
		}
		return 2 * int(be.Uint16(table["loca"][2*i:]))
	}
	count := int(be.Uint16(table["maxp"][4:]))
	outline := func(i int) []byte { return table["glyf"][offset(i):offset(i+1)] }
	keep := make([]bool, count)
	var want func(i int)
	want = func(i int) {
		if i >= count || keep[i] {
			return
		}
		keep[i] = true
		for _, part := range components(outline(i)) {
			want(part)
		}
	}
	want(0)
	for _, i := range glyphs {
		want(int(i))
	}
	var glyf, loca []byte
	for i := range count {
		loca = be.AppendUint32(loca, uint32(len(glyf)))
		if keep[i] {
			glyf = append(glyf, outline(i)...)
			for len(glyf)%4 != 0 {
				glyf = append(glyf, 0)
			}
		}
	}
	loca = be.AppendUint32(loca, uint32(len(glyf)))
	head := slices.Clone(table["head"])
	be.PutUint16(head[50:], 1) // long offsets
	table["glyf"], table["loca"], table["head"] = glyf, loca, head
	return assembled(table, []string{"cvt ", "fpgm", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "prep"})
}

// components gives the letters that a letter is made up of.
func components(outline []byte) []int {
	be := binary.BigEndian
	if len(outline) < 10 || int16(be.Uint16(outline)) >= 0 {
		return nil
	}
	var out []int
	for at := 10; ; {
		flags := be.Uint16(outline[at:])
		out = append(out, int(be.Uint16(outline[at+2:])))
		at += 4
		at += 2
		if flags&1 != 0 { // arguments are words
			at += 2
		}
		switch {
		case flags&0x08 != 0: // one scale
			at += 2
		case flags&0x40 != 0: // scales in x and y
			at += 4
		case flags&0x80 != 0: // two by two
			at += 8
		}
		if flags&0x20 == 0 { // no more
			return out
		}
	}
}

// assembled writes a TrueType file of the tables named, as far as there are any.
func assembled(table map[string][]byte, names []string) []byte {
	be := binary.BigEndian
	names = slices.DeleteFunc(names, func(n string) bool { return len(table[n]) == 0 })
	n, log := len(names), 0
	for 2<<log <= n {
		log++
	}
	out := be.AppendUint32(nil, 0x00010000)
	for _, v := range []int{n, 16 << log, log, 16*n - 16<<log} {
		out = be.AppendUint16(out, uint16(v))
	}
	at := 12 + 16*n
	var body []byte
	for _, name := range names {
		data := table[name]
		out = append(out, name...)
		padded := slices.Clone(data)
		for len(padded)%4 != 0 {
			padded = append(padded, 0)
		}
		sum := uint32(0)
		for i := 0; i < len(padded); i += 4 {
			sum += be.Uint32(padded[i:])
		}
		out = be.AppendUint32(be.AppendUint32(be.AppendUint32(out, sum), uint32(at+len(body))), uint32(len(data)))
		body = append(body, padded...)
	}
	return append(out, body...)
}
