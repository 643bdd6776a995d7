package network

import (
	"fmt"
	"slices"
	"testing"

	"rinsewright/model"
)

// teeWithValve is supply - tee - sewer with a shut valve on the branch.
//
//	W ── T ── D
//	     │ 0.3 m
//	     V ── loose
func teeWithValve(t testing.TB, tee, valve, branch string) *sketch {
	s := newSketch(t)
	s.part("W", "water-supply", "")
	s.part("T", "tee", tee)
	s.part("V", "butterfly-valve", valve)
	s.part("D", "sewer-drain", "")
	s.run("W.a", "T.a", dn50, stretch{2, 0})
	s.run("T.b", "D.a", dn50, stretch{3, 0})
	s.run("T.branch", "V.a", branch, stretch{0.3, 0})
	s.run("V.b", "", branch, stretch{1, 0})
	return s
}

const wholeTee = `"size":"` + dn50 + `","second_size":"` + dn25 + `","stub_mm":40,"run_mm":120`
const wholeValve = `"size":"` + dn25 + `","seat_a_mm":25,"seat_b_mm":35,"normal":"closed"`

func onlyLeg(t testing.TB, p *Plant, st *model.Step) Leg {
	t.Helper()
	r := p.Route(p.LineUp(st))
	if !r.Found {
		t.Fatalf("no route: %s", r.Why)
	}
	legs := p.DeadLegs(r)
	if len(legs) != 1 {
		t.Fatalf("%d legs, want one: %+v", len(legs), legs)
	}
	return legs[0]
}

// By hand: stub 0.040 + run 0.300 + seat 0.025 = 0.365 m, whatever the bore of
// the main; smallest bore that of DN25, 26 mm; main DN50, 50 mm.
func TestDeadLegs_TeeWithShutValve(t *testing.T) {
	p := teeWithValve(t, wholeTee, wholeValve, dn25).plant()
	l := onlyLeg(t, p, step("W", "D", nil))
	near(t, "length", l.Length, 0.365)
	near(t, "bore", l.Bore, 0.026)
	near(t, "main", l.Main, 0.050)
	if got, want := called(p, l.Root)+" "+called(p, l.End), "T.t V.seat_a"; got != want || l.Opens != -1 || len(l.Way) != 3 {
		t.Errorf("leg from %s, want %s; opens %d, way %v", got, want, l.Opens, l.Way)
	}
}

// The same with the valve open: the liquid reaches the loose end.
// 0.040 + 0.300 + 0.025 + 0.035 + 1.000 = 1.400 m.
func TestDeadLegs_LooseEnd(t *testing.T) {
	p := teeWithValve(t, wholeTee, wholeValve, dn25).plant()
	l := onlyLeg(t, p, step("W", "D", map[model.ID]string{"V": "open"}))
	near(t, "length", l.Length, 1.4)
	if called(p, l.End) != "r00004/1" {
		t.Errorf("ends at %s", called(p, l.End))
	}
}

func TestDeadLegs_Unknown(t *testing.T) {
	for _, c := range []struct {
		name, tee, valve, branch string
		lengthMissing            []Missing
		boreMissing              []Missing
	}{
		{"stub", `"size":"` + dn50 + `","second_size":"` + dn25 + `"`, wholeValve, dn25, []Missing{{Record: "T", Key: "stub_mm"}}, nil},
		{"seat", wholeTee, `"size":"` + dn25 + `"`, dn25, []Missing{{Record: "V", Key: "seat_a_mm"}}, nil},
		{"size of the run", wholeTee, wholeValve, "", nil, []Missing{{Record: "r00003", Key: "size"}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := teeWithValve(t, c.tee, c.valve, c.branch).plant()
			l := onlyLeg(t, p, step("W", "D", map[model.ID]string{"V": "closed"}))
			if l.Length.Known() != (c.lengthMissing == nil) || l.Bore.Known() != (c.boreMissing == nil) {
				t.Errorf("length %v, bore %v", l.Length, l.Bore)
			}
			if want := slices.Concat(c.lengthMissing, c.boreMissing); !slices.Equal(l.Missing, want) {
				t.Errorf("missing %v, want %v", l.Missing, want)
			}
			if l.AtLeast < 0.3 {
				t.Errorf("at least %v, the run alone is 0.3 m", l.AtLeast)
			}
		})
	}
}

// The flow turns from main into branch; the dead side of the main is measured
// from the wall of the branch: half the run of the tee 0.060, less half the bore
// of the branch 0.013, plus run 0.500 = 0.547 m.
func TestDeadLegs_FlowTurnsIntoBranch(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", "")
	s.part("T", "tee", wholeTee)
	s.part("C", "cap", `"size":"`+dn50+`"`)
	s.part("D", "sewer-drain", "")
	s.run("W.a", "T.a", dn50, stretch{2, 0})
	s.run("T.branch", "D.a", dn25, stretch{3, 0})
	s.run("T.b", "C.a", dn50, stretch{0.5, 0})
	p := s.plant()
	l := onlyLeg(t, p, step("W", "D", nil))
	near(t, "length", l.Length, 0.547)
	near(t, "bore", l.Bore, 0.050)
	if called(p, l.End) != "C.tip" {
		t.Errorf("ends at %s", called(p, l.End))
	}
}

// A dead leg that passes a second tee. Its main is 50 mm, so its branch is reached
// along the axis after 0.040 + 0.025. From T: stub 0.040 + run 0.300, half of T2
// 0.060, branch 0.065, run 0.700 = 1.165 m; straight on only 0.040 + 0.300 + 0.060 +
// 0.060 + 0.400 = 0.860 m.
func TestDeadLegs_SecondTee(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", "")
	s.part("T", "tee", `"size":"`+dn50+`","second_size":"`+dn50+`","stub_mm":40,"run_mm":120`)
	s.part("T2", "tee", wholeTee)
	s.part("C1", "cap", "")
	s.part("C2", "cap", "")
	s.part("D", "sewer-drain", "")
	s.run("W.a", "T.a", dn50, stretch{2, 0})
	s.run("T.b", "D.a", dn50, stretch{3, 0})
	s.run("T.branch", "T2.a", dn50, stretch{0.3, 0})
	s.run("T2.b", "C1.a", dn50, stretch{0.4, 0})
	s.run("T2.branch", "C2.a", dn25, stretch{0.7, 0})
	p := s.plant()
	l := onlyLeg(t, p, step("W", "D", nil))
	near(t, "length", l.Length, 1.165)
	near(t, "bore", l.Bore, 0.026)
	if called(p, l.End) != "C2.tip" || len(l.Edges) != 9 {
		t.Errorf("ends at %s, edges %v", called(p, l.End), l.Edges)
	}
}

// A ring on a branch: the farthest point is half way round. Stub 0.040, run 0.300
// into T2 by its branch (stub 0.040 + half main 0.025), then a ring of 2 × 0.060 of
// T2 and 3.000 of tube: half of it 1.560. Sum 1.965 m.
func TestDeadLegs_Ring(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", "")
	s.part("T", "tee", wholeTee)
	s.part("T2", "tee", wholeTee)
	s.part("D", "sewer-drain", "")
	s.run("W.a", "T.a", dn50, stretch{2, 0})
	s.run("T.b", "D.a", dn50, stretch{3, 0})
	s.run("T.branch", "T2.branch", dn25, stretch{0.3, 0})
	s.run("T2.a", "T2.b", dn50, stretch{3, 0})
	p := s.plant()
	l := onlyLeg(t, p, step("W", "D", nil))
	near(t, "length", l.Length, 1.965)
	if len(l.Edges) != 6 {
		t.Errorf("edges %v", l.Edges)
	}
}

// An instrument's pocket in the flow: its length is its stub.
func TestDeadLegs_InstrumentPocket(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", "")
	s.part("TT", "temperature-transmitter", `"size":"`+dn50+`","stub_mm":30,"pocket_bore_mm":20`)
	s.part("D", "sewer-drain", "")
	s.run("W.a", "TT.a", dn50, stretch{2, 0})
	s.run("TT.b", "D.a", dn50, stretch{3, 0})
	p := s.plant()
	l := onlyLeg(t, p, step("W", "D", nil))
	near(t, "length", l.Length, 0.030)
	near(t, "bore", l.Bore, 0.020)
	near(t, "main", l.Main, 0.050)
	if called(p, l.End) != "TT.tip" {
		t.Errorf("ends at %s", called(p, l.End))
	}
}

// A bypass with its check valve the wrong way round: the flow holds it shut, so a
// leg stands on each side of it. From T1: stub 0.040 + 1.000 = 1.040 m; from T2:
// 0.040 + 0.500 = 0.540 m.
func TestDeadLegs_CheckValveHeldShut(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", "")
	s.part("T1", "tee", wholeTee)
	s.part("T2", "tee", wholeTee)
	s.part("N", "check-valve", `"size":"`+dn25+`"`)
	s.part("D", "sewer-drain", "")
	s.run("W.a", "T1.a", dn50, stretch{1, 0})
	s.run("T1.b", "T2.a", dn50, stretch{1, 0})
	s.run("T2.b", "D.a", dn50, stretch{1, 0})
	s.run("T1.branch", "N.b", dn25, stretch{1, 0})
	s.run("N.a", "T2.branch", dn25, stretch{0.5, 0})
	p := s.plant()
	r := p.Route(p.LineUp(step("W", "D", nil)))
	if !r.Found || !slices.Equal(r.WrongWay, p.PartEdges("N")) {
		t.Fatalf("found %v, wrong way %v", r.Found, r.WrongWay)
	}
	legs := p.DeadLegs(r)
	var got []string
	for _, l := range legs {
		got = append(got, fmt.Sprintf("%s to %s %.3f", called(p, l.Root), called(p, l.End), l.Length.Or(-1)))
	}
	if want := []string{"T1.t to N.b 1.040", "T2.t to N.a 0.540"}; !slices.Equal(got, want) {
		t.Errorf("legs %v, want %v", got, want)
	}
}

// A tee in the leg whose own size was not told takes the bore of the tube beside
// it; where that is not told either the length is unknown. Lengths: 0.040 + 0.300
// to T2, half its run 0.060, its branch 0.040 + 0.025, run 0.700 = 1.165 m.
func TestDeadLegs_TeeWithoutSize(t *testing.T) {
	for _, size := range []string{dn50, ""} {
		s := newSketch(t)
		s.part("W", "water-supply", "")
		s.part("T", "tee", `"size":"`+dn50+`","second_size":"`+dn50+`","stub_mm":40,"run_mm":120`)
		s.part("I", "temperature-transmitter", `"stub_mm":10,"pocket_bore_mm":20`)
		s.part("C", "cap", "")
		s.part("D", "sewer-drain", "")
		s.run("W.a", "T.a", dn50, stretch{2, 0})
		s.run("T.b", "D.a", dn50, stretch{3, 0})
		s.run("T.branch", "I.a", size, stretch{0.3, 0})
		s.run("I.b", "C.a", size, stretch{0, 0})
		p := s.plant()
		l := onlyLeg(t, p, step("W", "D", nil))
		// To the tip of the instrument: 0.040 + 0.300 + half bore 0.025 + 0.010.
		if size != "" {
			near(t, "length", l.Length, 0.375)
			near(t, "bore", l.Bore, 0.020)
			continue
		}
		if l.Length.Known() || !slices.Contains(l.Missing, Missing{Record: "I", Key: "size"}) || !slices.Contains(l.Missing, Missing{Record: "r00003", Key: "size"}) {
			t.Errorf("length %v, missing %v", l.Length, l.Missing)
		}
	}
}

// The flow turns into a branch whose size nobody told: how far its wall lies from
// the axis is unknown, and so is the length of what goes straight on.
func TestDeadLegs_TurnIntoUnsizedBranch(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", "")
	s.part("T", "tee", `"size":"`+dn50+`","stub_mm":40,"run_mm":120`)
	s.part("C", "cap", "")
	s.part("D", "sewer-drain", "")
	s.run("W.a", "T.a", dn50, stretch{2, 0})
	s.run("T.branch", "D.a", dn25, stretch{3, 0})
	s.run("T.b", "C.a", dn50, stretch{0.5, 0})
	l := onlyLeg(t, s.plant(), step("W", "D", nil))
	if l.AtLeast != 0.5 {
		t.Errorf("at least %v", l.AtLeast)
	}
	unknown(t, "length", l.Length, l.Missing, Missing{Record: "T", Key: "second_size"})
}

// The flowing tube at an instrument that has no size of its own is the tube beside
// it, also across a face-to-face joint.
func TestDeadLegs_MainBesideAnUnsizedHousing(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", "")
	s.part("U", "union", "")
	s.part("I", "temperature-transmitter", `"stub_mm":10,"pocket_bore_mm":20`)
	s.part("D", "sewer-drain", "")
	s.run("W.a", "U.a", dn25, stretch{2, 0})
	s.run("U.b", "I.a", "", stretch{0, 0})
	s.run("I.b", "D.a", "", stretch{3, 0})
	l := onlyLeg(t, s.plant(), step("W", "D", nil))
	near(t, "main", l.Main, 0.026)
	near(t, "length", l.Length, 0.010)
}

// A ring closed by a tube of unknown length: its farthest point is unknown.
func TestDeadLegs_RingOfUnknownLength(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", "")
	s.part("T", "tee", wholeTee)
	s.part("T2", "tee", wholeTee)
	s.part("D", "sewer-drain", "")
	s.run("W.a", "T.a", dn50, stretch{2, 0})
	s.run("T.b", "D.a", dn50, stretch{3, 0})
	s.run("T.branch", "T2.branch", dn25, stretch{0.3, 0})
	s.run("T2.a", "T2.b", dn50)
	l := onlyLeg(t, s.plant(), step("W", "D", nil))
	unknown(t, "length", l.Length, l.Missing, Missing{Record: "r00004", Key: "stretches"})
}
