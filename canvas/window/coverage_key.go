package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
)

// paintKey tells in the corner what the lines of a moment mean that is shown in place
// of the step; not while none is.
func (b *board) paintKey() bool {
	switch {
	case b.moment == nil:
		return false
	case b.lens != nil:
		b.paintKeyBox(b.lens.title, b.lens.keys)
	case b.on.player.shown:
		b.paintKeyBox("The wash in time: liquid where it has come to; computed, not measured", nil)
	default:
		b.paintKeyBox(b.on.covering.told(), scene.CoverKey())
	}
	return true
}

// paintKeyBox writes a title and, beneath it, words beside samples of their lines.
func (b *board) paintKeyBox(title string, keys []draw.KeyEntry) {
	const padX, padY, away, sample, apart, lineHigh = 8, 3, 8, 30, 10, 17
	size := theme.CaptionTextSize()
	room := b.Size().Width - 2*away
	var style fyne.TextStyle
	title = cutToFit(title, room-2*padX, size, style)
	wide := fyne.MeasureText(title, size, style).Width
	type cell struct {
		x, y float32
		at   int
	}
	var cells []cell
	x, y := float32(0), float32(0)
	if len(keys) > 0 {
		y = lineHigh
		for i, k := range keys {
			w := sample + 6 + fyne.MeasureText(k.Words, size, style).Width
			if x > 0 && x+w > room-2*padX {
				x, y = 0, y+lineHigh
			}
			cells = append(cells, cell{x, y, i})
			wide = max(wide, x+w)
			x += w + apart
		}
	}
	box := fyne.NewSize(wide+2*padX, y+lineHigh+2*padY)
	p := fyne.NewPos(away, b.Size().Height-away-box.Height)
	b.over.box(p, p.AddXY(box.Width, box.Height), colour(theme.ColorNameSeparator), colour(colorBoard), 1)
	put := func(text string, x, y float32) {
		t := b.over.texts.next()
		t.TextSize, t.TextStyle, t.Alignment, t.Color, t.Text = size, style, fyne.TextAlignLeading, colour(theme.ColorNameForeground), text
		t.Move(p.AddXY(padX+x, padY+y))
		t.Resize(fyne.NewSize(wide, lineHigh))
		b.over.objects = append(b.over.objects, t)
	}
	put(title, 0, 0)
	pal := palette(darkNow())
	for _, c := range cells {
		k := keys[c.at]
		ink := pal.Colour(k.Style.Stroke)
		from := p.AddXY(padX+c.x, padY+c.y+lineHigh/2)
		width := max(float32(k.Style.Width)*unitsPerMillimetre*0.75, 1)
		dash := k.Style.Dash
		if dash == nil {
			b.over.line(from, from.AddXY(sample, 0), ink, width)
		}
		for at, i := float32(0), 0; dash != nil && at < sample; i++ {
			long := max(float32(dash[i%len(dash)])*unitsPerMillimetre*0.8, 2)
			if i%2 == 0 {
				b.over.line(from.AddXY(at, 0), from.AddXY(min(at+long, sample), 0), ink, width)
			}
			at += long
		}
		put(k.Words, c.x+sample+6, c.y)
	}
}
