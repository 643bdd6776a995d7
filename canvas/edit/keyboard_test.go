package edit

import (
	"testing"

	"rinsewright/model"
)

func TestSelectNext(t *testing.T) {
	s := newSheet(t)
	s.part("c", "pump", 0, 50)
	s.part("a", "pump", 100, 0)
	s.part("b", "pump", 0, 0)
	e := NewEditor(s.doc)
	for _, step := range []struct{ key, want string }{
		{"key tab", "b"}, {"key tab", "a"}, {"key tab", "c"}, {"key tab", "b"}, {"key tab shift", "c"}, {"key escape", ""}, {"key tab shift", "c"},
	} {
		e.Handle(event(t, step.key, pt(0, 0)))
		if got := joined(s.doc.Selection()); got != step.want {
			t.Errorf("%s selects %q, want %q", step.key, got, step.want)
		}
	}
}

func TestConnectSelected(t *testing.T) {
	s := newSheet(t)
	s.part("t", "tank", 0, 0)
	s.part("p", "pump", 80, 60)
	connect, _ := ActionNamed("connect")
	s.doc.Select("t")
	if connect.Enabled(s.doc) {
		t.Error("one part can be connected to nothing")
	}
	s.doc.Select("p", "t") // from the pump to the tank, not by the tank's outlet
	if err := connect.Run(s.doc); err != nil {
		t.Fatal(err)
	}
	r := s.doc.Circuit().Runs()[0]
	if r.From != (model.End{Part: "p", Port: "b"}) || r.To.Part != "t" || r.To.Port == "outlet" {
		t.Errorf("run %+v", r)
	}
	s.doc.Select("t", "p")
	if err := connect.Run(s.doc); err != nil {
		t.Fatal(err)
	}
	if len(s.doc.Circuit().Runs()) != 2 || s.doc.Drawing().PortFree("t", "outlet") {
		t.Error("the tank's outlet is not connected to the pump")
	}
	if err := connect.Run(s.doc); err == nil {
		t.Error("a pump without a free port was connected")
	}
}

func TestAlign(t *testing.T) {
	s := newSheet(t)
	s.part("a", "pump", 0, 10)
	s.part("b", "pump", 50, 30)
	s.apply(s.doc.Drawing().Align([]model.ID{"b", "a"}, EdgeMiddle), nil)
	if at := s.doc.Circuit().Part("a").Meta().At; at != pt(0, 30) {
		t.Errorf("a at %v", at)
	}
	s.apply(s.doc.Drawing().Align([]model.ID{"b", "a"}, EdgeCentre), nil)
	if at := s.doc.Circuit().Part("a").Meta().At; at != pt(50, 30) {
		t.Errorf("a at %v", at)
	}
}
