package lineup_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/lineup"
	"rinsewright/model/network/networktest"
)

// The steam valve that the demo's heated steps open is found, and the drain step of
// its first vessel.
func TestHeatingAndEmptyingOfDemo(t *testing.T) {
	p := demo(t, "oat-drink-station")
	heated := 0
	for _, step := range p.Circuit.Steps() {
		if step.Positions["p-tcv-101"] == "open" {
			heated++
			moved, cold := lineup.Heating(p, p.Route(p.LineUp(step)))
			if !maps.Equal(moved, map[model.ID]string{"p-tcv-101": "open"}) || len(cold) > 0 {
				t.Errorf("%s %s: heating moves %v, cold %v", step.Programme, step.Name, moved, cold)
			}
		}
	}
	if heated != 15 { // alkali and acid of three objects, twice, and alkali every day
		t.Errorf("%d heated steps", heated)
	}
	ask := lineup.Ask{Source: "p-t-101", Destination: "p-sw-103", Through: []model.ID{"p-t-201"}}
	got, err := lineup.Find(p, ask)
	if err != nil {
		t.Fatal(err)
	}
	e, err := lineup.Empty(p, ask, &got[0])
	if err != nil || e.Missing != "" {
		t.Fatal(err, e.Missing)
	}
	drawn := p.Circuit.Step("s-06")
	if e.Destination != drawn.Destination || !slices.Equal(e.Drains, []model.ID{"p-sw-101", "p-sw-102", "p-sw-103"}) {
		t.Errorf("drains %v, the first %s", e.Drains, e.Destination)
	}
	want := p.LineUp(drawn).Positions
	step := &model.Step{Destination: e.Destination, Positions: e.Moved}
	for id, pos := range p.LineUp(step).Positions {
		if want[id] != pos {
			t.Errorf("%s stands %s, drawn %s", id, pos, want[id])
		}
	}
}

// A heater without a steam supply stays cold.
func TestColdHeater(t *testing.T) {
	s := networktest.New(t)
	s.Part("W", "water-supply", "")
	s.Part("E", "plate-heater", `"size":"`+networktest.DN50+`"`)
	s.Part("D", "sewer-drain", "")
	s.Run("W.a", "E.a", 1)
	s.Run("E.b", "D.a", 1)
	p := s.Plant()
	moved, cold := lineup.Heating(p, p.Route(p.LineUp(&model.Step{Source: "W", Destination: "D"})))
	if len(moved) > 0 || !slices.Equal(cold, []model.ID{"E"}) {
		t.Errorf("moved %v, cold %v", moved, cold)
	}
}

// twoTanks is an alkali and a water tank, each behind a valve on one header.
func twoTanks(t testing.TB) *networktest.Sketch {
	s := networktest.New(t)
	s.Part("TA", "alkali-tank", "")
	s.Part("TW", "water-tank", "")
	s.Part("VA", "butterfly-valve", networktest.Seats+`,"actuation":"manual"`)
	s.Part("VW", "butterfly-valve", networktest.Seats)
	s.Part("H", "tee", networktest.Stubs)
	s.Part("P", "centrifugal-pump", "")
	s.Part("D", "sewer-drain", "")
	s.Run("TA.outlet", "VA.a", 1)
	s.Run("TW.outlet", "VW.a", 1)
	s.Run("VA.b", "H.a", 1)
	s.Run("VW.b", "H.branch", 1)
	s.Run("H.b", "P.a", 1)
	s.Run("P.b", "D.a", 1)
	return s
}

func TestSwitchingList(t *testing.T) {
	p := twoTanks(t).Plant()
	step := func(order int, name string, source model.ID, open ...model.ID) *model.Step {
		s := &model.Step{ID: model.ID(name), Order: order, Name: name, Source: source, Destination: "D", Positions: map[model.ID]string{}, Running: []model.ID{"P"}}
		for _, id := range open {
			s.Positions[id] = "open"
		}
		return s
	}
	rinse, wash, both, idle := step(10, "Rinse", "TW", "VW"), step(20, "Wash", "TA", "VA"), step(30, "Both", "TA", "VA", "VW"), step(40, "Idle", "TA")
	idle.Running = nil
	got := lineup.SwitchingList(p, []*model.Step{rinse, wash, both, idle})
	want := [][]string{
		{"", "10", "Rinse", "switch", "VW", "closed", "open", ""},
		{"", "10", "Rinse", "start", "P", "stopped", "running", ""},
		{"", "20", "Wash", "shut", "VW", "open", "closed", ""},
		{"", "20", "Wash", "switch", "VA", "closed", "open", "yes"},
		{"", "30", "Both", "switch", "VW", "closed", "open", ""},
		{"", "40", "Idle", "stop", "P", "running", "stopped", ""},
		{"", "40", "Idle", "shut", "VA", "open", "closed", "yes"},
		{"", "40", "Idle", "shut", "VW", "open", "closed", ""},
	}
	rows := got.Rows(p)
	if len(rows) != len(want) {
		t.Fatalf("%v", rows)
	}
	for i := range rows {
		if !slices.Equal(rows[i], want[i]) || len(rows[i]) != len(lineup.Columns) {
			t.Errorf("%v, want %v", rows[i], want[i])
		}
	}
	if len(got.Conflicts) != 2 {
		t.Fatalf("%+v", got.Conflicts)
	}
	while, open := got.Conflicts[0], got.Conflicts[1]
	if while.Step != wash || !while.While || !slices.Equal(while.FirstShut, []model.ID{"VW"}) || !slices.Equal(while.ThenOpen, []model.ID{"VA"}) {
		t.Errorf("while switching: %+v", while)
	}
	if text := open.Text(p); open.Step != both || open.While || text != "TA (alkali) and TW (water) stand open to each other through VA, VW" {
		t.Errorf("open: %q", text)
	}
	if lines := strings.Join(got.Lines(p), "\n"); !strings.Contains(lines, "20 Wash\n  VW: open to closed\n  VA: closed to open, by hand\n  CAUTION: TA (alkali) and TW (water) stand open to each other through VA, VW while switching: VW must have shut before VA opens\n30 Both") {
		t.Error(lines)
	}
}

// The demo station's steps join no two supplies: its supply valves stand in a chain
// of divert valves. Doing again what stands already changes nothing.
func TestSwitchingOfDemo(t *testing.T) {
	for _, name := range []string{"oat-drink-station", "pharma-loop"} {
		p := demo(t, name)
		var steps []*model.Step
		for _, s := range p.Circuit.Steps() {
			if s.Source != "" {
				steps = append(steps, s, s)
			}
		}
		got := lineup.SwitchingList(p, steps)
		for _, c := range got.Conflicts {
			if !c.While {
				t.Errorf("%s: %s", c.Step.Name, c.Text(p))
			}
		}
		for i, c := range got.Changes {
			if i%2 == 1 && len(c.Moves)+len(c.Starts)+len(c.Stops) > 0 {
				t.Errorf("%s again: %+v", c.Step.Name, c)
			}
		}
		// Applied one after the other, the moves lead to each step's positions.
		at := p.LineUp(nil).Positions
		for _, c := range got.Changes {
			for _, m := range c.Moves {
				if at[m.Valve] != m.From {
					t.Errorf("%s: %s stands %s, told %s", c.Step.Name, m.Valve, at[m.Valve], m.From)
				}
				at[m.Valve] = m.To
			}
			if !maps.Equal(at, p.LineUp(c.Step).Positions) {
				t.Errorf("%s: the moves do not lead to its line-up", c.Step.Name)
			}
		}
	}
}
