package hydraulic

import (
	"errors"
	"math"
	"testing"

	"rinsewright/model/quantity"
)

func solver(t *testing.T, n Network) *Solver {
	t.Helper()
	s, err := NewSolver(n)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Closed form: a pump of n²·40 - 0.2 Q² on a system of 5 + 0.3 Q² (L/s) gives 9 L/s
// at n² = (5 + 0.5·81)/40.
func TestSpeedForFlow(t *testing.T) {
	curve, err := Quadratic(40, 0, -0.2e6, 0.012)
	if err != nil {
		t.Fatal(err)
	}
	system := Function(func(q float64) (float64, float64) { return 0.3e6 * q * math.Abs(q), 0.6e6 * math.Abs(q) })
	s := solver(t, series(-5, Pump{Curve: curve, Speed: 1}, system))
	speed, r, err := s.SpeedFor(0, 1, 0.009, 0.2, 1.5, water20, Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "speed", float64(speed), math.Sqrt((5+0.5*81)/40), 1e-8)
	near(t, "flow", float64(r.Flow[1]), 0.009, 1e-8)
	if s.Link(0).Law.(Pump).Speed != 1 {
		t.Error("the solver's own speed has changed")
	}
	_, _, err = s.SpeedFor(0, 1, 0.02, 0.2, 1.5, water20, Options{})
	var no *UnreachableError
	if !errors.As(err, &no) {
		t.Fatalf("error %v, want UnreachableError", err)
	}
	near(t, "most", float64(no.Most), 1e-3*math.Sqrt((2.25*40-5)/0.5), 1e-6)
	if no.Least != 0 { // 0.04·40 m does not lift by 5 m
		t.Errorf("least %v, want 0", no.Least)
	}
	if _, _, err := s.SpeedFor(1, 1, 0.009, 0.2, 1.5, water20, Options{}); err == nil {
		t.Error("no error for a link that is no pump")
	}
}

// Closed form: 9 L/s through 5 + 0.3 Q² need 29.3 m.
func TestHeadForFlow(t *testing.T) {
	system := Function(func(q float64) (float64, float64) { return 0.3e6 * q * math.Abs(q), 0.6e6 * math.Abs(q) })
	s := solver(t, series(-5, Valve{0}, system))
	head, _, err := s.HeadFor(0, 0.009, water20, Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "head", float64(head), 5+0.3*81, 1e-9)
}

// The settings found, put into the network, give the flows asked.
func TestBalance(t *testing.T) {
	n := plant(1)
	var branches []Branch
	for i, l := range n.Links {
		if _, ok := l.Law.(Valve); ok {
			branches = append(branches, Branch{i, quantity.CubicMetresPerHour([]float64{10, 6}[len(branches)])})
		}
	}
	s := solver(t, n)
	settings, _, err := s.Balance(branches, water20, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i, set := range settings {
		if !(set.Kv > 0) {
			t.Fatalf("valve %d: %+v", i, set)
		}
		link := s.Link(set.Link)
		link.Law = Valve{set.Kv}
		if err := s.SetLink(set.Link, link); err != nil {
			t.Fatal(err)
		}
	}
	r, err := s.Solve(water20, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range branches {
		near(t, "flow", float64(r.Flow[b.Link]), float64(b.Flow), 1e-7)
	}
	// Far too much for the pump: the head left is below zero, and there is no Kv.
	settings, _, err = s.Balance([]Branch{{branches[0].Link, quantity.CubicMetresPerHour(60)}}, water20, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if settings[0].Kv != 0 || settings[0].Drop > 0 {
		t.Errorf("60 m³/h: %+v, want no Kv", settings[0])
	}
	if _, _, err := s.Balance([]Branch{branches[0], branches[0]}, water20, Options{}); err == nil {
		t.Error("no error for a branch named twice")
	}
	if _, _, err := s.Balance([]Branch{{branches[0].Link, 0}}, water20, Options{}); err == nil {
		t.Error("no error for a flow of zero")
	}
}

// Bores of EN 10357 series A; 10.60 m³/h are 1.5 m/s in DN 50 and lose 0.35 bar in
// 100 m at 80 °C (computed with Colebrook's equation, wall 1.5 µm, two figures).
func TestSmallestTube(t *testing.T) {
	var tubes []Pipe
	for _, bore := range []float64{26, 32, 38, 50, 66, 81, 100} {
		tubes = append(tubes, tube(0, bore, 0))
	}
	flow := quantity.CubicMetresPerHour(10.60)
	i, state, err := SmallestTube(tubes, flow, Limits{MostVelocity: 1.51}, water80)
	if err != nil {
		t.Fatal(err)
	}
	if i != 3 {
		t.Errorf("tube %d, want that of 50 mm", i)
	}
	near(t, "velocity", float64(state.Velocity), 1.5, 1e-3)
	near(t, "wall shear", float64(state.Shear), 4.32, 0.005)
	near(t, "bar in 100 m", float64(state.Gradient)*100*water80.Density*StandardGravity/1e5, 0.35, 0.015)
	if i, _, err = SmallestTube(tubes, flow, Limits{MostGradient: 0.01}, water80); err != nil || i != 4 {
		t.Errorf("tube %d (%v) by gradient, want that of 66 mm", i, err)
	}
	if _, _, err = SmallestTube(tubes, flow, Limits{LeastVelocity: 1.6, MostVelocity: 2}, water80); !errors.Is(err, ErrNoTube) {
		t.Errorf("error %v, want ErrNoTube", err)
	}
}
