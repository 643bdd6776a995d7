package network

import (
	"math"
	"slices"
	"testing"
)

var dunno = math.NaN()

// A tank 2 m high at 1 m: its outlet and inside at 1.0 m, its return at 0.9 of its
// height, 2.8 m. From there a run of known rises leads down to a union and on.
func TestHeights_DerivedAlongRuns(t *testing.T) {
	s := newSketch(t)
	s.part("T", "alkali-tank", `"height_m":2,"elevation_m":1`)
	s.part("U", "union", "")
	s.part("C", "cap", "")
	a := s.run("T.return", "U.b", dn50, stretch{1, 0}, stretch{2.5, -2.5})
	b := s.run("U.a", "C.a", dn50, stretch{1, 0.2}, stretch{1, dunno})
	s.face("T.outlet", "")
	p := s.plant()
	h := p.Heights()
	for name, want := range map[string]float64{
		"T.outlet": 1, "T.inside": 1, "T.draw": 1, "T.return": 2.8, "U.a": 0.3, "U.b": 0.3,
	} {
		near(t, name, h.Of[at(t, p, name)], want)
	}
	near(t, "joint", h.Of[p.Edges[p.RunEdges(a)[0]].To], 2.8)
	near(t, "joint before the unknown rise", h.Of[p.Edges[p.RunEdges(b)[0]].To], 0.5)
	near(t, "face to face", h.Of[p.Edges[p.RunEdges("r00003")[0]].To], 1)
	if h.Of[at(t, p, "C.a")].Known() || len(h.Disagree) != 0 {
		t.Errorf("cap %v, disagree %v", h.Of[at(t, p, "C.a")], h.Disagree)
	}
	if !slices.Equal(h.Underived, []Missing{{Record: "C", Key: "elevation_m"}}) || h.Group[at(t, p, "C.tip")] != 0 || h.Group[at(t, p, "U.a")] != -1 {
		t.Errorf("underived %v", h.Underived)
	}
}

// Rises add up to 0.8 m, the ends differ by 1.0 m. 1 mm is let pass.
func TestHeights_Disagree(t *testing.T) {
	for _, c := range []struct {
		rise float64
		want int
	}{{0.3, 1}, {0.4989, 1}, {0.4992, 0}, {0.5, 0}, {0.5008, 0}, {0.5011, 1}} {
		s := newSketch(t)
		s.part("A", "union", `"elevation_m":0`)
		s.part("B", "union", `"elevation_m":1`)
		id := s.run("A.b", "B.a", dn50, stretch{1, 0.5}, stretch{1, c.rise})
		h := s.plant().Heights()
		if len(h.Disagree) != c.want {
			t.Errorf("rise %v: %+v", c.rise, h.Disagree)
		}
		if c.rise == 0.3 {
			d := h.Disagree[0]
			near(t, "told", some(d.Told), 0.8)
			near(t, "needed", some(d.Needed), 1)
			if d.Run != id {
				t.Errorf("run %s", d.Run)
			}
		}
	}
}

func TestHeights_NamesWhatWouldHelp(t *testing.T) {
	s := newSketch(t)
	s.part("T", "alkali-tank", `"elevation_m":1`) // no height: ports at the top unknown
	s.part("A", "union", "")
	s.part("B", "union", "")
	s.run("A.b", "B.a", dn50)
	lone := s.run("", "", dn50)
	p := s.plant()
	h := p.Heights()
	got := map[Missing]bool{}
	for _, m := range h.Underived {
		got[m] = true
	}
	for _, want := range []Missing{{Record: "T", Key: "height_m"}, {Record: "A", Key: "elevation_m"}, {Record: lone, Key: "stretches"}} {
		if !got[want] {
			t.Errorf("%v is not named in %v", want, h.Underived)
		}
	}
	if a, b := h.Group[at(t, p, "A.a")], h.Group[at(t, p, "B.b")]; a != b || a < 0 || h.Underived[a] != (Missing{Record: "A", Key: "elevation_m"}) {
		t.Errorf("joined parts in groups %d and %d of %v", a, b, h.Underived)
	}
}
