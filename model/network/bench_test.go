package network

import (
	"fmt"
	"testing"

	"rinsewright/model/catalogue"
)

// ladder is a long line with, every few parts, a bypass, a dead leg behind a shut
// valve, an instrument, and a sag. parts is about the number of parts; there are
// about as many runs.
func ladder(t testing.TB, parts int) *sketch {
	s := newSketch(t)
	s.part("W", "water-supply", `"elevation_m":2`)
	at := "W.a"
	for i := 0; i*7 < parts; i++ {
		name := func(letter string) string { return fmt.Sprintf("%s%05d", letter, i) }
		s.part(name("S"), "tee", `"size":"`+dn50+`","second_size":"`+dn50+`","stub_mm":40,"run_mm":120`)
		s.part(name("T"), "tee", `"size":"`+dn50+`","second_size":"`+dn50+`","stub_mm":40,"run_mm":120`)
		s.part(name("U"), "tee", wholeTee)
		s.part(name("V"), "butterfly-valve", wholeValve)
		s.part(name("C"), "cap", `"size":"`+dn25+`"`)
		s.part(name("I"), "temperature-transmitter", `"size":"`+dn50+`","stub_mm":30,"pocket_bore_mm":20`)
		s.part(name("N"), "butterfly-valve", `"size":"`+dn50+`","seat_a_mm":30,"seat_b_mm":30,"normal":"open"`)
		s.run(at, name("S")+".a", dn50, stretch{2, -0.02}, stretch{0.3, 0.3}, stretch{0.3, -0.3})
		s.run(name("S")+".b", name("T")+".a", dn50, stretch{2, -0.02})
		s.run(name("S")+".branch", name("N")+".a", dn50, stretch{1, -0.01})
		s.run(name("N")+".b", name("T")+".branch", dn50, stretch{1, -0.01})
		s.run(name("T")+".b", name("I")+".a", dn50, stretch{2, -0.02})
		s.run(name("I")+".b", name("U")+".a", dn50, stretch{2, -0.02})
		s.run(name("U")+".branch", name("V")+".a", dn25, stretch{0.2, 0})
		s.run(name("V")+".b", name("C")+".a", dn25, stretch{0.2, 0})
		at = name("U") + ".b"
	}
	s.part("D", "sewer-drain", "")
	s.run(at, "D.a", dn50, stretch{1, -0.5})
	return s
}

// What the benchmarks measure is there: 15 units with a bypass, an instrument's
// pocket, a dead leg and a sag each; the sag of 0.3 m holds liquid up to its sill.
func TestLadder(t *testing.T) {
	p := ladder(t, 100).plant()
	r := p.Route(p.LineUp(step("W", "D", nil)))
	if legs := p.DeadLegs(r); !r.Found || len(legs) != 30 {
		t.Errorf("%s %d legs", r.Why, len(legs))
	}
	d := p.Draining(p.Heights(), p.Wetted([]*Route{r}), []*LineUp{r.LineUp})
	if len(d.Pools) != 15 || len(d.Slopes) != 15*7+1 { // and the last run
		t.Errorf("%d pools, %d slopes", len(d.Pools), len(d.Slopes))
	}
}

var benchSizes = []int{100, 1000, 10000}

func benchmark(b *testing.B, work func(b *testing.B, p *Plant)) {
	for _, n := range benchSizes {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			p := ladder(b, n).plant()
			b.ReportAllocs()
			work(b, p)
		})
	}
}

func BenchmarkBuild(b *testing.B) {
	benchmark(b, func(b *testing.B, p *Plant) {
		for b.Loop() {
			Build(p.Circuit, catalogue.Builtin())
		}
	})
}

func BenchmarkLineUp(b *testing.B) {
	benchmark(b, func(b *testing.B, p *Plant) {
		st := step("W", "D", nil)
		for b.Loop() {
			p.LineUp(st)
		}
	})
}

func BenchmarkRoute(b *testing.B) {
	benchmark(b, func(b *testing.B, p *Plant) {
		l := p.LineUp(step("W", "D", nil))
		for b.Loop() {
			p.Route(l)
		}
	})
}

func BenchmarkDeadLegs(b *testing.B) {
	benchmark(b, func(b *testing.B, p *Plant) {
		r := p.Route(p.LineUp(step("W", "D", nil)))
		for b.Loop() {
			p.DeadLegs(r)
		}
	})
}

func BenchmarkHeights(b *testing.B) {
	benchmark(b, func(b *testing.B, p *Plant) {
		for b.Loop() {
			p.Heights()
		}
	})
}

func BenchmarkDraining(b *testing.B) {
	benchmark(b, func(b *testing.B, p *Plant) {
		l := p.LineUp(step("W", "D", nil))
		h, wet := p.Heights(), p.Wetted([]*Route{p.Route(l)})
		for b.Loop() {
			p.Draining(h, wet, []*LineUp{l})
		}
	})
}
