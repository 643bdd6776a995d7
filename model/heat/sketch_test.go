package heat_test

import (
	"math"
	"testing"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/heat"
	"rinsewright/model/network"
	"rinsewright/model/network/networktest"
	. "rinsewright/model/quantity"
)

const (
	tank   = `"elevation_m":1,"diameter_m":1.2,"height_m":2.5,"bottom":"flat","top":"flat","working_volume_L":2000,"size":"` + networktest.DN50 + `","inlet_size":"` + networktest.DN50 + `","vented":true`
	pump   = `"elevation_m":0.5,"size":"` + networktest.DN50 + `","outlet_size":"` + networktest.DN50 + `","rated_flow_m3h":12,"rated_head_m":30,"hold_up_L":2`
	heater = `"elevation_m":0.5,"size":"` + networktest.DN50 + `","service_size":"` + networktest.DN50 + `","hold_up_L":5,"pressure_drop_bar":0.5,"rated_flow_m3h":12`
	line   = `"elevation_m":1,"size":"` + networktest.DN50 + `","needs_flow_m3h":10,"smallest_bore_mm":50,"largest_bore_mm":50,"length_m":4,"hold_up_L":8`
)

// circuit draws tank, pump, heater and a line that is washed, and back to the tank, with
// metres of tube between each.
func circuit(t testing.TB, tankMore, heaterKind, heaterMore string, metres float64) *networktest.Sketch {
	s := networktest.New(t)
	s.Part("T1", "alkali-tank", tank+tankMore)
	s.Part("P1", "centrifugal-pump", pump)
	s.Part("E1", heaterKind, heater+heaterMore)
	s.Part("F1", "filler-line", line)
	s.Run("T1.outlet", "P1.a", metres)
	s.Run("P1.b", "E1.a", metres)
	s.Run("E1.b", "F1.a", metres)
	s.Run("F1.b", "T1.return", metres)
	return s
}

// steam joins a supply of steam to the heater: 4 bar absolute.
func steam(s *networktest.Sketch) {
	s.Part("S1", "steam-supply", `"elevation_m":2,"size":"`+networktest.DN50+`","medium":"steam","pressure_bar":2.98675`)
	s.Run("S1.a", "E1.s", 1)
}

// asks makes a step that sends water.
func asks(source, destination string, m3h, celsius float64) *model.Step {
	return &model.Step{ID: "s1", Name: "rinse", Source: model.ID(source), Destination: model.ID(destination), Running: []model.ID{"P1"},
		Medium: Some(model.Water), Temperature: Some(Celsius(celsius)), Flow: Some(CubicMetresPerHour(m3h))}
}

func of(t testing.TB, s *networktest.Sketch, st *model.Step, opt heat.Options) *heat.State {
	t.Helper()
	p := s.Plant()
	sol, err := flow.Solve(p, p.Heights(), st, flow.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !sol.Solved() {
		t.Fatalf("not solved: %v %v", sol.Missing, sol.Failures)
	}
	return heat.Of(sol, opt)
}

func is[T ~float64](t testing.TB, what string, got Opt[T], scale, want, off float64) {
	t.Helper()
	x, known := got.Get()
	if !known {
		t.Errorf("%s is unknown, want %v", what, want)
	} else if d := math.Abs(float64(x)/scale - want); !(d <= off) {
		t.Errorf("%s: %.6g, want %.6g within %g", what, float64(x)/scale, want, off)
	}
}

func celsius(t testing.TB, what string, got Opt[Temperature], want, off float64) {
	t.Helper()
	x, known := got.Get()
	if !known {
		t.Errorf("%s is unknown, want %v °C", what, want)
	} else if d := math.Abs(x.Celsius() - want); !(d <= off) {
		t.Errorf("%s: %.6g °C, want %.6g within %g", what, x.Celsius(), want, off)
	}
}

type assumption = flow.Assumption

func solve(t testing.TB, p *network.Plant, st *model.Step) *flow.Solution {
	t.Helper()
	sol, err := flow.Solve(p, p.Heights(), st, flow.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return sol
}
