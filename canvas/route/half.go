package route

import (
	"math"

	"rinsewright/model"
)

// Half gives the point half way along a line; of no line, the zero point.
func Half(line []model.Point) model.Point {
	if len(line) == 0 {
		return model.Point{}
	}
	length := 0.0
	for i := 1; i < len(line); i++ {
		length += math.Hypot(line[i].X-line[i-1].X, line[i].Y-line[i-1].Y)
	}
	rest := length / 2
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		long := math.Hypot(b.X-a.X, b.Y-a.Y)
		if rest <= long && long > 0 {
			k := rest / long
			return model.Point{X: a.X + k*(b.X-a.X), Y: a.Y + k*(b.Y-a.Y)}
		}
		rest -= long
	}
	return line[len(line)-1]
}
