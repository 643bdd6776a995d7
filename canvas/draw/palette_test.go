package draw_test

import (
	"image/color"
	"math"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/model"
)

// contrast is the formula of WCAG 2.1 (W3C, definitions of relative luminance and
// contrast ratio), written apart from the program's.
func contrast(a, b color.RGBA) float64 {
	l := func(c color.RGBA) float64 {
		sum := 0.0
		for i, v := range []uint8{c.R, c.G, c.B} {
			s := float64(v) / 255
			if s <= 0.03928 {
				s /= 12.92
			} else {
				s = math.Pow((s+0.055)/1.055, 2.4)
			}
			sum += s * []float64{0.2126, 0.7152, 0.0722}[i]
		}
		return sum
	}
	hi, lo := l(a), l(b)
	if hi < lo {
		hi, lo = lo, hi
	}
	return (hi + 0.05) / (lo + 0.05)
}

func TestContrastFormula(t *testing.T) {
	white, black, grey := color.RGBA{255, 255, 255, 255}, color.RGBA{0, 0, 0, 255}, color.RGBA{0x76, 0x76, 0x76, 255}
	if c := contrast(white, black); math.Abs(c-21) > 1e-9 { // WCAG 2.1: the greatest ratio is 21:1
		t.Errorf("black on white: %v, want 21", c)
	}
	if c := contrast(white, grey); math.Abs(c-4.54) > 0.005 { // #767676 on white, commonly printed as 4.54:1
		t.Errorf("#767676 on white: %v, want 4.54", c)
	}
}

// WCAG 2.1, success criterion 1.4.11: graphical objects 3:1; 1.4.3: text 4.5:1.
func TestColoursStandOut(t *testing.T) {
	for _, pal := range []draw.Palette{draw.Light, draw.Dark} {
		paper := pal.Colour(draw.Paper)
		least := map[string]struct {
			role draw.Role
			want float64
		}{
			"ink": {draw.Ink, 4.5}, "accent": {draw.Accent, 4.5}, "faint": {draw.Faint, 3},
			"error": {draw.Error, 4.5}, "warning": {draw.Warning, 4.5}, "advice": {draw.Advice, 4.5}, "accepted": {draw.Accepted, 4.5},
		}
		for name, l := range least {
			if c := contrast(pal.Colour(l.role), paper); c < l.want {
				t.Errorf("%s, %s: contrast %.2f to paper, want %v", pal.Name, name, c, l.want)
			}
		}
		seen := map[color.RGBA]string{}
		for _, m := range model.Medium("").Choices() {
			colour := pal.Colour(draw.OfMedium(model.Medium(m)))
			if c := contrast(colour, paper); c < 3 {
				t.Errorf("%s, %s: contrast %.2f to paper, want 3", pal.Name, m, c)
			}
			if other, ok := seen[colour]; ok {
				t.Errorf("%s: %s and %s have the same colour", pal.Name, m, other)
			}
			seen[colour] = m
		}
	}
}

// DIN 2403 groups: water green, steam and condensate red, air grey, acids
// orange, alkalis violet, gas yellow, other liquids brown. Hues in degrees of the
// HSV wheel, by the usual names of colours.
func TestMediaKeepTheirHue(t *testing.T) {
	hues := map[model.Medium][2]float64{
		model.Water: {130, 175}, model.Recovered: {65, 130}, model.Alkali: {280, 320}, model.Acid: {12, 30},
		model.Steam: {345, 372}, model.Condensate: {345, 372}, model.Gas: {35, 55}, model.Product: {8, 30},
	}
	for _, pal := range []draw.Palette{draw.Light, draw.Dark} {
		for m, want := range hues {
			h, _ := hue(pal.Colour(draw.OfMedium(m)))
			if h < want[0] && h+360 > want[1] || h > want[1] {
				t.Errorf("%s, %s: hue %.0f, want %v", pal.Name, m, h, want)
			}
		}
		if _, saturation := hue(pal.Colour(draw.OfMedium(model.Air))); saturation > 0.05 {
			t.Errorf("%s: air is not grey", pal.Name)
		}
	}
}

func hue(c color.RGBA) (degrees, saturation float64) {
	r, g, b := float64(c.R), float64(c.G), float64(c.B)
	hi, lo := max(r, g, b), min(r, g, b)
	d := hi - lo
	if d == 0 {
		return 0, 0
	}
	switch hi {
	case r:
		degrees = math.Mod((g-b)/d+6, 6)
	case g:
		degrees = (b-r)/d + 2
	default:
		degrees = (r-g)/d + 4
	}
	return degrees * 60, d / hi
}

func TestEveryMediumHasLetters(t *testing.T) {
	seen := map[string]string{}
	for _, m := range model.Medium("").Choices() {
		l := draw.Letters(model.Medium(m))
		if l == m || len(l) > 4 {
			t.Errorf("%s has the letters %q, want its own and at most four", m, l)
		}
		if other, ok := seen[l]; ok {
			t.Errorf("%s and %s have the same letters %q", m, other, l)
		}
		seen[l] = m
	}
}
