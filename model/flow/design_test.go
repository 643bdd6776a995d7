package flow_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/hydraulic"
	. "rinsewright/model/quantity"
)

// The design questions agree with solves of the same circuit.
func TestSpeedAndHeadFor(t *testing.T) {
	s := loop(t, rated, ball)
	s.drained()
	free := s.whole(water("T1", "D1", 20, "P1"), flow.Options{})
	for _, m3h := range []float64{4, 8, 11} {
		asked := s.whole(asks(water("T1", "D1", 20, "P1"), m3h), flow.Options{})
		n, err := free.SpeedFor("P1", CubicMetresPerHour(m3h))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "speed", float64(n), known(t, "speed", asked.Supply.Speed), 1e-6)
		h, err := free.HeadFor("P1", CubicMetresPerHour(m3h))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "head", float64(h), known(t, "head", asked.Pumps[0].Head), 1e-5)
	}
	var not *flow.NotSolvedError
	if _, err := free.HeadFor("P9", 1e-3); !errors.As(err, &not) {
		t.Errorf("a pump that is not there: %v", err)
	}
}

// The pump's curve and the system's meet at the duty.
func TestCurvesMeetAtTheDuty(t *testing.T) {
	s := loop(t, rated, ball)
	s.pumped("centrifugal-pump", `"rated_flow_m3h":15,"rated_head_m":12`)
	sol := s.whole(asks(water("T1", "D1", 20, "P1", "P2"), 10), flow.Options{})
	for _, id := range []model.ID{"P1", "P2"} {
		system, err := flow.SystemCurve(sol, id)
		if err != nil {
			t.Fatal(err)
		}
		pump, err := flow.PumpCurve(sol, id, 0)
		if err != nil {
			t.Fatal(err)
		}
		p := pumpOf(t, sol, id)
		q, h := known(t, "flow", p.Flow), known(t, "head", p.Head)
		near(t, string(id)+": system at the duty", between(system, q), h, 0.02*h+0.05)
		near(t, string(id)+": pump at the duty", between(pump, q), h, 0.02*h+0.05)
		for i := 1; i < len(system); i++ {
			if system[i].Head < system[i-1].Head || pump[i].Head > pump[i-1].Head {
				t.Errorf("%s: curves turn at %v, %v", id, system[i], pump[i])
			}
		}
	}
	// Static: from the tank's 3 m to the ball at 4.5 m nothing flows below 1.5 m.
	system, _ := flow.SystemCurve(sol, "P1")
	near(t, "system at no flow", float64(system[0].Head), 1.5, 1e-6)
}

// between reads a curve by straight lines.
func between(c []flow.Duty, q float64) float64 {
	for i := 1; i < len(c); i++ {
		if a, b := c[i-1], c[i]; q <= float64(b.Flow) {
			return float64(a.Head) + float64(b.Head-a.Head)*(q-float64(a.Flow))/float64(b.Flow-a.Flow)
		}
	}
	return math.NaN()
}

// 10.6 m³/h need DN50 at 1.5 m/s at the least: DN65 runs 0.86, DN40 2.6 m/s.
func TestTubeFor(t *testing.T) {
	s := loop(t, rated, ball)
	s.drained()
	sol := s.whole(water("T1", "D1", 80, "P1"), flow.Options{})
	tube, state, err := sol.TubeFor(CubicMetresPerHour(10.61), hydraulic.Limits{LeastVelocity: 1.5, MostVelocity: 2}, dn25)
	if err != nil || string(tube.Size) != dn50 {
		t.Fatalf("%v %v", tube.Size, err)
	}
	// 0.35 bar and 4.32 Pa in 100 m, water of 80 °C at 1.5 m/s, ε 1.5 µm.
	near(t, "bar in 100 m", float64(state.Gradient)*100*density80*g/1e5, 0.35, 0.006)
	near(t, "shear", float64(state.Shear), 4.32, 0.02)
	if _, _, err := sol.TubeFor(CubicMetresPerHour(10.6), hydraulic.Limits{LeastVelocity: 3, MostVelocity: 3.1}, dn25); !errors.Is(err, hydraulic.ErrNoTube) {
		t.Errorf("no tube fits: %v", err)
	}
}

// Two lines that share badly are balanced by their valves: set to the Kv that comes
// out, at the speed that comes out, a new solve gives the flows asked.
func TestBalanceBy(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", `"elevation_m":0,"pressure_bar":0.2`)
	s.part("P", "centrifugal-pump", `"elevation_m":0,"size":"`+dn50+`","rated_flow_m3h":16,"rated_head_m":30`)
	s.part("T", "tee", `"elevation_m":0,"size":"`+dn50+`","second_size":"`+dn50+`","run_mm":120,"stub_mm":40`)
	valve := `"elevation_m":0,"size":"` + dn50 + `","seat_a_mm":0,"seat_b_mm":0,"normal":"open","kv_m3h":40`
	s.part("A", "regulating-valve", valve)
	s.part("B", "regulating-valve", valve)
	s.part("D", "sewer-drain", `"elevation_m":0,"size":"`+dn50+`"`)
	s.part("E", "sewer-drain", `"elevation_m":2,"size":"`+dn50+`"`)
	s.run("W.a", "P.a", dn50, 0, stretch{2, 0})
	s.run("P.b", "T.a", dn50, 2, stretch{10, 0})
	s.run("T.b", "A.a", dn50, 2, stretch{5, 0})
	a := s.run("A.b", "D.a", dn50, 0, stretch{5, 0})
	s.run("T.branch", "B.a", dn50, 4, stretch{60, 0})
	b := s.run("B.b", "E.a", dn50, 0, stretch{5, 2})
	st := water("W", "D", 20, "P")
	sol := s.whole(st, flow.Options{})
	if qa, qb := flowIn(t, sol, a), flowIn(t, sol, b); qa < 1.3*qb {
		t.Fatalf("they share well already: %.2f and %.2f", qa, qb)
	}
	got, err := sol.BalanceBy([]flow.Want{{"A", CubicMetresPerHour(6)}, {"B", CubicMetresPerHour(7)}})
	if err != nil {
		t.Fatal(err)
	}
	set := map[string]float64{}
	for _, x := range got.Settings {
		set[string(x.Valve)] = known(t, "Kv of "+string(x.Valve), x.Kv) * 3600
		s.set(string(x.Valve), `"kv_m3h":`+number(set[string(x.Valve)]))
	}
	if got.Pump != "P" || got.Speed.Or(1) >= 1 {
		t.Errorf("pump %s at %v", got.Pump, got.Speed)
	}
	near(t, "the valve that need not throttle", set["B"], 40, 0.1)
	if set["A"] > 30 {
		t.Errorf("A is set to Kv %.1f", set["A"])
	}
	sol = s.whole(st, flow.Options{Speeds: map[model.ID]Ratio{"P": got.Speed.Or(0)}})
	near(t, "A", flowIn(t, sol, a), 6, 1e-3)
	near(t, "B", flowIn(t, sol, b), 7, 1e-3)
	if _, err := sol.BalanceBy([]flow.Want{{"A", 1e-3}, {"A", 1e-3}}); err == nil {
		t.Error("a valve asked for twice, no error")
	}
	// With a gap elsewhere in the section nothing is balanced, and the gap is named by its
	// tag and the label of its kind.
	s.unset("P", "rated_head_m")
	_, err = s.solve(st, flow.Options{}).BalanceBy([]flow.Want{{"A", CubicMetresPerHour(6)}})
	if err == nil || !strings.Contains(err.Error(), "rated head of P") {
		t.Errorf("the gap is told as %v", err)
	}
}
