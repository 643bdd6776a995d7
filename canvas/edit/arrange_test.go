package edit

import (
	"math"
	"slices"
	"testing"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// row is three pumps (10 mm wide) and a tank (30 mm wide) with a switch mounted
// on it by a run of no length.
func row(t *testing.T) *sheet {
	s := newSheet(t)
	s.part("a", "pump", 0, 10)
	s.part("b", "pump", 30, 30)
	s.part("c", "pump", 100, -5)
	s.part("t", "tank", 60, 60)
	return s
}

func TestAlignSides(t *testing.T) {
	// Pumps reach 5 mm to each side of their place, the tank 15 by 20.
	tests := []struct {
		name string
		edge Edge
		want map[model.ID]model.Point
	}{
		{"left", EdgeLeft, map[model.ID]model.Point{"a": pt(0, 10), "b": pt(0, 30), "t": pt(10, 60)}},
		{"right", EdgeRight, map[model.ID]model.Point{"a": pt(70, 10), "b": pt(70, 30), "t": pt(60, 60)}},
		{"top", EdgeTop, map[model.ID]model.Point{"a": pt(0, 10), "b": pt(30, 10), "t": pt(60, 25)}},
		{"bottom", EdgeBottom, map[model.ID]model.Point{"a": pt(0, 75), "b": pt(30, 75), "t": pt(60, 60)}},
		{"middle", EdgeMiddle, map[model.ID]model.Point{"a": pt(0, 10), "b": pt(30, 10), "t": pt(60, 10)}},
		{"centre", EdgeCentre, map[model.ID]model.Point{"a": pt(0, 10), "b": pt(0, 30), "t": pt(0, 60)}},
	}
	for _, tt := range tests {
		s := row(t)
		before := s.doc.Circuit()
		s.apply(s.doc.Drawing().Align([]model.ID{"a", "b", "t"}, tt.edge), nil)
		for id, want := range tt.want {
			if got := s.doc.Circuit().Part(id).Meta().At; got != want {
				t.Errorf("%s: %s at %v, want %v", tt.name, id, got, want)
			}
		}
		if got := s.doc.Circuit().Part("c").Meta().At; got != pt(100, -5) {
			t.Errorf("%s: c, which was not asked for, went to %v", tt.name, got)
		}
		s.doc.Undo()
		if d := difference(before, s.doc.Circuit()); d != "" {
			t.Errorf("%s undone: %s", tt.name, d)
		}
	}
}

func TestDistribute(t *testing.T) {
	s := row(t)
	before := s.doc.Circuit()
	s.apply(s.doc.Drawing().Distribute([]model.ID{"c", "t", "a", "b"}, true), nil)
	d := s.doc.Drawing()
	type span struct{ lo, hi float64 }
	var spans []span
	for _, id := range []model.ID{"a", "b", "t", "c"} {
		b := d.Box(s.doc.Circuit().Part(id))
		spans = append(spans, span{b.Min.X, b.Max.X})
	}
	if spans[0].lo != -5 || spans[3].hi != 105 {
		t.Errorf("the outermost moved: %v", spans)
	}
	var gaps []float64
	for i := 1; i < len(spans); i++ {
		gaps = append(gaps, spans[i].lo-spans[i-1].hi)
	}
	if slices.Max(gaps)-slices.Min(gaps) > Grid+tolerance {
		t.Errorf("gaps %v differ by more than a step of the grid", gaps)
	}
	if math.Abs(gaps[0]+gaps[1]+gaps[2]-50) > tolerance { // 110 mm less the symbols' 60
		t.Errorf("gaps %v do not add up", gaps)
	}
	s.doc.Undo()
	if d := difference(before, s.doc.Circuit()); d != "" {
		t.Errorf("undone: %s", d)
	}
	if e := s.doc.Drawing().Distribute([]model.ID{"a", "b"}, true); !e.Empty() {
		t.Error("two parts have one gap only")
	}
}

// A group turned by four quarters, or mirrored twice, is as it was; upside down
// is mirrored and turned by half.
func TestTurnGroup(t *testing.T) {
	ids := []model.ID{"a", "b", "c", "t"}
	where := func(s *sheet) []model.Item {
		var out []model.Item
		for _, id := range ids {
			out = append(out, *s.doc.Circuit().Part(id).Meta())
		}
		return out
	}
	s := row(t)
	s.part("d", "divert", 40, 0)
	ids = append(ids, "d")
	start := where(s)
	for range 4 {
		s.apply(s.doc.Drawing().Turn(ids, 1), nil)
	}
	if !slices.Equal(where(s), start) {
		t.Errorf("four quarters: %v", where(s))
	}
	for range 2 {
		s.apply(s.doc.Drawing().Upset(ids), nil)
	}
	if !slices.Equal(where(s), start) {
		t.Errorf("upside down twice: %v", where(s))
	}
	s.apply(s.doc.Drawing().Upset(ids), nil)
	upset := where(s)
	ports := portsOf(s)
	s.doc.Undo()
	s.apply(s.doc.Drawing().Mirror(ids), nil)
	s.apply(s.doc.Drawing().Turn(ids, 2), nil)
	if !slices.Equal(where(s), upset) || !slices.Equal(portsOf(s), ports) {
		t.Errorf("mirrored and turned by half %v, upside down %v", where(s), upset)
	}
}

// portsOf gives the places of all ports.
func portsOf(s *sheet) []model.Point {
	var out []model.Point
	for _, p := range s.doc.Circuit().Parts() {
		for _, port := range s.doc.cat.Kind(p.Meta().Kind).Ports {
			at, _ := port.PortAt(p.Meta())
			out = append(out, at)
		}
	}
	return out
}

func TestReplaceMany(t *testing.T) {
	s := newSheet(t)
	s.part("a", "valve", 0, 0, tagged("V-101"))
	s.part("b", "valve", 50, 0, tagged("V-102"))
	s.part("p", "pump", 100, 0, tagged("P-101"))
	s.run("r1", "a", "b", "b", "a")
	s.run("r2", "b", "b", "p", "a")
	before := s.doc.Circuit()
	s.apply(s.doc.Drawing().ReplaceKinds([]model.ID{"a", "b"}, "check-valve"))
	c := s.doc.Circuit()
	if r := c.Run("r1"); r.From != (model.End{Part: "a", Port: "out"}) || r.To != (model.End{Part: "b", Port: "in"}) {
		t.Errorf("run between the two %+v", r)
	}
	if r := c.Run("r2"); r.From.Port != "out" || r.To.Port != "a" {
		t.Errorf("run to the pump %+v", r)
	}
	s.doc.Undo()
	if d := difference(before, s.doc.Circuit()); d != "" {
		t.Errorf("undone: %s", d)
	}
	if _, err := s.doc.Drawing().ReplaceKinds([]model.ID{"a", "b"}, "tank"); err == nil {
		t.Error("valves in a line became tanks")
	}
	for _, k := range s.doc.Drawing().Replaceable("a", "b") {
		if _, err := s.doc.Drawing().ReplaceKinds([]model.ID{"a", "b"}, k.Name); err != nil {
			t.Errorf("%s was offered: %v", k.Name, err)
		}
	}
}

func TestFindByProperty(t *testing.T) {
	s := newSheet(t)
	s.part("a", "tank", 0, 0, tagged("T-1"), func(p model.Part) { p.(*model.Vessel).Diameter = quantity.Some[quantity.Length](2) })
	s.part("b", "tank", 0, 0, tagged("T-2"), func(p model.Part) { p.(*model.Vessel).Diameter = quantity.Some[quantity.Length](3) })
	s.part("c", "tank", 0, 0, tagged("X-3"))
	s.part("v", "valve", 0, 0, tagged("V-1"), func(p model.Part) { p.(*model.Valve).Seal = quantity.Some("EPDM") })
	s.part("w", "valve", 0, 0, tagged("V-2"), func(p model.Part) { p.(*model.Valve).Seal = quantity.Some("FKM") })
	s.run("r", "v", "b", "w", "a", sized(dn50))
	tests := []struct {
		text   string
		system quantity.System
		want   string
	}{
		{"seal=epdm", quantity.Metric, "v"},
		{"SEAL!=EPDM", quantity.Metric, "w"},
		{"diameter>2", quantity.Metric, "b"},
		{"diameter>=2", quantity.Metric, "a b"},
		{"diameter_m=2", quantity.Metric, "a"},
		{"diameter<7", quantity.US, "a"}, // 2 m are 6.56 ft
		{"diameter=", quantity.Metric, "c"},
		{"diameter!=", quantity.Metric, "a b"},
		{"kind=tank T-", quantity.Metric, "a b"},
		{"class=valve tag=2", quantity.Metric, "w"},
		{"run=yes", quantity.Metric, "r"},
		{`size="S DN50"`, quantity.Metric, "r"},
		{"diameter>wide", quantity.Metric, ""},
		{"nothing=1", quantity.Metric, ""},
		{"=1", quantity.Metric, ""},
	}
	for _, tt := range tests {
		if got := joined(s.doc.Drawing().Find(tt.text, tt.system)); got != tt.want {
			t.Errorf("%q finds %q, want %q", tt.text, got, tt.want)
		}
	}
}
