package hydraulic

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		t.Errorf("%s: %.12g, want %.12g within %g", what, got, want, relative)
	}
}

// Values of the open library fluids 1.0.22 (Python), fluids.friction.Colebrook;
// the first is the example of its documentation.
func TestColebrookValues(t *testing.T) {
	for _, c := range []struct{ re, rough, f float64 }{
		{1e5, 1e-4, 0.018513866077},
		{1e5, 0, 0.017989773084},
		{4e3, 1e-3, 0.040910389863},
		{1e7, 0.05, 0.071552981841},
	} {
		f, err := Colebrook(c.re, c.rough)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "Colebrook", f, c.f, 1e-10)
		moody, _ := Moody(c.re, c.rough)
		near(t, "Moody", moody, c.f, 1e-10)
	}
}

// bisect finds the root of Colebrook's equation in x = 1/√f without any of the
// code under test.
func bisect(re, rough float64) float64 {
	low, high := 0.5, 100.0
	for i := 0; i < 200; i++ {
		x := (low + high) / 2
		if x+2*math.Log10(rough/3.7+2.51*x/re) < 0 {
			low = x
		} else {
			high = x
		}
	}
	return 4 / ((low + high) * (low + high))
}

func TestColebrookAgainstBisection(t *testing.T) {
	for re := 4000.0; re <= 1e8; re *= 1.07 {
		for _, rough := range []float64{0, 1e-7, 1e-6, 1e-5, 4e-5, 1e-4, 1e-3, 0.01, 0.03, 0.05} {
			f, err := Colebrook(re, rough)
			if err != nil {
				t.Fatal(err)
			}
			if want := bisect(re, rough); math.Abs(f-want) > 1e-12*want {
				t.Fatalf("Re %g, roughness %g: %.15g, want %.15g", re, rough, f, want)
			}
		}
	}
}

// Over the whole range Re 10 to 1e8: the head loss rises, has no jump, and the
// slope given is its derivative (by central difference).
func TestMoodyIsSmoothAndRises(t *testing.T) {
	for _, rough := range []float64{0, 1e-6, 1e-4, 1e-3, 0.01, 0.05} {
		before := 0.0
		for re := 10.0; re <= 1e8; re *= 1.003 {
			f, slope := Moody(re, rough)
			loss := f * re * re
			if loss <= before {
				t.Fatalf("roughness %g: the loss does not rise at Re %g", rough, re)
			}
			before = loss
			h := re * 1e-5
			up, _ := Moody(re+h, rough)
			down, _ := Moody(re-h, rough)
			if d := (up - down) / (2 * h); math.Abs(d-slope) > 1e-4*(f/re) {
				t.Fatalf("roughness %g, Re %g: slope %g, difference %g", rough, re, slope, d)
			}
			if re < LaminarLimit {
				near(t, "laminar", f, 64/re, 1e-15)
			}
		}
		for _, limit := range []float64{LaminarLimit, TurbulentLimit} {
			a, sa := Moody(limit*(1-1e-9), rough)
			b, sb := Moody(limit*(1+1e-9), rough)
			if math.Abs(a-b) > 1e-8*a || math.Abs(sa-sb) > 1e-6*a/limit {
				t.Errorf("roughness %g: a kink at Re %g: factor %g to %g, slope %g to %g", rough, limit, a, b, sa, sb)
			}
		}
	}
}

func TestColebrookOutsideItsRange(t *testing.T) {
	for _, c := range [][2]float64{{3999, 0}, {math.NaN(), 0}, {math.Inf(1), 0}, {1e5, -1e-9}, {1e5, 0.051}, {1e5, math.NaN()}} {
		if f, err := Colebrook(c[0], c[1]); err == nil {
			t.Errorf("Re %g, roughness %g: %g and no error", c[0], c[1], f)
		}
	}
}

// Computed from the published formulae with five significant figures kept:
// Colebrook, Swamee-Jain, Haaland, Serghides, Churchill at two points.
func TestExplicitLaws(t *testing.T) {
	for _, c := range []struct{ re, rough, colebrook, swamee, haaland, serghides, churchill float64 }{
		{1e5, 4e-5, 0.018204, 0.018105, 0.017988, 0.018203, 0.018116},
		{5e5, 1e-4, 0.014430, 0.014467, 0.014263, 0.014430, 0.014470},
	} {
		const tolerance = 5e-5
		f, err := Colebrook(c.re, c.rough)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "Colebrook", f, c.colebrook, tolerance)
		near(t, "Swamee-Jain", SwameeJain(c.re, c.rough), c.swamee, tolerance)
		near(t, "Haaland", Haaland(c.re, c.rough), c.haaland, tolerance)
		near(t, "Serghides", Serghides(c.re, c.rough), c.serghides, tolerance)
		near(t, "Churchill", Churchill(c.re, c.rough), c.churchill, tolerance)
	}
	near(t, "Churchill laminar", Churchill(500, 1e-4), 64.0/500, 1e-6)
}

func BenchmarkMoody(b *testing.B) {
	re := 5000.0
	for b.Loop() {
		re = 5000 + math.Mod(re*1.37, 1e6)
		Moody(re, 4e-5)
	}
}
