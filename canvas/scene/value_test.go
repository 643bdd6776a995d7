package scene_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

func solved(t *testing.T, p *network.Plant, programme, name string) *flow.Solution {
	t.Helper()
	for _, s := range p.Circuit.Steps() {
		if s.Programme == programme && s.Name == name {
			sol, err := flow.Solve(p, p.Heights(), s, flow.Options{})
			if err != nil {
				t.Fatal(err)
			}
			return sol
		}
	}
	t.Fatalf("no step %s of %s", name, programme)
	return nil
}

// The alkali wash sends 12 m³/h through DN50 of EN 10357 series A, 50 mm inside: by
// arithmetic 1.698 m/s, which is 5.57 ft/s (1 ft = 0.3048 m) and 52.8 US gal/min
// (1 US gal = 3.785411784 L).
func TestValuesOfAlkaliWash(t *testing.T) {
	p := station(t)
	s := solved(t, p, "Vessel T-201", "Alkali wash")
	run := between(t, p, "P-101", "PT-101").ID
	for _, tt := range []struct {
		value  scene.Value
		system quantity.System
		want   string
	}{
		{scene.Velocity, quantity.Metric, "1.7 m/s"},
		{scene.Velocity, quantity.US, "5.57 ft/s"},
		{scene.Flow, quantity.Metric, "12 m³/h"},
		{scene.Flow, quantity.US, "52.8 gpm"},
	} {
		if got := scene.Values(s, tt.value, tt.system)[run]; got != tt.want {
			t.Errorf("%s: %q, want %q", tt.value, got, tt.want)
		}
	}
	values := scene.Values(s, scene.Velocity, quantity.Metric)
	for _, pair := range [][2]string{{"T-101", "V-101"}, {"TE-101", "V-121"}} { // dry; shut and full
		if got, ok := values[between(t, p, pair[0], pair[1]).ID]; ok {
			t.Errorf("%s to %s moves nothing and has %q", pair[0], pair[1], got)
		}
	}
	// Told from the spray device up, so its flow is below zero: the value has no sign.
	if got := values[between(t, p, "SD-201", "SB-201").ID]; got != "1.7 m/s" {
		t.Errorf("the run told against the flow has %q", got)
	}
	for _, v := range scene.ValueNames() {
		if got := scene.Values(s, v, quantity.Metric)[run]; got == "" || got == "?" {
			t.Errorf("%s of the supply is %q", v, got)
		}
		if got, ok := scene.Values(s, v, quantity.Metric)[between(t, p, "T-101", "V-101").ID]; ok {
			t.Errorf("%s of a dry run is %q", v, got)
		}
		if scene.Remark(s, v, quantity.Metric) == "" || v.Title() == "None" {
			t.Errorf("%s is not told in words", v)
		}
	}
	if n := len(scene.Values(s, scene.NoValue, quantity.Metric)); n != 0 {
		t.Errorf("%d values though none are asked for", n)
	}
}

// Re = 4 Q/(π d ν) and τ = ρ u*²: held against the density and viscosity of the
// solution's liquid and the Swamee-Jain formula for the factor (from memory of
// Swamee and Jain, 1976; within 1 % of Colebrook).
func TestReynoldsAndShear(t *testing.T) {
	p := station(t)
	s := solved(t, p, "Vessel T-201", "Alkali wash")
	props, ok := s.Properties.Get()
	if !ok {
		t.Fatal("no properties")
	}
	run := between(t, p, "P-101", "PT-101").ID
	q, d, rho, mu := 12.0/3600, 0.05, float64(props.Density), float64(props.Viscosity)
	re := 4 * q * rho / (math.Pi * d * mu)
	if got, want := scene.Values(s, scene.Reynolds, quantity.Metric)[run], "Re "+scene.Grouped(re); got != want {
		t.Errorf("Reynolds %q, want %q", got, want)
	}
	v := q / (math.Pi / 4 * d * d)
	f := 0.25 / math.Pow(math.Log10(1.5e-6/3.7/d+5.74/math.Pow(re, 0.9)), 2)
	want := f * rho * v * v / 8
	got := scene.Values(s, scene.Shear, quantity.Metric)[run]
	x := number(t, strings.TrimSuffix(got, " Pa"))
	if math.Abs(x-want) > 0.02*want {
		t.Errorf("shear %q, the formula gives %.3f Pa", got, want)
	}
}

// Downstream of a pump the pressure falls along level runs, and the value says first
// where the liquid comes in.
func TestPressureIsToldInTheDirectionOfTheFlow(t *testing.T) {
	p := station(t)
	s := solved(t, p, "Vessel T-201", "Alkali wash")
	text := scene.Values(s, scene.Pressure, quantity.Metric)[between(t, p, "V-231", "TE-202").ID]
	from, to, ok := strings.Cut(strings.TrimSuffix(text, " bar"), " to ")
	if !ok || number(t, from) <= number(t, to) {
		t.Errorf("along the return the pressure is %q", text)
	}
}

// What could not be solved is told as unknown, never as nothing.
func TestUnknownValueIsTold(t *testing.T) {
	p := station(t)
	pump := p.Circuit.Part(tagged(t, p, "P-101")).(*model.Pump)
	bare := model.Clone(pump)
	bare.RatedFlow, bare.RatedHead, bare.Curve = quantity.Opt[quantity.Flow]{}, quantity.Opt[quantity.Length]{}, nil
	c, err := p.Circuit.Apply(model.Edit{Changes: []model.Change{{Before: pump, After: bare}}})
	if err != nil {
		t.Fatal(err)
	}
	plant := network.Build(c, p.Catalogue)
	s := solved(t, plant, "Vessel T-201", "Alkali wash")
	if s.Solved() {
		t.Fatal("solved without a pump curve")
	}
	run := between(t, plant, "P-101", "PT-101").ID
	if got := scene.Values(s, scene.Pressure, quantity.Metric)[run]; got != "?" {
		t.Errorf("the pressure behind an unknown pump is %q", got)
	}
	if got := scene.Remark(s, scene.Pressure, quantity.US); !strings.Contains(got, "not all of it was solved") {
		t.Errorf("the remark says %q", got)
	}
}

func TestGrouped(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 12.34: "12.3", 999: "999", 1234: "1 230", 145499: "145 000", 999999: "1 000 000", -2500: "-2 500"} {
		if got := scene.Grouped(x); got != want {
			t.Errorf("%v: %q, want %q", x, got, want)
		}
	}
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.ReplaceAll(text, "−", "-"), 64)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return x
}

// The step asks for 75 °C (167 °F), which the heater gives; on the way back the liquid has
// cooled.
func TestTemperatureAlongTheWay(t *testing.T) {
	p := station(t)
	s := solved(t, p, "Vessel T-201", "Alkali wash")
	supply, back := between(t, p, "E-101", "TT-101").ID, between(t, p, "TT-201", "AT-201").ID
	if got := scene.Values(s, scene.Temperature, quantity.Metric)[supply]; got != "75.0 °C" {
		t.Errorf("behind the heater %q", got)
	}
	if got := scene.Values(s, scene.Temperature, quantity.US)[supply]; got != "167.0 °F" {
		t.Errorf("behind the heater %q", got)
	}
	got := scene.Values(s, scene.Temperature, quantity.Metric)[back]
	celsius, err := strconv.ParseFloat(strings.Split(got, " ")[0], 64)
	if err != nil || celsius >= 75 || celsius < 70 {
		t.Errorf("on the way back %q", got)
	}
	// A cold rinse keeps its temperature.
	rinse := solved(t, p, "Vessel T-201", "First rinse")
	if got := scene.Values(rinse, scene.Temperature, quantity.Metric)[back]; got != "12.0 °C" {
		t.Errorf("the cold rinse comes back at %q", got)
	}
}

// Why a step could not be solved is told in the reader's units: 9 m of level in a tank of
// 2.6 m are 29.5 ft and 8.53 ft (1 ft = 0.3048 m by definition).
func TestRemarkInTheReadersUnits(t *testing.T) {
	p := station(t)
	tank := p.Circuit.Part(tagged(t, p, "T-102")).(*model.Vessel)
	full := model.Clone(tank)
	full.Level = quantity.Some(quantity.Length(9))
	c, err := p.Circuit.Apply(model.Edit{Changes: []model.Change{{Before: tank, After: full}}})
	if err != nil {
		t.Fatal(err)
	}
	s := solved(t, network.Build(c, p.Catalogue), "Vessel T-201", "Alkali wash")
	for system, want := range map[quantity.System]string{quantity.Metric: "9 m above", quantity.US: "29.5 ft above"} {
		if got := scene.Remark(s, scene.Pressure, system); !strings.Contains(got, want) {
			t.Errorf("the remark says %q, want %q", got, want)
		}
	}
}
