package heat_test

import (
	"testing"

	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/heat"
	"rinsewright/model/network"
)

func BenchmarkOf(b *testing.B) {
	c, err := circuitfile.ReadFile("../../assets/demo/oat-drink-station.circuit.json")
	if err != nil {
		b.Fatal(err)
	}
	p := network.Build(c, catalogue.Builtin())
	for _, step := range c.Steps() {
		if step.Name == "Alkali wash" {
			sol := solve(b, p, step)
			for b.Loop() {
				heat.Of(sol, heat.Options{})
			}
			return
		}
	}
	b.Fatal("no alkali wash")
}
