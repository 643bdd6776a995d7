package draw

import (
	"image/color"
	"math"

	"rinsewright/model"
)

// Role is what a colour is for.
type Role uint8

const (
	None   Role = iota // not painted
	Paper              // the ground
	Ink                // lines and letters of symbols
	Faint              // what stands back: grid, frames, runs without a known medium that are dry
	Accent             // what the user works on
	Error              // severities of findings, always beside a shape and words
	Warning
	Advice
	Accepted

	water // media follow, in the order of mediumRoles
	recovered
	alkali
	acid
	disinfectant
	product
	steam
	condensate
	air
	gas
	sewage
	roles
)

// medium is what a medium looks like: by colour, and by letters for those who
// cannot tell it by colour.
type medium struct {
	role    Role
	letters string
	base    color.RGBA
}

// media follows the groups of DIN 2403; RGB values of the RAL colours are the
// usual approximations, from memory of published RAL charts. Where one group
// holds several media of a wash, one has the colour of the group and the others
// a colour of the project's own, since the operator must tell them apart:
// recovered water a yellower and lighter green than water, condensate a paler
// red than steam, sewage a greyer brown than product, disinfectant a turquoise,
// which DIN 2403 leaves free.
var media = map[model.Medium]medium{
	model.Water:      {water, "W", rgb(0x237F52)},          // RAL 6032 signal green
	model.Recovered:  {recovered, "RW", rgb(0x86A82E)},     // own
	model.Alkali:     {alkali, "ALK", rgb(0x844C82)},       // RAL 4008 signal violet
	model.Acid:       {acid, "ACID", rgb(0xD05D28)},        // RAL 2010 signal orange
	model.Disinfect:  {disinfectant, "DIS", rgb(0x1292A8)}, // own
	model.Product:    {product, "PROD", rgb(0x7B5141)},     // RAL 8002 signal brown, other liquids
	model.Steam:      {steam, "ST", rgb(0x9B2423)},         // RAL 3001 signal red
	model.Condensate: {condensate, "COND", rgb(0xCF6B66)},  // own, of the red group
	model.Air:        {air, "AIR", rgb(0x9B9B9B)},          // RAL 7004 signal grey
	model.Gas:        {gas, "GAS", rgb(0xF9A800)},          // RAL 1003 signal yellow
	model.Sewage:     {sewage, "SEW", rgb(0x6B6355)},       // own, of the brown group
}

// OfMedium gives the colour role of a medium; Ink for one that is not known.
func OfMedium(m model.Medium) Role {
	if d, ok := media[m]; ok {
		return d.role
	}
	return Ink
}

// Letters gives the short text that stands beside the colour of a medium: "ALK".
// It is the medium's own name for one that is not known.
func Letters(m model.Medium) string {
	if d, ok := media[m]; ok {
		return d.letters
	}
	return string(m)
}

// Palette says what each role looks like.
type Palette struct {
	Name   string
	Dark   bool
	colour [roles]color.RGBA
}

// leastContrast is the contrast to paper that every colour but Faint has. WCAG
// 2.1, 1.4.11, asks 3:1 of graphical objects.
const leastContrast = 3.0

// Light is dark ink on white paper.
var Light = newPalette("light", false, map[Role]int{
	Paper: 0xFFFFFF, Ink: 0x1B1E22, Faint: 0x8B9199, Accent: 0x0A63C2,
	Error: 0xC4161C, Warning: 0xA65A00, Advice: 0x2C6FB0, Accepted: 0x6B7280,
})

// Dark is light ink on dark paper.
var Dark = newPalette("dark", true, map[Role]int{
	Paper: 0x1C1F24, Ink: 0xE4E7EB, Faint: 0x747B85, Accent: 0x5AA9FF,
	Error: 0xFF6B66, Warning: 0xF0A040, Advice: 0x7DB7F0, Accepted: 0x9AA3AF,
})

func newPalette(name string, dark bool, own map[Role]int) Palette {
	p := Palette{Name: name, Dark: dark}
	for role, v := range own {
		p.colour[role] = rgb(v)
	}
	for _, m := range media {
		p.colour[m.role] = legible(m.base, p.colour[Paper])
	}
	return p
}

// Colour gives the colour of a role, opaque; of None fully clear.
func (p Palette) Colour(r Role) color.RGBA {
	if int(r) >= len(p.colour) {
		return p.colour[Ink]
	}
	return p.colour[r]
}

func rgb(v int) color.RGBA {
	return color.RGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}
}

// legible moves c towards black or white until it stands out from paper.
func legible(c, paper color.RGBA) color.RGBA {
	to := color.RGBA{A: 255}
	if luminance(paper) < 0.18 {
		to = rgb(0xFFFFFF)
	}
	for i := range 51 {
		m := mixed(c, to, float64(i)/50)
		if contrast(m, paper) >= leastContrast+0.1 {
			return m
		}
	}
	return to
}

// mixed gives c with the share t of d.
func mixed(c, d color.RGBA, t float64) color.RGBA {
	mix := func(a, b uint8) uint8 { return uint8(math.Round(float64(a) + (float64(b)-float64(a))*t)) }
	return color.RGBA{mix(c.R, d.R), mix(c.G, d.G), mix(c.B, d.B), mix(c.A, d.A)}
}

// contrast is the ratio of WCAG 2.1, 1 to 21.
func contrast(a, b color.RGBA) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// luminance is the relative luminance of WCAG 2.1, 0 to 1.
func luminance(c color.RGBA) float64 {
	linear := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}
