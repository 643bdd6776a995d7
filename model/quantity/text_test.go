package quantity_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	. "rinsewright/model/quantity"
)

func TestNumber(t *testing.T) {
	tests := []struct {
		x    float64
		want string
	}{
		{0, "0"}, {1, "1"}, {-1, "-1"}, {10.6, "10.6"}, {10.649, "10.6"}, {1.5, "1.5"}, {1.2345, "1.23"},
		{0.012345, "0.0123"}, {0.0005, "0.0005"}, {123.4, "123"}, {999.4, "999"}, {1234.5, "1234"}, {98765.4, "98765"},
		{100, "100"}, {200, "200"}, {1000, "1000"}, {-0.04, "-0.04"}, {1e-12, "0"}, {-1e-12, "0"},
		{99.96, "100"}, {9.996, "10"},
		{math.NaN(), "unknown"}, {math.Inf(1), "without limit"}, {math.Inf(-1), "without limit"},
	}
	for _, tt := range tests {
		if got := Number(tt.x); got != tt.want {
			t.Errorf("Number(%v) = %q, want %q", tt.x, got, tt.want)
		}
	}
}

func TestText(t *testing.T) {
	tests := []struct{ got, want string }{
		{Text(CubicMetresPerHour(10.6), Metric), "10.6 m³/h"},
		{Text(CubicMetresPerHour(10.6), US), "46.7 gpm"}, // GNU Units 2.22: 46.6703959166
		{Text(Celsius(80), Metric), "80 °C"},
		{Text(Celsius(80), US), "176 °F"}, // GNU Units 2.22: 176
		{Text(Bar(1), US), "14.5 psi"},    // GNU Units 2.22: 14.503773773
		{Text(Millimetres(50), Metric), "50 mm"},
		{Text(Ratio(2.5), Metric), "2.5"},
		{Text(Strength(0.015), Metric), "1.5 %"},
		{OptText(Some(Length(2)), Metric), "2 m"},
		{OptText(Opt[Length]{}, Metric), "unknown"},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
}

func TestParse(t *testing.T) {
	flow, bore, temperature, length := reflect.TypeFor[Flow](), reflect.TypeFor[Bore](), reflect.TypeFor[Temperature](), reflect.TypeFor[Length]()
	tests := []struct {
		text  string
		sort  reflect.Type
		under System
		want  float64 // SI, by the definition of the units
	}{
		{"18", flow, Metric, 0.005},
		{" 18 m³/h ", flow, Metric, 0.005},
		{"18 m3/h", flow, US, 0.005},
		{"18 m3h", flow, US, 0.005},
		{"1 gpm", flow, Metric, 6.30901964e-05}, // GNU Units 2.22: units '1 gpm' 'm^3/s', exact by definition
		{"1", flow, US, 6.30901964e-05},
		{"2 in", bore, Metric, 0.0508},
		{"2in", bore, Metric, 0.0508},
		{"50 mm", bore, US, 0.05},
		{"0,5", length, Metric, 0.5},
		{"-0.45", length, Metric, -0.45},
		{"+3", length, Metric, 3},
		{"1e3", length, Metric, 1000},
		{"10 FT", length, Metric, 3.048},
		{"80 °C", temperature, US, 353.15},
		{"80 C", temperature, US, 353.15},
		{"176 F", temperature, Metric, 353.15},
		{"-40", temperature, US, 233.15}, // the scales meet at -40
	}
	for _, tt := range tests {
		got, err := Parse(tt.text, tt.sort, tt.under)
		if err != nil || math.Abs(got-tt.want) > 1e-12*math.Max(1e-3, math.Abs(tt.want)) {
			t.Errorf("Parse(%q) as %s = %v (%v), want %v", tt.text, tt.sort, got, err, tt.want)
		}
	}
}

func TestParseRefused(t *testing.T) {
	tests := []struct{ text, want string }{
		{"", "expected a number in m³/h"},
		{"fast", "expected a number in m³/h"},
		{"1.2.3", "is not a number"},
		{"1,000.5", "is not a number"},
		{"--1", "is not a number"},
		{"1e999", "is not a number"},
		{"18 bar", `"bar" is not a unit for this; use m³/h or gpm`},
		{"NaN", "expected a number in m³/h"},
	}
	for _, tt := range tests {
		if _, err := Parse(tt.text, reflect.TypeFor[Flow](), Metric); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("Parse(%q): error %v, want one with %q", tt.text, err, tt.want)
		}
	}
	if _, err := Parse("1", reflect.TypeFor[string](), Metric); err == nil {
		t.Error("text is parsed as a quantity")
	}
}

// What is shown can be typed in again under either system.
func TestWhatIsShownCanBeTyped(t *testing.T) {
	for _, sort := range sorts {
		for _, system := range []System{Metric, US} {
			u, _ := UnitOf(sort, system)
			text := "12.5 " + u.Name
			got, err := Parse(text, sort, system)
			if want := u.ToSI(12.5); err != nil || math.Abs(got-want) > 1e-12*math.Abs(want) {
				t.Errorf("%s: %q is read as %v (%v), want %v", sort, text, got, err, want)
			}
		}
	}
}

// Btu an hour are told by the thousand and read as typed; 1 Btu/h is 0.293071070172 W and
// 1 hp 745.699871582 W (GNU Units 2.22).
func TestPowersAreReadAsTyped(t *testing.T) {
	for _, r := range []struct {
		text string
		sort reflect.Type
		want float64
	}{
		{"100000 Btu/h", reflect.TypeFor[Power](), 29307.1070172}, {"100 kBtu/h", reflect.TypeFor[Power](), 29307.1070172}, {"100", reflect.TypeFor[Power](), 29307.1070172},
		{"5 hp", reflect.TypeFor[ShaftPower](), 3728.49935791}, {"5", reflect.TypeFor[ShaftPower](), 3728.49935791}, {"750 W", reflect.TypeFor[ShaftPower](), 750}, {"4 kW", reflect.TypeFor[ShaftPower](), 4000},
	} {
		if got, err := Parse(r.text, r.sort, US); err != nil || math.Abs(got-r.want) > 1e-9*r.want {
			t.Errorf("%q is %v W, want %v: %v", r.text, got, r.want, err)
		}
	}
}
