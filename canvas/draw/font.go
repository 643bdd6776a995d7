package draw

import (
	"sync"

	"github.com/golang/freetype/truetype"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/math/fixed"
)

// lettering is the typeface of all text, read once. The Go fonts hold Latin,
// Greek and Cyrillic (WGL4).
var lettering = sync.OnceValue(func() *typeface {
	f, err := truetype.Parse(goregular.TTF)
	if err != nil {
		panic("draw: embedded font: " + err.Error())
	}
	t := &typeface{font: f, glyphs: map[truetype.Index]*glyph{}}
	h := t.glyph(f.Index('H'))
	for _, c := range h.outline {
		for _, p := range c {
			t.capital = max(t.capital, p.y)
		}
	}
	for a := range t.advance {
		i := f.Index(rune(a))
		t.advance[a] = float32(t.glyph(i).advance)
		for b := range t.kern[a] {
			t.kern[a][b] = float32(f.Kern(unit, i, f.Index(rune(b))))
		}
	}
	return t
})

// unit is the size at which outlines are read: font units of a 2048 em.
const unit = fixed.Int26_6(2048)

// ascii is the number of plain letters.
const ascii = 128

type typeface struct {
	font    *truetype.Font
	capital float64               // height of H
	advance [ascii]float32        // of the plain letters, which nearly all texts have only
	kern    [ascii][ascii]float32 // between two of them
	mu      sync.Mutex
	glyphs  map[truetype.Index]*glyph
}

// glyph is a letter in font units, y up.
type glyph struct {
	advance float64
	outline [][]glyphPoint
}

type glyphPoint struct {
	x, y float64
	on   bool // on the outline; else control of a quadratic
}

func (t *typeface) glyph(i truetype.Index) *glyph {
	t.mu.Lock()
	defer t.mu.Unlock()
	if g, ok := t.glyphs[i]; ok {
		return g
	}
	var b truetype.GlyphBuf
	g := &glyph{advance: float64(t.font.HMetric(unit, i).AdvanceWidth)}
	if err := b.Load(t.font, unit, i, font.HintingNone); err == nil {
		start := 0
		for _, end := range b.Ends {
			var contour []glyphPoint
			for _, p := range b.Points[start:end] {
				contour = append(contour, glyphPoint{float64(p.X), float64(p.Y), p.Flags&1 != 0})
			}
			g.outline = append(g.outline, contour)
			start = end
		}
	}
	t.glyphs[i] = g
	return g
}

// set calls each for the letters of s with their place from the start, all in
// font units, and gives the whole width.
func (t *typeface) set(s string, each func(g *glyph, x float64)) float64 {
	x := 0.0
	var last truetype.Index
	for n, r := range s {
		i := t.font.Index(r)
		if n > 0 {
			x += float64(t.font.Kern(unit, last, i))
		}
		g := t.glyph(i)
		if each != nil {
			each(g, x)
		}
		x += g.advance
		last = i
	}
	return x
}

// TextWidth gives the width in mm of a text whose capitals are height mm high.
func TextWidth(s string, height float64) float64 {
	t := lettering()
	return t.width(s) * height / t.capital
}

// width gives the width of a text in font units.
func (t *typeface) width(s string) float64 {
	x := float32(0)
	for i := range len(s) {
		if s[i] >= ascii {
			return t.set(s, nil)
		}
		x += t.advance[s[i]]
		if i > 0 {
			x += t.kern[s[i-1]][s[i]]
		}
	}
	return float64(x)
}

// emOf gives the font size at which capitals are height high.
func emOf(height float64) float64 { return height * float64(unit) / lettering().capital }

// pen takes a closed outline of straight lines and quadratics.
type pen interface {
	moveTo(x, y float64)
	lineTo(x, y float64)
	quadTo(cx, cy, x, y float64)
	closePath()
}

// outlineText gives the outlines of a text to a pen. The start of its baseline is
// [0, 0], y goes down, and its capitals are height high.
func outlineText(s string, height float64, to pen) {
	t := lettering()
	k := height / t.capital
	t.set(s, func(g *glyph, x float64) {
		for _, c := range g.outline {
			outlineContour(c, func(p glyphPoint) (float64, float64) { return (p.x + x) * k, -p.y * k }, to)
		}
	})
}

// outlineContour follows one contour of a TrueType outline: between two controls
// lies an unwritten point half way.
func outlineContour(c []glyphPoint, at func(glyphPoint) (float64, float64), to pen) {
	if len(c) == 0 {
		return
	}
	half := func(a, b glyphPoint) glyphPoint { return glyphPoint{(a.x + b.x) / 2, (a.y + b.y) / 2, true} }
	start := c[0]
	rest := c[1:]
	if !start.on {
		if last := c[len(c)-1]; last.on {
			start, rest = last, c[:len(c)-1]
		} else {
			start, rest = half(start, last), c
		}
	}
	to.moveTo(at(start))
	var control *glyphPoint
	for i := 0; i <= len(rest); i++ {
		p := start
		if i < len(rest) {
			p = rest[i]
		}
		switch {
		case p.on && control == nil:
			to.lineTo(at(p))
		case p.on:
			cx, cy := at(*control)
			x, y := at(p)
			to.quadTo(cx, cy, x, y)
			control = nil
		case control == nil:
			control = &p
		default:
			cx, cy := at(*control)
			x, y := at(half(*control, p))
			to.quadTo(cx, cy, x, y)
			control = &p
		}
	}
	to.closePath()
}
