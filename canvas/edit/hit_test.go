package edit

import (
	"fmt"
	"slices"
	"testing"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

func TestHitOrder(t *testing.T) {
	s := newSheet(t)
	s.part("f", "frame", 50, 0) // 200 by 100 mm about it
	s.part("t", "tank", 0, 0)   // 30 by 40 mm
	s.part("s", "spray-ball", 0, -10)
	s.part("v1", "valve", 100, 0)
	s.part("v2", "valve", 105, 0) // overlaps v1, drawn after it
	s.part("p", "pump", 60, 40)
	s.part("q", "pump", -50, 0) // on the left border of the frame
	s.run("r", "t", "outlet", "p", "a", bent(pt(0, 40)))
	s.run("r2", "v1", "a", "t", "return")
	selected := func(ids ...model.ID) func(model.ID) bool {
		return func(id model.ID) bool { return slices.Contains(ids, id) }
	}
	const tol = 1
	tests := []struct {
		desc string
		at   model.Point
		sel  []model.ID
		want string
	}{
		{"nothing", pt(300, 300), nil, "0 "},
		{"a part", pt(10, 10), nil, "3 t"},
		{"a small part lies over a large one", pt(3, -9), nil, "3 s"},
		{"a selected part before a smaller one", pt(3, -9), []model.ID{"t"}, "3 t"},
		{"of equal parts the one drawn last", pt(102.5, -2), nil, "3 v2"},
		{"the selected one before it", pt(102.5, -2), []model.ID{"v1"}, "3 v1"},
		{"a free port before its part", pt(65.5, 40), nil, "2 p b"},
		{"a port that has its run is not there to draw from", pt(95.5, 0), nil, "3 v1"},
		{"a run", pt(30, 40.5), nil, "4 r"},
		{"a bend of a run that is not selected is the run", pt(0, 40), nil, "4 r"},
		{"a bend of a selected run", pt(0.5, 40), []model.ID{"r"}, "1 r 0"},
		{"an end of a selected run before the part and its port", pt(55, 40), []model.ID{"r", "p"}, "1 r -2"},
		{"the border of a frame", pt(80, -50.5), nil, "3 f"},
		{"the inside of a frame is not the frame", pt(80, -30), nil, "0 "},
		{"a part lies over a frame's border", pt(-50, 3), nil, "3 q"},
	}
	for _, tt := range tests {
		h := s.doc.Drawing().Hit(tt.at, tol, selected(tt.sel...))
		got := fmt.Sprintf("%d %s", h.Kind, h.ID)
		switch h.Kind {
		case HitPort:
			got += " " + h.Port
		case HitHandle:
			got += fmt.Sprint(" ", h.Handle)
		}
		if got != tt.want {
			t.Errorf("%s: %s, want %s", tt.desc, got, tt.want)
		}
	}
}

func TestHitLooseEnd(t *testing.T) {
	s := newSheet(t)
	s.part("p", "pump", 0, 0)
	s.put(&model.Run{ID: "r", From: model.End{Part: "p", Port: "b"}, To: LooseAt(pt(50, 0)).end()})
	if h := s.doc.Drawing().Hit(pt(50.5, 0), 1, nil); h.Kind != HitHandle || h.Handle != ToHandle || h.At != pt(50, 0) {
		t.Errorf("hit %+v", h)
	}
}

func TestWithin(t *testing.T) {
	s := newSheet(t)
	s.part("p1", "pump", 0, 0)
	s.part("p2", "pump", 100, 0)
	s.part("p3", "pump", 200, 0)
	s.run("r1", "p1", "b", "p2", "a")
	s.run("r2", "p2", "b", "p3", "a")
	got := s.doc.Drawing().Within(place.Spanned(pt(120, 20), pt(-20, -20)))
	if !slices.Equal(got, []model.ID{"p1", "p2", "r1"}) {
		t.Errorf("within: %v", got)
	}
}
