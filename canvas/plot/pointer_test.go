package plot_test

import (
	"math"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/plot"
	"rinsewright/model"
)

// Where a dot is drawn, its own values are read back.
func TestValueAtReadsADotBack(t *testing.T) {
	c := plot.Chart{X: plot.Axis{Name: "x"}, Y: plot.Axis{Name: "y"},
		Lines: []plot.Line{{Points: [][2]float64{{0, -3}, {40, 12}}, Role: draw.Ink}},
		Dots:  []plot.Dot{{At: [2]float64{13, 4.5}, Role: draw.Error}}}
	for _, size := range [][2]float64{{160, 90}, {70, 55}} {
		p := c.Picture(size[0], size[1])
		found := false
		for _, it := range p.Items {
			if path, ok := it.Figure.(draw.Path); it.Layer != draw.LayerMark || !ok || path.Style.Stroke == draw.None {
				continue
			}
			found = true
			x, y, ok := c.ValueAt(size[0], size[1], it.Bounds.Centre())
			if !ok || math.Abs(x-13) > 1e-9 || math.Abs(y-4.5) > 1e-9 {
				t.Errorf("at the dot %v, %v (%v) is read, want 13, 4.5", x, y, ok)
			}
		}
		if !found {
			t.Error("no dot is drawn")
		}
		for _, at := range []model.Point{{X: 0, Y: 0}, {X: size[0], Y: size[1]}, {X: math.NaN(), Y: 20}} {
			if _, _, ok := c.ValueAt(size[0], size[1], at); ok {
				t.Errorf("%v lies within the axes of %v", at, size)
			}
		}
	}
}
