package window

import (
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// contrast is the contrast ratio of WCAG 2.1 (definitions "contrast ratio" and
// "relative luminance").
func contrast(a, b color.Color) float64 {
	l := func(c color.Color) float64 {
		r, g, b, _ := c.RGBA()
		lin := func(v uint32) float64 {
			s := float64(v>>8) / 255
			if s <= 0.03928 {
				return s / 12.92
			}
			return math.Pow((s+0.055)/1.055, 2.4)
		}
		return 0.2126*lin(r) + 0.7152*lin(g) + 0.0722*lin(b)
	}
	x, y := l(a), l(b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

func TestContrast(t *testing.T) {
	// The ratio of black on white is 21 : 1 by definition.
	if got := contrast(color.Black, color.White); math.Abs(got-21) > 1e-9 {
		t.Fatalf("black on white gives %v", got)
	}
	text := []fyne.ThemeColorName{theme.ColorNameForeground, theme.ColorNameError, theme.ColorNameWarning, theme.ColorNamePrimary,
		theme.ColorNameSuccess, theme.ColorNamePlaceHolder, theme.ColorNameDisabled, colorStop, colorFix, colorNote, colorUnknown, colorQuiet}
	grounds := []fyne.ThemeColorName{theme.ColorNameBackground, colorPanel, theme.ColorNameInputBackground, theme.ColorNameMenuBackground,
		theme.ColorNameOverlayBackground, colorBoard}
	for _, look := range []Look{LookLight, LookDark} {
		th := plainTheme{look: look}
		for _, a := range text {
			for _, g := range grounds {
				// 1.4.3 asks 4.5 : 1 of text.
				if got := contrast(th.Color(a, 0), th.Color(g, 0)); got < 4.5 {
					t.Errorf("%s: %s on %s has %.2f : 1", look, a, g, got)
				}
			}
		}
		pairs := [][2]fyne.ThemeColorName{
			{theme.ColorNameForegroundOnPrimary, theme.ColorNamePrimary}, {theme.ColorNameForegroundOnError, theme.ColorNameError},
			{theme.ColorNameForeground, theme.ColorNameSelection}, {theme.ColorNameForeground, theme.ColorNameButton},
			{theme.ColorNameForeground, theme.ColorNameHeaderBackground},
		}
		for _, p := range pairs {
			if got := contrast(th.Color(p[0], 0), th.Color(p[1], 0)); got < 4.5 {
				t.Errorf("%s: %s on %s has %.2f : 1", look, p[0], p[1], got)
			}
		}
	}
}

func TestLookCanBeForced(t *testing.T) {
	for _, tt := range []struct {
		look   Look
		system fyne.ThemeVariant
		dark   bool
	}{
		{LookSystem, theme.VariantDark, true}, {LookSystem, theme.VariantLight, false},
		{LookLight, theme.VariantDark, false}, {LookDark, theme.VariantLight, true},
	} {
		if got := (plainTheme{look: tt.look}).dark(tt.system); got != tt.dark {
			t.Errorf("%s on a system with variant %v is dark: %v", tt.look, tt.system, got)
		}
	}
}
