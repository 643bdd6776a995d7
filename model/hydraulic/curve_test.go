package hydraulic

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// A curve through points meets them, falls everywhere, and its slope is its
// derivative, at the joints too.
func TestCurveThroughPoints(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for trial := 0; trial < 300; trial++ {
		var points []Duty
		flow, head := 0.002*float64(r.IntN(2)), 60.0
		for i := 2 + r.IntN(8); i > 0; i-- {
			points = append(points, Duty{flow, head})
			flow += 1e-4 + 3e-3*r.Float64()
			head -= 1e-3 + 10*r.Float64()*r.Float64()
		}
		r.Shuffle(len(points), func(i, j int) { points[i], points[j] = points[j], points[i] })
		c, err := Through(points)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range points {
			h, _ := c.At(p.Flow)
			near(t, "point", h, p.Head, 1e-9)
		}
		before := math.Inf(1)
		span := c.Last() - c.First()
		for q := c.First() - span/2; q < c.Last()+span/2; q += span / 400 {
			h, slope := c.At(q)
			if !(h < before) || !(slope < 0) {
				t.Fatalf("trial %d: at %g m³/s the curve does not fall (%g after %g, slope %g)", trial, q, h, before, slope)
			}
			before = h
			d := span * 1e-7
			up, _ := c.At(q + d)
			down, _ := c.At(q - d)
			if got := (up - down) / (2 * d); math.Abs(got-slope) > 1e-3*(math.Abs(slope)+60/span*1e-2) {
				t.Fatalf("trial %d: slope %g at %g, difference %g", trial, slope, q, got)
			}
		}
	}
}

// A fit finds the three terms that the points were made from; where they rise it
// still falls.
func TestFit(t *testing.T) {
	var points []Duty
	for q := 0.0; q < 0.011; q += 0.001 {
		points = append(points, Duty{q, 40 - 300*q - 1.5e5*q*q})
	}
	c, err := Fit(points)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range points {
		h, _ := c.At(p.Flow)
		near(t, "fit", h, p.Head, 1e-10)
	}
	c, err = Fit([]Duty{{0, 38}, {0.003, 40}, {0.006, 36}, {0.01, 20}}) // an unstable curve
	if err != nil {
		t.Fatal(err)
	}
	before := math.Inf(1)
	for q := 0.0; q < 0.012; q += 1e-4 {
		h, _ := c.At(q)
		if h > before {
			t.Fatalf("the fit rises at %g", q)
		}
		before = h
	}
	c, err = Fit([]Duty{{0, 40}, {0.01, 20}})
	if err != nil {
		t.Fatal(err)
	}
	h, _ := c.At(0.005)
	near(t, "two points", h, 35, 1e-12) // 40 - 2e5 Q²
}

func TestCurvesThatCannotBe(t *testing.T) {
	nan := math.NaN()
	for _, points := range [][]Duty{
		nil, {{0, 10}}, {{0, 10}, {0, 5}}, {{0, 10}, {0.01, 10}}, {{0, 10}, {0.01, 11}},
		{{0, nan}, {0.01, 5}}, {{nan, 10}, {0.01, 5}}, {{0, math.Inf(1)}, {0.01, 5}}, {{-0.01, 12}, {0.01, 5}},
	} {
		if _, err := Through(points); err == nil {
			t.Errorf("Through(%v): no error", points)
		}
	}
	for _, points := range [][]Duty{{{0, 10}}, {{0, 5}, {0.01, 10}}, {{0, -10}, {0.01, -20}}} {
		if _, err := Fit(points); err == nil {
			t.Errorf("Fit(%v): no error", points)
		}
	}
	for _, c := range [][4]float64{{40, 1, -1, 0.01}, {40, 0, 0, 0.01}, {40, -1, 1, 0.01}, {40, 0, -1, 0}, {nan, 0, -1, 0.01}, {0, 0, -1, 0.01}} {
		if _, err := Quadratic(c[0], c[1], c[2], c[3]); err == nil {
			t.Errorf("Quadratic%v: no error", c)
		}
	}
}

// A curve that is refused for its range is told which number and which range.
func TestQuadraticTellsTheRange(t *testing.T) {
	for _, c := range []struct {
		a, last float64
		want    string
	}{
		{40, 0, "greatest flow must lie above 0 and up to 1000"},
		{40, -1, "greatest flow must lie above 0 and up to 1000"},
		{40, 1001, "greatest flow must lie above 0 and up to 1000"},
		{2e6, 0.01, "shut-off head of 2e+06 m: it must lie above 0 and up to 1e+06"},
		{math.NaN(), 0.01, "the numbers must be finite"},
	} {
		if _, err := Quadratic(c.a, 0, -1, c.last); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("shut-off head %v m up to %v m³/s: error %v, want one with %q", c.a, c.last, err, c.want)
		}
	}
}
