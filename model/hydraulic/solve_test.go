package hydraulic

import (
	"errors"
	"math"
	"slices"
	"testing"

	"rinsewright/model/quantity"
)

// Water by IAPWS-IF97 and the viscosity formulation of 2008 at 3 bar absolute, 20
// and 80 °C (library iapws 1.5.3).
var (
	water20 = Fluid{Density: 998.2969533801314, Viscosity: 1.0015358298979837e-3}
	water80 = Fluid{Density: 971.891709613404, Viscosity: 0.354111404529313e-3}
)

func solve(t *testing.T, n Network, f Fluid, o Options) *Result {
	t.Helper()
	s, err := NewSolver(n)
	if err != nil {
		t.Fatal(err)
	}
	r, err := s.Solve(f, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func tank(level float64) Node { return Node{Fixed: true, Level: quantity.Length(level)} }

func metres(v float64) quantity.Length { return quantity.Length(v) }

// Two tanks joined by links one after another.
func series(difference float64, laws ...Law) Network {
	n := Network{Nodes: []Node{tank(difference)}}
	for i, law := range laws {
		if i == len(laws)-1 {
			n.Nodes = append(n.Nodes, tank(0))
		} else {
			n.Nodes = append(n.Nodes, Node{})
		}
		n.Links = append(n.Links, Link{From: i, To: i + 1, Law: law})
	}
	return n
}

// 100 m of tube of 47.8 mm, 0.8 µm, 10 m³/h: the loss by fluids 1.0.22 with iapws
// and a root search of scipy 1.10.1.
func TestTubeOfPublishedLoss(t *testing.T) {
	const tolerance = 1e-6
	for _, c := range []struct {
		fluid       Fluid
		re, f, drop float64
	}{
		{water20, 73751.86, 0.01926310, 0.481983e5},
		{water80, 203075.57, 0.01572835, 0.383131e5},
	} {
		pipe := Pipe{100, quantity.Millimetres(47.8), 0.8e-6, 0}
		q := quantity.CubicMetresPerHour(10)
		state := pipe.At(q, c.fluid)
		near(t, "Re", float64(state.Reynolds), c.re, tolerance)
		near(t, "f", float64(state.Friction), c.f, tolerance)
		n := Network{
			Nodes: []Node{tank(0), {Demand: q}},
			Links: []Link{{From: 0, To: 1, Law: pipe}},
		}
		r := solve(t, n, c.fluid, Options{})
		near(t, "pressure", -float64(r.Pressure[1]), c.drop, 2*tolerance)
	}
}

// Hagen-Poiseuille, closed form: 128 µ L Q/(π D⁴).
func TestLaminarTube(t *testing.T) {
	f := Fluid{998.2, 1e-3}
	n := Network{
		Nodes: []Node{tank(0), {Demand: quantity.CubicMetresPerHour(0.05)}},
		Links: []Link{{From: 0, To: 1, Law: Pipe{10, quantity.Millimetres(22.9), 0, 0}}},
	}
	r := solve(t, n, f, Options{})
	near(t, "pressure", -float64(r.Pressure[1]), 20.577171, 1e-7)
}

// Three pipes of F. M. White, Fluid Mechanics, chapter 6 (multiple-pipe systems):
// 20.3 m of total head loss, one after another 10.2 m³/h, side by side 62.5, 25.9
// and 11.4. The exact values are by a root search of scipy with Colebrook's
// equation.
var whitePipes = []Law{
	Pipe{100, quantity.Millimetres(80), 0.003 * 0.08, 0},
	Pipe{150, quantity.Millimetres(60), 0.002 * 0.06, 0},
	Pipe{80, quantity.Millimetres(40), 0.005 * 0.04, 0},
}

var whiteWater = Fluid{Density: 1000, Viscosity: 1.02e-3}

const whiteGravity = 9.81

func TestPipesInSeries(t *testing.T) {
	r := solve(t, series(20.3, whitePipes...), whiteWater, Options{Gravity: whiteGravity})
	for _, q := range r.Flow {
		near(t, "White", q.CubicMetresPerHour(), 10.2, 0.005)
		near(t, "exact", q.CubicMetresPerHour(), 10.2234, 1e-4)
	}
}

func TestPipesInParallel(t *testing.T) {
	n := Network{Nodes: []Node{tank(20.3), tank(0)}}
	for _, p := range whitePipes {
		n.Links = append(n.Links, Link{From: 0, To: 1, Law: p})
	}
	r := solve(t, n, whiteWater, Options{Gravity: whiteGravity})
	total := 0.0
	for i, q := range r.Flow {
		near(t, "White", q.CubicMetresPerHour(), []float64{62.5, 25.9, 11.4}[i], 0.005)
		near(t, "exact", q.CubicMetresPerHour(), []float64{62.5477, 25.9107, 11.4080}[i], 1e-4)
		total += q.CubicMetresPerHour()
	}
	near(t, "White, total", total, 99.8, 0.005)
}

// Closed form: a pump of 40 - 0.2 Q² on a system of 5 + 0.3 Q², Q in L/s: Q = √70,
// head 26.
func TestPumpOnSystem(t *testing.T) {
	curve, err := Quadratic(40, 0, -0.2e6, 0.012)
	if err != nil {
		t.Fatal(err)
	}
	system := Function(func(q float64) (float64, float64) { return 0.3e6 * q * math.Abs(q), 0.6e6 * math.Abs(q) })
	r := solve(t, series(-5, Pump{Curve: curve, Speed: 1}, system), water20, Options{})
	near(t, "flow", float64(r.Flow[0])*1000, math.Sqrt(70), 1e-9)
	near(t, "head", -float64(r.Drop[0]), 26, 1e-9)
}

// Closed form: 10 m³/h through Kv 25 lose (10/25)² = 0.16 bar in water of 1000
// kg/m³, and in proportion to the density: 0.155502672 bar at 80 °C with the
// density of IF97.
func TestValveLoss(t *testing.T) {
	for _, c := range []struct{ density, bar, tolerance float64 }{{1000, 0.16, 1e-9}, {971.8917, 0.155502672, 1e-6}} {
		n := Network{
			Nodes: []Node{tank(0), {Demand: quantity.CubicMetresPerHour(10)}},
			Links: []Link{{From: 0, To: 1, Law: Valve{25.0 / 3600}}},
		}
		r := solve(t, n, Fluid{c.density, 1e-3}, Options{})
		near(t, "bar", -r.Pressure[1].Bar(), c.bar, c.tolerance)
	}
}

// A spray device of 9 m³/h at 2 bar passes √p as much at other pressures.
func TestEmitter(t *testing.T) {
	e := Emitter{quantity.CubicMetresPerHour(9), quantity.Bar(2)}
	for _, bar := range []float64{0.5, 2, 4.5} {
		n := Network{
			Nodes: []Node{{Fixed: true, Gas: quantity.Bar(bar)}, tank(0)},
			Links: []Link{{From: 0, To: 1, Law: e}},
		}
		r := solve(t, n, Fluid{1000, 1e-3}, Options{})
		near(t, "flow", r.Flow[0].CubicMetresPerHour(), 9*math.Sqrt(bar/2), 1e-9)
	}
}

// The affinity laws: at speed n the point (Q, H) of the curve is (nQ, n²H).
func TestAffinity(t *testing.T) {
	curve, err := Through([]Duty{{0, 40}, {0.005, 35}, {0.01, 20}})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []float64{0.4, 1, 1.2} {
		h, _ := curve.At(0.006)
		net := Network{
			Nodes: []Node{tank(0), {Demand: quantity.Flow(0.006 * n)}},
			Links: []Link{{From: 0, To: 1, Law: Pump{Curve: curve, Speed: quantity.Ratio(n)}}},
		}
		r := solve(t, net, water20, Options{})
		near(t, "head", float64(r.Head[1]), n*n*h, 1e-9)
	}
}

// A pump against a shut valve: no flow, and the shut-off head at its outlet.
func TestPumpAgainstShutValve(t *testing.T) {
	curve, err := Quadratic(40, 0, -0.2e6, 0.012)
	if err != nil {
		t.Fatal(err)
	}
	n := Network{
		Nodes: []Node{tank(2), {Name: "in"}, {Name: "out", Elevation: 1}, {Name: "beyond"}},
		Links: []Link{
			{From: 0, To: 1, Law: Pipe{5, 0.05, 1e-6, 1}},
			{From: 1, To: 2, Law: Pump{Curve: curve, Speed: 1}},
			{From: 2, To: 3, Law: Valve{0}},
		},
	}
	r := solve(t, n, water20, Options{})
	for i, q := range r.Flow {
		if math.Abs(float64(q)) > 1e-12 {
			t.Errorf("link %d: %v m³/s", i, q)
		}
	}
	if math.Abs(float64(r.Head[2])-42) > 1e-6 {
		t.Errorf("head %v at the outlet, want 42", r.Head[2])
	}
	if !math.IsNaN(float64(r.Head[3])) || !slices.EqualFunc(r.Afloat, [][]int{{3}}, slices.Equal) {
		t.Errorf("beyond the valve: head %v, afloat %v", r.Head[3], r.Afloat)
	}
}

// Two pumps side by side, the weaker one unable to reach the head of the other: it
// holds, and the other delivers all.
func TestWeakPumpHolds(t *testing.T) {
	strong, err := Quadratic(40, 0, -0.2e6, 0.012)
	if err != nil {
		t.Fatal(err)
	}
	weak, err := Quadratic(12, 0, -0.2e6, 0.008)
	if err != nil {
		t.Fatal(err)
	}
	n := Network{
		Nodes: []Node{tank(0), {}, tank(15)},
		Links: []Link{
			{Name: "strong", From: 0, To: 1, Law: Pump{Curve: strong, Speed: 1}},
			{Name: "weak", From: 0, To: 1, Law: Pump{Curve: weak, Speed: 1}},
			{From: 1, To: 2, Law: Function(func(q float64) (float64, float64) { return 0.3e6 * q * math.Abs(q), 0.6e6 * math.Abs(q) })},
		},
	}
	r := solve(t, n, water20, Options{})
	near(t, "flow", float64(r.Flow[0])*1000, math.Sqrt(50), 1e-9) // 40 - 0.2Q² = 15 + 0.3Q²
	if r.Flow[1] != 0 || !slices.Equal(r.Held, []int{1}) || r.Leak != 0 {
		t.Errorf("weak pump: flow %v, held %v, leak %v", r.Flow[1], r.Held, r.Leak)
	}
}

// A one-way link passes along its way as if it were not there, and nothing back.
func TestOneWay(t *testing.T) {
	pipe := Pipe{10, 0.05, 1e-6, 2}
	n := series(3, pipe, Loss{1, 0.05}, pipe)
	free := solve(t, n, water20, Options{})
	n.Links[1].OneWay = true
	along := solve(t, n, water20, Options{})
	near(t, "along", float64(along.Flow[0]), float64(free.Flow[0]), 1e-9)
	n.Nodes[0].Level = -3
	back := solve(t, n, water20, Options{})
	for i, q := range back.Flow {
		if math.Abs(float64(q)) > 1e-12 {
			t.Errorf("link %d: %v m³/s back", i, q)
		}
	}
	// Each side takes the level of its own tank.
	if math.Abs(float64(back.Head[1])+3) > 1e-8 || math.Abs(float64(back.Head[2])) > 1e-8 || !slices.Equal(back.Held, []int{1}) {
		t.Errorf("heads %v, held %v", back.Head, back.Held)
	}
}

func TestUnfed(t *testing.T) {
	pipe := Pipe{10, 0.05, 1e-6, 0}
	n := Network{
		Nodes: []Node{tank(1), {Name: "A"}, {Name: "B", Demand: 1e-3}, {Name: "C"}},
		Links: []Link{{From: 0, To: 1, Law: pipe}, {From: 1, To: 2, Law: pipe, Shut: true}, {From: 2, To: 3, Law: pipe}},
	}
	for _, c := range []struct {
		name   string
		change func(*Link)
	}{
		{"shut", func(l *Link) { l.Shut = true }},
		{"one-way against it", func(l *Link) { *l = Link{From: 1, To: 2, Law: pipe, OneWay: true}; l.From, l.To = 2, 1 }},
		{"pump at rest", func(l *Link) {
			c, _ := Quadratic(10, 0, -1e5, 0.01)
			l.Shut, l.Law = false, Pump{Curve: c}
		}},
	} {
		n := Network{n.Nodes, slices.Clone(n.Links)}
		c.change(&n.Links[1])
		s, err := NewSolver(n)
		if err != nil {
			t.Fatal(err)
		}
		_, err = s.Solve(water20, Options{})
		var unfed *UnfedError
		if !errors.As(err, &unfed) || !slices.Equal(unfed.Nodes, []int{2}) || !slices.Equal(unfed.Names, []string{"B"}) {
			t.Errorf("%s: error %v, want UnfedError of node B", c.name, err)
		}
	}
}

// A loop that no fixed head holds: a pump drives water round. The flow is that
// where the pump's head meets the loop's loss; heads are unknown.
func TestLoopAfloat(t *testing.T) {
	curve, err := Quadratic(40, 0, -0.2e6, 0.012)
	if err != nil {
		t.Fatal(err)
	}
	n := Network{
		Nodes: []Node{{}, {}},
		Links: []Link{
			{From: 0, To: 1, Law: Pump{Curve: curve, Speed: 1}},
			{From: 1, To: 0, Law: Function(func(q float64) (float64, float64) { return 0.3e6 * q * math.Abs(q), 0.6e6 * math.Abs(q) })},
		},
	}
	r := solve(t, n, water20, Options{})
	near(t, "flow", float64(r.Flow[0])*1000, math.Sqrt(80), 1e-9)
	near(t, "pump head", -float64(r.Drop[0]), 24, 1e-9)
	if !math.IsNaN(float64(r.Head[0])) || len(r.Afloat) != 1 || len(r.Afloat[0]) != 2 {
		t.Errorf("heads %v, afloat %v", r.Head, r.Afloat)
	}
}

// Nothing open at all is a valid state.
func TestEverythingShut(t *testing.T) {
	n := series(10, Valve{0}, Valve{0}, Valve{0})
	r := solve(t, n, water20, Options{})
	if r.Flow[0] != 0 || r.Flow[1] != 0 || r.Flow[2] != 0 || len(r.Afloat) != 2 {
		t.Errorf("flow %v, afloat %v", r.Flow, r.Afloat)
	}
	if r := solve(t, Network{}, water20, Options{}); len(r.Flow) != 0 {
		t.Errorf("an empty network: %v", r)
	}
}

// A pump asked for more than its curve holds says so.
func TestBeyondCurve(t *testing.T) {
	curve, err := Through([]Duty{{0.001, 40}, {0.005, 35}, {0.01, 20}})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		flow    float64
		outside bool
	}{{0.011, true}, {0.01, false}, {0.005, false}, {0.0005, true}} {
		n := Network{
			Nodes: []Node{tank(0), {Demand: quantity.Flow(c.flow)}},
			Links: []Link{{From: 0, To: 1, Law: Pump{Curve: curve, Speed: 1}}},
		}
		if r := solve(t, n, water20, Options{}); (len(r.Outside) == 1) != c.outside {
			t.Errorf("%v m³/s: outside %v", c.flow, r.Outside)
		}
	}
}

// A gain adds to the head whatever the flow is.
func TestGain(t *testing.T) {
	law := Function(func(q float64) (float64, float64) { return 1e6 * q * math.Abs(q), 2e6 * math.Abs(q) })
	n := series(0, law)
	n.Links[0].Gain = 4
	r := solve(t, n, water20, Options{})
	near(t, "flow", float64(r.Flow[0]), 2e-3, 1e-9)
}

// A solve does not depend on what the solver did before: the same settings give the
// same result to the last bit.
func TestSolvesDoNotDependOnEarlierOnes(t *testing.T) {
	net := gridNetwork(7, 8)
	s, err := NewSolver(net)
	if err != nil {
		t.Fatal(err)
	}
	run := func(f Fluid, o Options) *Result {
		t.Helper()
		r, err := s.Solve(f, o)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	cold := run(water20, Options{})
	valve, open, throttled := gridValve(net)
	set := func(law Law) {
		link := s.Link(valve)
		link.Law = law
		if err := s.SetLink(valve, link); err != nil {
			t.Fatal(err)
		}
	}
	set(throttled)
	warm := run(water20, Options{Start: cold})
	run(water80, Options{})
	run(water20, Options{Friction: Moody})
	if again := run(water20, Options{Start: cold}); !slices.Equal(again.Flow, warm.Flow) || !slices.Equal(again.Head, warm.Head) {
		t.Error("from the same start: another result after other solves")
	}
	set(open)
	if again := run(water20, Options{}); !slices.Equal(again.Flow, cold.Flow) || !slices.Equal(again.Head, cold.Head) {
		t.Error("from scratch: another result after other solves")
	}
}

// From the last solution a changed valve leads to the same solution as from
// scratch, in fewer steps, whichever way and however far it is turned.
func TestOneValveTurned(t *testing.T) {
	net := gridNetwork(9, 9)
	valve, _, _ := gridValve(net)
	s, err := NewSolver(net)
	if err != nil {
		t.Fatal(err)
	}
	before, err := s.Solve(water20, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, kv := range []float64{1000, 200, 40, 8, 1, 0.05} {
		link := s.Link(valve)
		link.Law = Valve{quantity.ValveFlow(kv / 3600)}
		if err := s.SetLink(valve, link); err != nil {
			t.Fatal(err)
		}
		scratch, err := s.Solve(water20, Options{})
		if err != nil {
			t.Fatal(err)
		}
		warm, err := s.Solve(water20, Options{Start: before})
		if err != nil {
			t.Fatal(err)
		}
		if warm.Iterations >= scratch.Iterations {
			t.Errorf("Kv %g: %d steps, from scratch %d", kv, warm.Iterations, scratch.Iterations)
		}
		for i := range warm.Flow {
			if off := math.Abs(float64(warm.Flow[i] - scratch.Flow[i])); off > 1e-8*math.Abs(float64(scratch.Flow[i]))+1e-9 {
				t.Errorf("Kv %g, link %d: %g m³/s, from scratch %g", kv, i, float64(warm.Flow[i]), float64(scratch.Flow[i]))
			}
		}
		before = warm
	}
}
