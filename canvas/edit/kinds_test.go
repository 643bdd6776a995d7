package edit

import (
	"math"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Every kind of the program that fits a run can be put on one that goes any way,
// keeps the pipe's length and rise, and leaves the run as it was when it is taken
// out again, if it stood in the line.
func TestKindsOnRun(t *testing.T) {
	cat := catalogue.Builtin()
	ways := []model.Point{pt(200, 0), pt(0, 200), pt(-200, 0), pt(0, -200)}
	inLine, taps := 0, 0
	for _, k := range cat.Kinds() {
		if !FitsRun(k) {
			continue
		}
		for _, to := range ways {
			run := &model.Run{ID: "r1", From: LooseAt(pt(0, 0)).end(), To: LooseAt(to).end(), Stretches: []model.Stretch{stretch(4, 0), stretch(6, -0.1)}}
			c, err := model.FromRecords(nil, nil, []*model.Run{run}, nil)
			if err != nil {
				t.Fatal(err)
			}
			s := &sheet{t, NewDocument(c, cat)}
			e := s.apply(s.doc.Drawing().PlaceOnRun(k.Name, "r1", Pose{At: scaled(to, 0.5)}))
			length, rise := 0.0, 0.0
			var parts []model.ID
			for _, r := range s.doc.Circuit().Runs() {
				l, h := sums(r.Stretches)
				length, rise = length+l, rise+h
			}
			for _, p := range s.doc.Circuit().Parts() {
				parts = append(parts, p.RecordID())
			}
			if math.Abs(length-10) > tolerance || math.Abs(rise+0.1) > tolerance {
				t.Errorf("%s towards %v: %v m of pipe with a rise of %v m", k.Name, to, length, rise)
			}
			if Taps(k) {
				taps++
				if len(parts) != 2 || len(s.doc.Circuit().Runs()) != 3 {
					t.Errorf("%s towards %v: %d parts, %d runs", k.Name, to, len(parts), len(s.doc.Circuit().Runs()))
				}
				continue
			}
			inLine++
			for _, r := range s.doc.Circuit().Runs() {
				for _, q := range s.doc.Drawing().Line(r) {
					if math.Abs(q.X*to.Y-q.Y*to.X) > near {
						t.Errorf("%s towards %v: the line leaves the run at %v", k.Name, to, q)
					}
				}
			}
			if !healable(k) {
				continue
			}
			s.apply(s.doc.Drawing().Delete(Added(e)[:1]), nil)
			r := s.doc.Circuit().Run("r1")
			if r == nil || !sameStretches(r.Stretches, run.Stretches) || len(r.Bends) > 0 || *r.From.At != pt(0, 0) || *r.To.At != to {
				t.Errorf("%s towards %v: healed to %+v", k.Name, to, r)
			}
		}
	}
	if inLine == 0 || taps == 0 {
		t.Errorf("%d kinds in line and %d on a tee were tried", inLine, taps)
	}
}

// A divert valve stands with its common port to where the liquid comes from, and
// a reducer with its first end.
func TestKindsThatAreNotEitherWay(t *testing.T) {
	cat := testCatalogue(t)
	for kind, port := range map[string]string{"divert": "c", "concentric": "a", "check-valve": "in", "pump": "a"} {
		for _, to := range []model.Point{pt(100, 0), pt(-100, 0), pt(0, 100), pt(0, -100)} {
			run := &model.Run{ID: "r1", From: LooseAt(pt(0, 0)).end(), To: LooseAt(to).end()}
			c, _ := model.FromRecords(nil, nil, []*model.Run{run}, nil)
			s := &sheet{t, NewDocument(c, cat)}
			s.apply(s.doc.Drawing().PlaceOnRun(kind, "r1", Pose{At: scaled(to, 0.5)}))
			if r := s.doc.Circuit().Run("r1"); r.To.Port != port {
				t.Errorf("%s towards %v: the run comes to port %s", kind, to, r.To.Port)
			}
		}
	}
}
