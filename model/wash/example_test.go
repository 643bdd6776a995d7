package wash_test

import (
	"fmt"

	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/network"
	"rinsewright/model/wash"
)

func ExampleRun() {
	c, err := circuitfile.ReadFile("../../assets/demo/oat-drink-station.circuit.json")
	if err != nil {
		fmt.Println(err)
		return
	}
	p := network.Build(c, catalogue.Builtin())
	r, err := wash.Run(p, p.Heights(), programme(p, "Filler line"), wash.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range r.Steps {
		fmt.Printf("%s: %.0f min, %.0f L\n", s.Step.Name, s.Time/60, s.Use.Drawn.Litres())
	}
	// Output:
	// First rinse: 5 min, 1000 L
	// Alkali wash: 16 min, 3163 L
	// Rinse between: 4 min, 800 L
	// Acid wash: 11 min, 2161 L
	// Final rinse: 5 min, 1000 L
	// Drain: 5 min, 0 L
}
