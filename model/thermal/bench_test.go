package thermal

import (
	"testing"

	"rinsewright/model/quantity"
)

var sink float64

func BenchmarkMeanDifference(b *testing.B) {
	for b.Loop() {
		m, _ := MeanDifference(50, 45)
		sink = float64(m)
	}
}

func BenchmarkRate(b *testing.B) {
	hot, cold := Stream{3, 4200, 360}, Stream{2, 4180, 290}
	for b.Loop() {
		x, _ := Rate(hot, cold, 9000)
		sink = float64(x.Power)
	}
}

func BenchmarkHeatingOf(b *testing.B) {
	for b.Loop() {
		h, _ := HeatingOf(water(20), 0.003, quantity.Celsius(80))
		sink = float64(h.Power)
	}
}

func BenchmarkInsulatedLoss(b *testing.B) {
	tube := Tube{Outside: 0.053, Insulation: 0.03, Conductivity: 0.04, Emissivity: 0.2}
	for b.Loop() {
		h, _ := tube.Loss(353, 293)
		sink = h.PerMetre
	}
}
