package checks_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

func TestLimitTypedInEitherSystem(t *testing.T) {
	food := checks.Builtin("food")
	for _, tt := range []struct {
		limit, text string
		system      quantity.System
		si          float64 // NaN: refused
	}{
		{"velocity-least", "1.8", quantity.Metric, 1.8},
		{"velocity-least", "1,8", quantity.Metric, 1.8},
		{"velocity-least", "5", quantity.US, 1.524},          // 1 ft = 0.3048 m, NIST SP 811 appendix B.8
		{"velocity-least", "5 ft/s", quantity.Metric, 1.524}, //
		{"velocity-least", "1.8 m/s", quantity.US, 1.8},      //
		{"dead-leg-ratio", "2", quantity.US, 2},              // times a diameter in both
		{"dead-leg-ratio", "2 D", quantity.Metric, 2},        //
		{"fall-least", "1.5 %", quantity.Metric, 0.015},      //
		{"spray-wetting", "2.5 gpm/ft", quantity.Metric, 2.5 * 3.785411784e-3 / 60 / 0.3048},
		{"velocity-least", "", quantity.Metric, math.NaN()},
		{"velocity-least", "fast", quantity.Metric, math.NaN()},
		{"velocity-least", "-1", quantity.Metric, math.NaN()},
		{"velocity-least", "150", quantity.Metric, math.NaN()}, // beyond any limit of a velocity
		{"velocity-least", "1.8 bar", quantity.Metric, math.NaN()},
		{"fall-least", "1000", quantity.Metric, math.NaN()},
		{"bores-most", "3 mm", quantity.Metric, math.NaN()}, // a count has no unit
	} {
		l, ok := food.Limit(tt.limit)
		if !ok {
			t.Fatalf("no limit %s", tt.limit)
		}
		v, err := l.Value.Typed(tt.text, tt.system)
		switch {
		case math.IsNaN(tt.si) && err == nil:
			t.Errorf("%s: %q is taken for %v", tt.limit, tt.text, v.Text(tt.system))
		case !math.IsNaN(tt.si) && (err != nil || math.Abs(v.SI()-tt.si) > 1e-9):
			t.Errorf("%s: %q gives %v (%v), want %v", tt.limit, tt.text, v.SI(), err, tt.si)
		}
	}
}

// Every limit that the program carries can be typed as it is shown, and comes back
// to within what is shown of it.
func TestEveryLimitCanBeTyped(t *testing.T) {
	for _, name := range checks.Profiles() {
		for _, l := range checks.Builtin(name).Limits() {
			for _, s := range []quantity.System{quantity.Metric, quantity.US} {
				number, _ := l.Value.Field(s)
				v, err := l.Value.Typed(number, s)
				if err != nil || math.Abs(v.SI()-l.Value.SI()) > 0.006*math.Abs(l.Value.SI()) {
					t.Errorf("%s %s: %q gives %v (%v), want %v", name, l.Name, number, v.SI(), err, l.Value.SI())
				}
			}
		}
	}
}

func TestOwnLimitsHoldTheChangesAndTheirReasons(t *testing.T) {
	food := checks.Builtin("food")
	l, _ := food.Limit("velocity-least")
	to, err := l.Value.Typed("1.8", quantity.Metric)
	if err != nil {
		t.Fatal(err)
	}
	change, ok := food.ChangeTo("velocity-least", to, "thick product", "A. Reviewer", "2026-02-03")
	if !ok {
		t.Fatal("the limit cannot be changed")
	}
	changed, _ := food.With([]model.LimitChange{change})
	data, err := changed.Own("ours", "Ours", "for oat drink")
	if err != nil {
		t.Fatal(err)
	}
	own, err := checks.LoadProfile(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range food.Limits() {
		got, _ := own.Limit(want.Name)
		if want.Name == "velocity-least" {
			if got.Is() != 1.8 || got.Source.Standing != checks.StandingOwn || !strings.Contains(got.Source.String(), "thick product (A. Reviewer, 2026-02-03)") {
				t.Errorf("the changed limit is %v, %s", got.Is(), got.Source)
			}
			continue
		}
		if math.Abs(got.Is()-want.Is()) > 1e-8*math.Abs(want.Is()) || got.Source != want.Source || got.Label != want.Label {
			t.Errorf("%s is %v from %s, want %v from %s", want.Name, got.Is(), got.Source, want.Is(), want.Source)
		}
	}
	if _, err := food.Own("dairy", "Ours", ""); err == nil {
		t.Error("own limits take the name of those that the program carries")
	}
}

func TestFarFromTellsSlipsOfTheUnit(t *testing.T) {
	for _, tt := range []struct {
		is  float64
		far bool
	}{{150, true}, {15.1, true}, {15, false}, {0.15, false}, {0.149, true}, {0, false}} {
		if got := checks.Of(quantity.Velocity(tt.is)).FarFrom(checks.Of(quantity.Velocity(1.5))); got != tt.far {
			t.Errorf("%v m/s is far from 1.5 m/s: %v", tt.is, got)
		}
	}
}
