package flow_test

import (
	"math"
	"testing"

	"rinsewright/model"
	"rinsewright/model/flow"
	. "rinsewright/model/quantity"
)

// through is a line without a vessel: tank, supply pump, up over 4 m, an object, a
// return pump at 0.3 m, up to a drain.
func through(t testing.TB, supply, back string) *sketch {
	s := newSketch(t)
	s.part("T1", "water-tank", `"elevation_m":1,"height_m":3,"level_m":2,"size":"`+dn50+`","vented":true`)
	s.part("P1", "centrifugal-pump", `"elevation_m":0.5,"size":"`+dn50+`",`+supply)
	s.part("F", "filler-line", `"elevation_m":1,"size":"`+dn50+`","length_m":10,"smallest_bore_mm":50`)
	s.part("P2", "centrifugal-pump", `"elevation_m":0.3,"size":"`+dn50+`",`+back)
	s.part("D1", "sewer-drain", `"elevation_m":3,"size":"`+dn50+`"`)
	s.run("T1.outlet", "P1.a", dn50, 1, stretch{2, -0.5})
	s.run("P1.b", "F.a", dn50, 3, stretch{4, 3.5}, stretch{10, 0}, stretch{3, -3})
	s.run("F.b", "P2.a", dn50, 1, stretch{10, -0.7})
	s.run("P2.b", "D1.a", dn50, 2, stretch{10, 0}, stretch{2.7, 2.7})
	return s
}

// The supply pump is set to the flow asked and the return pump so that the pressure
// between them is nowhere below that of the air; together they give what the line
// needs.
func TestLineWithoutVessel(t *testing.T) {
	s := through(t, rated, `"rated_flow_m3h":14,"rated_head_m":15`)
	sol := s.whole(asks(water("T1", "D1", 20, "P1", "P2"), 11), flow.Options{})
	near(t, "flow", known(t, "flow", sol.Supply.Flow)*3600, 11, 1e-6)
	least, passed := math.Inf(1), false
	for _, pt := range sol.Along {
		part := sol.Plant.Nodes[pt.Node].Part
		if part == "P2" {
			break
		}
		if passed {
			least = min(least, known(t, "pressure", pt.Pressure))
		}
		passed = passed || part == "P1" && sol.Plant.Nodes[pt.Node].Point == "b"
	}
	near(t, "least pressure between the pumps, Pa", least, 0, 2)
	both := known(t, "P1", pumpOf(t, sol, "P1").Head) + known(t, "P2", pumpOf(t, sol, "P2").Head)
	const d = 0.05
	q := 11.0 / 3600
	re := 4 * q / (math.Pi * d * viscosity20 / density20)
	lost := (1.5 + colebrook(re, 1.5e-6/d)*(2+17+10+10+12.7)/d + 7*hooper(800, 0.20, re, d)) * head(q, d)
	near(t, "heads of both, by hand", both, 3-3+lost, 2e-3)

	// A supply pump that cannot do it alone is helped by the return pump.
	s = through(t, `"rated_flow_m3h":11,"rated_head_m":1.5`, `"rated_flow_m3h":14,"rated_head_m":15`)
	sol = s.whole(asks(water("T1", "D1", 20, "P1", "P2"), 11), flow.Options{})
	near(t, "flow with help", known(t, "flow", sol.Supply.Flow)*3600, 11, 1e-6)
	near(t, "speed of the supply pump", known(t, "speed", pumpOf(t, sol, "P1").Speed), 1, 0)
	if n := known(t, "speed", pumpOf(t, sol, "P2").Speed); n >= 1 {
		t.Errorf("return pump at %.3f", n)
	}
}

// Without a pump the pressure there is decides; it is said by how much that is more
// or less than asked.
func TestSupplyWithoutPump(t *testing.T) {
	s, _ := line(t, [2]string{"flow-transmitter", `"elevation_m":0,"size":"` + dn50 + `"`})
	free := s.whole(water("W", "D", 20), flow.Options{})
	q := known(t, "flow", free.Supply.Flow) * 3600
	sol := s.whole(asks(water("W", "D", 20), q-5), flow.Options{})
	near(t, "over", known(t, "over", sol.Supply.Over)*3600, 5, 1e-6)
	sol = s.whole(asks(water("W", "D", 20), q+5), flow.Options{})
	near(t, "short", known(t, "short", sol.Supply.Short)*3600, 5, 1e-6)
}

// A pump held at a speed by hand runs at it, whatever the step asks.
func TestSpeedByHand(t *testing.T) {
	s := loop(t, rated, ball)
	s.drained()
	sol := s.whole(asks(water("T1", "D1", 20, "P1"), 11), flow.Options{Speeds: map[model.ID]Ratio{"P1": 0.8}})
	p := pumpOf(t, sol, "P1")
	n, q, h := known(t, "speed", p.Speed), known(t, "flow", p.Flow), known(t, "head", p.Head)
	near(t, "speed", n, 0.8, 0)
	near(t, "on its affine curve", h, n*n*curve(q/n, 14, 38), 1e-6)
	if p.Regulated {
		t.Error("said to be regulated")
	}
}

// Gas over the liquid presses and holds back: 0.5 bar in the tank and in the vessel
// cancel out against a loop without any.
func TestGasPressure(t *testing.T) {
	s := loop(t, rated, ball)
	s.drained()
	plain := s.whole(water("T1", "D1", 20, "P1"), flow.Options{})
	s.set("T1", `"gas_bar":0.5`)
	s.set("V1", `"gas_bar":0.5`)
	both := s.whole(water("T1", "D1", 20, "P1"), flow.Options{})
	near(t, "flow", known(t, "flow", both.Supply.Flow), known(t, "flow", plain.Supply.Flow), 1e-9)
	near(t, "over the ball", known(t, "p", both.Sprays[0].Pressure), known(t, "p", plain.Sprays[0].Pressure), 1)
	near(t, "NPSH rises by 0.5 bar", known(t, "a", both.Pumps[0].Available)-known(t, "a", plain.Pumps[0].Available), 0.5e5/(density20*g), 1e-3)
}
