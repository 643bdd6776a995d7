package flow_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// Each gap that matters is named, and nothing behind it is made up.
func TestMissingIsNamed(t *testing.T) {
	for _, c := range []struct {
		name string
		do   func(s *sketch, st *model.Step)
		want []network.Missing
	}{
		{"temperature", func(s *sketch, st *model.Step) { st.Temperature = Opt[Temperature]{} }, []network.Missing{{Record: "s1", Key: "temperature_C"}}},
		{"medium", func(s *sketch, st *model.Step) { st.Medium = Opt[model.Medium]{} }, []network.Missing{{Record: "s1", Key: "medium"}}},
		{"strength", func(s *sketch, st *model.Step) { st.Medium = Some(model.Alkali) }, []network.Missing{{Record: "s1", Key: "strength_pct"}}},
		{"length of a run", func(s *sketch, st *model.Step) {
			s.changes[5].After.(*model.Run).Stretches[0].Length = Opt[Length]{}
		}, []network.Missing{{Record: "r00002", Key: "stretches"}}},
		{"a run without stretches", func(s *sketch, st *model.Step) { s.changes[5].After.(*model.Run).Stretches = nil }, []network.Missing{{Record: "r00002", Key: "stretches"}}},
		{"size of a run", func(s *sketch, st *model.Step) { s.changes[5].After.(*model.Run).Size = Opt[model.TubeSize]{} }, []network.Missing{{Record: "r00002", Key: "size"}}},
		{"rated point of the pump", func(s *sketch, st *model.Step) { s.unset("P1", "rated_flow_m3h") }, []network.Missing{{Record: "P1", Key: "rated_flow_m3h"}}},
		{"rated pressure of the ball", func(s *sketch, st *model.Step) { s.unset("B1", "rated_pressure_bar") }, []network.Missing{{Record: "B1", Key: "rated_pressure_bar"}}},
		{"level and height of the tank", func(s *sketch, st *model.Step) {
			s.unset("T1", "level_m")
			s.unset("T1", "height_m")
		}, []network.Missing{{Record: "T1", Key: "level_m"}}},
	} {
		s := loop(t, rated, ball)
		s.drained()
		st := asks(water("T1", "D1", 20, "P1"), 10)
		c.do(s, st)
		sol := s.solve(st, flow.Options{})
		if !slices.Equal(sol.Missing, c.want) || sol.Solved() {
			t.Errorf("%s: missing %v, want %v; failures %v", c.name, sol.Missing, c.want, sol.Failures)
		}
		if sol.Supply.Flow.Known() || sol.Pumps != nil && sol.Pumps[0].Head.Known() {
			t.Errorf("%s: a flow or head is said all the same", c.name)
		}
		// What the flow asked means where all of it passes is known regardless.
		if st.Medium.Known() && !told(sol.Edges[sol.Plant.RunEdges("r00001")[0]].Flow) {
			t.Errorf("%s: the flow asked is not said where the whole of it passes", c.name)
		}
	}
}

func told[T any](o Opt[T]) bool { return o.Known() }

// A gap in the return leaves the supply solved.
func TestGapInReturn(t *testing.T) {
	s := loop(t, rated, ball)
	run := s.drained()
	s.changes[len(s.changes)-1].After.(*model.Run).Stretches[1].Length = Opt[Length]{}
	sol := s.solve(asks(water("T1", "D1", 20, "P1"), 10), flow.Options{})
	if len(sol.Missing) != 1 || sol.Missing[0].Record != run {
		t.Errorf("missing %v", sol.Missing)
	}
	near(t, "flow", known(t, "flow", sol.Supply.Flow)*3600, 10, 1e-6)
	near(t, "flow into the vessel", known(t, "inflow", sol.Vessels[0].Inflow)*3600, 10, 1e-6)
	if sol.Vessels[0].Balance != "" || sol.Vessels[0].Level.Known() {
		t.Errorf("the return is judged without its length: %+v", sol.Vessels[0])
	}
}

// No elevation at all: what would give one is named, at each end.
func TestNoElevation(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", `"pressure_bar":2`)
	s.part("D", "sewer-drain", "")
	s.run("W.a", "D.a", dn50, 0, stretch{10, math.NaN()})
	sol := s.solve(water("W", "D", 20), flow.Options{})
	want := []network.Missing{{Record: "D", Key: "elevation_m"}, {Record: "W", Key: "elevation_m"}}
	if !slices.Equal(sol.Missing, want) {
		t.Errorf("missing %v, want %v", sol.Missing, want)
	}
}

func TestFailures(t *testing.T) {
	s := loop(t, rated, ball)
	s.drained()
	for _, c := range []struct {
		name string
		do   func(st *model.Step)
		want string
	}{
		{"no pump", func(st *model.Step) { st.Source = "" }, "the step names no source"},
		{"boiling", func(st *model.Step) { st.Temperature = Some(Celsius(400)) }, "temperature"},
		{"strong", func(st *model.Step) { st.Medium, st.Strength = Some(model.Acid), Some(Strength(0.9)) }, "strength"},
		{"product", func(st *model.Step) { st.Medium = Some(model.Product) }, "flow of product is not computed"},
	} {
		st := asks(water("T1", "D1", 20, "P1"), 10)
		c.do(st)
		sol := s.solve(st, flow.Options{})
		if len(sol.Failures) != 1 || !strings.Contains(sol.Failures[0].Text, c.want) || sol.Failures[0].At.Element != "s1" {
			t.Errorf("%s: %v, want %q", c.name, sol.Failures, c.want)
		}
	}
}

// A told number that cannot be is no unknown one: it is named, and nothing is
// assumed in its place.
func TestNumbersThatCannotBe(t *testing.T) {
	for _, c := range []struct{ part, properties, want string }{
		{"T1", `"level_m":50`, "stands 50 m above its outlet, its inside is 3 m high"},
		{"V9", `"kv_m3h":0`, "has a Kv of 0"},
	} {
		s := newSketch(t)
		s.part("T1", "water-tank", `"elevation_m":1,"diameter_m":2,"height_m":3,"level_m":2,"size":"`+dn50+`","vented":true`)
		s.part("V9", "butterfly-valve", `"elevation_m":0.5,"size":"`+dn50+`","normal":"open"`)
		s.part("D1", "sewer-drain", `"elevation_m":0.2,"size":"`+dn50+`"`)
		s.run("T1.outlet", "V9.a", dn50, 1, stretch{2, -0.5})
		s.run("V9.b", "D1.a", dn50, 1, stretch{4, -0.3})
		if sol := s.solve(water("T1", "D1", 20), flow.Options{}); !sol.Solved() {
			t.Fatalf("%s: the sound circuit is not solved: %v %v", c.part, sol.Failures, sol.Missing)
		}
		s.set(c.part, c.properties)
		sol := s.solve(water("T1", "D1", 20), flow.Options{})
		if sol.Solved() || len(sol.Failures) == 0 || !strings.Contains(sol.Failures[0].Text, c.want) {
			t.Errorf("%s %s: solved %v, failures %v, want %q", c.part, c.properties, sol.Solved(), sol.Failures, c.want)
		}
		if len(sol.Missing) > 0 {
			t.Errorf("%s %s is told and counts as missing: %v", c.part, c.properties, sol.Missing)
		}
	}
}

// The same of what pumps and spray devices are told, which a wash cannot do without.
func TestRatedNumbersThatCannotBe(t *testing.T) {
	for _, c := range []struct{ part, properties, want string }{
		{"P1", `"rated_flow_m3h":0`, "the rated flow of P1 cannot be 0 m³/h"},
		{"P1", `"rated_head_m":-2`, "the rated head of P1 cannot be -2 m"},
		{"B1", `"rated_flow_m3h":0`, "the rated flow of B1 cannot be 0 m³/h"},
		{"B1", `"rated_pressure_bar":0`, "the rated pressure of B1 cannot be 0 bar"},
	} {
		s := loop(t, rated, ball)
		s.drained()
		s.set(c.part, c.properties)
		sol := s.solve(asks(water("T1", "D1", 20, "P1"), 10), flow.Options{})
		if sol.Solved() || len(sol.Missing) > 0 || len(sol.Failures) != 1 || !strings.Contains(sol.Failures[0].Text, c.want) {
			t.Errorf("%s %s: missing %v, failures %v, want %q", c.part, c.properties, sol.Missing, sol.Failures, c.want)
		}
	}
}

// 50 m are 164 ft and 3 m are 9.84 ft (1 ft = 0.3048 m by definition).
func TestTextsAreToldInTheReadersUnits(t *testing.T) {
	s := loop(t, rated, ball)
	s.drained()
	s.set("T1", `"level_m":50,"height_m":3`)
	sol := s.solve(asks(water("T1", "D1", 20, "P1"), 10), flow.Options{})
	if len(sol.Failures) != 1 || !strings.Contains(sol.Failures[0].Told(US), "164 ft above its outlet, its inside is 9.84 ft") {
		t.Errorf("failures %v", sol.Failures)
	}
	free := loop(t, rated, ball)
	free.drained()
	_, err := free.whole(asks(water("T1", "D1", 20, "P1"), 10), flow.Options{}).SpeedFor("P1", CubicMetresPerHour(1e4))
	var no *flow.NoSpeedError
	if !errors.As(err, &no) || !strings.Contains(no.Told(US), "gives 44029 gpm") || !strings.Contains(err.Error(), "gives 10000 m³/h") {
		t.Errorf("speed for 10000 m³/h: %v", err)
	}
}

// What was never told but can be taken as usual is listed with its value and basis.
func TestAssumptionsAreListed(t *testing.T) {
	s := loop(t, rated, ball)
	s.part("D1", "sewer-drain", `"elevation_m":0.2,"size":"`+dn50+`"`)
	s.part("V2", "diaphragm-valve", `"size":"`+dn50+`","seat_a_mm":20,"seat_b_mm":20,"normal":"open"`)
	s.run("V1.outlet", "V2.a", dn50, -1, stretch{1, -1}, stretch{4, -0.3})
	s.face("V2.b", "D1.a")
	s.unset("T1", "level_m")
	st := asks(water("T1", "D1", 60, "P1"), 10)
	st.Medium, st.Strength = Some(model.Acid), Some(Strength(0.01))
	sol := s.whole(st, flow.Options{})
	for _, want := range []flow.Assumption{
		{Record: "", What: "roughness of tube walls"}, {Record: "P1", Key: "curve", What: "curve of the pump"},
		{Record: "T1", Key: "level_m", What: "level in the source"}, {Record: "V2", Key: "kv_m3h", What: "loss of the open valve"},
		{Record: "s1", Key: "chemical", What: "chemical of the acid"}, {Record: "r00004", Key: "elbows", What: "bends of the run"},
	} {
		if !slices.ContainsFunc(sol.Assumptions, func(a flow.Assumption) bool {
			return a.Record == want.Record && a.Key == want.Key && a.What == want.What && a.Value != "" && a.Basis != ""
		}) {
			t.Errorf("%+v is not listed in %v", want, sol.Assumptions)
		}
	}
	near(t, "half the height", known(t, "head", sol.Nodes[node(t, sol, "T1.draw")].Head), 1+1.5, 1e-6)
}

func TestCallsThatCannotBe(t *testing.T) {
	s := loop(t, rated, ball)
	s.drained()
	p := s.plant()
	st := water("T1", "D1", 20, "P1")
	other := water("T1", "D1", 30, "P1")
	if _, err := flow.Solve(nil, p.Heights(), st, flow.Options{}); err == nil {
		t.Error("no plant, no error")
	}
	if _, err := flow.Solve(p, &network.Heights{}, st, flow.Options{}); err == nil {
		t.Error("heights of another plant, no error")
	}
	if _, err := flow.Solve(p, p.Heights(), st, flow.Options{Route: p.Route(p.LineUp(other))}); err == nil {
		t.Error("route of another step, no error")
	}
}
