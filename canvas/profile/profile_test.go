package profile_test

import (
	"math"
	"slices"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/profile"
	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/network/networktest"
	. "rinsewright/model/quantity"
)

// sag is a supply at 1.0 m and a sewer drain at 0.5 m, joined by 2 m that lie
// level, 1 m down, 3 m level, 0.6 m up and 2 m that fall by 0.1 m: 5 %.
func sag(t *testing.T) (*network.Plant, model.ID) {
	s := networktest.New(t)
	s.Part("W", "water-supply", `"elevation_m":1`)
	s.Part("D", "sewer-drain", `"elevation_m":0.5`)
	id := s.Run("W.a", "D.a", 1)
	r := s.Runs()[0]
	r.Stretches = nil
	for _, x := range [][2]float64{{2, 0}, {1, -1}, {3, 0}, {0.6, 0.6}, {2, -0.1}} {
		r.Stretches = append(r.Stretches, model.Stretch{Length: Some(Length(x[0])), Rise: Some(Length(x[1]))})
	}
	return s.Plant(), id
}

func seen(t *testing.T, p *network.Plant, run model.ID) *profile.Profile {
	t.Helper()
	wet := make([]bool, len(p.Edges))
	for e := range wet {
		wet[e] = !p.Dry(e)
	}
	h := p.Heights()
	step := &model.Step{ID: "s", Source: "W", Destination: "D"}
	way, start := profile.Chain(p, []model.ID{run})
	return profile.Of(profile.State{Plant: p, Heights: h, Draining: p.Draining(h, wet, []*network.LineUp{p.LineUp(step)}), LeastFall: 0.01}, way, start)
}

func TestSag(t *testing.T) {
	p, run := sag(t)
	x := seen(t, p, run)
	if len(x.Legs) != 5 || len(x.Stops) != 6 {
		t.Fatalf("%d legs, %d stops", len(x.Legs), len(x.Stops))
	}
	// On plan the two upright pieces take nothing, the last √(2² − 0.1²).
	for i, want := range []float64{0, 2, 2, 5, 5, 5 + math.Sqrt(4-0.01)} {
		if math.Abs(x.Stops[i].Distance-want) > 1e-9 {
			t.Errorf("stop %d at %v m, want %v", i, x.Stops[i].Distance, want)
		}
	}
	// The sag fills up to the 0.6 m of the point behind it.
	for i, want := range []bool{false, true, true, true, false} {
		level, ok := x.Legs[i].Level.Get()
		if ok != want || ok && math.Abs(float64(level)-0.6) > 1e-9 {
			t.Errorf("leg %d: liquid to %v, %v", i, level, ok)
		}
	}
	want := []profile.Verdict{profile.FallLittle, profile.FallUpright, profile.FallLittle, profile.FallUpright, profile.FallRight}
	for i := range want {
		if x.Legs[i].Verdict != want[i] {
			t.Errorf("leg %d: verdict %v, want %v", i, x.Legs[i].Verdict, want[i])
		}
	}
	if f := x.Legs[4].Fall.Or(0); math.Abs(float64(f)-0.05) > 1e-9 {
		t.Errorf("0.1 m over 2 m are 5 %%, not %v", f)
	}
	for _, m := range []struct {
		sign profile.Sign
		stop int
	}{{profile.SignPool, 2}, {profile.SignSill, 4}, {profile.SignPart, 0}, {profile.SignPart, 5}} {
		if !slices.ContainsFunc(x.Marks, func(k profile.Mark) bool { return k.Sign == m.sign && k.Stop == m.stop }) {
			t.Errorf("no sign %v at stop %d: %+v", m.sign, m.stop, x.Marks)
		}
	}
}

// Picture and pointer agree: a stop is found where it is drawn, and a distance
// down the picture is the difference of height that it looks like.
func TestViewPlaces(t *testing.T) {
	p, run := sag(t)
	for _, system := range []System{Metric, US} {
		v := profile.View{Of: seen(t, p, run), Title: "Sag", System: system, Width: 160, Height: 90}
		var last float64
		for i := range v.Of.Stops {
			at, ok := v.At(i)
			if !ok || at.X < last {
				t.Errorf("stop %d at %v", i, at)
			}
			last = at.X
			if got := v.Near(at, 1); got != i {
				t.Errorf("%d is found at stop %d", got, i)
			}
		}
		high, _ := v.At(0)
		low, _ := v.At(2)
		if got := v.Fall(low.Y - high.Y); math.Abs(got-1) > 1e-9 {
			t.Errorf("from 1.0 m to 0.0 m is a fall of %v", got)
		}
		// With its own axis kept, the picture is the same.
		kept := v
		kept.Least, kept.Most = v.Heights()
		if at, _ := kept.At(2); math.Hypot(at.X-low.X, at.Y-low.Y) > 1e-6 || kept.Least > 0 || kept.Most < 1 {
			t.Errorf("axis from %v to %v moves a stop from %v to %v", kept.Least, kept.Most, low, at)
		}
		pic := v.Picture()
		var texts []string
		fills := 0
		for _, it := range pic.Items {
			switch f := it.Figure.(type) {
			case draw.Text:
				texts = append(texts, f.String)
			case draw.Path:
				if f.Style.Fill == draw.OfMedium(model.Water) {
					fills++
				}
			}
		}
		for _, want := range []string{"W", "D", "5 %"} {
			if !slices.Contains(texts, want) {
				t.Errorf("%v: nothing says %q among %q", system, want, texts)
			}
		}
		if fills != 3 {
			t.Errorf("liquid stands in %d stretches, want 3", fills)
		}
	}
}

func TestChain(t *testing.T) {
	s := networktest.New(t)
	s.Part("W", "water-supply", "")
	s.Part("T1", "tee", "")
	s.Part("D", "sewer-drain", "")
	s.Part("D2", "sewer-drain", "")
	a := s.Run("W.a", "T1.a", 1)
	b := s.Run("T1.b", "D.a", 1)
	s.Run("T1.branch", "D2.a", 1)
	p := s.Plant()
	way, start := profile.Chain(p, []model.ID{b, a})
	if len(way) < 4 || p.Edges[way[0]].Run == "" || p.Edges[way[len(way)-1]].Run == "" {
		t.Fatalf("way %v", way)
	}
	node := start
	for _, e := range way {
		if p.Edges[e].From != node && p.Edges[e].To != node {
			t.Fatalf("edge %d does not go on from node %d", e, node)
		}
		node = p.Other(e, node)
	}
	if way, _ := profile.Chain(p, nil); len(way) != 0 {
		t.Errorf("no runs, but a way %v", way)
	}
}
