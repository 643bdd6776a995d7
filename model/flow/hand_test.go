package flow_test

import (
	"math"
	"testing"

	"rinsewright/model"
	"rinsewright/model/flow"
)

// colebrook solves Colebrook's equation (1939) by repeated insertion, apart from the
// program's own solution of it.
func colebrook(re, roughness float64) float64 {
	x := 8.0
	for range 200 {
		x = -2 * math.Log10(roughness/3.7+2.51*x/re)
	}
	return 1 / (x * x)
}

const g = 9.80665

// head gives v²/2g of a flow (m³/s) in a bore (m).
func head(q, d float64) float64 {
	v := q / (math.Pi / 4 * d * d)
	return v * v / (2 * g)
}

// hooper gives K = K1/Re + K∞(1 + 25.4/d) (W. B. Hooper, Chem. Eng. 88 (1981) 96).
func hooper(k1, kinf, re, d float64) float64 { return k1/re + kinf*(1+0.0254/d) }

// root finds where a rising function is zero.
func root(f func(float64) float64, low, high float64) float64 {
	for range 200 {
		if mid := (low + high) / 2; f(mid) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// Water at 20 °C and at 80 °C (trade tables from IAPWS-IF97 and R12-08).
const (
	density20, viscosity20 = 998.21, 1.0016e-3
	density80, viscosity80 = 971.80, 0.3541e-3
)

// loop is tank - pump - line - spray ball in a vessel - return by gravity or a return
// pump to a drain. Heights: tank's outlet 1.0 with 2.0 m of water, pump at 0.5, spray
// ball at 4.5, vessel's outlet at 1.5.
func loop(t testing.TB, pump, spray string) *sketch {
	s := newSketch(t)
	s.part("T1", "water-tank", `"elevation_m":1,"diameter_m":2,"height_m":3,"level_m":2,"size":"`+dn50+`","inlet_size":"`+dn50+`","vented":true`)
	s.part("P1", "centrifugal-pump", `"elevation_m":0.5,"size":"`+dn50+`","outlet_size":"`+dn50+`",`+pump)
	s.part("B1", "spray-ball", `"elevation_m":4.5,"size":"`+dn50+`",`+spray)
	s.part("V1", "process-vessel", `"elevation_m":1.5,"diameter_m":2,"height_m":3,"size":"`+dn50+`","inlet_size":"`+dn50+`","vented":true`)
	s.run("T1.outlet", "P1.a", dn50, 1, stretch{2, -0.5})
	s.run("P1.b", "B1.a", dn50, 4, stretch{20, 0}, stretch{10, 4})
	s.face("B1.out", "V1.spray")
	return s
}

const (
	rated = `"rated_flow_m3h":14,"rated_head_m":38,"efficiency_pct":58,"npsh_required_m":2`
	ball  = `"rated_flow_m3h":12,"rated_pressure_bar":1.8`
)

// drained adds a return to a drain: 3 m down and along, by gravity.
func (s *sketch) drained() model.ID {
	s.part("D1", "sewer-drain", `"elevation_m":0.2,"size":"`+dn50+`"`)
	return s.run("V1.outlet", "D1.a", dn50, 1, stretch{1, -1}, stretch{4, -0.3})
}

// The supply of the loop by hand: with Q in m³/s, from the surface of the tank at
// 3.0 m to the ball at 4.5 m,
// 3.0 + Hp(Q) = 4.5 + Δp(Q)/ρg + (0.5 entrance + f·32/0.05 + 5 bends K) v²/2g,
// Hp = 1.2·38 - 0.2·38 (Q/Q0)², Δp = 1.8 bar (ρ/1000)(Q/12)².
func TestLoopByHand(t *testing.T) {
	s := loop(t, rated, ball)
	s.drained()
	sol := s.whole(water("T1", "D1", 20, "P1"), flow.Options{})

	const d, eps = 0.05, 1.5e-6
	off := func(q float64) float64 {
		re := 4 * q / (math.Pi * d * viscosity20 / density20)
		f := colebrook(re, eps/d)
		lost := (0.5 + f*32/d + 5*hooper(800, 0.20, re, d)) * head(q, d)
		spray := 1.8e5 / (1000 * g) * math.Pow(q*3600/12, 2)
		pump := 1.2*38 - 0.2*38*math.Pow(q*3600/14, 2)
		return 4.5 - 3.0 + lost + spray - pump
	}
	q := root(off, 1e-4, 1e-2)
	near(t, "flow m³/h", known(t, "flow", sol.Supply.Flow)*3600, q*3600, 2e-4*q*3600) // the property tables have five digits
	p := sol.Pumps[0]
	near(t, "head of the pump", known(t, "head", p.Head), 1.2*38-0.2*38*math.Pow(q*3600/14, 2), 0.01)
	near(t, "pressure of the ball, bar", known(t, "pressure", sol.Sprays[0].Pressure)/1e5, 1.8*density20/1000*math.Pow(q*3600/12, 2), 1e-3)
	if sol.Sprays[0].Vessel != "V1" {
		t.Errorf("it sprays into %q", sol.Sprays[0].Vessel)
	}
	// P = ρ g Q H / η
	near(t, "shaft power W", known(t, "power", p.Power), density20*g*q*float64(p.Head.Or(0))/0.58, 5)
	// τ = f ρ v²/8
	edge := sol.Edges[sol.Plant.RunEdges("r00001")[0]]
	re := 4 * q / (math.Pi * d * viscosity20 / density20)
	near(t, "Reynolds", known(t, "Re", edge.Reynolds), re, 1e-3*re)
	near(t, "shear Pa", known(t, "shear", edge.Shear), colebrook(re, eps/d)*density20*2*g*head(q, d)/8, 0.01)
}

// A flow asked for sets the speed: then head and flow are on the affine curve,
// H = n²·H0(Q/n).
func TestSpeedForAskedFlow(t *testing.T) {
	s := loop(t, rated, ball)
	s.drained()
	sol := s.whole(asks(water("T1", "D1", 20, "P1"), 10), flow.Options{})
	near(t, "flow", known(t, "flow", sol.Supply.Flow)*3600, 10, 1e-6)
	p := sol.Pumps[0]
	n, h := known(t, "speed", p.Speed), known(t, "head", p.Head)
	near(t, "head on the affine curve", h, n*n*(1.2*38-0.2*38*math.Pow(10/n/14, 2)), 1e-6)
	if !p.Regulated || n >= 1 {
		t.Errorf("regulated %v at %.3f", p.Regulated, n)
	}
	const d = 0.05
	q := 10.0 / 3600
	re := 4 * q / (math.Pi * d * viscosity20 / density20)
	lost := (0.5 + colebrook(re, 1.5e-6/d)*32/d + 5*hooper(800, 0.20, re, d)) * head(q, d)
	near(t, "head by hand", h, 1.5+lost+1.8e5/(1000*g)*100/144, 2e-3)
	if sol.Supply.Short.Known() {
		t.Errorf("falls short by %v", sol.Supply.Short)
	}
}

// Two equal pumps side by side: each of their flows is a share, what is supplied is
// what leaves the source. One pump with a way round it passes more than is
// supplied. Both by the balance at the node.
func TestSupplyIsWhatTheSourceGives(t *testing.T) {
	s := newSketch(t)
	s.part("T1", "water-tank", `"elevation_m":2,"diameter_m":2,"height_m":3,"level_m":2,"size":"`+dn50+`","vented":true`)
	for _, id := range []string{"A", "B"} {
		s.part(id, "tee", `"elevation_m":0.5,"size":"`+dn50+`","second_size":"`+dn50+`","run_mm":100,"stub_mm":40`)
	}
	for _, id := range []string{"P1", "P2"} {
		s.part(id, "centrifugal-pump", `"elevation_m":0.5,"size":"`+dn50+`","outlet_size":"`+dn50+`",`+rated)
	}
	s.part("D1", "sewer-drain", `"elevation_m":3,"size":"`+dn50+`"`)
	s.run("T1.outlet", "A.a", dn50, 0, stretch{2, -1.5})
	s.run("A.b", "P1.a", dn50, 0, stretch{1, 0})
	s.run("A.branch", "P2.a", dn50, 0, stretch{1, 0})
	s.run("P1.b", "B.a", dn50, 0, stretch{1, 0})
	s.run("P2.b", "B.branch", dn50, 0, stretch{1, 0})
	s.run("B.b", "D1.a", dn50, 0, stretch{20, 2.5})
	sol := s.solve(asks(water("T1", "D1", 20, "P1", "P2"), 24), flow.Options{})
	if !sol.Solved() {
		t.Fatalf("%v %v", sol.Failures, sol.Missing)
	}
	sum := 0.0
	for _, p := range sol.Pumps {
		sum += known(t, "flow of a pump", p.Flow)
	}
	near(t, "supply is the sum of both pumps", known(t, "supply", sol.Supply.Flow), sum, 1e-6)
	near(t, "supply is what is drawn", known(t, "supply", sol.Supply.Flow), known(t, "drawn", sol.Supply.Drawn), 1e-9)
	if short, falls := sol.Supply.Short.Get(); falls && float64(short)*3600 > 24-sum*3600+1e-6 {
		t.Errorf("falls short by %.2f m³/h though %.2f of 24 flow", float64(short)*3600, sum*3600)
	}
	if speed, ok := sol.Supply.Speed.Get(); ok && speed < 1 && sol.Supply.Full.Known() {
		t.Errorf("flow at full speed is told at %.2f of it", float64(speed))
	}
}

// A pump too small gives what it can at full speed, and says by how much that falls
// short.
func TestSupplyFallsShort(t *testing.T) {
	s := loop(t, rated, ball)
	s.drained()
	free := s.whole(water("T1", "D1", 20, "P1"), flow.Options{})
	sol := s.whole(asks(water("T1", "D1", 20, "P1"), 20), flow.Options{})
	full := known(t, "flow", free.Supply.Flow)
	near(t, "flow at full speed", known(t, "flow", sol.Supply.Full)*3600, full*3600, 1e-5)
	near(t, "short", known(t, "short", sol.Supply.Short)*3600, 20-full*3600, 1e-5)
	near(t, "speed", known(t, "speed", sol.Supply.Speed), 1, 0)
	n := known(t, "needed", sol.Supply.Needed)
	fast := s.whole(asks(water("T1", "D1", 20, "P1"), 20), flow.Options{MostSpeed: 2})
	near(t, "needed speed", n, known(t, "speed", fast.Supply.Speed), 1e-3)
}

// parallel is two ways of given bores and lengths between two supplies of equal
// pressure drop, without any tee: the first valve of both housings of a mix-proof
// valve passes the flow on, its open seat passes the rest into the second line. The
// seat of the first line's valve and that of the second both give K 3.
func parallel(t testing.TB, sizeB string, boreB, lengthA, lengthB float64) (*sketch, model.ID, model.ID) {
	kv := func(k, bore float64) float64 { return bore * 1000 * bore * 1000 * math.Sqrt(1.6e-3/k) } // K = 1.6e-3 D⁴/Kv²
	s := newSketch(t)
	s.part("W", "water-supply", `"elevation_m":0,"pressure_bar":1`)
	s.part("M", "mix-proof-valve", `"elevation_m":0,"size":"`+dn50+`","second_size":"`+sizeB+`","seat_a_mm":0,"seat_b_mm":0,"kv_m3h":`+number(kv(3, boreB)))
	s.part("N", "mix-proof-valve", `"elevation_m":0,"size":"`+dn50+`","second_size":"`+sizeB+`","seat_a_mm":0,"seat_b_mm":0,"kv_m3h":1e6`)
	s.part("S", "seat-valve", `"elevation_m":0,"size":"`+dn50+`","seat_a_mm":0,"seat_b_mm":0,"kv_m3h":`+number(kv(3, 0.05)))
	s.part("C1", "cap", "")
	s.part("C2", "cap", "")
	s.part("O", "product-outlet", `"elevation_m":0,"pressure_bar":0.5,"size":"`+dn50+`"`)
	s.run("W.a", "M.a", dn50, 0, stretch{1, 0})
	a := s.run("M.b", "S.a", dn50, 0, stretch{lengthA, 0})
	s.face("S.b", "N.a")
	b := s.run("M.c", "N.c", sizeB, 0, stretch{lengthB, 0})
	s.face("M.d", "C1.a")
	s.face("N.d", "C2.a")
	s.run("N.b", "O.a", dn50, 0, stretch{1, 0})
	return s, a, b
}

// Two open ways in one step share the flow by their resistance. The values are of an
// equal pressure drop over both ways with ΣK 3 each: 10.6 m³/h water of 80 °C, ε
// 1.5 µm, Colebrook; worked out apart from this program.
func TestParallelSplit(t *testing.T) {
	for _, c := range []struct {
		size         string
		bore         float64
		lengthA      float64
		lengthB      float64
		vA, vB       float64
		shareA, both float64
	}{
		{dn50, 0.05, 20, 40, 0.858, 0.642, 57.2, 10.6},
		{dn40, 0.038, 20, 20, 0.995, 0.873, 66.4, 10.6},
	} {
		s, a, b := parallel(t, c.size, c.bore, c.lengthA, c.lengthB)
		st := water("W", "O", 80)
		st.Positions = map[model.ID]string{"M": "open", "N": "open", "S": "open"}
		// The supply's pressure is what gives 10.6 m³/h in all.
		low, high := 0.5, 2.0
		var sol *flow.Solution
		for range 40 {
			mid := (low + high) / 2
			s.set("W", `"pressure_bar":`+number(mid))
			sol = s.whole(st, flow.Options{})
			if known(t, "flow", sol.Supply.Flow)*3600 < c.both {
				low = mid
			} else {
				high = mid
			}
		}
		qa, qb := flowIn(t, sol, a), flowIn(t, sol, b)
		near(t, c.size+" share of A, %", 100*qa/(qa+qb), c.shareA, 0.05)
		va := known(t, "velocity", sol.Edges[sol.Plant.RunEdges(a)[0]].Velocity)
		vb := known(t, "velocity", sol.Edges[sol.Plant.RunEdges(b)[0]].Velocity)
		near(t, c.size+" v in A", va, c.vA, 0.001)
		near(t, c.size+" v in B", vb, c.vB, 0.001)
		if len(sol.Splits) != 1 || len(sol.Splits[0].Branches) != 2 {
			t.Fatalf("splits %v", sol.Splits)
		}
		near(t, "reported share", 100*float64(sol.Splits[0].Branches[0].Share), 100*qa/(qa+qb), 1e-6)
	}
}
