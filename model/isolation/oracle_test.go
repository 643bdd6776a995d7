package isolation_test

import (
	"flag"
	"fmt"
	"math/rand"
	"slices"
	"testing"

	"rinsewright/model"
	"rinsewright/model/isolation"
	"rinsewright/model/network"
	"rinsewright/model/network/networktest"
)

var circuits = flag.Int("circuits", 1000, "random circuits in the comparison with trying every position")

// random is a small circuit of parts joined at random.
type random struct {
	*networktest.Sketch
	r     *rand.Rand
	free  []string
	kinds map[model.ID]string
	ids   []model.ID
}

var portsOf = map[string][]string{
	"tee": {"a", "b", "branch"}, "butterfly-valve": {"a", "b"}, "swing-bend": {"a", "b"}, "divert-valve": {"c", "a", "b"},
	"mix-proof-valve": {"a", "b", "c", "d"}, "filler-line": {"a", "b"}, "process-vessel": {"outlet", "spray", "return"},
	"alkali-tank": {"outlet", "return"}, "check-valve": {"a", "b"}, "centrifugal-pump": {"a", "b"}, "sewer-drain": {"a"},
	"water-supply": {"a"}, "plate-heater": {"a", "b", "s", "k"}, "steam-supply": {"a"}, "globe-valve": {"a", "b"},
}

func drawRandom(t testing.TB, r *rand.Rand) *random {
	d := &random{Sketch: networktest.New(t), r: r, kinds: map[model.ID]string{}}
	choice := []string{"tee", "tee", "tee", "tee", "butterfly-valve", "butterfly-valve", "butterfly-valve", "butterfly-valve", "globe-valve",
		"divert-valve", "divert-valve", "mix-proof-valve", "swing-bend", "filler-line", "process-vessel", "alkali-tank", "check-valve",
		"centrifugal-pump", "sewer-drain", "water-supply", "plate-heater", "steam-supply"}
	d.add("water-supply", "W")
	d.add("tee", "T")
	valves := 0
	for i := range 5 + r.Intn(9) {
		kind := choice[r.Intn(len(choice))]
		switch kind {
		case "butterfly-valve", "divert-valve", "mix-proof-valve", "swing-bend", "globe-valve":
			if valves++; valves > 6 {
				kind = "tee"
			}
		}
		d.add(kind, fmt.Sprintf("X%02d", i))
	}
	for len(d.free) > 1 && r.Intn(10) > 0 {
		d.Run(d.take(), d.take(), 1)
	}
	return d
}

func (d *random) take() string {
	i := d.r.Intn(len(d.free))
	x := d.free[i]
	d.free = slices.Delete(d.free, i, i+1)
	return x
}

func (d *random) add(kind, id string) {
	text := ""
	switch kind {
	case "tee":
		text = networktest.Stubs
	case "butterfly-valve", "globe-valve":
		text = networktest.Seats + fmt.Sprintf(`,"actuation":%q,"lockable":%t`, []string{"manual", "manual", "pneumatic"}[d.r.Intn(3)], d.r.Intn(2) == 0)
	case "divert-valve":
		text = networktest.Seats + `,"actuation":"manual"`
	case "mix-proof-valve", "swing-bend":
		text = networktest.Seats
	case "filler-line":
		text = `"length_m":3`
	case "process-vessel", "alkali-tank":
		text = fmt.Sprintf(`"vented":%t`, d.r.Intn(2) == 0)
	}
	d.Part(id, kind, text)
	d.kinds[model.ID(id)] = kind
	d.ids = append(d.ids, model.ID(id))
	var free []string
	for _, p := range portsOf[kind] {
		free = append(free, id+"."+p)
	}
	if len(d.free) > 0 {
		d.Run(d.take(), free[0], 1)
		free = free[1:]
	}
	d.free = append(d.free, free...)
}

// The least cost of isolating a part is held against trying every position of
// every valve and every set of vessels that might be emptied, with a walk of the
// plant that is written here anew. Costs and what counts are those of the package's
// documentation; the circuits are random.
func TestLeastCostAgainstEveryPosition(t *testing.T) {
	n := *circuits
	if testing.Short() {
		n = 100
	}
	found, none, divided := 0, 0, 0
	for seed := range n {
		r := rand.New(rand.NewSource(int64(seed)))
		d := drawRandom(t, r)
		p := d.Plant()
		ask := isolation.Ask{Work: []model.ID{d.ids[r.Intn(len(d.ids))]}, Most: 1,
			Policy: isolation.Policy{Automatic: r.Intn(2) == 0, Check: r.Intn(3) == 0, Single: true}}
		if d.kinds[ask.Work[0]] == "divert-valve" {
			divided++
		}
		want, possible := everyPosition(p, d, ask)
		plans, err := isolation.Find(p, p.Heights(), ask)
		if err != nil {
			t.Fatalf("circuit %d, work on %s: %v", seed, ask.Work[0], err)
		}
		if plans[0].Found != possible || possible && plans[0].Cost != want {
			t.Fatalf("circuit %d, work on %s: found %t at %d, trying everything gives %t at %d (%s)", seed, ask.Work[0], plans[0].Found, plans[0].Cost, possible, want, plans[0].Why)
		}
		if !possible {
			none++
			if plans[0].Why == "" || len(plans[0].Way) == 0 && d.kinds[ask.Work[0]] != "steam-supply" && d.kinds[ask.Work[0]] != "water-supply" && plans[0].At.Element == "" {
				t.Fatalf("circuit %d, work on %s: nothing says why there is no plan: %+v", seed, ask.Work[0], plans[0])
			}
			continue
		}
		found++
		if !plans[0].Proven(p, ask) {
			t.Fatalf("circuit %d: the plan does not hold", seed)
		}
	}
	if found < n/4 || none < n/20 {
		t.Errorf("of %d circuits %d could be isolated and %d not: the comparison says little", n, found, none)
	}
}

// choice is one thing that may be done, and what it costs.
type choice struct {
	shuts   []int // edges
	empties model.ID
	cost    int64
}

func everyPosition(p *network.Plant, d *random, ask isolation.Ask) (least int64, possible bool) {
	var options [][]choice
	for _, id := range d.ids {
		if slices.Contains(ask.Work, id) {
			continue
		}
		switch kind := d.kinds[id]; kind {
		case "butterfly-valve", "globe-valve":
			v := p.Circuit.Part(id).(*model.Valve)
			cost := int64(60)
			switch {
			case v.Actuation.Or("") == model.Manual && v.Lockable.Or(false):
				cost = 10
			case v.Actuation.Or("") == model.Manual:
				cost = 40
			case !ask.Policy.Automatic:
				continue
			}
			options = append(options, []choice{{}, {shuts: between(p, id, "seat_a", "seat_b"), cost: cost}})
		case "divert-valve":
			options = append(options, []choice{{}, {shuts: between(p, id, "seat_a", "far_a"), cost: 14}, {shuts: between(p, id, "seat_b", "far_b"), cost: 14}})
		case "mix-proof-valve":
			options = append(options, []choice{{}, {shuts: between(p, id, "s1", "s2"), cost: 20}})
		case "swing-bend":
			options = append(options, []choice{{}, {shuts: between(p, id, "seat_a", "seat_b"), cost: 5}})
		case "process-vessel", "filler-line":
			options = append(options, []choice{{}, {empties: id, cost: 2000}})
		case "alkali-tank":
			options = append(options, []choice{{}, {empties: id, cost: 20000}})
		}
	}
	least = -1
	var try func(i int, picked []choice, cost int64)
	try = func(i int, picked []choice, cost int64) {
		if least >= 0 && cost >= least {
			return
		}
		if i == len(options) {
			if apart(p, d, ask, picked) {
				least = cost
			}
			return
		}
		for _, c := range options[i] {
			try(i+1, append(picked, c), cost+c.cost)
		}
	}
	try(0, nil, 0)
	return least, least >= 0
}

func between(p *network.Plant, id model.ID, a, b string) []int {
	for _, e := range p.PartEdges(id) {
		x := p.Edges[e]
		if from, to := p.Nodes[x.From].Point, p.Nodes[x.To].Point; from == a && to == b || from == b && to == a {
			return []int{e}
		}
	}
	panic("no way from " + a + " to " + b + " in " + string(id))
}

// apart says whether no source reaches the work.
func apart(p *network.Plant, d *random, ask isolation.Ask, picked []choice) bool {
	shut, empty := map[int]bool{}, map[model.ID]bool{}
	for _, c := range picked {
		for _, e := range c.shuts {
			shut[e] = true
		}
		empty[c.empties] = true
	}
	reached := map[int]bool{}
	for _, id := range d.ids {
		switch d.kinds[id] {
		case "water-supply", "steam-supply", "process-vessel", "filler-line", "alkali-tank":
			if empty[id] || slices.Contains(ask.Work, id) {
				continue
			}
			n := p.PartNodes(id)[0]
			if in, ok := p.PortNode(id, "inside"); ok {
				n = in
			}
			reached[n] = true
		}
	}
	pass := func(from, to int) bool {
		if reached[from] && !reached[to] {
			reached[to] = true
			return true
		}
		return false
	}
	for changed := true; changed; {
		changed = false
		for e, x := range p.Edges {
			if shut[e] {
				continue
			}
			changed = pass(x.From, x.To) || changed
			into := d.kinds[x.Part] == "process-vessel" || d.kinds[x.Part] == "alkali-tank"
			port := p.Nodes[x.From].Point
			if p.Nodes[x.To].Role == "air" {
				continue
			}
			vented := into && p.Circuit.Part(x.Part).(*model.Vessel).Vented.Or(false) && (port == "spray" || port == "return" || port == "fill")
			check := d.kinds[x.Part] == "check-valve" && ask.Policy.Check
			if !vented && !check {
				changed = pass(x.To, x.From) || changed
			}
		}
		for _, id := range d.ids {
			if d.kinds[id] == "plate-heater" {
				a, _ := p.PortNode(id, "a")
				s, _ := p.PortNode(id, "s")
				changed = pass(a, s) || pass(s, a) || changed
			}
		}
	}
	for _, id := range ask.Work {
		for _, n := range p.PartNodes(id) {
			if reached[n] {
				return false
			}
		}
	}
	return true
}
