package circuitfile

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// Sizes are in parts; a circuit has as many runs as parts.
var benchSizes = []int{100, 1000, 10_000}

func BenchmarkDecode(b *testing.B) {
	for _, n := range benchSizes {
		data, err := Encode(randomCircuit(rand.New(rand.NewPCG(1, 1)), n, 0.5))
		if err != nil {
			b.Fatal(err)
		}
		b.Run(fmt.Sprintf("parts=%d", n), func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Decode("x", data); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkEncode(b *testing.B) {
	for _, n := range benchSizes {
		c := randomCircuit(rand.New(rand.NewPCG(1, 1)), n, 0.5)
		b.Run(fmt.Sprintf("parts=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Encode(c); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A scan and check alone, to see what encoding/json adds.
func BenchmarkCheck(b *testing.B) {
	data, err := Encode(randomCircuit(rand.New(rand.NewPCG(1, 1)), 10_000, 0.5))
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, flaws := checked(data); flaws != nil {
			b.Fatal(flaws)
		}
	}
}
