package network

import (
	"slices"
	"strings"
	"testing"

	"rinsewright/model"
	. "rinsewright/model/quantity"
)

// A butterfly valve is three paths: port - seat - seat - port. Its seats touch
// while it is shut.
func TestLineUp_Positions(t *testing.T) {
	s := newSketch(t)
	s.part("V1", "butterfly-valve", `"normal":"open"`)
	s.changes = append(s.changes, model.Adding(&model.Valve{Item: model.Item{ID: "V2", Kind: "butterfly-valve"}}))
	s.part("V3", "butterfly-valve", `"normal":"ajar"`)
	s.part("V4", "butterfly-valve", `"normal":"closed"`)
	s.part("R", "relief-valve", "")
	s.part("N", "check-valve", "")
	p := s.plant()
	seat := func(part string) int { return between(t, p, part, "seat_a", "seat_b") }
	for _, c := range []struct {
		name    string
		step    *model.Step
		open    []string
		unknown []model.ID
	}{
		{"normal", nil, []string{"V1"}, []model.ID{"V2", "V3"}},
		{"step", step("", "", map[model.ID]string{"V1": "closed", "V2": "open", "V4": "open"}), []string{"V2", "V4"}, []model.ID{"V3"}},
		{"no such position", step("", "", map[model.ID]string{"V1": "half", "V2": "closed", "V3": "closed"}), nil, []model.ID{"V1"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := p.LineUp(c.step)
			if !slices.Equal(l.Unknown, c.unknown) {
				t.Errorf("unknown %v, want %v", l.Unknown, c.unknown)
			}
			for _, v := range []string{"V1", "V2", "V3", "V4"} {
				want := slices.Contains(c.open, v)
				if l.Open[seat(v)] != want || (l.Positions[model.ID(v)] == "open") != want {
					t.Errorf("%s stands %s, open %v", v, l.Positions[model.ID(v)], l.Open[seat(v)])
				}
				if !l.Open[between(t, p, v, "a", "seat_a")] {
					t.Errorf("%s: the way to the seat is shut", v)
				}
			}
			if l.Source != -1 || l.Dest != -1 {
				t.Errorf("source %d, destination %d", l.Source, l.Dest)
			}
		})
	}
}

func TestRoute_WhyNot(t *testing.T) {
	draw := func() *sketch {
		s := newSketch(t)
		s.part("W", "water-supply", "")
		s.part("V", "butterfly-valve", `"normal":"closed"`)
		s.part("N", "check-valve", "")
		s.part("D", "sewer-drain", "")
		s.part("E", "sewer-drain", "")
		s.part("X", "hose", "")
		s.run("W.a", "V.a", dn50)
		s.run("V.b", "N.b", dn50) // the check valve stands the wrong way round
		s.run("N.a", "D.a", dn50)
		return s
	}
	p := draw().plant()
	for _, c := range []struct {
		name string
		step *model.Step
		why  string
	}{
		{"nothing", nil, "no step"},
		{"no source", step("", "D", nil), "no source"},
		{"no destination", step("W", "", nil), "no destination"},
		{"unknown source", step("Q", "D", nil), "Q is not in the circuit"},
		{"same", step("W", "W", nil), "the same"},
		{"not joined", step("W", "E", nil), "nothing joins W to E"},
		{"wrong way", step("W", "D", map[model.ID]string{"V": "open"}), "stand against the flow: N"},
		{"shut", step("W", "D", nil), "nothing joins W to D"}, // opening V would not help
		{"shut, other way", step("D", "W", nil), "shut on the way: V"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := p.Route(p.LineUp(c.step))
			if r.Found || !strings.Contains(r.Why, c.why) || count(r.InFlow) > 0 || r.Ways != nil {
				t.Errorf("found %v, why %q, want %q", r.Found, r.Why, c.why)
			}
			if p.DeadLegs(r) != nil {
				t.Error("legs without a route")
			}
		})
	}
	r := p.Route(p.LineUp(step("W", "D", map[model.ID]string{"V": "open"})))
	if !slices.Equal(r.WrongWay, p.PartEdges("N")) {
		t.Errorf("wrong way %v, want %v", r.WrongWay, p.PartEdges("N"))
	}
}

// The sentence tells how far liquid gets and where to look.
func TestRoute_HowFarLiquidGets(t *testing.T) {
	const tank = `"size":"DN50","inlet_size":"DN50"`
	for _, c := range []struct {
		name string
		draw func(s *sketch)
		to   string
		why  string
		at   model.Place
	}{
		{"nothing on the source", func(s *sketch) {}, "D", "nothing joins T to D; nothing is joined to T Outlet, and nothing is joined to D", model.PlaceOfPort("T", "outlet")},
		{"ends at a spray device", func(s *sketch) {
			s.part("S", "spray-ball", "")
			s.run("T.outlet", "S.a", dn50)
		}, "D", "liquid reaches S and ends there: nothing is joined to S To the vessel", model.PlaceOfPort("S", "out")},
		{"behind a shut valve", func(s *sketch) {
			s.part("V", "butterfly-valve", `"normal":"closed"`)
			s.run("T.outlet", "V.a", dn50)
		}, "D", "liquid reaches V and ends there: nothing is joined to V port b", model.PlaceOfPort("V", "b")},
		{"onto a vent", func(s *sketch) {
			s.part("P", "hose", "")
			s.part("T2", "process-vessel", tank)
			s.run("T.outlet", "P.a", dn50)
			s.run("P.b", "T2.vent", dn50)
			s.run("T2.outlet", "D.a", dn50)
		}, "D", "nothing joins T to D; T2 Vent takes no process liquid", model.PlaceOfPort("T2", "vent")},
		{"destination alone", func(s *sketch) {
			s.part("E", "sewer-drain", "")
			s.run("T.outlet", "E.a", dn50)
		}, "D", "nothing joins T to D; nothing is joined to D", model.PlaceOf("D")},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newSketch(t)
			s.part("T", "water-tank", tank)
			s.part("D", "sewer-drain", "")
			c.draw(s)
			p := s.plant()
			r := p.Route(p.LineUp(step("T", c.to, nil)))
			if r.Found || !strings.Contains(r.Why, c.why) || r.At != c.at {
				t.Errorf("why %q at %v, want %q at %v", r.Why, r.At, c.why, c.at)
			}
		})
	}
}

// A bypass round a strainer from tee to tee: two parallel ways, so neither carries
// the whole flow and both run from the first tee to the second.
func TestRoute_Bypass(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", "")
	s.part("T1", "tee", wholeTee)
	s.part("T2", "tee", wholeTee)
	s.part("D", "sewer-drain", "")
	in := s.run("W.a", "T1.a", dn50, stretch{1, 0})
	main := s.run("T1.b", "T2.a", dn50, stretch{1, 0}, stretch{1, 0})
	bypass := s.run("T2.branch", "T1.branch", dn25, stretch{1, 0})
	s.run("T2.b", "D.a", dn50, stretch{1, 0})
	p := s.plant()
	st := step("W", "D", nil)
	st.Flow = Some(CubicMetresPerHour(10.6))
	r := p.Route(p.LineUp(st))
	if !r.Found || count(r.InFlow) != len(p.Edges) || count(r.Wet) != len(p.Edges) {
		t.Fatalf("found %v %q, %d of %d edges flow", r.Found, r.Why, count(r.InFlow), len(p.Edges))
	}
	for _, c := range []struct {
		run     model.ID
		whole   bool
		forward int8
	}{{in, true, 1}, {main, false, 1}, {bypass, false, -1}} {
		for _, e := range p.RunEdges(c.run) {
			if r.Whole[e] != c.whole || r.Forward[e] != c.forward {
				t.Errorf("%s: whole %v, forward %d", c.run, r.Whole[e], r.Forward[e])
			}
		}
	}
	// 10.6 m³/h in DN50 is 1.5 m/s (EN 10357 series A, 50 mm inside: 10.60 m³/h at
	// 1.5 m/s): 10.6 / 3600 / (π/4 · 0.05²) = 1.49958 m/s.
	v, _ := p.Velocity(r, p.RunEdges(in)[0])
	if got, known := v.Get(); !known || got < 1.4995 || got > 1.4997 {
		t.Errorf("velocity %v", got)
	}
	v, missing := p.Velocity(r, p.RunEdges(main)[0])
	unknown(t, "split", v, missing, Missing{Record: "s1", Key: "split"})
	// Supply, run, half a tee, branch, bypass, branch, half a tee, run, sewer: one
	// edge less than by the main with its two stretches.
	if d := len(r.Ways); d != 9 {
		t.Errorf("way of %d edges: %v", d, r.Ways)
	}
}

func TestVelocity_Missing(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", "")
	s.part("U", "union", "")
	s.part("D", "sewer-drain", "")
	sized := s.run("W.a", "U.a", dn50)
	bare := s.run("U.b", "D.a", "")
	other := s.run("", "", dn50)
	p := s.plant()
	r := p.Route(p.LineUp(step("W", "D", nil)))
	v, missing := p.Velocity(r, p.RunEdges(sized)[0])
	unknown(t, "flow", v, missing, Missing{Record: "s1", Key: "flow_m3h"})
	v, missing = p.Velocity(r, p.RunEdges(bare)[0])
	unknown(t, "bore", v, missing, Missing{Record: bare, Key: "size"})
	v, missing = p.Velocity(r, p.PartEdges("U")[0])
	unknown(t, "bore of a part", v, missing, Missing{Record: "U", Key: "size"})
	v, _ = p.Velocity(r, p.RunEdges(other)[0])
	near(t, "no flow", v, 0)
}

// tankLoop is a station: tank, pump, process vessel, return to the tank; a vent
// line on the tank, an overflow to a sewer, a hatch on the vessel.
func tankLoop(t testing.TB) *sketch {
	s := newSketch(t)
	s.part("T", "alkali-tank", `"diameter_m":1,"height_m":2,"bottom":"flat","top":"flat","elevation_m":1`)
	s.part("P", "centrifugal-pump", `"elevation_m":0.5`)
	s.part("B", "process-vessel", `"diameter_m":2,"height_m":3,"bottom":"flat","top":"flat","elevation_m":1`)
	s.part("S", "spray-ball", "")
	s.part("H", "hatch", `"second_size":"`+dn50+`","stub_mm":100`)
	s.part("A", "vent", "")
	s.part("D", "sewer-drain", "")
	s.run("T.outlet", "P.a", dn50, stretch{1, 0})
	s.run("P.b", "S.a", dn50, stretch{8, 0})
	s.face("S.out", "B.spray")
	s.run("B.outlet", "T.return", dn50, stretch{6, 0})
	s.run("T.vent", "A.a", dn50, stretch{1, 0})
	s.run("T.overflow", "D.a", dn50, stretch{2, 0})
	s.face("H.a", "B.nozzle")
	return s
}

// Circulation from a tank through a washed vessel back to the same tank: what is
// drawn and what has come back do not meet in the tank; the washed vessel is
// passed through.
func TestRoute_BackToTheSameTank(t *testing.T) {
	p := tankLoop(t).plant()
	r := p.Route(p.LineUp(step("T", "T", nil)))
	if !r.Found {
		t.Fatal(r.Why)
	}
	liquid := func(part string) int { return between(t, p, part, "inside", "draw") }
	if r.InFlow[liquid("T")] || !r.InFlow[liquid("B")] || !r.Whole[liquid("B")] || r.Forward[liquid("B")] != 1 {
		t.Errorf("tank %v, vessel %v whole %v", r.InFlow[liquid("T")], r.InFlow[liquid("B")], r.Whole[liquid("B")])
	}
	for _, run := range []model.ID{"r00001", "r00002", "r00003", "r00004"} {
		if e := p.RunEdges(run)[0]; !r.Whole[e] || !r.Wet[e] || r.Forward[e] != 1 {
			t.Errorf("%s: whole %v, wet %v, forward %d", run, r.Whole[e], r.Wet[e], r.Forward[e])
		}
	}
	for _, run := range []model.ID{"r00005", "r00006"} {
		if e := p.RunEdges(run)[0]; r.Wet[e] || !p.Dry(e) {
			t.Errorf("%s, vent or overflow: wet %v", run, r.Wet[e])
		}
	}
	if first, last := r.Ways[0], r.Ways[len(r.Ways)-1]; first != between(t, p, "T", "outlet", "draw") || last != between(t, p, "T", "return", "inside") {
		t.Errorf("way %v", r.Ways)
	}
	// The hatch is the only leg: unused ports of the vessel are none. Its nozzle is
	// 0.1 m long, measured from the wall of the vessel.
	legs := p.DeadLegs(r)
	if len(legs) != 1 || called(p, legs[0].Root) != "B.inside" || called(p, legs[0].End) != "H.tip" || legs[0].Main.Known() {
		t.Fatalf("%+v", legs)
	}
	near(t, "hatch", legs[0].Length, 0.1)
}

// The supply of a tank through its outlet is no way in: liquid drawn from a vessel
// leaves by an outlet, and none leaves by an inlet.
func TestRoute_VesselInletsLetNothingOut(t *testing.T) {
	s := newSketch(t)
	s.part("B", "process-vessel", "")
	s.part("W", "water-supply", "")
	s.part("D", "sewer-drain", "")
	s.part("E", "sewer-drain", "")
	s.run("W.a", "B.spray", dn50)
	s.run("B.product_in", "D.a", dn50)
	s.run("B.outlet", "E.a", dn50)
	p := s.plant()
	if r := p.Route(p.LineUp(step("W", "D", nil))); r.Found {
		t.Error("a way out through an inlet")
	}
	r := p.Route(p.LineUp(step("W", "E", nil)))
	if !r.Found {
		t.Fatal(r.Why)
	}
	if e := p.RunEdges("r00002")[0]; r.Wet[e] {
		t.Error("the inlet that is not used is wet")
	}
}

// A mix-proof valve keeps its lines apart while closed; open, it joins them; with
// a seat lifted, that line reaches the leak outlet.
func TestRoute_MixProof(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", "")
	s.part("M", "mix-proof-valve", `"size":"`+dn50+`","second_size":"`+dn50+`","seat_a_mm":20,"seat_b_mm":30,"normal":"closed"`)
	s.part("D", "sewer-drain", "")
	s.part("E", "sewer-drain", "")
	s.part("C", "cap", "")
	s.run("W.a", "M.a", dn50, stretch{1, 0})
	s.run("M.b", "D.a", dn50, stretch{1, 0})
	s.run("M.d", "E.a", dn50, stretch{1, 0})
	s.run("M.c", "C.a", dn50, stretch{0.2, 0})
	p := s.plant()
	for _, c := range []struct {
		position, dest string
		found          bool
		legs           []string // root, end, opens
		lengths        []float64
	}{
		{"closed", "D", true, []string{"M.m1 M.s1 -"}, []float64{0.020}},
		{"closed", "E", false, nil, nil},
		// Open: from a to d by both seats. The flow turns from line into seat at m1,
		// so the rest of that line, 1 m to the sewer, is dead from the wall of the
		// seat (bore 50 mm): 0 + 1.000; the part itself has no length, so the half
		// bore is not taken below its zero. At m2 the same for the capped end.
		{"open", "E", true, []string{"M.m1 D.mouth D.mouth", "M.m2 C.tip -"}, []float64{1.0, 0.2}},
		{"lower-lift", "D", true, []string{"M.m1 M.leak M.leak"}, []float64{0.020}},
		{"upper-lift", "D", true, []string{"M.m1 M.s1 -"}, []float64{0.020}},
	} {
		t.Run(c.position+" to "+c.dest, func(t *testing.T) {
			r := p.Route(p.LineUp(step("W", c.dest, map[model.ID]string{"M": c.position})))
			if r.Found != c.found {
				t.Fatalf("found %v: %s", r.Found, r.Why)
			}
			var got []string
			legs := p.DeadLegs(r)
			for i, l := range legs {
				got = append(got, called(p, l.Root)+" "+called(p, l.End)+" "+called(p, l.Opens))
				if i < len(c.lengths) {
					near(t, got[i], l.Length, c.lengths[i])
				}
			}
			if !slices.Equal(got, c.legs) {
				t.Errorf("legs %v, want %v", got, c.legs)
			}
		})
	}
}

// A divert valve sends the liquid one way; the other seat is a dead leg as long as
// the seat stands off the passage.
func TestRoute_Divert(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", "")
	s.part("V", "divert-valve", `"size":"`+dn50+`","seat_a_mm":35,"seat_b_mm":45`)
	s.part("D", "sewer-drain", "")
	s.part("T", "recovered-tank", "")
	s.run("W.a", "V.c", dn50, stretch{1, 0})
	s.run("V.a", "D.a", dn50, stretch{1, 0})
	s.run("V.b", "T.return", dn50, stretch{1, 0})
	p := s.plant()
	for _, c := range []struct {
		position, dest, end string
		found               bool
		length              float64
	}{
		{"to-a", "D", "V.seat_b", true, 0.045}, {"to-b", "T", "V.seat_a", true, 0.035}, {"to-a", "T", "", false, 0},
	} {
		r := p.Route(p.LineUp(step("W", c.dest, map[model.ID]string{"V": c.position})))
		if r.Found != c.found {
			t.Fatalf("%s: found %v", c.position, r.Found)
		}
		if !c.found {
			if !slices.Equal(r.Shut, []int{between(t, p, "V", "seat_b", "far_b")}) {
				t.Errorf("shut %v", r.Shut)
			}
			continue
		}
		l := p.DeadLegs(r)
		if len(l) != 1 || called(p, l[0].End) != c.end {
			t.Fatalf("%s: %+v", c.position, l)
		}
		near(t, c.position, l[0].Length, c.length)
	}
}

// A standby pump beside the running one, shut off on its suction and not on its
// discharge: its casing stands full up to the shut seat. A check valve instead
// keeps it dry.
func TestWet_StandbyPump(t *testing.T) {
	for _, check := range []bool{false, true} {
		s := newSketch(t)
		s.part("W", "water-supply", "")
		s.part("T1", "tee", wholeTee)
		s.part("T2", "tee", wholeTee)
		s.part("V", "butterfly-valve", `"normal":"closed"`)
		s.part("P1", "centrifugal-pump", "")
		s.part("P2", "centrifugal-pump", "")
		s.part("D", "sewer-drain", "")
		s.run("W.a", "T1.a", dn50)
		s.run("T1.b", "P1.a", dn50)
		s.run("P1.b", "T2.a", dn50)
		s.run("T2.b", "D.a", dn50)
		s.run("T1.branch", "V.a", dn50)
		s.run("V.b", "P2.a", dn50)
		if check {
			s.part("N", "check-valve", "")
			s.run("P2.b", "N.a", dn50)
			s.run("N.b", "T2.branch", dn50)
		} else {
			s.run("P2.b", "T2.branch", dn50)
		}
		p := s.plant()
		r := p.Route(p.LineUp(step("W", "D", nil)))
		if !r.Found {
			t.Fatal(r.Why)
		}
		if got := r.Wet[p.PartEdges("P2")[0]]; got == check {
			t.Errorf("check valve %v: pump wet %v", check, got)
		}
	}
}

func TestWetted_IsAnyRoute(t *testing.T) {
	p := &Plant{Edges: make([]Edge, 3)}
	got := p.Wetted([]*Route{{Wet: []bool{true, false, false}}, {Wet: []bool{false, false, true}}})
	if !slices.Equal(got, []bool{true, false, true}) {
		t.Error(got)
	}
}

// Steam never wets: a heater's steam side and a steam line stay dry, and a step
// that blows air through has a route but wets nothing.
func TestWet_SteamAndAir(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", "")
	s.part("E", "plate-heater", "")
	s.part("Q", "steam-supply", "")
	s.part("K", "condensate-return", "")
	s.part("D", "sewer-drain", "")
	s.run("W.a", "E.a", dn50)
	s.run("E.b", "D.a", dn50)
	steam := s.run("Q.a", "E.s", dn50)
	s.run("E.k", "K.a", dn50)
	s.part("A", "air-supply", "")
	s.part("B", "balance-tank", "")
	air := s.run("A.a", "B.vent", dn50)
	p := s.plant()
	r := p.Route(p.LineUp(step("W", "D", nil)))
	if !r.Found || r.Wet[p.RunEdges(steam)[0]] || r.Wet[p.PartEdges("E")[1]] || !r.Wet[p.PartEdges("E")[0]] {
		t.Errorf("%v %v", r.Why, r.Wet)
	}
	r = p.Route(p.LineUp(step("A", "B", nil)))
	if !r.Found || !r.InFlow[p.RunEdges(air)[0]] || count(r.Wet) != 0 {
		t.Errorf("air: found %v %s, wet %d", r.Found, r.Why, count(r.Wet))
	}
}
