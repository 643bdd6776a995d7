package flow_test

import (
	"testing"

	"rinsewright/model"
	"rinsewright/model/flow"
)

// NPSH available is (p - pv)/ρg + z - h. Of an open tank under 101325 Pa, with 0.8 m
// lost: 10.811881 m at 20 °C and 1.5 m above the pump, 5.274989 m at 85 °C, 1.774989 m
// there with the liquid 2.0 m below the pump (vapour pressure and density from an
// implementation of IAPWS-IF97; g 9.80665). What is lost here comes from the solution
// and is put aside.
func TestNPSH(t *testing.T) {
	for _, c := range []struct {
		celsius, z, want float64
	}{{20, 1.5, 10.811881}, {85, 1.5, 5.274989}, {85, -2.0, 1.774989}} {
		s := loop(t, rated, ball)
		s.drained()
		s.set("P1", `"elevation_m":`+number(3-c.z)) // the surface stands at 1 + 2 m
		s.changes[4].After.(*model.Run).Stretches[0].Rise = length(2 - c.z)
		s.changes[5].After.(*model.Run).Stretches[0].Rise = length(c.z - 2.5)
		sol := s.whole(asks(water("T1", "D1", c.celsius, "P1"), 10), flow.Options{})
		lost := 3 - known(t, "head at the suction", sol.Nodes[node(t, sol, "P1.a")].Head)
		if lost < 0.1 || lost > 1 {
			t.Errorf("%.3f m lost", lost)
		}
		near(t, "NPSH available", known(t, "NPSH", pumpOf(t, sol, "P1").Available)+lost-0.8, c.want, 1e-5)
	}
}
