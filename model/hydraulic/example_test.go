package hydraulic_test

import (
	"fmt"
	"log"

	"rinsewright/model/hydraulic"
	"rinsewright/model/quantity"
)

// A pump drives water from a tank through 40 m of tube to a spray device 3 m up.
func Example() {
	curve, err := hydraulic.Through([]hydraulic.Duty{{Flow: 0, Head: 42}, {Flow: 10.0 / 3600, Head: 38}, {Flow: 18.0 / 3600, Head: 28}})
	if err != nil {
		log.Fatal(err)
	}
	const tank, suction, delivery, device, air = 0, 1, 2, 3, 4
	network := hydraulic.Network{
		Nodes: []hydraulic.Node{
			tank:     {Name: "tank", Fixed: true, Level: 1.5},
			suction:  {Name: "suction", Elevation: 0.3},
			delivery: {Name: "delivery", Elevation: 0.4},
			device:   {Name: "device", Elevation: 3},
			air:      {Name: "air", Fixed: true, Elevation: 3, Level: 3},
		},
		Links: []hydraulic.Link{
			{Name: "inlet", From: tank, To: suction, Law: hydraulic.Pipe{Length: 2, Bore: quantity.Millimetres(50), Roughness: 1.5e-6, Loss: 0.5}},
			{Name: "pump", From: suction, To: delivery, Law: hydraulic.Pump{Curve: curve, Speed: 1}},
			{Name: "supply", From: delivery, To: device, Law: hydraulic.Pipe{Length: 40, Bore: quantity.Millimetres(50), Roughness: 1.5e-6, Loss: 4}},
			{Name: "spray", From: device, To: air, Law: hydraulic.Emitter{Flow: quantity.CubicMetresPerHour(9), At: quantity.Bar(2)}},
		},
	}
	solver, err := hydraulic.NewSolver(network)
	if err != nil {
		log.Fatal(err)
	}
	water := hydraulic.Fluid{Density: 998.2, Viscosity: 1.0016e-3}
	result, err := solver.Solve(water, hydraulic.Options{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f m³/h at %.2f bar\n", result.Flow[3].CubicMetresPerHour(), result.Pressure[device].Bar())
	speed, _, err := solver.SpeedFor(1, 3, quantity.CubicMetresPerHour(9), 0.3, 1.2, water, hydraulic.Options{Start: result})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("9 m³/h at %.1f %% of the speed\n", 100*float64(speed))
	// Output:
	// 11.40 m³/h at 3.20 bar
	// 9 m³/h at 79.9 % of the speed
}
