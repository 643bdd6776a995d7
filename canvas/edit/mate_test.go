package edit

import (
	"testing"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// A part let go with a port on a free port that faces it is joined to it by a
// run of no length, and takes over what the joint tells of it.
func TestPlaceFaceToFace(t *testing.T) {
	s := newSheet(t)
	s.part("p1", "pump", 0, 0, at(0.5), func(p model.Part) { p.(*model.Pump).OutletSize = quantity.Some(dn50) })
	e := NewEditor(s.doc)
	e.UsePlace("valve")
	play(t, e, "move 10.9,0.8 > place.idle")
	if len(e.Circuit().Runs()) != 1 {
		t.Error("the joint does not show before the part is placed")
	}
	play(t, e, "press 10.9,0.8 > place.dragging\n release 10.9,0.8 > select.idle")
	c := s.doc.Circuit()
	v := c.Part(s.doc.Selection()[0]).(*model.Valve)
	if v.At != pt(10, 0) || len(c.Runs()) != 1 {
		t.Fatalf("valve at %v, %d runs", v.At, len(c.Runs()))
	}
	r := c.Runs()[0]
	if r.From != (model.End{Part: "p1", Port: "b"}) || r.To != (model.End{Part: v.ID, Port: "a"}) || !sameStretches(r.Stretches, []model.Stretch{stretch(0, 0)}) {
		t.Errorf("run %+v", r)
	}
	if v.Size.Or("") != dn50 || r.Size.Or("") != dn50 || v.Elevation != quantity.Some(quantity.Length(0.5)) {
		t.Errorf("size %v, run %v, elevation %v", v.Size, r.Size, v.Elevation)
	}
	s.doc.Undo()
	if len(s.doc.Circuit().Runs()) != 0 || len(s.doc.Circuit().Parts()) != 1 {
		t.Error("placing and joining were two steps")
	}
}

func TestMoveFaceToFace(t *testing.T) {
	s := newSheet(t)
	s.part("p1", "pump", 0, 0)
	s.part("v1", "valve", 40, 30)
	s.put(&model.Run{ID: "r1", From: LooseAt(pt(60, 0)).end(), To: LooseAt(pt(90, 0)).end(), Size: quantity.Some(dn40)})
	e := NewEditor(s.doc)
	// 51.5 on the way to 50: the loose end of the run is nearer than the grid.
	play(t, e, "press 40,29 > select.pointing\n move 53,-1 > select.moving\n move 54.2,0 > select.moving\n release 54.2,0 > select.idle")
	c := s.doc.Circuit()
	if c.Part("v1").Meta().At != pt(55, 0) || c.Run("r1").From != (model.End{Part: "v1", Port: "b"}) {
		t.Errorf("valve at %v, run from %+v", c.Part("v1").Meta().At, c.Run("r1").From)
	}
	s.doc.Undo()
	play(t, e, "press 40,29 > select.pointing\n move 11,0 alt > select.moving\n release 11,0 alt > select.idle")
	if c := s.doc.Circuit(); len(c.Runs()) != 1 || c.Part("v1").Meta().At != pt(11, 1) {
		t.Errorf("with Alt the valve went to %v, %d runs", c.Part("v1").Meta().At, len(c.Runs()))
	}
	// Ports that look the same way, or that are taken, are left alone.
	s.doc.Undo()
	s.part("p2", "pump", 0, 50)
	s.apply(s.doc.Drawing().MoveOnto([]model.ID{"p2"}, pt(0, -50)), nil)
	if len(s.doc.Circuit().Runs()) != 1 {
		t.Error("ports that look the same way were joined")
	}
}

// A part with one port comes on the branch of a tee.
func TestTap(t *testing.T) {
	s := straight(t)
	e := s.apply(s.doc.Drawing().PlaceOnRun("cap", "r1", Pose{At: pt(50, 0)}))
	c := s.doc.Circuit()
	var tee, cap *model.Fitting
	for _, id := range Added(e) {
		if f, ok := c.Record(id).(*model.Fitting); ok {
			if f.Kind == "tee" {
				tee = f
			} else {
				cap = f
			}
		}
	}
	if tee == nil || cap == nil || len(c.Runs()) != 3 {
		t.Fatalf("%d parts, %d runs", len(c.Parts()), len(c.Runs()))
	}
	port, _ := s.doc.cat.Kind("cap").Port("a")
	branch, _ := s.doc.cat.Kind("tee").Port("branch")
	capAt, capFaces := port.PortAt(cap.Meta())
	teeAt, teeFaces := branch.PortAt(tee.Meta())
	if capAt != teeAt || capFaces.Add(teeFaces) != pt(0, 0) {
		t.Errorf("port at %v facing %v, branch at %v facing %v", capAt, capFaces, teeAt, teeFaces)
	}
	if cap.Size.Or("") != dn50 {
		t.Errorf("size %v", cap.Size)
	}
	// The run rises 1 m over 10 m; the tee stands at half of it.
	if h, ok := cap.Elevation.Get(); !ok || h < 0.45 || h > 0.55 {
		t.Errorf("elevation %v", cap.Elevation)
	}
	sum := 0.0
	for _, r := range c.Runs() {
		l, _ := sums(r.Stretches)
		sum += l
	}
	if sum < 10-tolerance || sum > 10+tolerance {
		t.Errorf("%v m of pipe, want 10", sum)
	}
}

// A port that has its run attracts nothing, and one free port takes one of two.
func TestFaceToFaceWantsFreePorts(t *testing.T) {
	s := newSheet(t)
	s.part("p1", "pump", 0, 0)
	s.part("p2", "pump", 100, 0)
	s.run("r1", "p1", "b", "p2", "a")
	s.part("v1", "valve", 10, 40)
	e := NewEditor(s.doc)
	e.SnapToGrid = false
	play(t, e, "press 10,39 > select.pointing\n move 10.5,-0.5 > select.moving\n release 10.5,-0.5 > select.idle")
	if c := s.doc.Circuit(); c.Part("v1").Meta().At != pt(10.5, 0.5) || len(c.Runs()) != 1 {
		t.Errorf("drawn to %v, %d runs", c.Part("v1").Meta().At, len(c.Runs()))
	}
	s = newSheet(t)
	s.part("p1", "pump", 0, 0)
	s.part("v1", "valve", 10, 40)
	s.part("v2", "valve", 10, 40)
	s.apply(s.doc.Drawing().MoveOnto([]model.ID{"v1", "v2"}, pt(0, -40)), nil)
	if n := len(s.doc.Circuit().Runs()); n != 1 {
		t.Errorf("%d runs on one port", n)
	}
}

func TestPlaceFreelyWithAlt(t *testing.T) {
	s := newSheet(t)
	s.part("p1", "pump", 0, 0)
	e := NewEditor(s.doc)
	e.UsePlace("valve")
	play(t, e, "press 10.9,0.8 > place.dragging\n release 10.9,0.8 alt > select.idle")
	if c := s.doc.Circuit(); len(c.Runs()) != 0 || c.Part(s.doc.Selection()[0]).Meta().At != pt(10.9, 0.8) {
		t.Errorf("%d runs, valve at %v", len(c.Runs()), c.Part(s.doc.Selection()[0]).Meta().At)
	}
}
