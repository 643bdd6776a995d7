package flow_test

import (
	"math"
	"testing"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/hydraulic"
)

// line is a supply of 3 bar, parts one behind the other, and an open outlet, all at
// one height.
func line(t testing.TB, parts ...[2]string) (*sketch, []string) {
	s := newSketch(t)
	s.part("W", "water-supply", `"elevation_m":0,"pressure_bar":3,"size":"`+dn50+`"`)
	s.part("D", "sewer-drain", `"elevation_m":0,"size":"`+dn50+`"`)
	at := "W.a"
	var ids []string
	for i, p := range parts {
		id := string(rune('A' + i))
		s.part(id, p[0], p[1])
		s.run(at, id+".a", dn50, 0, stretch{2, 0})
		at, ids = id+".b", append(ids, id)
	}
	s.run(at, "D.a", dn50, 0, stretch{2, 0})
	return s, ids
}

// lost gives the head lost in a part, between its ports.
func lost(t testing.TB, s *flow.Solution, id string) float64 {
	t.Helper()
	return known(t, "head", s.Nodes[node(t, s, id+".a")].Head) - known(t, "head", s.Nodes[node(t, s, id+".b")].Head)
}

// What each part loses, by the figure that is told for it or the table it is taken
// from; ρ at 20 °C is 998.21 kg/m³.
func TestLossOfParts(t *testing.T) {
	const d = 0.05
	size := `"size":"` + dn50 + `"`
	for _, c := range []struct {
		name, kind, properties string
		want                   func(q, re float64) float64
	}{
		{"Kv: Δp = 1 bar ρ/1000 (Q/Kv)²", "butterfly-valve", size + `,"seat_a_mm":0,"seat_b_mm":0,"normal":"open","kv_m3h":60`,
			func(q, re float64) float64 { return 1e5 / (1000 * g) * math.Pow(q*3600/60, 2) }},
		{"Hooper, butterfly 800/0.25", "butterfly-valve", size + `,"seat_a_mm":0,"seat_b_mm":0,"normal":"open"`,
			func(q, re float64) float64 { return hooper(800, 0.25, re, d) * head(q, d) }},
		{"Hooper, weir diaphragm 1000/2.0", "diaphragm-valve", size + `,"seat_a_mm":0,"seat_b_mm":0,"normal":"open"`,
			func(q, re float64) float64 { return hooper(1000, 2.0, re, d) * head(q, d) }},
		{"Hooper, swing check 1500/1.5", "check-valve", size,
			func(q, re float64) float64 { return hooper(1500, 1.5, re, d) * head(q, d) }},
		{"exchanger: rated drop at rated flow, power 1.8", "plate-heater", size + `,"pressure_drop_bar":0.6,"rated_flow_m3h":12`,
			func(q, re float64) float64 { return 0.6e5 / (density20 * g) * math.Pow(q*3600/12, 1.8) }},
		{"strainer: 0.2 bar at 1.5 m/s (common practice)", "strainer", size,
			func(q, re float64) float64 { return 0.2e5 / (1000 * g) * head(q, d) * 2 * g / (1.5 * 1.5) }},
		{"hose as a tube", "hose", size + `,"run_mm":4000`,
			func(q, re float64) float64 { return colebrook(re, 1.5e-6/d) * 4 / d * head(q, d) }},
		{"object as a tube of its smallest bore", "filler-line", size + `,"length_m":14,"smallest_bore_mm":40`,
			func(q, re float64) float64 {
				return colebrook(re*0.05/0.04, 1.5e-6/0.04) * 14 / 0.04 * head(q, 0.04)
			}},
		{"instrument: nothing", "flow-transmitter", size, func(q, re float64) float64 { return 0 }},
		{"centrifugal pump that stands: K 10", "centrifugal-pump", size, func(q, re float64) float64 { return 10 * head(q, d) }},
	} {
		s, _ := line(t, [2]string{c.kind, `"elevation_m":0,` + c.properties})
		sol := s.whole(water("W", "D", 20), flow.Options{})
		q := known(t, "flow", sol.Supply.Flow)
		re := 4 * q / (math.Pi * d * viscosity20 / density20)
		near(t, c.name, lost(t, sol, "A"), c.want(q, re), 1e-4*c.want(q, re)+1e-6)
	}
}

// A cone loses after Crane TP-410: widening 2.6 sin(θ/2)(1-β²)², narrowing
// 0.8 sin(θ/2)(1-β²), both on the velocity head of the small end, θ up to 45°.
func TestReducer(t *testing.T) {
	s, _ := line(t, [2]string{"concentric-reducer", `"elevation_m":0,"size":"` + dn50 + `","second_size":"` + dn40 + `","run_mm":60`},
		[2]string{"flow-transmitter", `"size":"` + dn40 + `"`})
	sol := s.whole(water("W", "D", 20), flow.Options{})
	q := known(t, "flow", sol.Supply.Flow)
	half := math.Atan(0.006 / 0.06) // of the angle between the sides: 12 mm over 60 mm
	b2 := 38.0 / 50 * 38 / 50
	re := 4 * q / (math.Pi * 0.038 * viscosity20 / density20)
	tube := colebrook(re, 1.5e-6/0.038) * 0.06 / 0.038
	near(t, "narrowing", lost(t, sol, "A"), (0.8*math.Sin(half)*(1-b2)+tube)*head(q, 0.038), 1e-4)

	turned, _ := line(t, [2]string{"concentric-reducer", `"elevation_m":0,"size":"` + dn40 + `","second_size":"` + dn50 + `","run_mm":60`})
	sol = turned.whole(water("W", "D", 20), flow.Options{})
	q = known(t, "flow", sol.Supply.Flow)
	re = 4 * q / (math.Pi * 0.05 * viscosity20 / density20)
	tube = colebrook(re, 1.5e-6/0.05) * 0.06 / 0.05
	near(t, "widening", lost(t, sol, "A"), 2.6*math.Sin(half)*(1-b2)*(1-b2)*head(q, 0.038)+tube*head(q, 0.05), 1e-4)
}

// A check valve against the flow lets nothing pass and holds the pressure.
func TestCheckValveHolds(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", `"elevation_m":0,"pressure_bar":3`)
	s.part("D", "sewer-drain", `"elevation_m":0,"size":"`+dn50+`"`)
	s.part("T", "tee", `"elevation_m":0,"size":"`+dn50+`","second_size":"`+dn50+`","run_mm":120,"stub_mm":40`)
	s.part("C", "check-valve", `"elevation_m":0,"size":"`+dn50+`"`)
	s.part("X", "water-supply", `"elevation_m":0,"pressure_bar":0.1`)
	s.run("W.a", "T.a", dn50, 0, stretch{10, 0})
	s.run("T.b", "D.a", dn50, 0, stretch{10, 0})
	s.run("X.a", "C.a", dn50, 0, stretch{1, 0})
	back := s.run("C.b", "T.branch", dn50, 0, stretch{1, 0})
	sol := s.whole(water("W", "D", 20), flow.Options{})
	if q := flowIn(t, sol, back); q != 0 {
		t.Errorf("%.3g m³/h pass the check valve", q)
	}
	near(t, "pressure before it, bar", known(t, "p", sol.Nodes[node(t, sol, "C.a")].Pressure)/1e5, 0.1, 1e-9)
	near(t, "pressure behind it", known(t, "p", sol.Nodes[node(t, sol, "C.b")].Pressure), known(t, "p", sol.Nodes[node(t, sol, "T.branch")].Pressure), 1)
}

// At a tee that divides each leg loses what Crane TP-410 says for the share that the
// solution shows, on the velocity head of the whole flow; K of the run may be below
// zero.
func TestTeeDivides(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", `"elevation_m":0,"pressure_bar":2`)
	s.part("D", "sewer-drain", `"elevation_m":0,"size":"`+dn50+`"`)
	s.part("E", "sewer-drain", `"elevation_m":0,"size":"`+dn50+`"`)
	s.part("T", "tee", `"elevation_m":0,"size":"`+dn50+`","second_size":"`+dn50+`","run_mm":0,"stub_mm":0`)
	s.run("W.a", "T.a", dn50, 0, stretch{10, 0})
	s.run("T.b", "D.a", dn50, 0, stretch{5, 0})
	s.run("T.branch", "E.a", dn50, 0, stretch{5, 0})
	sol := s.whole(water("W", "D", 20), flow.Options{})
	q := flowIn(t, sol, "r00001") / 3600
	share := flowIn(t, sol, "r00003") / 3600 / q
	want, err := hydraulic.Tee{Run: 0.05, Branch: 0.05, Angle: 90}.Dividing(share)
	if err != nil {
		t.Fatal(err)
	}
	at := func(name string) float64 { return known(t, "head", sol.Nodes[node(t, sol, name)].Head) }
	near(t, "branch", at("T.a")-at("T.branch"), want.Branch*head(q, 0.05), 1e-5)
	near(t, "run", at("T.a")-at("T.b"), want.Run*head(q, 0.05), 1e-5)
	near(t, "lost to the second drain", known(t, "lost", sol.Supply.Lost), share*q, 1e-9)
	near(t, "share in the split", float64(sol.Splits[0].Branches[1].Share), share, 1e-9)
}

// A pump of positive displacement gives its flow whatever the head.
func TestDisplacementSupply(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", `"elevation_m":0,"pressure_bar":0.2`)
	s.part("P", "lobe-pump", `"elevation_m":0,"size":"`+dn50+`","rated_flow_m3h":8`)
	s.part("D", "sewer-drain", `"elevation_m":5,"size":"`+dn50+`"`)
	s.run("W.a", "P.a", dn50, 0, stretch{2, 0})
	s.run("P.b", "D.a", dn50, 0, stretch{20, 5})
	sol := s.whole(water("W", "D", 20, "P"), flow.Options{})
	near(t, "rated", known(t, "flow", sol.Supply.Flow)*3600, 8, 1e-9)
	sol = s.whole(asks(water("W", "D", 20, "P"), 6), flow.Options{})
	near(t, "asked", known(t, "flow", sol.Supply.Flow)*3600, 6, 1e-9)
	near(t, "speed", known(t, "speed", sol.Pumps[0].Speed), 0.75, 1e-12)
	sol = s.whole(asks(water("W", "D", 20, "P"), 9), flow.Options{})
	near(t, "short", known(t, "short", sol.Supply.Short)*3600, 1, 1e-9)
	// Standing, it shuts the way.
	if sol := s.solve(water("W", "D", 20), flow.Options{}); sol.Solved() && sol.Supply.Flow.Or(0) != 0 {
		t.Errorf("%.2f m³/h pass the pump that stands", sol.Supply.Flow.Or(0)*3600)
	}
}

// Two vessels in a row: what leaves the first through its return pump sprays the
// second; both are in balance.
func TestVesselsInSeries(t *testing.T) {
	s := loop(t, rated, ball)
	s.part("P2", "centrifugal-pump", `"elevation_m":0.3,"size":"`+dn50+`","rated_flow_m3h":14,"rated_head_m":38`)
	s.part("B2", "spray-ball", `"elevation_m":4.5,"size":"`+dn50+`",`+ball)
	s.part("V2", "process-vessel", `"elevation_m":1.5,"diameter_m":2,"height_m":3,"size":"`+dn50+`","inlet_size":"`+dn50+`","vented":true`)
	s.part("D1", "sewer-drain", `"elevation_m":0.2,"size":"`+dn50+`"`)
	s.run("V1.outlet", "P2.a", dn50, 1, stretch{1.2, -1.2}, stretch{2, 0})
	s.run("P2.b", "B2.a", dn50, 3, stretch{15, 0}, stretch{4.2, 4.2})
	s.face("B2.out", "V2.spray")
	s.run("V2.outlet", "D1.a", dn50, 1, stretch{1, -1}, stretch{4, -0.3})
	sol := s.whole(asks(water("T1", "D1", 20, "P1", "P2"), 10), flow.Options{})
	for _, v := range sol.Vessels {
		near(t, "into "+string(v.Vessel), known(t, "inflow", v.Inflow)*3600, 10, 1e-4)
		near(t, "out of "+string(v.Vessel), known(t, "outflow", v.Outflow)*3600, 10, 1e-4)
	}
	if len(sol.Vessels) != 2 || sol.Vessels[0].Balance != flow.DrawsAir || !sol.Vessels[0].Regulated {
		t.Errorf("%+v", sol.Vessels)
	}
	if sol.Sprays[1].Vessel != "V2" {
		t.Errorf("%+v", sol.Sprays)
	}
}

// Two spray devices side by side share the flow by their figures: at the same
// pressure as their rated flows.
func TestSpraysSideBySide(t *testing.T) {
	s := loop(t, rated, `"rated_flow_m3h":8,"rated_pressure_bar":2`)
	s.drained()
	s.part("T", "tee", `"elevation_m":4.5,"size":"`+dn50+`","second_size":"`+dn50+`","run_mm":0,"stub_mm":0`)
	s.part("B2", "spray-ball", `"elevation_m":4.5,"size":"`+dn50+`","rated_flow_m3h":4,"rated_pressure_bar":2`)
	s.changes[5].After.(*model.Run).To = model.End{Part: "T", Port: "a"}
	s.face("T.b", "B1.a")
	s.face("T.branch", "B2.a")
	s.face("B2.out", "V1.spray2")
	sol := s.whole(asks(water("T1", "D1", 20, "P1"), 12), flow.Options{})
	a, b := sol.Sprays[0], sol.Sprays[1]
	near(t, "together", known(t, "a", a.Flow)*3600+known(t, "b", b.Flow)*3600, 12, 1e-6)
	pa, pb := known(t, "pressure", a.Pressure), known(t, "pressure", b.Pressure)
	near(t, "share", float64(a.Flow.Or(0)/b.Flow.Or(0)), 2*math.Sqrt(pa/pb), 1e-6)
	near(t, "inflow", known(t, "inflow", sol.Vessels[0].Inflow)*3600, 12, 1e-6)
}
