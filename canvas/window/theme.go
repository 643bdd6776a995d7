package window

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// Look is the user's choice of light or dark.
type Look string

const (
	LookSystem Look = "system"
	LookLight  Look = "light"
	LookDark   Look = "dark"
)

// plainTheme is the program's own look: quiet grey-blue surfaces, one accent.
// Contrast of text on its ground is at least 4.5 : 1 in both variants (WCAG
// 2.1, 1.4.3), held by a test.
type plainTheme struct {
	look Look
}

// Names of colours that fyne does not know.
const (
	colorPanel   fyne.ThemeColorName = "rinsewrightPanel"   // ground of the side panels
	colorBoard   fyne.ThemeColorName = "rinsewrightBoard"   // ground around the drawing
	colorStop    fyne.ThemeColorName = "rinsewrightStop"    // severities, beside their shapes
	colorFix     fyne.ThemeColorName = "rinsewrightFix"     //
	colorNote    fyne.ThemeColorName = "rinsewrightNote"    //
	colorUnknown fyne.ThemeColorName = "rinsewrightUnknown" // not assessed
	colorQuiet   fyne.ThemeColorName = "rinsewrightQuiet"   // help and units
)

func rgb(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}
}

func rgba(v uint32, a uint8) color.NRGBA {
	c := rgb(v)
	c.A = a
	return c
}

type pair struct{ light, dark color.NRGBA }

var colours = map[fyne.ThemeColorName]pair{
	theme.ColorNameBackground:          {rgb(0xf3f5f6), rgb(0x1d2226)},
	theme.ColorNameForeground:          {rgb(0x1c262d), rgb(0xe2e7ea)}, // see menuInk
	theme.ColorNameButton:              {rgb(0xe3e8eb), rgb(0x30383e)},
	theme.ColorNameDisabledButton:      {rgb(0xebeef0), rgb(0x272d32)},
	theme.ColorNameDisabled:            {rgb(0x626e76), rgb(0x909ca4)},
	theme.ColorNameError:               {rgb(0xb3261e), rgb(0xff8a80)},
	theme.ColorNameWarning:             {rgb(0x8a5a00), rgb(0xf0b452)},
	theme.ColorNameSuccess:             {rgb(0x1b6e3c), rgb(0x6fcf97)},
	theme.ColorNameFocus:               {rgba(0x1f7a8c, 0x55), rgba(0x55b5c6, 0x55)},
	theme.ColorNamePrimary:             {rgb(0x1b6d7e), rgb(0x5fbccd)},
	theme.ColorNameHyperlink:           {rgb(0x1b6d7e), rgb(0x5fbccd)},
	theme.ColorNameForegroundOnPrimary: {rgb(0xffffff), rgb(0x0f1d21)},
	theme.ColorNameForegroundOnError:   {rgb(0xffffff), rgb(0x2a0d0b)},
	theme.ColorNameForegroundOnSuccess: {rgb(0xffffff), rgb(0x0b2415)},
	theme.ColorNameForegroundOnWarning: {rgb(0xffffff), rgb(0x2b1d05)},
	theme.ColorNameHeaderBackground:    {rgb(0xe6eaed), rgb(0x272e33)},
	theme.ColorNameHover:               {rgba(0x1b3a47, 0x14), rgba(0xffffff, 0x12)},
	theme.ColorNameInputBackground:     {rgb(0xffffff), rgb(0x272e33)},
	theme.ColorNameInputBorder:         {rgb(0xc3ccd1), rgb(0x46525a)},
	theme.ColorNameMenuBackground:      {rgb(0xfafbfc), rgb(0x272e33)},
	theme.ColorNameOverlayBackground:   {rgb(0xfafbfc), rgb(0x242a2f)},
	theme.ColorNamePlaceHolder:         {rgb(0x5f6b73), rgb(0x9aa6ae)},
	theme.ColorNamePressed:             {rgba(0x1b3a47, 0x2a), rgba(0xffffff, 0x22)},
	theme.ColorNameScrollBar:           {rgba(0x33444d, 0x80), rgba(0xc8d2d8, 0x70)},
	theme.ColorNameScrollBarBackground: {rgba(0, 0), rgba(0, 0)},
	theme.ColorNameSelection:           {rgb(0xcfe6ea), rgb(0x25505a)},
	theme.ColorNameSeparator:           {rgb(0xd4dbdf), rgb(0x394249)},
	theme.ColorNameShadow:              {rgba(0, 0x30), rgba(0, 0x66)},

	colorPanel:   {rgb(0xf9fafb), rgb(0x22282c)},
	colorBoard:   {rgb(0xffffff), rgb(0x181c1f)},
	colorStop:    {rgb(0xb3261e), rgb(0xff8a80)},
	colorFix:     {rgb(0x8a5a00), rgb(0xf0b452)},
	colorNote:    {rgb(0x2a5fa5), rgb(0x8fbaf3)},
	colorUnknown: {rgb(0x5d6870), rgb(0xa3afb6)},
	colorQuiet:   {rgb(0x5d6870), rgb(0xa3afb6)},
}

func (t plainTheme) dark(system fyne.ThemeVariant) bool {
	switch t.look {
	case LookLight:
		return false
	case LookDark:
		return true
	}
	return system == theme.VariantDark
}

func (t plainTheme) Color(name fyne.ThemeColorName, system fyne.ThemeVariant) color.Color {
	dark := t.dark(system)
	if p, ok := colours[name]; ok {
		c := p.light
		if dark {
			c = p.dark
		}
		if name == theme.ColorNameForeground {
			return menuInk{c}
		}
		return c
	}
	if dark {
		return theme.DefaultTheme().Color(name, theme.VariantDark)
	}
	return theme.DefaultTheme().Color(name, theme.VariantLight)
}

func (plainTheme) Font(s fyne.TextStyle) fyne.Resource     { return theme.DefaultTheme().Font(s) }
func (plainTheme) Icon(n fyne.ThemeIconName) fyne.Resource { return theme.DefaultTheme().Icon(n) }

// Sizes of text: one for everything read and typed, one smaller for help and
// units, one larger for the title of a panel.
func (plainTheme) Size(name fyne.ThemeSizeName) float32 {
	switch name {
	case theme.SizeNameText:
		return 13
	case theme.SizeNameCaptionText:
		return 11
	case theme.SizeNameSubHeadingText:
		return 15
	case theme.SizeNameHeadingText:
		return 19
	case theme.SizeNamePadding:
		return 4
	case theme.SizeNameInnerPadding:
		return 6
	case theme.SizeNameInlineIcon:
		return 17
	case theme.SizeNameInputRadius, theme.SizeNameSelectionRadius:
		return 4
	case theme.SizeNameLineSpacing:
		return 3
	case theme.SizeNameScrollBar:
		return 11
	case theme.SizeNameScrollBarSmall:
		return 4
	}
	return theme.DefaultTheme().Size(name)
}

// colour looks a colour up in the theme in force.
func colour(name fyne.ThemeColorName) color.Color {
	s := fyne.CurrentApp().Settings()
	return s.Theme().Color(name, s.ThemeVariant())
}

// darkNow says whether the window stands dark.
func darkNow() bool {
	s := fyne.CurrentApp().Settings()
	if t, ok := s.Theme().(plainTheme); ok {
		return t.dark(s.ThemeVariant())
	}
	return s.ThemeVariant() == theme.VariantDark
}

// menuInk is an opaque colour whose 16-bit alpha is a little below the full one.
// Fyne 2.7.1 writes the shortcuts of a menu in the foreground colour with 0.95
// of that alpha, of which it then keeps the low byte only: of a full alpha that
// is 0x32, too faint to read, of this one 0xfe.
type menuInk struct{ color.NRGBA }

func (c menuInk) RGBA() (r, g, b, a uint32) {
	r, g, b, _ = c.NRGBA.RGBA()
	return r, g, b, 0xffc9
}

// barless is the theme in force without scroll bars, for entries of one line:
// their text moves with the caret.
type barless struct{}

func (barless) Color(n fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	return fyne.CurrentApp().Settings().Theme().Color(n, v)
}
func (barless) Font(s fyne.TextStyle) fyne.Resource {
	return fyne.CurrentApp().Settings().Theme().Font(s)
}
func (barless) Icon(n fyne.ThemeIconName) fyne.Resource {
	return fyne.CurrentApp().Settings().Theme().Icon(n)
}
func (barless) Size(n fyne.ThemeSizeName) float32 {
	switch n {
	case theme.SizeNameScrollBar, theme.SizeNameScrollBarSmall:
		return 0
	}
	return fyne.CurrentApp().Settings().Theme().Size(n)
}
