package hydraulic

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"rinsewright/model/quantity"
)

// holds checks a solution against the network alone: at each node what comes is
// what goes, along each link the head falls as its law says, and what is shut or
// holds passes nothing.
func holds(t *testing.T, n Network, f Fluid, r *Result) {
	t.Helper()
	const flowTolerance, headTolerance = 1e-9, 2e-8
	balance, greatest := make([]float64, len(n.Nodes)), 1e-3
	for i, l := range n.Links {
		balance[l.From] -= float64(r.Flow[i])
		balance[l.To] += float64(r.Flow[i])
		greatest = max(greatest, math.Abs(float64(r.Flow[i])))
	}
	for i, node := range n.Nodes {
		if !node.Fixed && math.Abs(balance[i]-float64(node.Demand)) > flowTolerance*greatest {
			t.Errorf("node %s: %g m³/s come, %g are taken", node.Name, balance[i], float64(node.Demand))
		}
	}
	isHeld := map[int]bool{}
	for _, i := range r.Held {
		isHeld[i] = true
	}
	for i, l := range n.Links {
		q, drop := float64(r.Flow[i]), float64(r.Drop[i])
		if l.OneWay && q < 0 {
			t.Errorf("link %s: %g m³/s against its way", l.Name, q)
		}
		if l.Shut || isHeld[i] {
			if q != 0 {
				t.Errorf("link %s: %g m³/s through what is shut", l.Name, q)
			}
			continue
		}
		var want float64
		switch law := l.Law.(type) {
		case Pipe:
			area := math.Pi / 4 * float64(law.Bore) * float64(law.Bore)
			v := q / area
			friction := 0.0
			if re := math.Abs(v) * float64(law.Bore) / f.Kinematic(); re > 0 {
				factor, _ := Moody(re, float64(law.Roughness/metres(float64(law.Bore))))
				friction = factor * float64(law.Length) / float64(law.Bore)
			}
			want = (friction + float64(law.Loss)) * v * math.Abs(v) / (2 * StandardGravity)
		case Valve:
			ratio := q / float64(law.Kv)
			want = ratio * math.Abs(ratio) * 1e5 / (1000 * StandardGravity)
		case Pump:
			h, _ := law.Curve.At(q / float64(law.Speed))
			want = -h * float64(law.Speed*law.Speed)
			if q < 0 {
				t.Errorf("pump %s: %g m³/s flow back", l.Name, q)
			}
			if q == 0 && drop > want-headTolerance {
				continue // just held
			}
		}
		if math.Abs(drop-want) > headTolerance*(1+math.Abs(want)) {
			t.Errorf("link %s: head falls by %.12g, by its law %.12g at %g m³/s", l.Name, drop, want, q)
		}
	}
}

func TestRandomNetworks(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	steps, links := 0, 0
	for trial := 0; trial < 400; trial++ {
		n := randomNetwork(r, 3+r.IntN(60))
		f := []Fluid{water20, water80, {1050, 0.02}}[trial%3]
		s := solver(t, n)
		result, err := s.Solve(f, Options{})
		if err != nil {
			t.Fatalf("trial %d: %v", trial, err)
		}
		if result.Leak != 0 {
			t.Errorf("trial %d: one-way links did not settle: leak %g", trial, float64(result.Leak))
		}
		steps, links = max(steps, result.Iterations), links+len(n.Links)
		holds(t, n, f, result)
		if t.Failed() {
			t.Fatalf("trial %d", trial)
		}
		// The same from another start and by a clone: the solution is unique.
		again, err := s.Clone().Solve(f, Options{Start: result})
		if err != nil {
			t.Fatal(err)
		}
		for i := range again.Flow {
			if math.Abs(float64(again.Flow[i]-result.Flow[i])) > 1e-7 {
				t.Errorf("trial %d: link %d: %g and %g m³/s from two starts", trial, i, float64(result.Flow[i]), float64(again.Flow[i]))
			}
		}
	}
	t.Logf("%d links, at most %d steps", links, steps)
}

// Monotone: raising a tank raises what flows out of it; shutting or throttling a
// link of a network never raises the flow in that link.
func TestMonotone(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for trial := 0; trial < 150; trial++ {
		n := randomNetwork(r, 4+r.IntN(30))
		s := solver(t, n)
		before, err := s.Solve(water20, Options{})
		if err != nil {
			t.Fatal(err)
		}
		out := func(res *Result) float64 { // of node 0, a tank
			sum := 0.0
			for i, l := range n.Links {
				if l.From == 0 {
					sum += float64(res.Flow[i])
				}
				if l.To == 0 {
					sum -= float64(res.Flow[i])
				}
			}
			return sum
		}
		higher := s.Node(0)
		higher.Level += 3
		if err := s.SetNode(0, higher); err != nil {
			t.Fatal(err)
		}
		after, err := s.Solve(water20, Options{Start: before})
		if err != nil {
			t.Fatal(err)
		}
		if out(after) < out(before)-1e-8 {
			t.Errorf("trial %d: a higher tank gives %g instead of %g m³/s", trial, out(after), out(before))
		}
		if err := s.SetNode(0, n.Nodes[0]); err != nil {
			t.Fatal(err)
		}
		for i, l := range n.Links {
			p, ok := l.Law.(Pipe)
			if !ok || l.Shut || l.OneWay {
				continue
			}
			p.Loss += 20
			throttled := l
			throttled.Law = p
			if err := s.SetLink(i, throttled); err != nil {
				t.Fatal(err)
			}
			res, err := s.Solve(water20, Options{Start: before})
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(float64(res.Flow[i])) > math.Abs(float64(before.Flow[i]))+1e-8 {
				t.Errorf("trial %d: throttled link %d passes %g instead of %g m³/s", trial, i, float64(res.Flow[i]), float64(before.Flow[i]))
			}
			if err := s.SetLink(i, l); err != nil {
				t.Fatal(err)
			}
			break
		}
	}
}

// Many one-way links in a grid, at random both ways: they settle.
func TestManyOneWayLinks(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	for trial := 0; trial < 60; trial++ {
		n := gridNetwork(6+r.IntN(10), 6+r.IntN(10))
		for i := range n.Nodes {
			if r.IntN(20) == 0 && !n.Nodes[i].Fixed {
				n.Nodes[i] = Node{Name: n.Nodes[i].Name, Fixed: true, Level: metres(100 * r.Float64())}
			}
			n.Nodes[i].Demand = 0
		}
		for i := range n.Links {
			if r.IntN(3) == 0 {
				n.Links[i].OneWay = true
				if r.IntN(2) == 0 {
					n.Links[i].From, n.Links[i].To = n.Links[i].To, n.Links[i].From
				}
			}
		}
		s := solver(t, n)
		result, err := s.Solve(water20, Options{})
		if err != nil {
			t.Fatalf("trial %d: %v", trial, err)
		}
		if result.Leak != 0 {
			t.Errorf("trial %d: leak %g", trial, float64(result.Leak))
		}
		for i := range result.Drop { // heads of parts between holding links are unknown
			if math.IsNaN(float64(result.Drop[i])) && result.Flow[i] != 0 {
				t.Errorf("trial %d: link %d passes %g at an unknown drop", trial, i, float64(result.Flow[i]))
			}
		}
		holdsOneWay(t, n, result)
	}
}

// holdsOneWay checks the one-way links: nothing passes back, and what holds is
// pushed back where both heads are known.
func holdsOneWay(t *testing.T, n Network, r *Result) {
	t.Helper()
	isHeld := map[int]bool{}
	for _, i := range r.Held {
		isHeld[i] = true
	}
	for i, l := range n.Links {
		if l.OneWay && r.Flow[i] < 0 {
			t.Errorf("link %d: %g m³/s back", i, float64(r.Flow[i]))
		}
		if isHeld[i] && float64(r.Drop[i]) > 1e-6 {
			t.Errorf("link %d holds although %g m push it open", i, float64(r.Drop[i]))
		}
	}
}

func TestOddInput(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := tube(10, 50, 1)
	for name, change := range map[string]func(*Network){
		"NaN length":      func(n *Network) { p := good; p.Length = metres(nan); n.Links[0].Law = p },
		"infinite length": func(n *Network) { p := good; p.Length = metres(inf); n.Links[0].Law = p },
		"no bore":         func(n *Network) { p := good; p.Bore = 0; n.Links[0].Law = p },
		"tiny bore":       func(n *Network) { p := good; p.Bore = 1e-9; n.Links[0].Law = p },
		"huge bore":       func(n *Network) { p := good; p.Bore = 1e9; n.Links[0].Law = p },
		"rough":           func(n *Network) { p := good; p.Roughness = 0.01; n.Links[0].Law = p },
		"negative loss":   func(n *Network) { p := good; p.Loss = -1; n.Links[0].Law = p },
		"NaN Kv":          func(n *Network) { n.Links[0].Law = Valve{quantity.ValveFlow(nan)} },
		"emitter":         func(n *Network) { n.Links[0].Law = Emitter{1e-3, 0} },
		"pump":            func(n *Network) { n.Links[0].Law = Pump{Speed: 1} },
		"constant flow":   func(n *Network) { n.Links[0].Law = ConstantFlow{quantity.Flow(inf)} },
		"falling law":     func(n *Network) { n.Links[0].Law = Function(func(q float64) (float64, float64) { return -q, -1 }) },
		"no law":          func(n *Network) { n.Links[0].Law = nil },
		"no function":     func(n *Network) { n.Links[0].Law = Function(nil) },
		"gain":            func(n *Network) { n.Links[0].Gain = metres(nan) },
		"to itself":       func(n *Network) { n.Links[0].To = n.Links[0].From },
		"no such node":    func(n *Network) { n.Links[0].To = 9 },
		"elevation":       func(n *Network) { n.Nodes[1].Elevation = metres(nan) },
		"demand":          func(n *Network) { n.Nodes[1].Demand = quantity.Flow(inf) },
		"level":           func(n *Network) { n.Nodes[0].Level = metres(nan) },
		"gas":             func(n *Network) { n.Nodes[0].Gas = quantity.Pressure(inf) },
		"demand of tank":  func(n *Network) { n.Nodes[0].Demand = 1e-3 },
	} {
		n := series(10, good, good)
		n.Links[0].Name, n.Nodes[0].Name, n.Nodes[1].Name = "P1", "T0", "N1"
		change(&n)
		_, err := NewSolver(n)
		var input *InputError
		if !errors.As(err, &input) {
			t.Errorf("%s: error %v, want InputError", name, err)
			continue
		}
		if input.Where != "link P1" && input.Where != "node T0" && input.Where != "node N1" {
			t.Errorf("%s: said of %q", name, input.Where)
		}
	}
	s := solver(t, series(10, good, good))
	for _, f := range []Fluid{{}, {nan, 1e-3}, {1000, 0}, {1000, inf}, {1e9, 1e-3}, {1000, 1e9}} {
		if _, err := s.Solve(f, Options{}); err == nil {
			t.Errorf("fluid %v: no error", f)
		}
	}
	if err := s.SetLink(0, Link{From: 1, To: 0, Law: good}); err == nil {
		t.Error("no error for other ends")
	}
	if err := s.SetNode(0, Node{}); err == nil {
		t.Error("no error for a head that becomes free")
	}
	if _, err := s.Solve(water20, Options{Start: &Result{}}); err == nil {
		t.Error("no error for the result of another network")
	}
	if _, err := s.Solve(water20, Options{}); err != nil {
		t.Errorf("the solver did not keep its settings: %v", err)
	}
	_, err := s.Solve(water20, Options{Iterations: 1, HeadTolerance: 1e-12})
	var no *ConvergenceError
	if !errors.As(err, &no) || no.Link == "-" || !(no.Head > 0) {
		t.Errorf("error %v after one step, want ConvergenceError with the worst link", err)
	}
}

// Pipes of no length and links that hardly resist beside ordinary ones.
func TestLinksThatHardlyResist(t *testing.T) {
	n := series(5, tube(0, 50, 0), tube(30, 38, 2), Loss{0, 0.1}, Pipe{0.001, 5, 0, 0}, tube(0, 26, 0))
	n.Links = append(n.Links, Link{From: 1, To: 0, Law: tube(0, 100, 0)}) // beside the first
	r := solve(t, n, water20, Options{})
	alone := solve(t, series(5, tube(30, 38, 2)), water20, Options{})
	near(t, "flow", float64(r.Flow[1]), float64(alone.Flow[0]), 1e-6)
	// How the two without resistance share the flow lies within the tolerance of
	// heads; that they carry it together does not.
	near(t, "together", float64(r.Flow[0]-r.Flow[5]), float64(r.Flow[1]), 1e-9)
}

// Whatever the numbers, there is an answer or words, never a panic or a hang.
func FuzzSolve(f *testing.F) {
	f.Add(uint64(1), 10.0, 0.05, 1e-6, 2.0, 1e-3, 20.0, 1e-3, 1000.0)
	f.Add(uint64(2), 0.0, 1e-4, 0.0, 0.0, 0.0, 0.0, 1e-3, 1000.0)
	f.Add(uint64(3), 1e6, 10.0, 0.0, 1e9, -1e3, 1e6, 1e-6, 0.02)
	f.Add(uint64(4), 1e-300, 1e-4, 5e-6, 1e-300, 1e-300, -1e6, 1.0, 1e5)
	f.Add(uint64(5), math.NaN(), 0.05, 0.0, 0.0, math.Inf(1), 1.0, 1e-3, 1000.0)
	f.Fuzz(func(t *testing.T, seed uint64, length, bore, rough, loss, flow, level, viscosity, density float64) {
		r := rand.New(rand.NewPCG(seed, 1))
		n := randomNetwork(r, 2+int(seed%9))
		odd := Pipe{metres(length), quantity.Bore(bore), metres(rough), quantity.Ratio(loss)}
		for i := range n.Links {
			switch r.IntN(8) {
			case 0:
				n.Links[i].Law = odd
			case 1:
				n.Links[i].Law = Valve{quantity.ValveFlow(flow)}
			case 2:
				n.Links[i].Law = Emitter{quantity.Flow(flow), quantity.Pressure(level)}
			case 3:
				n.Links[i].Law = ConstantFlow{quantity.Flow(flow)}
			case 4:
				n.Links[i].Gain = metres(level)
			}
		}
		for i := range n.Nodes {
			if n.Nodes[i].Fixed && r.IntN(2) == 0 {
				n.Nodes[i].Level = metres(level)
			}
		}
		s, err := NewSolver(n)
		if err != nil {
			if err.Error() == "" {
				t.Error("an error without words")
			}
			return
		}
		result, err := s.Solve(Fluid{density, viscosity}, Options{})
		if err != nil {
			if err.Error() == "" {
				t.Error("an error without words")
			}
			return
		}
		for i, q := range result.Flow {
			if math.IsNaN(float64(q)) || math.IsInf(float64(q), 0) {
				t.Errorf("link %d: flow %g without an error", i, float64(q))
			}
		}
	})
}
