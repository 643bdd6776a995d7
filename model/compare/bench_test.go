package compare_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"rinsewright/model/compare"
)

func BenchmarkCircuits(b *testing.B) {
	for _, size := range []int{100, 1000, 10000} {
		b.Run(fmt.Sprint(size), func(b *testing.B) {
			g := &generator{Rand: rand.New(rand.NewPCG(1, 6))}
			old := g.circuit(size)
			next := g.edited(b, old, 50, true)
			for b.Loop() {
				compare.Circuits(old, next, nil)
			}
		})
	}
}

func BenchmarkThree(b *testing.B) {
	for _, size := range []int{100, 1000, 10000} {
		b.Run(fmt.Sprint(size), func(b *testing.B) {
			g := &generator{Rand: rand.New(rand.NewPCG(1, 7))}
			base := g.circuit(size)
			mine, theirs := g.edited(b, base, 50, true), g.edited(b, base, 50, true)
			for b.Loop() {
				compare.Three(base, mine, theirs, nil)
			}
		})
	}
}
