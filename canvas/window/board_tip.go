package window

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

// paintTip writes the name of a port beside it.
func (b *board) paintTip(text string, at model.Point) {
	if text == "" {
		return
	}
	const padX, padY, away = 6, 2, 12
	t := b.over.texts.next()
	t.Text, t.Color, t.Alignment = text, colour(theme.ColorNameForeground), fyne.TextAlignLeading
	t.TextSize, t.TextStyle = theme.CaptionTextSize()+1, fyne.TextStyle{Bold: true}
	size := fyne.MeasureText(text, t.TextSize, t.TextStyle).AddWidthHeight(2*padX, 2*padY)
	p := b.view.on(at).AddXY(away, -away-size.Height)
	if p.X+size.Width > b.Size().Width {
		p.X -= 2*away + size.Width
	}
	if p.Y < 0 {
		p.Y += 2*away + size.Height
	}
	b.over.box(p, p.AddXY(size.Width, size.Height), colour(theme.ColorNameInputBorder), colour(theme.ColorNameMenuBackground), 1)
	t.Move(p.AddXY(padX, padY))
	t.Resize(fyne.NewSize(size.Width-2*padX, size.Height-2*padY))
	b.over.objects = append(b.over.objects, t)
}

// paintLoose marks the ends of runs on which nothing stands: an open circle with
// a cross in it.
func (b *board) paintLoose() {
	c := b.ed.Circuit()
	shown := b.view.shown(b.Size()).Grown(5)
	stroke := colour(colorFix)
	const radius = 5
	for _, r := range c.Runs() {
		for _, e := range [2]model.End{r.From, r.To} {
			if !e.Loose() {
				continue
			}
			end, ok := place.EndOf(c, b.on.cat, e)
			if !ok || !shown.Contains(end.At) {
				continue
			}
			p := b.view.on(end.At)
			b.over.ring(p, radius, stroke, color.Transparent, 1.5)
			const arm = radius * 0.7
			b.over.line(p.AddXY(-arm, -arm), p.AddXY(arm, arm), stroke, 1.5)
			b.over.line(p.AddXY(-arm, arm), p.AddXY(arm, -arm), stroke, 1.5)
		}
	}
}
