package network

import (
	"math"
	"slices"
	"testing"

	"rinsewright/model"
	. "rinsewright/model/quantity"
)

func some[T any](v T) Opt[T] { return Some(v) }

// perMetre is what a metre of DN50 holds in m³: π/4 · 0.050².
const perMetre = math.Pi / 4 * 0.05 * 0.05

func allWet(p *Plant) []bool {
	out := make([]bool, len(p.Edges))
	for e := range out {
		out[e] = !p.Dry(e)
	}
	return out
}

func drained(p *Plant, steps ...*model.Step) *Draining {
	var l []*LineUp
	for _, s := range steps {
		l = append(l, p.LineUp(s))
	}
	return p.Draining(p.Heights(), allWet(p), l)
}

// line is a supply at from and a sewer drain at to, joined by stretches.
func line(t testing.TB, from, to string, stretches ...stretch) (*Plant, model.ID) {
	s := newSketch(t)
	s.part("W", "water-supply", `"elevation_m":`+from)
	s.part("D", "sewer-drain", `"elevation_m":`+to)
	run := s.run("W.a", "D.a", dn50, stretches...)
	return s.plant(), run
}

func onlyPool(t testing.TB, d *Draining) Pool {
	t.Helper()
	if len(d.Pools) != 1 || len(d.Vague) != 0 {
		t.Fatalf("%d pools, want one: %+v; vague %v", len(d.Pools), d.Pools, d.Vague)
	}
	return d.Pools[0]
}

// Heights of the joints: 1.0 ─ 1.0 ╷ 0.0 ─ 0.0 ╵ 0.6 ╲ 0.5. The sag fills up to
// 0.6 m: 0.6 of the 1 m that falls, the 3 m below, the 0.6 m that rises: 4.2 m of
// DN50 = 8.2467 L.
func TestDraining_Sag(t *testing.T) {
	p, run := line(t, "1.0", "0.5", stretch{2, 0}, stretch{1, -1}, stretch{3, 0}, stretch{0.6, 0.6}, stretch{2, -0.1})
	d := drained(p, step("W", "D", nil))
	pool := onlyPool(t, d)
	e := p.RunEdges(run)
	near(t, "volume", pool.Volume, 4.2*perMetre)
	near(t, "level", pool.Level, 0.6)
	if called(p, pool.Over) != "r00001/4" || called(p, pool.Lowest) != "r00001/2" || !slices.Equal(pool.Edges, e[1:4]) || !slices.Equal(pool.Way, e[2:4]) {
		t.Errorf("%+v over %s lowest %s", pool, called(p, pool.Over), called(p, pool.Lowest))
	}
	for n, want := range map[int]float64{p.Edges[e[0]].From: 1, p.Edges[e[1]].To: 0.6, p.Edges[e[2]].To: 0.6, p.Edges[e[4]].To: 0.5} {
		near(t, "spill at "+called(p, n), d.Spill[n], want)
		if !d.Drained[n] {
			t.Errorf("%s is not drained", called(p, n))
		}
	}
}

// Up and over: 0 ─ 0 ╵ 1 ─ 1 ╷ 0. What is before the riser stays, up to 1 m: 2 m and
// 1 m of DN50 = 5.8905 L.
func TestDraining_UpAndOver(t *testing.T) {
	p, run := line(t, "0", "0", stretch{2, 0}, stretch{1, 1}, stretch{4, 0}, stretch{1, -1})
	pool := onlyPool(t, drained(p, step("W", "D", nil)))
	near(t, "volume", pool.Volume, 3*perMetre)
	near(t, "level", pool.Level, 1)
	if called(p, pool.Over) != string(run)+"/2" || pool.NoDrain {
		t.Errorf("over %s", called(p, pool.Over))
	}
}

// A sill of 1 mm holds nothing back, one of 2 mm does.
func TestDraining_Tolerance(t *testing.T) {
	for _, c := range []struct {
		sill  float64
		pools int
	}{{0, 0}, {0.001, 0}, {0.002, 1}} {
		p, _ := line(t, "0", "0", stretch{2, 0}, stretch{1, c.sill}, stretch{1, -c.sill})
		if d := drained(p, step("W", "D", nil)); len(d.Pools) != c.pools {
			t.Errorf("sill %v: %+v", c.sill, d.Pools)
		}
	}
}

// The sag of above with a drain valve at its lowest point. Opened in the second
// drain step it empties what the first leaves; opened in none it does not.
func TestDraining_TwoSteps(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", `"elevation_m":1`)
	s.part("T", "tee", `"size":"`+dn50+`","second_size":"`+dn50+`","stub_mm":40,"run_mm":120`)
	s.part("V", "butterfly-valve", `"size":"`+dn50+`","seat_a_mm":30,"seat_b_mm":30,"normal":"closed"`)
	s.part("D", "sewer-drain", `"elevation_m":0.5`)
	s.part("E", "sewer-drain", "")
	s.run("W.a", "T.a", dn50, stretch{1, -1})
	s.run("T.b", "D.a", dn50, stretch{0.6, 0.6}, stretch{1, -0.1})
	s.face("T.branch", "V.a")
	s.run("V.b", "E.a", dn50, stretch{0.2, -0.2})
	p := s.plant()
	first := step("W", "D", nil)
	second := step("W", "E", map[model.ID]string{"V": "open"})
	// Up to 0.6 m: 0.6 m on each side, the tee 0.12 m with its stub 0.04 m, and the
	// valve up to its seat 0.03 m. Beyond the seat all runs off to E, which step one
	// does not open: it reaches E from the seat, for E is open to the air.
	pool := onlyPool(t, drained(p, first))
	near(t, "after one step", pool.Volume, (0.6+0.6+0.12+0.04+0.03)*perMetre)
	for _, order := range [][]*model.Step{{first, second}, {second, first}, {second}} {
		if d := drained(p, order...); len(d.Pools) != 0 {
			t.Errorf("with the drain valve: %+v", d.Pools)
		}
	}
}

// Above a check valve, a lobe pump or a dosing pump liquid stays; above a
// centrifugal pump it runs back. 2 m of DN50 = 3.9270 L.
func TestDraining_CheckValve(t *testing.T) {
	for kind, holds := range map[string]bool{
		"check-valve": true, "lobe-pump": true, "dosing-pump": true, "centrifugal-pump": false, "self-priming-pump": false, "union": false,
	} {
		t.Run(kind, func(t *testing.T) {
			s := newSketch(t)
			s.part("D", "sewer-drain", `"elevation_m":0`)
			properties := `"size":"` + dn50 + `"`
			if kind != "check-valve" && kind != "union" {
				properties += `,"hold_up_L":0`
			}
			s.part("N", kind, properties)
			s.run("D.a", "N.a", dn50, stretch{1, 0.1})
			run := s.run("N.b", "", dn50, stretch{2, 2})
			p := s.plant()
			d := drained(p, step("", "D", nil))
			if !holds {
				if len(d.Pools) != 0 {
					t.Errorf("%+v", d.Pools)
				}
				return
			}
			pool := onlyPool(t, d)
			near(t, "volume", pool.Volume, 2*perMetre)
			if !pool.NoDrain || pool.Level.Known() || pool.Over != -1 || !slices.Contains(pool.Edges, p.RunEdges(run)[0]) || d.Drained[at(t, p, "N.b")] {
				t.Errorf("%+v", pool)
			}
		})
	}
}

// A vessel of 1 m diameter and flat bottom at 0 m drains over a hump of 0.3 m:
// π/4 · 1² · 0.3 = 0.235619 m³ stay, and in the tube 0.3 m of the riser and 0.5 m
// level: 0.8 m of DN50. A heater in the level part keeps its whole 7 L.
func TestDraining_Vessel(t *testing.T) {
	s := newSketch(t)
	s.part("B", "process-vessel", `"diameter_m":1,"height_m":2,"bottom":"flat","top":"flat","elevation_m":0`)
	s.part("E", "plate-heater", `"size":"`+dn50+`","hold_up_L":7`)
	s.part("D", "sewer-drain", `"elevation_m":0`)
	s.run("B.outlet", "E.a", dn50, stretch{0.25, 0})
	s.run("E.b", "D.a", dn50, stretch{0.25, 0}, stretch{0.3, 0.3}, stretch{0.3, -0.3})
	p := s.plant()
	pool := onlyPool(t, drained(p, step("B", "D", nil)))
	near(t, "volume", pool.Volume, math.Pi/4*0.3+0.8*perMetre+0.007)
	near(t, "level", pool.Level, 0.3)
	if !slices.Contains(pool.Edges, between(t, p, "B", "inside", "draw")) {
		t.Errorf("edges %v", pool.Edges)
	}
}

func TestDraining_VolumeMissing(t *testing.T) {
	s := newSketch(t)
	s.part("B", "process-vessel", `"height_m":2,"elevation_m":0`)
	s.part("D", "sewer-drain", `"elevation_m":0`)
	s.run("B.outlet", "D.a", "", stretch{0.3, 0.3}, stretch{0.3, -0.3})
	p := s.plant()
	pool := onlyPool(t, drained(p, step("B", "D", nil)))
	slices.SortFunc(pool.Missing, compareMissing)
	unknown(t, "volume", pool.Volume, pool.Missing, Missing{Record: "B", Key: "diameter_m"}, Missing{Record: "r00001", Key: "size"})
	near(t, "level", pool.Level, 0.3)
}

// Without the height of the drain nothing is said, and what is missing is named.
// Where a known sill lies higher than anything unknown behind it could, the level
// is still unknown; where liquid surely runs off, it is empty.
func TestDraining_UnknownHeights(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", `"elevation_m":1`)
	s.part("U", "union", "")
	s.part("D", "sewer-drain", "")
	s.run("W.a", "U.a", dn50, stretch{2, -0.5})
	s.run("U.b", "D.a", dn50, stretch{2, dunno})
	p := s.plant()
	d := drained(p, step("W", "D", nil))
	if len(d.Pools) != 0 || len(d.Vague) == 0 || !slices.Equal(d.Missing, []Missing{{Record: "D", Key: "elevation_m"}}) {
		t.Errorf("pools %+v, vague %v, missing %v", d.Pools, d.Vague, d.Missing)
	}
	if n := at(t, p, "U.a"); d.Spill[n].Known() || !d.Drained[n] {
		t.Errorf("spill %v, drained %v", d.Spill[n], d.Drained[n])
	}
}

// No drain step at all: everything stays.
func TestDraining_NoDrains(t *testing.T) {
	p, _ := line(t, "1", "0", stretch{2, -1})
	pool := onlyPool(t, drained(p))
	near(t, "volume", pool.Volume, 2*perMetre)
	if !pool.NoDrain {
		t.Errorf("%+v", pool)
	}
}

// Dry edges and edges that no step wets are not asked.
func TestDraining_OnlyWetted(t *testing.T) {
	p, _ := line(t, "0", "0", stretch{2, 0}, stretch{1, 1}, stretch{1, -1})
	d := p.Draining(p.Heights(), make([]bool, len(p.Edges)), []*LineUp{p.LineUp(step("W", "D", nil))})
	if len(d.Pools) != 0 || len(d.Slopes) != 0 || len(d.Vague) != 0 {
		t.Errorf("%+v", d)
	}
}

// 10 m with 0.1 m of fall towards the drain is 1 %; the next falls away from it by
// 2 %; a riser has no slope; 45° is one.
func TestDraining_Slopes(t *testing.T) {
	p, run := line(t, "2", "0.29", stretch{10, -0.1}, stretch{2, -2}, stretch{5, 0.1}, stretch{2, -math.Sqrt2}, stretch{5, 0})
	d := drained(p, step("W", "D", nil))
	e := p.RunEdges(run)
	want := []Slope{{e[0], 0.01, 10}, {e[2], -0.02, 5}, {e[3], math.Sqrt2 / 2, 2}, {e[4], 0, 5}}
	if len(d.Slopes) != len(want) {
		t.Fatalf("%+v", d.Slopes)
	}
	for i, s := range d.Slopes {
		if s.Edge != want[i].Edge || math.Abs(s.Fall-want[i].Fall) > 1e-9 || s.Length != want[i].Length {
			t.Errorf("%+v, want %+v", s, want[i])
		}
	}
	p2, _ := line(t, "2", "0.29", stretch{10, dunno})
	// With no told rise the heights of the ends give it: 1.71 m on 10 m.
	if s := drained(p2, step("W", "D", nil)).Slopes; len(s) != 1 || math.Abs(s[0].Fall-0.171) > 1e-9 {
		t.Errorf("%+v", s)
	}
}
