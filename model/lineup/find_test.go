package lineup_test

import (
	"math/rand"
	"slices"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/lineup"
	"rinsewright/model/network"
	"rinsewright/model/network/networktest"
)

// Every proposal, put into a step, is a line-up that does what was asked for, and
// proposals come in order of cost, each with another way.
func TestProposalsServe(t *testing.T) {
	found, several := 0, 0
	for seed := range int64(800) {
		r := rand.New(rand.NewSource(seed))
		d := drawRandom(t, r, 8+r.Intn(16))
		p := d.Plant()
		d.ask.Most = 4
		got, err := lineup.Find(p, d.ask)
		if err != nil {
			t.Fatal(err)
		}
		for i, x := range got {
			if !x.Found {
				continue
			}
			found++
			if i > 0 {
				several++
				if x.Cost < got[i-1].Cost-1e-9 || slices.Equal(x.Way, got[i-1].Way) {
					t.Errorf("seed %d: proposal %d costs %v after %v", seed, i, x.Cost, got[i-1].Cost)
				}
			}
			step := &model.Step{ID: "s1"}
			x.Into(step, d.ask)
			route := p.Route(p.LineUp(step))
			serves(t, p, d.ask, &x, route)
		}
	}
	if found < 200 || several < 40 {
		t.Errorf("only %d proposals, %d beside the first", found, several)
	}
}

func serves(t *testing.T, p *network.Plant, ask lineup.Ask, x *lineup.Proposal, r *network.Route) {
	t.Helper()
	if !r.Found {
		t.Fatalf("no route: %s", r.Why)
	}
	at := r.LineUp.Source
	passed := map[model.ID]bool{}
	for _, e := range x.Way {
		d := p.Edges[e]
		if !r.InFlow[e] || d.From != at && d.To != at {
			t.Fatalf("edge %d of the way is not in the flow, or not joined to the one before", e)
		}
		at = p.Other(e, at)
		passed[d.Part] = true
	}
	if at != r.LineUp.Dest {
		t.Error("the way does not end at the destination")
	}
	for _, id := range ask.Through {
		if !passed[id] {
			t.Errorf("%s is not passed", id)
		}
	}
	for id, pos := range r.LineUp.Positions {
		if x.Positions[id] != pos {
			t.Errorf("%s stands %s in the step, %s in the proposal", id, pos, x.Positions[id])
		}
	}
	for id, pos := range ask.Keep {
		if r.LineUp.Positions[id] != pos {
			t.Errorf("%s does not keep %s", id, pos)
		}
	}
	for e := range p.Edges {
		part := p.Circuit.Part(p.Edges[e].Part)
		if part == nil || !r.Wet[e] || slices.Contains(ask.Through, part.RecordID()) {
			continue
		}
		switch part.Class() {
		case model.ClassVessel, model.ClassObject:
			t.Errorf("liquid reaches %s", part.RecordID())
		case model.ClassTerminal:
			if part.RecordID() != ask.Source && part.RecordID() != ask.Destination {
				t.Errorf("liquid reaches %s", part.RecordID())
			}
		}
	}
}

// twoWays is a supply and a drain with a short way by V1 and V2 and a long one by
// V3 and V4, and a bend between the short way and product.
func twoWays(t testing.TB) *networktest.Sketch {
	s := networktest.New(t)
	s.Part("W", "water-supply", "")
	s.Part("D", "sewer-drain", "")
	s.Part("PS", "product-supply", "")
	s.Part("A", "tee", networktest.Stubs)
	s.Part("B", "tee", networktest.Stubs)
	s.Part("C", "tee", networktest.Stubs)
	s.Part("V1", "butterfly-valve", networktest.Seats)
	s.Part("V2", "butterfly-valve", networktest.Seats)
	s.Part("V3", "butterfly-valve", networktest.Seats)
	s.Part("SB", "swing-bend", networktest.Seats)
	s.Run("W.a", "A.a", 1)
	s.Run("A.b", "V1.a", 1)
	s.Run("V1.b", "C.a", 1)
	s.Run("C.b", "V2.a", 1)
	s.Run("C.branch", "SB.a", 0.5)
	s.Run("SB.b", "PS.a", 0.5)
	s.Run("V2.b", "B.a", 1)
	s.Part("V4", "butterfly-valve", networktest.Seats)
	s.Run("A.branch", "V3.a", 0.3)
	s.Run("V3.b", "V4.a", 20)
	s.Run("V4.b", "B.branch", 0.3)
	s.Run("B.b", "D.a", 1)
	return s
}

// By hand, in m, with 0.2 m of stub, half of the run of a tee and of valve seats:
// the short way is 6 of tube, 2×0.2 of valves and 3×0.2 of tees long.
func TestTwoWays(t *testing.T) {
	p := twoWays(t).Plant()
	got, err := lineup.Find(p, lineup.Ask{Source: "W", Destination: "D"})
	if err != nil {
		t.Fatal(err)
	}
	if len(got) != 2 {
		t.Fatalf("%d proposals", len(got))
	}
	x := got[0]
	if l, known := x.Length.Get(); !known || l < 6.99 || l > 7.01 {
		t.Errorf("length %v", x.Length)
	}
	if !slices.Equal(sorted(x.Moved), []model.ID{"V1", "V2"}) || x.Changed != 2 || len(x.Pumps) != 0 {
		t.Errorf("moved %v", x.Moved)
	}
	if len(x.Barriers) != 3 || x.Barriers[0].Valve != "SB" || !x.Barriers[0].Double || x.Barriers[0].Medium != model.Product || !slices.Equal(x.Barriers[0].Behind, []model.ID{"PS"}) {
		t.Errorf("barriers %+v", x.Barriers)
	}
	if !strings.Contains(x.Why, "kept apart by SB") {
		t.Errorf("why %q", x.Why)
	}
	// Three legs: to the bend, and to V3 and to V4.
	if len(x.Legs) != 3 || x.AtSeats != 3 {
		t.Errorf("%d legs, %d at seats", len(x.Legs), x.AtSeats)
	}
	if !slices.Equal(sorted(got[1].Moved), []model.ID{"V3", "V4"}) {
		t.Errorf("the second moves %v", got[1].Moved)
	}
}

func TestWhatIsInTheWay(t *testing.T) {
	for _, c := range []struct {
		name string
		draw func(s *networktest.Sketch)
		ask  lineup.Ask
		want string
		at   model.ID
	}{
		{"kept shut", nil, lineup.Ask{Keep: map[model.ID]string{"V1": "closed", "V3": "closed", "V4": "closed"}}, "but through V1, which is kept closed", "V1"},
		{"left alone", nil, lineup.Ask{Avoid: []model.ID{"V2", "V3", "V4"}}, "but through V2, which is to be left alone", "V2"},
		{"an open bend to product", nil, lineup.Ask{Keep: map[model.ID]string{"SB": "joined", "V3": "closed"}}, "liquid would reach PS, which holds product: no position of SB", "SB"},
		{"nothing joined", func(s *networktest.Sketch) { s.Part("X", "sewer-drain", "") }, lineup.Ask{Destination: "X"}, "nothing joins W to X", "X"},
		{"a filler on a spur", func(s *networktest.Sketch) {
			s.Part("F", "filler-line", `"length_m":3`)
			s.Part("E", "tee", networktest.Stubs)
			s.Part("G", "tee", networktest.Stubs)
			s.Run("E.a", "G.a", 1)
			s.Run("E.b", "F.a", 1)
			s.Run("E.branch", "F.b", 1)
			s.Part("H", "tee", networktest.Stubs)
			s.Run("G.b", "H.b", 1)
		}, lineup.Ask{Through: []model.ID{"F"}}, "passes F: nothing joins them", "F"},
		{"another object on the only way", func(s *networktest.Sketch) {
			s.Part("F", "filler-line", `"length_m":3`)
			s.Part("Y", "sewer-drain", "")
			s.Part("Z", "water-supply", "")
			s.Run("Z.a", "F.a", 1)
			s.Run("F.b", "Y.a", 1)
		}, lineup.Ask{Source: "Z", Destination: "Y"}, "but through F, which is not to be washed", "F"},
		{"no source", nil, lineup.Ask{Source: "-"}, "the source - is not in the circuit", ""},
		{"in a wrong order", func(s *networktest.Sketch) {
			s.Part("F", "filler-line", `"length_m":3`)
			s.Part("G", "filler-line", `"length_m":3`)
			s.Part("Y", "sewer-drain", "")
			s.Part("Z", "water-supply", "")
			s.Run("Z.a", "F.a", 1)
			s.Run("F.b", "G.a", 1)
			s.Run("G.b", "Y.a", 1)
		}, lineup.Ask{Source: "Z", Destination: "Y", Through: []model.ID{"G", "F"}, Ordered: true}, "through G, F, in this order, to Y", "G"},
		{"a sewer left open", func(s *networktest.Sketch) {
			s.Part("T", "tee", networktest.Stubs)
			s.Part("Y", "sewer-drain", "")
			s.Part("Y2", "sewer-drain", "")
			s.Part("Z", "water-supply", "")
			s.Run("Z.a", "T.a", 1)
			s.Run("T.b", "Y.a", 1)
			s.Run("T.branch", "Y2.a", 1)
		}, lineup.Ask{Source: "Z", Destination: "Y"}, "liquid would reach Y2, which leads to sewer: no valve lies between", "Y2"},
		{"one valve two ways", func(s *networktest.Sketch) {
			// The filler's feed and return both want the common port of one divert valve.
			s.Part("F", "filler-line", `"length_m":3`)
			s.Part("DV", "divert-valve", networktest.Seats)
			s.Part("Q", "water-supply", "")
			s.Part("R", "sewer-drain", "")
			s.Part("T", "tee", networktest.Stubs)
			s.Part("U", "tee", networktest.Stubs)
			s.Run("Q.a", "T.a", 1)
			s.Run("T.b", "DV.a", 1)
			s.Run("T.branch", "U.a", 1)
			s.Run("DV.c", "F.a", 1)
			s.Run("F.b", "DV.b", 1)
			s.Run("U.b", "R.a", 1)
		}, lineup.Ask{Source: "Q", Destination: "R", Through: []model.ID{"F"}}, "no way from Q to R passes F: it hangs on a single line", "F"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := twoWays(t)
			if c.draw != nil {
				c.draw(s)
			}
			if c.ask.Source == "" {
				c.ask.Source = "W"
			}
			if c.ask.Destination == "" {
				c.ask.Destination = "D"
			}
			got, err := lineup.Find(s.Plant(), c.ask)
			if err != nil {
				t.Fatal(err)
			}
			if got[0].Found || !strings.Contains(got[0].Missing, c.want) || got[0].At.Element != c.at {
				t.Errorf("found %v, at %v: %q", got[0].Found, got[0].At, got[0].Missing)
			}
		})
	}
}

// What is to be washed lies on the way; what liquid may reach besides does not.
func TestThroughAndMay(t *testing.T) {
	s := networktest.New(t)
	s.Part("W", "water-supply", "")
	s.Part("D", "sewer-drain", "")
	s.Part("DV", "divert-valve", networktest.Seats)
	s.Part("F", "filler-line", `"length_m":3`)
	s.Part("T", "tee", networktest.Stubs)
	s.Part("U", "tee", networktest.Stubs)
	s.Run("W.a", "T.a", 1)
	s.Run("T.b", "DV.a", 1)
	s.Run("T.branch", "U.branch", 1)
	s.Run("DV.c", "F.a", 1)
	s.Run("F.b", "U.a", 1)
	s.Run("U.b", "D.a", 1)
	p := s.Plant()
	got, err := lineup.Find(p, lineup.Ask{Source: "W", Destination: "D", Through: []model.ID{"F"}, Keep: map[model.ID]string{"DV": "to-a"}})
	if err != nil || !got[0].Found {
		t.Fatal(err, got[0].Missing)
	}
	got, err = lineup.Find(p, lineup.Ask{Source: "W", Destination: "D", May: []model.ID{"F"}})
	if err != nil || !got[0].Found {
		t.Fatal(err, got[0].Missing)
	}
	for _, e := range got[0].Way {
		if p.Edges[e].Part == "F" {
			t.Error("the way leads through F")
		}
	}
}

func TestAskThatCannotBePut(t *testing.T) {
	p := twoWays(t).Plant()
	for _, ask := range []lineup.Ask{
		{Through: []model.ID{"nowhere"}},
		{Avoid: []model.ID{"nowhere"}},
		{Keep: map[model.ID]string{"V1": "ajar"}},
		{Keep: map[model.ID]string{"A": "open"}},
		{Through: []model.ID{"V1", "V1"}},
		{Through: []model.ID{"V1"}, Avoid: []model.ID{"V1"}},
		{Through: []model.ID{"A", "B", "C", "V1", "V2", "V3", "SB"}},
		{Keep: map[model.ID]string{"V1": "open"}, Avoid: []model.ID{"V1"}},
	} {
		ask.Source, ask.Destination = "W", "D"
		if got, err := lineup.Find(p, ask); err == nil {
			t.Errorf("%+v: %+v", ask, got)
		}
	}
}
