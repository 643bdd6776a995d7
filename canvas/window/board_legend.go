package window

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// paintLegend tells in the corner what stands beside the runs.
func (b *board) paintLegend() {
	if b.paintKey() {
		return
	}
	text := b.on.valuesTold()
	if text == "" {
		return
	}
	const padX, padY, away = 8, 3, 8
	t := b.over.texts.next()
	t.TextSize, t.TextStyle, t.Alignment = theme.CaptionTextSize(), fyne.TextStyle{}, fyne.TextAlignLeading
	t.Color = b.accent(255) // as the values
	t.Text = cutToFit(text, b.Size().Width-2*(away+padX), t.TextSize, t.TextStyle)
	size := fyne.MeasureText(t.Text, t.TextSize, t.TextStyle).AddWidthHeight(2*padX, 2*padY)
	p := fyne.NewPos(away, b.Size().Height-away-size.Height)
	ground, ok := colour(colorBoard).(color.NRGBA)
	if ok {
		ground.A = 0xe6
	}
	b.over.box(p, p.AddXY(size.Width, size.Height), colour(theme.ColorNameSeparator), ground, 1)
	t.Move(p.AddXY(padX, padY))
	t.Resize(fyne.NewSize(size.Width-2*padX, size.Height-2*padY))
	b.over.objects = append(b.over.objects, t)
}
