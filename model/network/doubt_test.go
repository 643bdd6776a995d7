package network

import (
	"fmt"
	"math/rand"
	"testing"

	"rinsewright/model"
)

// What is not called in doubt is the same in every combination of the positions
// that nobody told, enumerated here; and a valve that no liquid may come to is not
// named.
func TestDoubtAgainstEnumeration(t *testing.T) {
	r := rand.New(rand.NewSource(11))
	doubts, certain := 0, 0
	for trial := range 400 {
		d := drawRandom(t, r, 6+r.Intn(10), trial%2 == 0)
		told := d.positions()
		var open []model.ID
		for i := range len(d.kinds) {
			id := model.ID(fmt.Sprintf("X%d", i))
			if d.kinds[string(id)] == "butterfly-valve" && len(open) < 5 && r.Intn(2) == 0 {
				open = append(open, id)
				told[id] = "ajar" // is no position
			}
		}
		p := d.plant()
		step := func(at map[model.ID]string) *model.Step {
			return &model.Step{ID: "s", Source: "W", Destination: "D", Positions: at}
		}
		l := p.LineUp(step(told))
		if len(l.Unknown) != len(open) {
			t.Fatalf("trial %d: %d valves unknown, want %d", trial, len(l.Unknown), len(open))
		}
		doubt := p.Doubt(l)
		var first *Route
		for mask := range 1 << len(open) {
			at := map[model.ID]string{}
			for id, position := range told {
				at[id] = position
			}
			for k, id := range open {
				at[id] = []string{"closed", "open"}[mask>>k&1]
			}
			route := p.Route(p.LineUp(step(at)))
			if first == nil {
				first = route
			}
			for e := range p.Edges {
				if doubt != nil && doubt.Edges[e] {
					continue
				}
				if route.InFlow[e] != first.InFlow[e] || route.Wet[e] != first.Wet[e] {
					t.Fatalf("trial %d: edge %d changes with the valves and is not in doubt", trial, e)
				}
			}
		}
		if doubt == nil {
			certain++
			continue
		}
		doubts++
	}
	if doubts < 50 || certain < 50 {
		t.Errorf("%d circuits with doubt and %d without: too few of one", doubts, certain)
	}
}

// Worked by hand: water runs through a tee to the drain; the branch leads through
// a valve without a position to a second valve, which is shut.
func TestDoubt(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", "")
	s.part("D", "sewer-drain", "")
	s.part("T", "tee", "")
	s.part("V", "butterfly-valve", `"normal":"ajar"`)
	s.part("U", "butterfly-valve", "")
	s.part("C", "cap", "")
	s.run("W.a", "T.a", dn50, stretch{1, 0})
	s.run("T.b", "D.a", dn50, stretch{1, 0})
	to := s.run("T.branch", "V.a", dn50, stretch{1, 0})
	beyond := s.run("V.b", "U.a", dn50, stretch{1, 0})
	last := s.run("U.b", "C.a", dn50, stretch{1, 0})
	p := s.plant()
	positions := map[model.ID]string{"U": "closed"}
	d := p.Doubt(p.LineUp(&model.Step{Source: "W", Destination: "D", Positions: positions}))
	if d == nil || len(d.Valves) != 1 || d.Valves[0] != "V" {
		t.Fatalf("%+v, want V in doubt", d)
	}
	for _, w := range []struct {
		run  model.ID
		want bool
	}{{to, false}, {beyond, true}, {last, false}} {
		if got := d.Edges[p.RunEdges(w.run)[0]]; got != w.want {
			t.Errorf("run %s in doubt: %v, want %v", w.run, got, w.want)
		}
	}
	positions["V"] = "closed"
	if d := p.Doubt(p.LineUp(&model.Step{Source: "W", Destination: "D", Positions: positions})); d != nil {
		t.Errorf("all positions told: %+v in doubt", d)
	}
	// Beyond the shut valve nothing comes to one without a position.
	if d := p.Doubt(p.LineUp(&model.Step{Source: "W", Destination: "D", Positions: map[model.ID]string{"V": "closed", "U": "ajar"}})); d != nil {
		t.Errorf("a valve that nothing comes to: %+v in doubt", d)
	}
}
