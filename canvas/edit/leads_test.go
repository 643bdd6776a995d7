package edit

import (
	"testing"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

func TestPositionsAreToldByWhereTheyLead(t *testing.T) {
	s := realSheet(t)
	s.part("v", "divert-valve", 0, 0, tagged("V-1"))
	s.part("u", "union", 30, 0)
	s.part("t", "water-tank", 60, 0, tagged("T-102"))
	s.part("w", "butterfly-valve", 0, 30, tagged("V-2"))
	s.run("r1", "v", "a", "u", "a")
	s.run("r2", "u", "b", "t", "return")
	words := func(position string) string {
		d := s.doc.Drawing()
		return d.PositionWords(d.Circuit().Part("v").(*model.Valve), position)
	}
	if got := words("to-a"); got != "to T-102" { // beyond the union, which has no tag
		t.Errorf("to-a reads %q", got)
	}
	if got := words("to-b"); got != "to b" { // nothing is joined there
		t.Errorf("to-b reads %q", got)
	}
	s.run("r3", "v", "b", "w", "a")
	if got := words("to-b"); got != "to V-2" {
		t.Errorf("to-b reads %q", got)
	}
	s.apply(s.doc.Drawing().Reconnect("r3", false, OnPort("t", "fill")))
	if a, b := words("to-a"), words("to-b"); a != "to T-102 (a)" || b != "to T-102 (b)" {
		t.Errorf("both to one tank read %q and %q", a, b)
	}
	d := s.doc.Drawing()
	if got := d.PositionWords(d.Circuit().Part("w").(*model.Valve), "closed"); got != "closed" {
		t.Errorf("closed reads %q", got)
	}
}

// 1 m is 3.280840 ft (1 ft = 0.3048 m by definition): shown in ft to four
// figures, in m as it stands.
func TestConvertedNumbersAreRounded(t *testing.T) {
	s := realSheet(t)
	s.part("v", "butterfly-valve", 0, 0, at(1))
	d := s.doc.Drawing()
	if got := d.Text("v", "elevation_m", quantity.US); got != "3.281" {
		t.Errorf("1 m reads %q ft", got)
	}
	s.part("w", "butterfly-valve", 0, 0, at(12.3456))
	if got := s.doc.Drawing().Text("w", "elevation_m", quantity.Metric); got != "12.3456" {
		t.Errorf("12.3456 m reads %q", got)
	}
}

func TestLabelCountsAllThatIsSet(t *testing.T) {
	s := realSheet(t)
	s.part("v", "butterfly-valve", 0, 0)
	s.part("w", "butterfly-valve", 50, 0)
	s.run("r", "v", "b", "w", "a")
	e, err := s.doc.Drawing().SetProperty([]model.ID{"v", "w", "r"}, "size", "EN 10357-A DN50", quantity.Metric)
	if err != nil {
		t.Fatal(err)
	}
	if e.Label != "set size of 2 parts and 1 run" {
		t.Errorf("label %q", e.Label)
	}
}
