package edit

import (
	"math"
	"testing"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// pinned adds a mark to the circuit of a sheet.
func pinned(s *sheet, id model.ID, pin model.Pin) {
	number := s.doc.Circuit().NextMarkNumber()
	s.apply(model.Edit{Label: "mark", Changes: []model.Change{
		model.Adding(&model.Mark{ID: id, Number: number, Class: model.MarkMust, Pin: pin})}}, nil)
}

func onRun(share float64) model.Pin {
	return model.Pin{On: "r1", Along: quantity.Some(quantity.Strength(share))}
}

// sits says where a mark sits, to a thousandth of a millimetre.
func sits(t *testing.T, d *Document, id model.ID, on model.ID, want model.Point) {
	t.Helper()
	m := d.Circuit().Mark(id)
	got, ok := d.Drawing().PinPlace(m)
	if m.Pin.On != on || !ok || distance(got, want) > 1e-3 {
		t.Errorf("mark %s sits on %s at %v, want %s at %v", id, m.Pin.On, got, on, want)
	}
}

func TestMarksFollowASplitRun(t *testing.T) {
	s := straight(t)
	line := s.doc.Drawing().Line(s.doc.Circuit().Run("r1"))
	from, to := line[0], line[len(line)-1]
	at := func(share float64) model.Point { return from.Add(scaled(to.Sub(from), share)) }
	pinned(s, "m1", onRun(0.1))
	pinned(s, "m2", onRun(0.9))
	pinned(s, "m3", model.Pin{On: "p2"})
	split := s.apply(s.doc.Drawing().PlaceOnRun("valve", "r1", Pose{At: at(0.4)}))
	var valve, second model.ID
	for _, id := range Added(split) {
		if s.doc.Circuit().Run(id) != nil {
			second = id
		} else {
			valve = id
		}
	}
	sits(t, s.doc, "m1", "r1", at(0.1))
	sits(t, s.doc, "m2", second, at(0.9))
	sits(t, s.doc, "m3", "p2", s.doc.Drawing().Box(s.doc.Circuit().Part("p2")).Centre())

	// Healed, both sit on the one run again, where they were.
	s.apply(s.doc.Drawing().Delete([]model.ID{valve}), nil)
	sits(t, s.doc, "m1", "r1", at(0.1))
	sits(t, s.doc, "m2", "r1", at(0.9))
	for s.doc.CanUndo() && s.doc.Circuit().Mark("m2") != nil {
		s.doc.Undo()
	}
	if s.doc.Circuit().Mark("m1") == nil || s.doc.Circuit().Mark("m1").Pin != onRun(0.1) {
		t.Error("undo does not bring the marks back to where they were")
	}
}

func TestMarksFollowMovesAndReplacements(t *testing.T) {
	s := straight(t)
	s.apply(s.doc.Drawing().PlaceOnRun("valve", "r1", Pose{At: pt(55, 0)}))
	valve := s.doc.Circuit().Tagged("V-101")[0].RecordID()
	pinned(s, "m1", onRun(0.5))
	pinned(s, "m2", model.Pin{On: valve})
	s.apply(s.doc.Drawing().Move([]model.ID{"p1"}, pt(0, -40)), nil)
	if got := s.doc.Circuit().Mark("m1").Pin; got != onRun(0.5) {
		t.Errorf("after a move the mark is pinned %+v", got)
	}
	var other string
	for _, k := range s.doc.Drawing().Replaceable(valve) {
		other = k.Name
		break
	}
	if other == "" {
		t.Fatal("no kind can replace a valve")
	}
	s.apply(s.doc.Drawing().ReplaceKind(valve, other))
	if m := s.doc.Circuit().Mark("m2"); m.Pin.On != valve || s.doc.Circuit().Adrift(m) {
		t.Errorf("a mark on a replaced part is pinned %+v", m.Pin)
	}
}

func TestMarksOnWhatIsDeletedStay(t *testing.T) {
	s := straight(t)
	line := s.doc.Drawing().Line(s.doc.Circuit().Run("r1"))
	middle := scaled(line[0].Add(line[len(line)-1]), 0.5)
	pinned(s, "m1", model.Pin{On: "r1"})
	pinned(s, "m2", model.Pin{On: "p2"})
	where := s.doc.Circuit().Part("p2").Meta().At
	s.apply(model.Edit{Label: "accept", Changes: []model.Change{model.Adding(&model.Deviation{ID: "d1", Rule: "open-end", Finding: "open-end@p2"}),
		model.Adding(&model.Answer{ID: "a1", Question: "gasket", On: "p2"})}}, nil)
	s.apply(s.doc.Drawing().Delete([]model.ID{"p2"}), nil)
	c := s.doc.Circuit()
	for _, tt := range []struct {
		id   model.ID
		on   model.ID
		want model.Point
		was  string
	}{{"m1", "r1", middle, "L-1"}, {"m2", "p2", where, s.doc.Circuit().Mark("m2").Pin.Was}} {
		m := c.Mark(tt.id)
		if !c.Adrift(m) || m.Pin.Was != tt.was || tt.was == "" {
			t.Errorf("mark %s on what is deleted: %+v", tt.id, m)
		}
		sits(t, s.doc, tt.id, tt.on, tt.want)
	}
	if c.Deviation("d1") == nil || c.Answer("a1") == nil {
		t.Error("a deviation or an answer went with its part")
	}
	s.doc.Undo()
	if m := s.doc.Circuit().Mark("m2"); s.doc.Circuit().Adrift(m) || m.Pin.At != nil || m.Pin.Was != "" {
		t.Errorf("undone, the mark is pinned %+v", m.Pin)
	}
	s.apply(s.doc.Drawing().Delete([]model.ID{"m1", "d1", "a1"}), nil)
	if c := s.doc.Circuit(); c.Mark("m1") != nil || c.Deviation("d1") != nil || c.Answer("a1") != nil || c.Mark("m2") == nil {
		t.Error("records of the audit are not deleted, or the wrong one is")
	}
}

func TestPointAlong(t *testing.T) {
	line := []model.Point{pt(0, 0), pt(30, 0), pt(30, 0), pt(30, 10)}
	for share, want := range map[float64]model.Point{0: pt(0, 0), 0.5: pt(20, 0), 0.75: pt(30, 0), 1: pt(30, 10)} {
		got, ok := pointAlong(line, share)
		if !ok || distance(got, want) > 1e-9 {
			t.Errorf("at %v: %v, want %v", share, got, want)
		}
		if back := spotOn(line, got).part; math.Abs(back-share) > 1e-9 {
			t.Errorf("the share of %v is %v, want %v", got, back, share)
		}
	}
	if _, ok := pointAlong(nil, 0.5); ok {
		t.Error("a place on no line")
	}
}

func TestPinPlaceOfAnArea(t *testing.T) {
	s := straight(t)
	a, b := pt(10, 20), pt(30, 60)
	pinned(s, "m1", model.Pin{At: &a, To: &b})
	sits(t, s.doc, "m1", "", pt(20, 40))
	if _, ok := s.doc.Drawing().PinPlace(&model.Mark{}); ok {
		t.Error("a mark on the circuit as a whole has a place")
	}
}
