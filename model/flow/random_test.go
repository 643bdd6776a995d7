package flow_test

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"

	"rinsewright/model"
	"rinsewright/model/flow"
)

// random is a circuit of a few parts joined at random, as no one would build it:
// loops, pumps against each other, drains half way, gaps in what is told.
type random struct {
	*sketch
	r     *rand.Rand
	free  []string
	kinds map[string]string
	gaps  bool
}

var randomPorts = map[string][]string{
	"water-supply": {"a"}, "sewer-drain": {"a"}, "tee": {"a", "b", "branch"}, "butterfly-valve": {"a", "b"},
	"temperature-transmitter": {"a", "b"}, "cap": {"a"}, "process-vessel": {"outlet", "spray", "return"},
	"water-tank": {"outlet", "return"}, "hose": {"a", "b"}, "check-valve": {"a", "b"}, "centrifugal-pump": {"a", "b"},
	"lobe-pump": {"a", "b"}, "concentric-reducer": {"a", "b"}, "plate-heater": {"a", "b"}, "strainer": {"a", "b"},
	"spray-ball": {"a", "out"}, "mix-proof-valve": {"a", "b", "c", "d"}, "filler-line": {"a", "b"},
}

func drawRandom(t testing.TB, r *rand.Rand, parts int, gaps bool) *random {
	d := &random{sketch: newSketch(t), r: r, kinds: map[string]string{}, gaps: gaps}
	d.add("W", "water-supply")
	d.add("D", "sewer-drain")
	d.add("T1", "tee")
	d.join("W.a", "T1.a")
	choice := []string{"tee", "tee", "tee", "tee", "butterfly-valve", "butterfly-valve", "temperature-transmitter", "cap", "sewer-drain",
		"process-vessel", "water-tank", "hose", "check-valve", "centrifugal-pump", "lobe-pump", "concentric-reducer", "plate-heater",
		"strainer", "spray-ball", "mix-proof-valve", "filler-line", "water-supply"}
	for i := range parts {
		id := fmt.Sprintf("X%d", i)
		old := len(d.free)
		d.add(id, choice[r.Intn(len(choice))])
		if mine := d.free[old:]; len(mine) > 0 && old > 0 {
			d.join(d.free[r.Intn(old)], mine[r.Intn(len(mine))])
		}
	}
	d.join("D.a", d.any("D.a"))
	for range 1 + r.Intn(5) {
		if len(d.free) > 1 {
			a := d.any("")
			d.join(a, d.any(a))
		}
	}
	return d
}

func (d *random) add(id, kind string) {
	sizes := []string{dn25, dn40, dn50}
	size := func(key string) string { return fmt.Sprintf(`,%q:%q`, key, sizes[d.r.Intn(3)]) }
	text := fmt.Sprintf(`"elevation_m":%v`, float64(d.r.Intn(500))/100)
	if d.gaps && d.r.Intn(12) == 0 {
		text = `"note":"no elevation"`
	}
	maybe := func(more string) {
		if !d.gaps || d.r.Intn(12) > 0 {
			text += more
		}
	}
	switch kind {
	case "water-supply":
		maybe(fmt.Sprintf(`,"pressure_bar":%v`, float64(d.r.Intn(50))/10))
	case "tee":
		maybe(`,"size":"` + dn50 + `"`)
		maybe(size("second_size") + fmt.Sprintf(`,"stub_mm":%d,"run_mm":%d`, d.r.Intn(100), d.r.Intn(200)))
	case "concentric-reducer":
		maybe(size("size") + size("second_size"))
		maybe(`,"run_mm":80`)
	case "butterfly-valve":
		maybe(size("size") + `,"seat_a_mm":30,"seat_b_mm":30`)
		if d.r.Intn(2) == 0 {
			text += fmt.Sprintf(`,"kv_m3h":%d`, 1+d.r.Intn(200))
		}
	case "mix-proof-valve":
		maybe(size("size") + size("second_size") + `,"seat_a_mm":30,"seat_b_mm":30`)
	case "process-vessel", "water-tank":
		maybe(`,"diameter_m":1.5,"height_m":2.5`)
		maybe(fmt.Sprintf(`,"level_m":%v`, float64(d.r.Intn(20))/10))
		maybe(size("size") + size("inlet_size"))
	case "hose":
		maybe(size("size") + `,"run_mm":3000`)
	case "centrifugal-pump", "lobe-pump":
		maybe(fmt.Sprintf(`,"rated_flow_m3h":%d,"rated_head_m":%d`, 1+d.r.Intn(20), 1+d.r.Intn(50)))
		maybe(size("size"))
		maybe(`,"efficiency_pct":50,"npsh_required_m":2`)
	case "plate-heater":
		maybe(`,"pressure_drop_bar":0.5,"rated_flow_m3h":10` + size("size"))
	case "spray-ball":
		maybe(fmt.Sprintf(`,"rated_flow_m3h":%d,"rated_pressure_bar":2`, 1+d.r.Intn(20)) + size("size"))
	case "filler-line":
		maybe(`,"length_m":12,"smallest_bore_mm":32`)
	default:
		maybe(size("size"))
	}
	d.part(id, kind, text)
	d.kinds[id] = kind
	for _, p := range randomPorts[kind] {
		d.free = append(d.free, id+"."+p)
	}
}

// any picks a free port other than not.
func (d *random) any(not string) string {
	for range 100 {
		if len(d.free) == 0 {
			break
		}
		if p := d.free[d.r.Intn(len(d.free))]; p != not {
			return p
		}
	}
	return ""
}

func (d *random) join(a, b string) {
	if a == "" || b == "" {
		return
	}
	d.free = slices.DeleteFunc(d.free, func(p string) bool { return p == a || p == b })
	length := float64(1+d.r.Intn(200)) / 10
	if d.gaps && d.r.Intn(15) == 0 {
		length = math.NaN()
	}
	sizes := []string{dn25, dn40, dn50}
	switch d.r.Intn(4) {
	case 0:
		d.run(a, b, dn50, -1, stretch{0, math.NaN()})
	case 1:
		d.run(a, b, sizes[d.r.Intn(3)], d.r.Intn(4), stretch{length, math.NaN()}, stretch{length / 2, math.NaN()})
	default:
		d.run(a, b, sizes[d.r.Intn(3)], -1, stretch{length, math.NaN()})
	}
}

func (d *random) step() *model.Step {
	st := water("W", "D", float64(5+d.r.Intn(90)))
	st.Positions = map[model.ID]string{}
	var tanks []model.ID
	for i := range len(d.kinds) {
		id := fmt.Sprintf("X%d", i)
		switch d.kinds[id] {
		case "butterfly-valve":
			st.Positions[model.ID(id)] = []string{"open", "open", "open", "closed"}[d.r.Intn(4)]
		case "mix-proof-valve":
			st.Positions[model.ID(id)] = []string{"open", "open", "closed", "lower-lift"}[d.r.Intn(4)]
		case "centrifugal-pump", "lobe-pump":
			if d.r.Intn(3) > 0 {
				st.Running = append(st.Running, model.ID(id))
			}
		case "process-vessel", "water-tank":
			tanks = append(tanks, model.ID(id))
		}
	}
	if len(tanks) > 0 && d.r.Intn(3) == 0 {
		st.Source = tanks[d.r.Intn(len(tanks))]
	}
	if len(tanks) > 0 && d.r.Intn(3) == 0 {
		st.Destination = tanks[d.r.Intn(len(tanks))]
	}
	if d.r.Intn(2) == 0 {
		asks(st, float64(1+d.r.Intn(20)))
	}
	return st
}

// Whatever is drawn, a solve neither panics nor loses liquid; it gives numbers or says
// why not.
func TestRandomCircuits(t *testing.T) {
	tried, routed, solved, vessels := 0, 0, 0, 0
	for seed := range 1200 {
		r := rand.New(rand.NewSource(int64(seed)))
		d := drawRandom(t, r, 3+r.Intn(25), seed%3 == 0)
		p := d.plant()
		h := p.Heights()
		var warm flow.Solver
		for range 2 {
			st := d.step()
			sol, err := warm.Solve(p, h, st, flow.Options{})
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			tried++
			if !sol.Route.Found {
				continue
			}
			routed++
			if !sol.Solved() {
				if seed%3 != 0 && len(sol.Missing) > 0 {
					t.Errorf("seed %d: missing %v", seed, sol.Missing)
				}
				continue
			}
			solved++
			vessels += len(sol.Vessels)
			balanced(t, sol)
			for _, pump := range sol.Pumps {
				flow.SystemCurve(sol, pump.Pump)
				flow.PumpCurve(sol, pump.Pump, 0)
				sol.SpeedFor(pump.Pump, 2e-3)
			}
			if t.Failed() {
				t.Fatalf("seed %d", seed)
			}
		}
	}
	t.Logf("%d tried, %d with a way, %d solved, %d vessels on the way", tried, routed, solved, vessels)
	if solved < 400 || vessels < 50 {
		t.Errorf("too little is solved to mean anything: %d of %d, %d vessels", solved, routed, vessels)
	}
}
