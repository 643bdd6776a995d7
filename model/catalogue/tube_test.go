package catalogue_test

import (
	"math"
	"testing"

	"rinsewright/assets"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// Inside diameters as printed in public tables of hygienic tube.
func TestTubeInsideDiameters(t *testing.T) {
	tests := map[string]float64{
		"EN 10357-A DN10": 10, "EN 10357-A DN25": 26, "EN 10357-A DN40": 38, "EN 10357-A DN50": 50,
		"EN 10357-A DN65": 66, "EN 10357-A DN80": 81, "EN 10357-A DN100": 100, "EN 10357-A DN150": 150,
		"ISO 2037 25": 22.6, "ISO 2037 38": 35.6, "ISO 2037 51": 48.6, "ISO 2037 63.5": 60.3, "ISO 2037 76.1": 72.9, "ISO 2037 101.6": 97.6,
		"ASME BPE 1/2": 9.40, "ASME BPE 1": 22.10, "ASME BPE 1 1/2": 34.80, "ASME BPE 2": 47.50, "ASME BPE 3": 72.90, "ASME BPE 4": 97.38, "ASME BPE 6": 146.86,
	}
	c := tubes(t)
	for size, want := range tests {
		tube, ok := c.Tube(model.TubeSize(size))
		if !ok {
			t.Errorf("no tube %q", size)
			continue
		}
		if got := tube.Inside().Millimetres(); math.Abs(got-want) > 0.005 {
			t.Errorf("%s: inside %.3f mm, want %.2f", size, got, want)
		}
	}
}

// Flow at 5 ft/s in inch tube, US gallons a minute, from a table in common use
// in the trade (common practice, no source); printed rounded, so within 4 %.
func TestInchTubeFlowAtFiveFeetASecond(t *testing.T) {
	want := []struct {
		size string
		gpm  float64
	}{{"1/2", 1.7}, {"3/4", 4.7}, {"1", 9.3}, {"1 1/2", 23}, {"2", 43}, {"2 1/2", 69}, {"3", 101}, {"4", 180}, {"6", 409}}
	c := tubes(t)
	for _, w := range want {
		tube, ok := c.Tube(model.TubeSize("ASME BPE " + w.size))
		if !ok {
			t.Fatalf("no tube %s", w.size)
		}
		q := quantity.Flow(5 * 0.3048 * tube.Area())
		got := quantity.DisplayUnit[quantity.Flow](quantity.US).FromSI(float64(q))
		if math.Abs(got-w.gpm) > 0.04*w.gpm {
			t.Errorf("%s in: %.2f gpm at 5 ft/s, the table says %v", w.size, got, w.gpm)
		}
	}
}

// 1.5 m/s is 5.4 km/h, and in DN50 it is 10.6 m³/h: the plainest sanity checks
// of a cleaning flow (arithmetic; the second also in public tables).
func TestCleaningFlowInDN50(t *testing.T) {
	tube, _ := tubes(t).Tube("EN 10357-A DN50")
	q := quantity.Flow(1.5 * tube.Area())
	if got := q.CubicMetresPerHour(); math.Abs(got-10.60) > 0.005 {
		t.Errorf("DN50 at 1.5 m/s carries %.3f m³/h, want 10.60", got)
	}
	if kmh := 1.5 * 3600 / 1000; math.Abs(kmh-5.4) > 1e-12 {
		t.Errorf("1.5 m/s is %v km/h", kmh)
	}
}

func TestSeriesIsInOrderOfBore(t *testing.T) {
	c := tubes(t)
	for _, size := range []string{"EN 10357-A DN50", "ISO 2037 51", "ASME BPE 2"} {
		series := c.Series(model.TubeSize(size))
		if len(series) < 9 {
			t.Errorf("series of %s has %d sizes", size, len(series))
		}
		for i := 1; i < len(series); i++ {
			if series[i].Inside() <= series[i-1].Inside() {
				t.Errorf("%s comes after %s but is not wider", series[i].Size, series[i-1].Size)
			}
		}
	}
}

func TestTubeShortLabels(t *testing.T) {
	for size, want := range map[string]string{"EN 10357-A DN50": "DN50", "ISO 2037 51": "Ø51", "ASME BPE 1 1/2": `1 1/2"`} {
		if tube, ok := tubes(t).Tube(model.TubeSize(size)); !ok || tube.Short != want {
			t.Errorf("%s is labelled %q, want %q", size, tube.Short, want)
		}
	}
}

func tubes(t *testing.T) *catalogue.Catalogue {
	t.Helper()
	c, err := catalogue.Load(assets.Files)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
