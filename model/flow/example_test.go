package flow_test

import (
	"fmt"

	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// A wash step of the demo station: the supply pump is slowed to the flow asked, the
// return pump to what comes.
func ExampleSolve() {
	circuit, err := circuitfile.ReadFile("testdata/vessel.circuit.json")
	if err != nil {
		fmt.Println(err)
		return
	}
	plant := network.Build(circuit, catalogue.Builtin())
	solution, err := flow.Solve(plant, plant.Heights(), circuit.Step("s-02"), flow.Options{})
	if err != nil || !solution.Solved() {
		fmt.Println(err, solution.Missing, solution.Failures)
		return
	}
	for _, p := range solution.Pumps {
		fmt.Printf("%s: %.1f m³/h, %.1f m at %.0f %% speed, NPSH %.1f m\n", p.Pump, p.Flow.Or(0).CubicMetresPerHour(),
			p.Head.Or(0), 100*float64(p.Speed.Or(0)), p.Available.Or(0))
	}
	for _, s := range solution.Sprays {
		if q, ok := s.Flow.Get(); ok && q > 0 {
			fmt.Printf("%s: %.1f m³/h at %.2f bar\n", s.Spray, q.CubicMetresPerHour(), s.Pressure.Or(0).Bar())
		}
	}
	for _, v := range solution.Vessels {
		fmt.Printf("%s: %s, return takes up to %.1f m³/h\n", v.Vessel, v.Balance, v.Capacity.Or(Flow(0)).CubicMetresPerHour())
	}
	// Output:
	// p-p-101: 12.0 m³/h, 30.5 m at 89 % speed, NPSH 8.0 m
	// p-p-201: 12.0 m³/h, 4.6 m at 58 % speed, NPSH 6.8 m
	// p-sd-201: 12.0 m³/h at 1.77 bar
	// p-t-201: return draws air, return takes up to 23.0 m³/h
}
