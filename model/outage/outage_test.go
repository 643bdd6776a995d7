package outage_test

import (
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/network/networktest"
	"rinsewright/model/outage"
)

// station is water and alkali, each behind a valve, one pump, a meter, a valve to a
// filler and one to a drain.
func station(t *testing.T) *network.Plant {
	s := networktest.New(t)
	s.Part("W", "water-supply", `"medium":"water"`)
	s.Part("T", "alkali-tank", `"holds":"alkali"`)
	s.Part("VW", "butterfly-valve", networktest.Seats+`,"normal":"closed"`)
	s.Part("VT", "butterfly-valve", networktest.Seats+`,"normal":"closed"`)
	s.Part("M", "tee", networktest.Stubs)
	s.Part("P", "centrifugal-pump", "")
	s.Part("FT", "flow-transmitter", "")
	s.Part("S", "tee", networktest.Stubs)
	s.Part("VF", "butterfly-valve", networktest.Seats+`,"normal":"closed"`)
	s.Part("VD", "butterfly-valve", networktest.Seats+`,"normal":"closed"`)
	s.Part("F", "filler-line", `"length_m":3`)
	s.Part("D", "sewer-drain", "")
	s.Part("E", "sewer-drain", "")
	s.Run("W.a", "VW.a", 1)
	s.Run("T.outlet", "VT.a", 1)
	s.Run("VW.b", "M.a", 1)
	s.Run("VT.b", "M.branch", 1)
	s.Run("M.b", "P.a", 1)
	s.Run("P.b", "FT.a", 1)
	s.Run("FT.b", "S.a", 1)
	s.Run("S.b", "VF.a", 1)
	s.Run("VF.b", "F.a", 1)
	s.Run("F.b", "D.a", 1)
	s.Run("S.branch", "VD.a", 1)
	s.Run("VD.b", "E.a", 1)
	p := s.Plant()
	rinse := &model.Step{ID: "s1", Programme: "daily", Order: 1, Name: "rinse", Source: "W", Destination: "D", Cleans: []model.ID{"F"},
		Positions: map[model.ID]string{"VW": "open", "VF": "open"}, Running: []model.ID{"P"}}
	wash := &model.Step{ID: "s2", Programme: "daily", Order: 2, Name: "wash", Source: "T", Destination: "D", Cleans: []model.ID{"F"},
		Positions: map[model.ID]string{"VT": "open", "VF": "open"}, Running: []model.ID{"P"}}
	c, err := p.Circuit.Apply(model.Edit{Changes: []model.Change{model.Adding(rinse), model.Adding(wash)}})
	if err != nil {
		t.Fatal(err)
	}
	return network.Build(c, p.Catalogue)
}

func of(t *testing.T, p *network.Plant, failures ...outage.Failure) *outage.Report {
	t.Helper()
	r, err := outage.Of(p, failures)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestStuckShut(t *testing.T) {
	r := of(t, station(t), outage.Failure{Part: "VT", Position: "closed"})
	if !r.Effects[0].Runs() || r.Effects[1].Runs() || r.Effects[1].After || r.Effects[1].Why == "" || len(r.Mixes) != 0 {
		t.Errorf("%+v", r)
	}
}

// The alkali valve stays open: water and alkali stand open to one line in the rinse.
func TestStuckOpenMixes(t *testing.T) {
	p := station(t)
	r := of(t, p, outage.Failure{Part: "VT", Position: "open"})
	if len(r.Mixes) != 1 || !strings.Contains(r.Mixes[0].Text(p), "T") {
		t.Errorf("mixes: %+v", r.Mixes)
	}
	if e := r.Effects[0]; e.Runs() || len(e.Reaches) == 0 || e.Reaches[0] != "T" {
		t.Errorf("the rinse: %+v", e)
	}
	if r := of(t, p, outage.Failure{Part: "VD", Position: "open"}); r.Effects[0].Runs() || r.Effects[0].Reaches[0] != "E" {
		t.Errorf("a drain valve stuck open: %+v", r.Effects[0])
	}
}

func TestPumpAndInstrument(t *testing.T) {
	p := station(t)
	r := of(t, p, outage.Failure{Part: "P"})
	for _, e := range r.Effects {
		if !e.Drives || e.Runs() {
			t.Errorf("without its pump: %+v", e)
		}
	}
	if got := r.Circuit.Step("s1").Running; len(got) != 0 {
		t.Errorf("still runs %v", got)
	}
	r = of(t, p, outage.Failure{Part: "FT"})
	if e := r.Effects[0]; e.Runs() || len(e.Misses) != 1 || !e.After {
		t.Errorf("without the meter: %+v", e)
	}
	if k := p.Catalogue.Kind(r.Circuit.Part("FT").Meta().Kind); k.Has("measures-flow") {
		t.Error("a lost meter still measures")
	}
	// The circuit that was asked about is as it was.
	if len(p.Circuit.Step("s1").Running) != 1 || p.Circuit.Part("FT").Meta().Kind != "flow-transmitter" {
		t.Error("the circuit was changed")
	}
}

func TestImpossible(t *testing.T) {
	p := station(t)
	for _, list := range [][]outage.Failure{{{Part: "VT", Position: "ajar"}}, {{Part: "T"}}, {{Part: "nowhere"}}, {{Part: "P"}, {Part: "P"}}} {
		if _, err := outage.Of(p, list); err == nil {
			t.Errorf("no error for %v", list)
		}
	}
}
