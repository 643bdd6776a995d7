package scene_test

import (
	"fmt"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/coverage"
	"rinsewright/model/quantity"
)

// Every row that is not swept at speed is seen on the drawing: a stretch by the
// style of its state, anything else by the line about its part.
func TestCoverShowsEveryRow(t *testing.T) {
	p := station(t)
	for _, least := range []quantity.Velocity{1, 5} { // 5 m/s: all is too slow
		table := coverage.Of(p, programme(p, "Vessel T-201"), coverage.Options{Least: least})
		for _, medium := range append([]model.Medium{""}, table.Media...) {
			opt := scene.Cover(p, table, medium)
			for i := range table.Rows {
				row := &table.Rows[i]
				s := scene.CoverState(row, medium)
				if row.Edge >= 0 && p.Edges[row.Edge].Run != "" {
					found := s == coverage.None
					for _, x := range opt.Pieces[p.Edges[row.Edge].Run] {
						found = found || fmt.Sprint(x.Style) == fmt.Sprint(scene.CoverStyle(s))
					}
					if !found {
						t.Errorf("%q: %s of %s is not shown", medium, s, row.At)
					}
					continue
				}
				if _, ok := opt.Outlines[row.At.Element]; !ok && s > coverage.Swept {
					t.Errorf("%q: %s of %s has no line about it", medium, s, row.At)
				}
			}
		}
	}
}

// No two states look alike without their colours.
func TestCoverStylesDifferWithoutColour(t *testing.T) {
	seen := map[string]coverage.State{}
	for _, s := range coverage.States() {
		style := scene.CoverStyle(s)
		style.Stroke = draw.Ink
		if style.Dash == nil {
			style.Dash = []float64{style.Width} // unbroken ones differ by their width
		}
		key := fmt.Sprint(style.Dash)
		if other, ok := seen[key]; ok {
			t.Errorf("%s and %s have one pattern", s, other)
		}
		seen[key] = s
	}
	if len(scene.CoverKey()) != len(seen) {
		t.Error("the key does not tell all states")
	}
}
