package flow_test

import (
	"testing"

	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/flow"
	"rinsewright/model/fluid"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

func demo(t testing.TB, name string) *network.Plant {
	t.Helper()
	c, err := circuitfile.ReadFile("../../assets/demo/" + name + ".circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	return network.Build(c, catalogue.Builtin())
}

// The demo circuits are complete: every step with a source is solved, gives the flow
// it asks for wherever the whole of it passes, and the spray device what it is rated
// for.
func TestDemoCircuits(t *testing.T) {
	for _, name := range []string{"oat-drink-station", "pharma-loop"} {
		p := demo(t, name)
		h := p.Heights()
		solved := 0
		for _, st := range p.Circuit.Steps() {
			if st.Source == "" || !st.Temperature.Known() {
				continue // a step that only drains, or tells too little
			}
			s, err := flow.Solve(p, h, st, flow.Options{})
			if err != nil || !s.Solved() {
				t.Errorf("%s, %s %s: %v %v %v", name, st.Programme, st.Name, err, s.Missing, s.Failures)
				continue
			}
			solved++
			balanced(t, s)
			asked := float64(st.Flow.Or(0))
			if name == "oat-drink-station" && s.Supply.Short.Known() {
				t.Errorf("%s: short by %v", st.Name, s.Supply.Short)
			}
			near(t, name+" "+st.Name, known(t, "flow", s.Supply.Flow)+float64(s.Supply.Short.Or(0)), asked, 1e-9)
			asked -= float64(s.Supply.Short.Or(0))
			whole := 0
			for e := range s.Edges {
				if !s.Route.Whole[e] {
					continue
				}
				whole++
				q := s.Edges[e].Flow.Or(0)
				if s.Route.Forward[e] < 0 {
					q = -q
				}
				near(t, "flow where the whole passes", float64(q), asked, 1e-8)
				v, missing := p.Velocity(s.Route, e)
				if got, ok := s.Edges[e].Velocity.Get(); ok && missing == nil && !s.Supply.Short.Known() {
					near(t, "velocity there", float64(max(got, -got)), float64(v.Or(0)), 1e-5)
				}
			}
			if whole < 50 {
				t.Errorf("%s: the whole flow passes %d edges only", st.Name, whole)
			}
			for _, x := range s.Sprays {
				if x.Flow.Or(0) > 0 { // rated 12 m³/h at 1.8 bar, 6 m³/h at 3 bar
					share := float64(x.Flow.Or(0)) * 3600 / map[string]float64{"oat-drink-station": 12, "pharma-loop": 6}[name]
					at := share * share * map[string]float64{"oat-drink-station": 1.8, "pharma-loop": 3}[name]
					density := float64(s.Properties.Or(zero).Density)
					near(t, "pressure of the spray device", known(t, "p", x.Pressure)/1e5, at*density/1000, 1e-6)
				}
			}
			for _, x := range s.Pumps {
				if q, h, ok := float64(x.Flow.Or(0)), x.Head.Or(0), x.Power.Known(); x.Running && ok {
					eta := map[string]float64{"p-p-101": 0.58, "p-p-201": 0.45, "p-p-10": 0.50, "p-p-20": 0.40}[string(x.Pump)]
					want := float64(s.Properties.Or(zero).Density) * g * q * float64(h) / eta
					near(t, "power of "+string(x.Pump), float64(x.Power.Or(0)), want, 1e-6*want)
				}
			}
			if n := len(s.Along); n != len(s.Route.Ways)+1 || s.Along[n-2].Distance.Or(0) < 10 {
				t.Errorf("%d points along %d edges, the last at %v", n, len(s.Route.Ways), s.Along[n-2].Distance)
			}
		}
		if solved < 4 {
			t.Errorf("%s: only %d steps solved", name, solved)
		}
	}
}

// The energy that pumps give is what the liquid gains in height and pressure and
// loses on the way: along the way from source to destination heads add up.
func TestEnergyAlongTheWay(t *testing.T) {
	p := demo(t, "oat-drink-station")
	h := p.Heights()
	for _, st := range p.Circuit.Steps() {
		if st.Source == "" || !st.Temperature.Known() {
			continue
		}
		s, err := flow.Solve(p, h, st, flow.Options{})
		if err != nil {
			t.Fatal(err)
		}
		gained, lost, broken := 0.0, 0.0, 0.0
		for i, pt := range s.Along[1 : len(s.Along)-1] {
			l := known(t, "loss", s.Edges[pt.Edge].Loss)
			if pt.Break || s.Plant.Nodes[pt.Node].Point == network.Inside {
				a, b := s.Along[i].Head.Or(0), pt.Head.Or(0)
				broken += float64(a - b)
				continue
			}
			if l < 0 && p.Edges[pt.Edge].Part != "" && p.Circuit.Part(p.Edges[pt.Edge].Part).Class() == "pump" {
				gained -= l
			} else {
				lost += l
			}
		}
		first, last := known(t, "head", s.Along[0].Head), known(t, "head", s.Along[len(s.Along)-2].Head)
		near(t, st.Name+": heads add up", first+gained-lost-broken, last, 1e-5)
		sum := 0.0
		for _, x := range s.Pumps {
			if x.Running {
				sum += float64(x.Head.Or(0))
			}
		}
		near(t, st.Name+": the pumps' heads", gained, sum, 1e-6)
	}
}

// A solve that starts from another one gives the same.
func TestWarmStart(t *testing.T) {
	p := demo(t, "oat-drink-station")
	h := p.Heights()
	var warm flow.Solver
	for range 2 {
		for _, st := range p.Circuit.Steps() {
			for _, m3h := range []float64{12, 9, 30} {
				now := *st
				now.Flow = Some(CubicMetresPerHour(m3h))
				a, err := warm.Solve(p, h, &now, flow.Options{})
				if err != nil {
					t.Fatal(err)
				}
				b, err := flow.Solve(p, h, &now, flow.Options{})
				if err != nil {
					t.Fatal(err)
				}
				if a.Solved() != b.Solved() {
					t.Fatalf("%s: solved %v and %v: %v", st.Name, a.Solved(), b.Solved(), a.Failures)
				}
				for e := range a.Edges {
					qa, okA := a.Edges[e].Flow.Get()
					qb, okB := b.Edges[e].Flow.Get()
					if okA != okB || qa-qb > 1e-8 || qb-qa > 1e-8 {
						t.Fatalf("%s: edge %d: %v and %v", st.Name, e, qa, qb)
					}
				}
				for n := range a.Nodes {
					near(t, "head", float64(a.Nodes[n].Head.Or(-1)), float64(b.Nodes[n].Head.Or(-1)), 1e-5)
				}
			}
		}
	}
}

var zero fluid.Properties
