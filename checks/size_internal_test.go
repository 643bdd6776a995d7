package checks

import (
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// sizeOf must read what the property of the key holds, for every port of every
// kind.
func TestSizeOfReadsTheProperty(t *testing.T) {
	const want = model.TubeSize("EN 10357-A DN32")
	for _, kind := range catalogue.Builtin().Kinds() {
		for _, port := range kind.Ports {
			if port.Size == "" {
				continue
			}
			part, err := kind.New("p", model.Point{})
			if err != nil {
				t.Fatal(err)
			}
			prop, _ := model.FindProperty(part, port.Size)
			filled, err := prop.WithText(part, string(want), quantity.Metric)
			if err != nil {
				t.Fatal(err)
			}
			if got, known := sizeOf(filled.(model.Part), port.Size).Get(); !known || got != want {
				t.Errorf("%s, port %s: %s is %q, want %q", kind.Name, port.Name, port.Size, got, want)
			}
		}
	}
}

// Full-size tees after ASME BPE, ratios of the branch as read in a secondary text:
// 12.0 at 1/4 in, 6.88 at 3/8 in, 5.58 at 1/2 in, and nothing above.
func TestPublishedTeeRatio(t *testing.T) {
	for inch, want := range map[float64]float64{0.25: 12.0, 0.375: 6.88, 0.5: 5.58} {
		if got, known := publishedTeeRatio(quantity.Bore(inch * 0.0254)); !known || got != want {
			t.Errorf("%v in: %v, want %v", inch, got, want)
		}
	}
	for _, inch := range []float64{0.3, 0.75, 1} {
		if got, known := publishedTeeRatio(quantity.Bore(inch * 0.0254)); known {
			t.Errorf("%v in: %v, but nothing is published", inch, got)
		}
	}
}

// L > k D is compared as a product; a circuit drawn exactly at the limit passes
// whatever the rounding.
func TestJustAtALimit(t *testing.T) {
	for _, tt := range []struct {
		x, limit     float64
		above, below bool
	}{
		{0.02 + 0.03 + 0.025, 1.5 * 0.05, false, false},
		{0.1 + 0.2, 0.3, false, false},
		{0.0750001, 0.075, true, false},
		{0.0749999, 0.075, false, true},
		{0, 0, false, false},
		{-0.01, 0, false, true},
		{-0.02, -0.01, false, true},
	} {
		if got := above(tt.x, tt.limit); got != tt.above {
			t.Errorf("%v above %v: %v", tt.x, tt.limit, got)
		}
		if got := below(tt.x, tt.limit); got != tt.below {
			t.Errorf("%v below %v: %v", tt.x, tt.limit, got)
		}
	}
}
