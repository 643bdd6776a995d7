package flow_test

import (
	"math"
	"testing"

	"rinsewright/model"
	"rinsewright/model/flow"
	. "rinsewright/model/quantity"
)

// pumped adds a return pump at 0.3 m and a line to a drain at 3 m.
func (s *sketch) pumped(kind, pump string) {
	s.part("P2", kind, `"elevation_m":0.3,"size":"`+dn50+`","outlet_size":"`+dn50+`",`+pump)
	s.part("D1", "sewer-drain", `"elevation_m":3,"size":"`+dn50+`"`)
	s.run("V1.outlet", "P2.a", dn50, 1, stretch{1.2, -1.2}, stretch{2, 0})
	s.run("P2.b", "D1.a", dn50, 3, stretch{15, 0}, stretch{2.7, 2.7})
}

// returnHead is what the return pump must add by hand for a level of the puddle:
// from the vessel's outlet at 1.5 m to the drain's mouth at 3 m over 20.9 m of DN50
// with 4 bends, an entrance (0.5) and an exit (1).
func returnHead(q, level float64) float64 {
	const d = 0.05
	re := 4 * q / (math.Pi * d * viscosity20 / density20)
	return 3 - 1.5 - level + (1.5+colebrook(re, 1.5e-6/d)*20.9/d+4*hooper(800, 0.20, re, d))*head(q, d)
}

// curve is that of a pump of one rated point: 1.2 of the rated head at no flow.
func curve(q, q0, h0 float64) float64 { return 1.2*h0 - 0.2*h0*math.Pow(q*3600/q0, 2) }

func TestReturnPump(t *testing.T) {
	step := func() *model.Step { return asks(water("T1", "D1", 20, "P1", "P2"), 10) }
	const q = 10.0 / 3600

	t.Run("level found", func(t *testing.T) {
		// The level L at which the pump just copes: Hp(Q) = returnHead(Q, L). A pump of
		// 11 m³/h and 2.5 m gives 2.59 m at 10 m³/h.
		s := loop(t, rated, ball)
		s.pumped("centrifugal-pump", `"rated_flow_m3h":11,"rated_head_m":2.5`)
		sol := s.whole(step(), flow.Options{})
		v := sol.Vessels[0]
		want := root(func(l float64) float64 { return curve(q, 11, 2.5) - returnHead(q, l) }, 0, 3)
		if v.Balance != flow.LevelFound || want < 0.01 {
			t.Fatalf("%s, level by hand %.3f", v.Balance, want)
		}
		near(t, "level", known(t, "level", v.Level), want, 2e-3)
		near(t, "outflow", known(t, "outflow", v.Outflow)*3600, 10, 1e-6)
		// What the return takes from an empty bowl is less than what comes.
		most := root(func(q float64) float64 { return returnHead(q, 0) - curve(q, 11, 2.5) }, 1e-4, 1e-2)
		near(t, "capacity", known(t, "capacity", v.Capacity)*3600, most*3600, 0.01)
		if most >= q || v.Regulated {
			t.Errorf("capacity %.2f m³/h, regulated %v", most*3600, v.Regulated)
		}
	})

	t.Run("bowl fills", func(t *testing.T) {
		s := loop(t, rated, ball)
		s.pumped("centrifugal-pump", `"rated_flow_m3h":3,"rated_head_m":2`)
		v := s.whole(step(), flow.Options{}).Vessels[0]
		if v.Balance != flow.BowlFills {
			t.Fatal(v.Balance)
		}
		near(t, "level", known(t, "level", v.Level), 3, 0) // the height
		most := root(func(q float64) float64 { return returnHead(q, 3) - curve(q, 3, 2) }, 1e-4, 1e-2)
		near(t, "outflow of the full vessel", known(t, "outflow", v.Outflow)*3600, most*3600, 0.01)
		if full := known(t, "level at full speed", v.FullSpeed); full <= 3 {
			t.Errorf("level at full speed %.2f", full)
		}
	})

	t.Run("draws air", func(t *testing.T) {
		s := loop(t, rated, ball)
		s.pumped("centrifugal-pump", `"rated_flow_m3h":15,"rated_head_m":12`)
		sol := s.whole(step(), flow.Options{})
		v := sol.Vessels[0]
		if v.Balance != flow.DrawsAir || !v.Regulated {
			t.Fatal(v.Balance, v.Regulated)
		}
		near(t, "level", known(t, "level", v.Level), 0, 1e-3)
		most := root(func(q float64) float64 { return returnHead(q, 0) - curve(q, 15, 12) }, 1e-4, 2e-2)
		near(t, "capacity", known(t, "capacity", v.Capacity)*3600, most*3600, 0.02)
		near(t, "head of the slowed pump", known(t, "head", pumpOf(t, sol, "P2").Head), returnHead(q, 0), 2e-3)

		// Held at full speed by hand it draws air in earnest.
		v = s.whole(step(), flow.Options{Speeds: map[model.ID]Ratio{"P2": 1}}).Vessels[0]
		if v.Balance != flow.DrawsAir || v.Regulated {
			t.Error(v.Balance, v.Regulated)
		}
	})

	t.Run("positive displacement", func(t *testing.T) {
		for _, c := range []struct {
			rated     string
			want      flow.Balance
			out       float64
			regulated bool
		}{{"8", flow.BowlFills, 8, false}, {"10", flow.LevelFound, 10, true}, {"14", flow.DrawsAir, 10, true}} {
			s := loop(t, rated, ball)
			s.pumped("lobe-pump", `"rated_flow_m3h":`+c.rated)
			v := s.whole(step(), flow.Options{}).Vessels[0]
			if v.Balance != c.want || v.Regulated != c.regulated {
				t.Errorf("%s m³/h: %s, regulated %v", c.rated, v.Balance, v.Regulated)
			}
			near(t, "outflow", known(t, "outflow", v.Outflow)*3600, c.out, 1e-6)
		}
	})
}

// By gravity through 1 m down and 4 m at 7.5 % to a drain. By hand the full tube
// passes, from a puddle that just reaches the outlet, the Q of
// 1.3 m = (1.5 + f·5/0.05 + K) v²/2g.
func TestReturnByGravity(t *testing.T) {
	const d = 0.05
	full := root(func(q float64) float64 {
		re := 4 * q / (math.Pi * d * viscosity20 / density20)
		return (1.5+colebrook(re, 1.5e-6/d)*5/d+hooper(800, 0.20, re, d))*head(q, d) - 1.3
	}, 1e-4, 2e-2)

	s := loop(t, rated, ball)
	run := s.drained()
	sol := s.whole(asks(water("T1", "D1", 20, "P1"), 6), flow.Options{})
	v := sol.Vessels[0]
	if !v.Gravity || v.Balance != flow.DrawsAir || !v.PartFull || 6 > full*3600 {
		t.Fatalf("%+v, full %.2f", v, full*3600)
	}
	near(t, "capacity", known(t, "capacity", v.Capacity)*3600, full*3600, 0.01)
	// Manning: the fall of 7.5 % passes 6 m³/h at the depth that is reported.
	y := known(t, "filling", v.Filling)
	angle := 2 * math.Acos(1-2*y)
	area := d * d / 8 * (angle - math.Sin(angle))
	q := area * math.Pow(area/(d*angle/2), 2.0/3) * math.Sqrt(0.075) / 0.010
	near(t, "flow at that depth", q*3600, 6, 1e-3)
	edge := sol.Edges[sol.Plant.RunEdges(run)[1]]
	near(t, "true velocity", known(t, "velocity", edge.Velocity), 6.0/3600/area, 1e-6)
	near(t, "pressure in it", known(t, "pressure", sol.Nodes[node(t, sol, "D1.a")].Pressure), 0, 1)

	// More than the tube passes from an empty bowl: it runs full, and the puddle
	// rises until 1.3 m + L do.
	s = loop(t, `"rated_flow_m3h":30,"rated_head_m":60`, `"rated_flow_m3h":22,"rated_pressure_bar":1.8`)
	s.drained()
	sol = s.whole(asks(water("T1", "D1", 20, "P1"), 22), flow.Options{})
	v = sol.Vessels[0]
	if v.Balance != flow.LevelFound || v.PartFull {
		t.Fatalf("%+v, full %.2f", v, full*3600)
	}
	q = 22.0 / 3600
	re := 4 * q / (math.Pi * d * viscosity20 / density20)
	near(t, "level", known(t, "level", v.Level), (1.5+colebrook(re, 1.5e-6/d)*5/d+hooper(800, 0.20, re, d))*head(q, d)-1.3, 2e-3)
}

// pumpOf gives the state of a pump.
func pumpOf(t testing.TB, s *flow.Solution, id model.ID) flow.Pump {
	t.Helper()
	for _, p := range s.Pumps {
		if p.Pump == id {
			return p
		}
	}
	t.Fatalf("no pump %s", id)
	return flow.Pump{}
}
