package wash_test

import (
	"fmt"
	"math"
	"testing"

	"rinsewright/model"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
	"rinsewright/model/wash"
)

// Austin and Palfrey, Proc. Inst. Mech. Eng. 178 (1963) 377, from memory; worked with
// a pocket calculator: bore 0.05 m, 100 m, Re 205 855: 7.73 m; least Re 18 370.
func TestMixedLength(t *testing.T) {
	near(t, "mixed length", known(t, "S", wash.MixedLength(0.05, 100, 205855)), 7.73, 0.005)
	near(t, "least Reynolds number", wash.LeastMixed(0.05), 18370, 5)
	if wash.MixedLength(0.05, 100, 18000).Known() {
		t.Error("a mixed length below the least Reynolds number")
	}
}

// Above Re 20 000 Taylor's coefficient, K = 5.05 d u* with u* = v √(f/8) (Proc. R. Soc.
// A 223 (1954) 446, from memory), lies below by up to a half and nears as Re grows:
// f is Blasius' 0.316 Re^−¼.
func TestDispersionAgainstTaylor(t *testing.T) {
	for _, re := range []float64{2e4, 5e4, 1e5, 2e5} {
		const d, v = 0.05, 1.5
		taylor := 5.05 * d * v * math.Sqrt(0.316*math.Pow(re, -0.25)/8)
		if ratio := wash.Dispersion(d, v, re) / taylor; ratio < 1 || ratio > 1.75 {
			t.Errorf("Re %g: %.3g times Taylor's", re, ratio)
		}
	}
	if a, b := wash.Dispersion(0.05, 1, 500), wash.Dispersion(0.05, 1, 2000); a != b {
		t.Errorf("laminar %g, at Re 2000 %g", a, b)
	}
}

// line draws a water supply and a length of DN50 to the sewer.
func lineOf(t testing.TB, length float64) *network.Plant {
	s := newSketch(t)
	s.part("W", "water-supply", `"size":"`+dn50+`","medium":"water","temperature_C":20,"elevation_m":0`)
	s.part("D", "sewer-drain", `"size":"`+dn50+`","medium":"sewage","elevation_m":0`)
	s.run("W.a", "D.a", length)
	return s.plant()
}

// Water pushes product out of 60 m of DN50: what arrives is the closed solution of
// advection with dispersion for a step at the inlet (Ogata and Banks, USGS Prof. Paper
// 411-A, 1961):
//
//	c = ½ erfc((x − ut)/(2√(Kt))) + ½ exp(ux/K) erfc((x + ut)/(2√(Kt)))
func TestStepResponse(t *testing.T) {
	const length, m3h = 60.0, 10.0
	p := lineOf(t, length)
	r := simulated(t, run(t, p, wash.Options{Start: wash.FullOfProduct, Every: 0.1, Slugs: 800}, rinse("W", "D", m3h, 3)))
	u := m3h / 3600 / (math.Pi / 4 * 0.05 * 0.05)
	k := wash.Dispersion(0.05, Velocity(u), u*0.05/1.0034e-6)
	worst, seen := 0.0, 0
	for _, x := range trendOf(t, r, "return") {
		s := float64(x.Time)
		if s == 0 {
			continue
		}
		w := 2 * math.Sqrt(k*s)
		want := 0.5 * math.Erfc((length-u*s)/w)
		if a := u * length / k; a < 700 {
			want += 0.5 * math.Exp(a) * math.Erfc((length+u*s)/w)
		} else { // exp(a)·erfc(y) with erfc(y) ≈ exp(−y²)/(y√π)
			y := (length + u*s) / w
			want += 0.5 * math.Exp(a-y*y) / (y * math.SqrtPi)
		}
		if want > 0.01 && want < 0.99 {
			seen++
		}
		worst = max(worst, math.Abs(float64(x.Share)-want))
	}
	if seen < 20 {
		t.Fatalf("only %d points on the front", seen)
	}
	if worst > 0.015 {
		t.Errorf("worst difference %.4f", worst)
	}
}

// The mixed phase that comes out of 100 m of DN50 at Re 150 000 is that of Austin and
// Palfrey within a tenth; from 10 to 90 % it is 1.2816/2.3263 of that from 1 to 99 %, as
// the front is a normal distribution.
func TestInterfaceAgainstAustinPalfrey(t *testing.T) {
	p := lineOf(t, 100)
	const m3h = 20.0
	st := rinse("W", "D", m3h, 3)
	re := m3h / 3600 / (math.Pi / 4 * 0.05) / 1.0034e-6
	want := known(t, "S", wash.MixedLength(0.05, 100, re)) * 1.2816 / 2.3263 * math.Pi / 4 * 0.05 * 0.05
	for _, slugs := range []int{100, 400} {
		r := simulated(t, run(t, p, wash.Options{Start: wash.FullOfProduct, Slugs: slugs}, st))
		got := known(t, "volume", r.Steps[0].Interface.Volume)
		near(t, fmt.Sprintf("mixed phase of %d slugs", slugs), got, want, 0.1*want)
		if r.Steps[0].Interface.Of != "product" {
			t.Errorf("told apart by %q", r.Steps[0].Interface.Of)
		}
	}
}

// Rinsing an ideally mixed hold-up of 200 L: c/c₀ = exp(−Qt/V).
func TestWashout(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", `"size":"`+dn50+`","medium":"water","temperature_C":20,"elevation_m":0`)
	s.part("H", "electric-heater", `"size":"`+dn50+`","hold_up_L":200,"duty_kW":1,"elevation_m":0`)
	s.part("D", "sewer-drain", `"size":"`+dn50+`","medium":"sewage","elevation_m":0`)
	s.run("W.a", "H.a", 0)
	s.run("H.b", "D.a", 0)
	r := simulated(t, run(t, s.plant(), wash.Options{Start: wash.FullOfProduct, Every: 5}, rinse("W", "D", 6, 10)))
	for _, x := range trendOf(t, r, "return") {
		want := math.Exp(-6.0 / 3600 * float64(x.Time) / 0.2)
		if x.Time > 2 { // the return shows the mean over a step of time
			near(t, fmt.Sprintf("share at %v s", x.Time), 1-float64(x.Share), want, 5e-3)
		}
	}
	for _, x := range trendOf(t, r, "supply") {
		near(t, fmt.Sprintf("share in the hold-up at %v s", x.Time), 1-float64(x.Share), math.Exp(-6.0/3600*float64(x.Time)/0.2), 1e-9)
	}
}

// Media fronts stand where plug flow puts them; segments cover each run without gaps.
func TestState(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", `"size":"`+dn50+`","medium":"water","temperature_C":20,"elevation_m":0`)
	s.part("D", "sewer-drain", `"size":"`+dn50+`","medium":"sewage","elevation_m":0`)
	s.part("U", "union", `"size":"`+dn50+`","elevation_m":0`)
	s.run("W.a", "U.a", 40)
	second := s.run("D.a", "U.b", 60) // drawn against the flow
	r := simulated(t, run(t, s.plant(), wash.Options{Start: wash.FullOfProduct, Every: 1}, rinse("W", "D", 10, 3)))
	u := 10.0 / 3600 / (math.Pi / 4 * 0.05 * 0.05)
	for _, seconds := range []float64{10, 20, 40, 50, 60} {
		x := r.State(Duration(seconds))
		if len(x.Runs) != 2 {
			t.Fatalf("%d runs", len(x.Runs))
		}
		front := 0.0
		for _, fill := range x.Runs {
			length := 40.0
			if fill.Run == second {
				length = 60
			}
			at := Ratio(0)
			for _, seg := range fill.Segments {
				if seg.From != at || seg.To <= seg.From {
					t.Fatalf("%s: segments %v", fill.Run, fill.Segments)
				}
				at = seg.To
				if seg.Medium == model.Water {
					front += float64(seg.To-seg.From) * length
				}
			}
			if at != 1 {
				t.Fatalf("%s: segments end at %v", fill.Run, at)
			}
			if fill.Run == second && len(fill.Segments) > 1 && fill.Segments[0].Medium != model.Product {
				t.Errorf("the run drawn against the flow is shown the wrong way round: %v", fill.Segments)
			}
		}
		near(t, fmt.Sprintf("front after %g s", seconds), front, u*seconds, 1.5)
	}
}
