package window

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
)

// Dashes, in fyne's units.
const (
	dashOn  = 7
	dashOff = 4
)

// mostDashes of one line; a longer one gets longer dashes.
const mostDashes = 120

// dashed draws a broken line over points.
func (b *board) dashed(points []fyne.Position, c color.Color, width float32) {
	for i := 1; i < len(points); i++ {
		p, q := points[i-1], points[i]
		long := float32(math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y)))
		if long == 0 {
			continue
		}
		k := max(1, long/(dashOn+dashOff)/mostDashes)
		for at := float32(0); at < long; at += (dashOn + dashOff) * k {
			end := min(at+dashOn*k, long)
			b.over.line(fyne.NewPos(p.X+(q.X-p.X)*at/long, p.Y+(q.Y-p.Y)*at/long), fyne.NewPos(p.X+(q.X-p.X)*end/long, p.Y+(q.Y-p.Y)*end/long), c, width)
		}
	}
}

func (b *board) dashedBox(p, q fyne.Position, c color.Color, width float32) {
	b.dashed([]fyne.Position{p, {X: q.X, Y: p.Y}, q, {X: p.X, Y: q.Y}, p}, c, width)
}
