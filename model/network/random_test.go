package network

import (
	"fmt"
	"math/rand"
	"slices"
	"testing"

	"rinsewright/model"
)

// drawRandom draws a circuit of a few parts, joined at random: each new part is
// joined to a free port of what stands already, then some of the free ports are
// joined to each other. All lengths are round millimetres, every part has a
// height. oneWay lets in pumps and check valves.
type random struct {
	*sketch
	r     *rand.Rand
	free  []string // ports
	kinds map[string]string
}

func drawRandom(t testing.TB, r *rand.Rand, parts int, oneWay bool) *random {
	d := &random{sketch: newSketch(t), r: r, kinds: map[string]string{}}
	d.add("W", "water-supply")
	d.add("D", "sewer-drain")
	choice := []string{"tee", "tee", "tee", "tee", "butterfly-valve", "butterfly-valve", "temperature-transmitter", "cap", "sewer-drain", "process-vessel", "balance-tank", "hose"}
	if oneWay {
		choice = append(choice, "check-valve", "centrifugal-pump", "lobe-pump")
	}
	d.add("T1", "tee") // so that the first part never closes the circuit
	d.join("W.a", "T1.a")
	for i := range parts {
		kind := choice[r.Intn(len(choice))]
		id := fmt.Sprintf("X%d", i)
		old := len(d.free)
		d.add(id, kind)
		if mine := d.free[old:]; len(mine) > 0 && old > 0 {
			d.join(d.free[r.Intn(old)], mine[r.Intn(len(mine))])
		}
	}
	d.join("D.a", d.any("D.a"))
	for range r.Intn(4) {
		if len(d.free) > 1 {
			a := d.any("")
			d.join(a, d.any(a))
		}
	}
	if len(d.free) > 0 && r.Intn(2) == 0 {
		d.join(d.any(""), "")
	}
	return d
}

var randomPorts = map[string][]string{
	"water-supply": {"a"}, "sewer-drain": {"a"}, "tee": {"a", "b", "branch"}, "butterfly-valve": {"a", "b"},
	"temperature-transmitter": {"a", "b"}, "cap": {"a"}, "process-vessel": {"outlet", "spray", "nozzle", "product_in"},
	"balance-tank": {"outlet", "spray", "overflow", "vent", "return"}, "hose": {"a", "b"}, "check-valve": {"a", "b"},
	"centrifugal-pump": {"a", "b"}, "lobe-pump": {"a", "b"},
}

func (d *random) add(id, kind string) {
	size := []string{dn25, dn50}
	mm := func(most int) int { return 5 * d.r.Intn(most/5) }
	text := fmt.Sprintf(`"elevation_m":%v`, float64(d.r.Intn(300))/100)
	switch kind {
	case "tee":
		text += fmt.Sprintf(`,"size":%q,"second_size":%q,"stub_mm":%d,"run_mm":%d`, dn50, size[d.r.Intn(2)], mm(100), 100+mm(100))
	case "butterfly-valve":
		text += fmt.Sprintf(`,"size":%q,"seat_a_mm":%d,"seat_b_mm":%d`, size[d.r.Intn(2)], mm(100), mm(100))
	case "temperature-transmitter":
		text += fmt.Sprintf(`,"size":%q,"stub_mm":%d,"pocket_bore_mm":20`, dn50, mm(100))
	case "process-vessel", "balance-tank":
		text += `,"diameter_m":0.5,"height_m":1,"bottom":"flat","top":"flat"`
	case "hose":
		text += fmt.Sprintf(`,"size":%q,"run_mm":%d`, dn50, 500+mm(500))
	case "centrifugal-pump", "lobe-pump":
		text += `,"hold_up_L":2`
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
	d.free = slices.DeleteFunc(d.free, func(p string) bool { return p == a || p == b })
	length := float64(1+d.r.Intn(20)) / 10
	switch d.r.Intn(4) {
	case 0:
		d.run(a, b, dn50, stretch{0, dunno})
	case 1:
		d.run(a, b, dn25, stretch{length, float64(d.r.Intn(200)-100) / 100}, stretch{length / 2, dunno})
	default:
		d.run(a, b, dn50, stretch{length, dunno})
	}
}

// positions throws every valve open or shut.
func (d *random) positions() map[model.ID]string {
	out := map[model.ID]string{}
	for i := range len(d.kinds) {
		id := fmt.Sprintf("X%d", i)
		if d.kinds[id] == "butterfly-valve" {
			out[model.ID(id)] = []string{"open", "open", "closed"}[d.r.Intn(3)]
		}
	}
	return out
}

// vessels lists the vessels of the circuit.
func (d *random) vessels() []string {
	var out []string
	for i := range len(d.kinds) {
		id := fmt.Sprintf("X%d", i)
		if k := d.kinds[id]; k == "process-vessel" || k == "balance-tank" {
			out = append(out, id)
		}
	}
	return out
}
