package edit

import (
	"math"
	"testing"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

func TestPlaceBehind(t *testing.T) {
	s := newSheet(t)
	s.part("t", "tank", 0, 0, tagged("T-101"))
	// A pump below the tank's outlet, turned to it; then a valve; then a tank.
	last := model.ID("t")
	for _, kind := range []string{"pump", "valve", "tank"} {
		e := s.apply(s.doc.Drawing().PlaceBehind(kind, last))
		c := s.doc.Circuit()
		var part model.Part
		var run *model.Run
		for _, id := range Added(e) {
			if p := c.Part(id); p != nil {
				part = p
			}
			if r := c.Run(id); r != nil {
				run = r
			}
		}
		if part == nil || run == nil || run.From.Part != last || run.To.Part != part.RecordID() {
			t.Fatalf("%s: run %+v", kind, run)
		}
		from, _ := place.EndOf(c, s.doc.cat, run.From)
		to, _ := place.EndOf(c, s.doc.cat, run.To)
		if from.Faces.X != -to.Faces.X || from.Faces.Y != -to.Faces.Y || distance(from.At, to.At) < leastBehind-tolerance {
			t.Errorf("%s: ports at %v facing %v and %v facing %v", kind, from.At, from.Faces, to.At, to.Faces)
		}
		if line := s.doc.Drawing().Line(run); len(line) != 2 {
			t.Errorf("%s: the run is not straight: %v", kind, line)
		}
		if at := part.Meta().At; math.Abs(math.Remainder(at.X, Grid)) > tolerance || math.Abs(math.Remainder(at.Y, Grid)) > tolerance {
			t.Errorf("%s: off the grid at %v", kind, at)
		}
		last = part.RecordID()
	}
	if _, err := s.doc.Drawing().PlaceBehind("windmill", "t"); err == nil {
		t.Error("an unknown kind was placed")
	}
	s.part("x", "pump", 300, 0)
	s.part("y", "pump", 350, 0)
	s.run("r", "x", "b", "y", "a")
	s.run("r2", "y", "b", "x", "a")
	if _, err := s.doc.Drawing().PlaceBehind("valve", "x"); err == nil {
		t.Error("a pump without a free port got a valve")
	}
}

func TestReverseRun(t *testing.T) {
	s := straight(t)
	s.apply(s.doc.Drawing().AddBend("r1", pt(50, 20)))
	s.apply(s.doc.Drawing().Reverse([]model.ID{"r1"}), nil)
	r := s.doc.Circuit().Run("r1")
	if r.From.Part != "p2" || float64(r.Rise().Or(0)) != -1 {
		t.Errorf("run %+v", r)
	}
}
