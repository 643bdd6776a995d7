package fluid

import (
	"testing"

	"rinsewright/model/quantity"
)

var sink float64

func BenchmarkLiquidState(b *testing.B) {
	for b.Loop() {
		s, _ := At(353.15, 3e5)
		sink = s.Volume
	}
}

func BenchmarkSteamState(b *testing.B) {
	for b.Loop() {
		s, _ := At(453.15, 3e5)
		sink = s.Volume
	}
}

func BenchmarkSaturatedAt(b *testing.B) {
	for b.Loop() {
		s, _ := SaturatedAt(4e5)
		sink = s.Steam.Volume
	}
}

func BenchmarkLiquidProperties(b *testing.B) {
	l := Liquid{Caustic, 0.02, quantity.Celsius(75)}
	for b.Loop() {
		p, _ := l.Properties()
		sink = float64(p.Density)
	}
}

func BenchmarkConductivity(b *testing.B) {
	l := Liquid{Caustic, 0.02, quantity.Celsius(75)}
	for b.Loop() {
		k, _ := l.Conductivity()
		sink = float64(k)
	}
}

func BenchmarkStrengthOf(b *testing.B) {
	for b.Loop() {
		w, _ := StrengthOf(Caustic, 17, quantity.Celsius(75))
		sink = float64(w)
	}
}
