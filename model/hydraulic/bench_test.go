package hydraulic

import (
	"fmt"
	"testing"
)

var gridSizes = [][2]int{{7, 8}, {23, 23}, {71, 71}}

// BenchmarkReady times what is done once for a topology.
func BenchmarkReady(b *testing.B) {
	for _, size := range gridSizes {
		net := gridNetwork(size[0], size[1])
		b.Run(fmt.Sprint(len(net.Links)), func(b *testing.B) {
			for b.Loop() {
				if _, err := NewSolver(net); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkSolve times a solve from scratch.
func BenchmarkSolve(b *testing.B) {
	for _, size := range gridSizes {
		net := gridNetwork(size[0], size[1])
		s, err := NewSolver(net)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(fmt.Sprint(len(net.Links)), func(b *testing.B) {
			steps := 0
			for b.Loop() {
				r, err := s.Solve(water20, Options{})
				if err != nil {
					b.Fatal(err)
				}
				steps = r.Iterations
			}
			b.ReportMetric(float64(steps), "steps")
		})
	}
}

// BenchmarkAgain times a solve after one valve changed, from the solution before.
func BenchmarkAgain(b *testing.B) {
	for _, size := range gridSizes {
		net := gridNetwork(size[0], size[1])
		s, err := NewSolver(net)
		if err != nil {
			b.Fatal(err)
		}
		before, err := s.Solve(water20, Options{})
		if err != nil {
			b.Fatal(err)
		}
		valve, _, throttled := gridValve(net)
		link := s.Link(valve)
		link.Law = throttled
		if err := s.SetLink(valve, link); err != nil {
			b.Fatal(err)
		}
		b.Run(fmt.Sprint(len(net.Links)), func(b *testing.B) {
			steps := 0
			for b.Loop() {
				r, err := s.Solve(water20, Options{Start: before})
				if err != nil {
					b.Fatal(err)
				}
				steps = r.Iterations
			}
			b.ReportMetric(float64(steps), "steps")
		})
	}
}
