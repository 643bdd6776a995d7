package flow_test

import (
	"fmt"
	"testing"

	"rinsewright/model/flow"
	"rinsewright/model/network"
)

// ladder is a long line with, every few parts, a bypass, a dead leg behind a shut
// valve and an instrument. parts is about the number of parts; there are about as
// many runs.
func ladder(t testing.TB, parts int) *network.Plant {
	s := newSketch(t)
	size := `"size":"` + dn50 + `"`
	whole := size + `,"second_size":"` + dn50 + `","stub_mm":40,"run_mm":120`
	s.part("W", "water-supply", `"elevation_m":2,"pressure_bar":`+number(float64(parts)/100+1))
	at := "W.a"
	for i := 0; i*7 < parts; i++ {
		name := func(letter string) string { return fmt.Sprintf("%s%05d", letter, i) }
		s.part(name("S"), "tee", whole)
		s.part(name("T"), "tee", whole)
		s.part(name("U"), "tee", whole)
		s.part(name("V"), "butterfly-valve", size+`,"seat_a_mm":30,"seat_b_mm":30`)
		s.part(name("C"), "cap", size)
		s.part(name("I"), "temperature-transmitter", size+`,"stub_mm":30,"pocket_bore_mm":20`)
		s.part(name("N"), "butterfly-valve", size+`,"seat_a_mm":30,"seat_b_mm":30,"normal":"open"`)
		s.run(at, name("S")+".a", dn50, 1, stretch{2, -0.001}, stretch{0.3, 0.3}, stretch{0.3, -0.3})
		s.run(name("S")+".b", name("T")+".a", dn50, 0, stretch{2, -0.001})
		s.run(name("S")+".branch", name("N")+".a", dn50, 1, stretch{1, -0.001})
		s.run(name("N")+".b", name("T")+".branch", dn50, 0, stretch{1, -0.001})
		s.run(name("T")+".b", name("I")+".a", dn50, 0, stretch{2, -0.001})
		s.run(name("I")+".b", name("U")+".a", dn50, 0, stretch{2, -0.001})
		s.run(name("U")+".branch", name("V")+".a", dn25, 0, stretch{0.2, 0})
		s.run(name("V")+".b", name("C")+".a", dn25, 0, stretch{0.2, 0})
		at = name("U") + ".b"
	}
	s.part("D", "sewer-drain", `"elevation_m":0,`+size)
	s.run(at, "D.a", dn50, 1, stretch{1, -0.5})
	return s.plant()
}

// What the benchmarks measure is solved.
func TestLadder(t *testing.T) {
	p := ladder(t, 1000)
	s, err := flow.Solve(p, p.Heights(), water("W", "D", 20), flow.Options{})
	if err != nil || !s.Solved() {
		t.Fatal(err, s.Missing, s.Failures)
	}
	balanced(t, s)
	if len(s.Splits) != 143 {
		t.Errorf("%d splits", len(s.Splits))
	}
}

// BenchmarkSolve solves one step from scratch, its route being known; warm after a
// first solve.
func BenchmarkSolve(b *testing.B) {
	for _, parts := range []int{1000, 10000} {
		p := ladder(b, parts)
		h, st := p.Heights(), water("W", "D", 20)
		opt := flow.Options{Route: p.Route(p.LineUp(st))}
		b.Run(fmt.Sprint(parts), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if s, err := flow.Solve(p, h, st, opt); err != nil || !s.Solved() {
					b.Fatal(err, s.Failures)
				}
			}
		})
		b.Run(fmt.Sprint(parts, " warm"), func(b *testing.B) {
			var warm flow.Solver
			b.ReportAllocs()
			for b.Loop() {
				if s, err := warm.Solve(p, h, st, opt); err != nil || !s.Solved() {
					b.Fatal(err, s.Failures)
				}
			}
		})
	}
}

// BenchmarkDemo solves every step of the demo station that is complete.
func BenchmarkDemo(b *testing.B) {
	p := demo(b, "oat-drink-station")
	h := p.Heights()
	routes := map[string]*network.Route{}
	for _, st := range p.Circuit.Steps() {
		routes[string(st.ID)] = p.Route(p.LineUp(st))
	}
	for _, name := range []string{"cold", "warm"} {
		b.Run(name, func(b *testing.B) {
			var warm flow.Solver
			steps := 0
			b.ReportAllocs()
			for b.Loop() {
				for _, st := range p.Circuit.Steps() {
					if st.Source == "" || !st.Temperature.Known() {
						continue
					}
					if name == "cold" {
						warm.Forget()
					}
					if _, err := warm.Solve(p, h, st, flow.Options{Route: routes[string(st.ID)]}); err != nil {
						b.Fatal(err)
					}
					steps++
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(steps), "ns/step")
		})
	}
}
