package window

import (
	"math"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"rinsewright/canvas/place"
)

// How much of the board the rulers take, in fyne's units.
const (
	rulerHigh = 18
	rulerWide = 30
)

// rulerStep gives the distance in mm of the numbered lines of a ruler: 1, 2 or 5
// times a power of ten, so that numbers stand far enough apart.
func rulerStep(zoom float64) float64 {
	const apart = 70 // fyne's units
	power := math.Pow(10, math.Floor(math.Log10(apart/zoom)))
	for _, f := range []float64{1, 2, 5, 10} {
		if f*power*zoom >= apart {
			return f * power
		}
	}
	return 10 * power
}

// paintRulers draws the rulers at the upper and left edge, in mm of the drawing,
// with the extent of what is selected and where the pointer is.
func (b *board) paintRulers() {
	if !b.rulers {
		return
	}
	size := b.Size()
	ground, edge, ink := colour(theme.ColorNameHeaderBackground), colour(theme.ColorNameSeparator), colour(colorQuiet)
	b.over.box(fyne.NewPos(-2, -2), fyne.NewPos(size.Width+2, rulerHigh), edge, ground, 1)
	b.over.box(fyne.NewPos(-2, rulerHigh-1), fyne.NewPos(rulerWide, size.Height+2), edge, ground, 1)
	if ids := b.on.doc.Selection(); len(ids) > 0 {
		r := b.drawing().Bounds(ids...)
		if !r.Empty() {
			b.paintSpan(r)
		}
	}
	step := rulerStep(b.view.Zoom)
	shown := b.view.shown(size)
	b.ticks(shown.Min.X, shown.Max.X, step, func(v float64, long bool, text string) {
		x := float32((v - b.view.Offset.X) * b.view.Zoom)
		if x < rulerWide {
			return
		}
		b.over.line(fyne.NewPos(x, rulerHigh-tickLong(long)), fyne.NewPos(x, rulerHigh), ink, 1)
		if text != "" {
			b.rulerText(text, fyne.NewPos(x+3, 1))
		}
	})
	b.ticks(shown.Min.Y, shown.Max.Y, step, func(v float64, long bool, text string) {
		y := float32((v - b.view.Offset.Y) * b.view.Zoom)
		if y < rulerHigh {
			return
		}
		b.over.line(fyne.NewPos(rulerWide-tickLong(long), y), fyne.NewPos(rulerWide, y), ink, 1)
		if text != "" {
			b.rulerText(text, fyne.NewPos(3, y+1))
		}
	})
	if b.inside {
		c := b.accent(255)
		b.over.line(fyne.NewPos(b.pointer.X, 0), fyne.NewPos(b.pointer.X, rulerHigh), c, 1)
		b.over.line(fyne.NewPos(0, b.pointer.Y), fyne.NewPos(rulerWide, b.pointer.Y), c, 1)
	}
}

func tickLong(long bool) float32 {
	if long {
		return 9
	}
	return 4
}

// ticks calls do with the lines of a ruler between two places: a numbered one at
// every step, a short one at every fifth of it.
func (b *board) ticks(from, to, step float64, do func(v float64, long bool, text string)) {
	for i := math.Floor(5 * from / step); i <= 5*to/step; i++ {
		v := i * step / 5
		if math.Mod(i, 5) == 0 {
			do(v, true, strconv.FormatFloat(v, 'f', -1, 64))
		} else {
			do(v, false, "")
		}
	}
}

func (b *board) rulerText(text string, at fyne.Position) {
	t := b.over.texts.next()
	t.Text, t.TextSize, t.TextStyle, t.Alignment = text, 9, fyne.TextStyle{}, fyne.TextAlignLeading
	t.Color = colour(colorQuiet)
	t.Move(at)
	t.Resize(fyne.MeasureText(text, t.TextSize, t.TextStyle))
	b.over.objects = append(b.over.objects, t)
}

func (b *board) paintSpan(r place.Rect) {
	p, q := b.corners(r, 0)
	c := b.accent(70)
	if q.X > rulerWide {
		b.over.box(fyne.NewPos(max(p.X, rulerWide), 0), fyne.NewPos(max(q.X, rulerWide), rulerHigh), c, c, 0)
	}
	if q.Y > rulerHigh {
		b.over.box(fyne.NewPos(0, max(p.Y, rulerHigh)), fyne.NewPos(rulerWide, max(q.Y, rulerHigh)), c, c, 0)
	}
}
