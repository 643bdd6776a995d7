package coverage_test

import (
	"io/fs"
	"testing"

	"rinsewright/assets"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/coverage"
	"rinsewright/model/network"
)

func BenchmarkOfDemo(b *testing.B) {
	data, err := fs.ReadFile(assets.Files, "demo/oat-drink-station.circuit.json")
	if err != nil {
		b.Fatal(err)
	}
	c, err := circuitfile.Decode("demo", data)
	if err != nil {
		b.Fatal(err)
	}
	p := network.Build(c, catalogue.Builtin())
	steps := c.Steps()[:6] // those of one programme
	for b.Loop() {
		coverage.Of(p, steps, coverage.Options{Least: 1.5})
	}
}
