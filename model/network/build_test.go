package network

import (
	"math"
	"slices"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	. "rinsewright/model/quantity"
)

// π/4 · 0.05² m² = 1.963495e-3 m²: 1.963 L a metre in DN50 (EN 10357 series A).
func TestBuild_RunOfStretches(t *testing.T) {
	s := newSketch(t)
	s.part("A", "union", "")
	s.part("B", "union", "")
	id := s.run("A.b", "B.a", dn50, stretch{2, 0}, stretch{1, 1}, stretch{math.NaN(), 0})
	p := s.plant()
	edges := p.RunEdges(id)
	if len(edges) != 3 || p.Edges[edges[0]].From != at(t, p, "A.b") || p.Edges[edges[2]].To != at(t, p, "B.a") {
		t.Fatalf("edges %v", edges)
	}
	for i, e := range edges {
		d := p.Edges[e]
		if d.Stretch != i || d.Run != id || i > 0 && d.From != p.Edges[edges[i-1]].To {
			t.Errorf("stretch %d: %+v", i, d)
		}
		near(t, "bore", d.Bore, 0.05)
	}
	if n := p.Nodes[p.Edges[edges[0]].To]; n.Run != id || n.Joint != 1 {
		t.Errorf("joint %+v", n)
	}
	near(t, "volume", p.Edges[edges[0]].Volume, 2*math.Pi/4*0.05*0.05)
	unknown(t, "length", p.Edges[edges[2]].Length, p.Edges[edges[2]].Missing, Missing{Record: id, Key: "stretches"})
	if p.Edges[edges[2]].Volume.Known() {
		t.Error("volume of an unknown length")
	}
}

func TestBuild_BareRun(t *testing.T) {
	s := newSketch(t)
	id := s.run("", "", "EN 10357-A DN9999")
	p := s.plant()
	e := p.Edges[p.RunEdges(id)[0]]
	unknown(t, "length", e.Length, e.Missing, Missing{Record: id, Key: "stretches"}, Missing{Record: id, Key: "size"})
	if called(p, e.From) != "r00001/0" || called(p, e.To) != "r00001/1" {
		t.Errorf("ends %s, %s", called(p, e.From), called(p, e.To))
	}
}

func TestBuild_UnknownKindAndPort(t *testing.T) {
	s := newSketch(t)
	s.part("A", "union", "")
	odd := &model.Fitting{Item: model.Item{ID: "X", Kind: "not-a-kind"}}
	s.changes = append(s.changes, model.Adding(odd))
	a := s.run("A.b", "X.left", dn50)
	b := s.run("X.left", "X.right", dn50)
	c := s.run("A.nowhere", "gone.a", dn50)
	p := s.plant()
	if got := p.PartNodes("X"); len(got) != 2 || len(p.PartEdges("X")) != 0 {
		t.Errorf("nodes %v, edges %v", got, p.PartEdges("X"))
	}
	if x := at(t, p, "X.left"); p.Edges[p.RunEdges(a)[0]].To != x || p.Edges[p.RunEdges(b)[0]].From != x {
		t.Error("two runs on one port do not meet")
	}
	if e := p.Edges[p.RunEdges(c)[0]]; called(p, e.From) != "A.nowhere" || called(p, e.To) != string(c)+"/1" {
		t.Errorf("%s, %s", called(p, e.From), called(p, e.To))
	}
	if _, ok := p.PortNode("A", "seat"); ok {
		t.Error("a union has a seat")
	}
	if _, ok := p.PortNode("gone", "a"); ok || p.PartNodes("gone") != nil || p.PartEdges("gone") != nil || p.RunEdges("gone") != nil {
		t.Error("something is there of a part that is not")
	}
	for _, f := range []func(){func() { p.Heights() }, func() { p.Route(p.LineUp(step("X", "A", nil))) }} {
		f() // does not panic
	}
}

// A file may say "pump" of a kind that is a valve: the record's class counts, and
// the part has no ways.
func TestBuild_ClassDiffersFromKind(t *testing.T) {
	c, err := model.New("x").Apply(model.Edit{Changes: []model.Change{
		model.Adding(&model.Pump{Item: model.Item{ID: "V", Kind: "butterfly-valve"}}),
	}})
	if err != nil {
		t.Fatal(err)
	}
	if p := Build(c, catalogue.Builtin()); len(p.Edges) != 0 {
		t.Errorf("edges %v", p.Edges)
	}
}

// Tee: half of its run on each side, 0.060 m of 50 mm; branch 0.040 m of 26 mm.
// Reducer: takes the small bore. Vessel: full, π/4 · 1² · 2 m³.
func TestBuild_Paths(t *testing.T) {
	s := newSketch(t)
	s.part("T", "tee", wholeTee)
	s.part("R", "concentric-reducer", `"size":"`+dn50+`","second_size":"`+dn25+`","run_mm":80`)
	s.part("B", "process-vessel", `"diameter_m":1,"height_m":2,"bottom":"flat","top":"flat"`)
	s.part("B2", "process-vessel", `"diameter_m":1,"height_m":2,"bottom":"cone","top":"flat"`)
	s.part("E", "plate-heater", `"hold_up_L":12`)
	s.part("F", "filler-line", `"length_m":10,"smallest_bore_mm":20`)
	p := s.plant()
	main, branch := p.Edges[between(t, p, "T", "a", "t")], p.Edges[between(t, p, "T", "t", "branch")]
	near(t, "main", main.Length, 0.060)
	near(t, "main", main.Bore, 0.050)
	near(t, "branch", branch.Length, 0.040)
	near(t, "branch", branch.Bore, 0.026)
	if main.Branch || !branch.Branch || p.Nodes[branch.From].Role != catalogue.RoleTee {
		t.Error("which is the branch?")
	}
	near(t, "reducer", p.Edges[p.PartEdges("R")[0]].Bore, 0.026)
	near(t, "vessel", p.Edges[between(t, p, "B", "inside", "draw")].Volume, math.Pi/2)
	near(t, "heater", p.Edges[p.PartEdges("E")[0]].Volume, 0.012)
	near(t, "heater has no length", p.Edges[p.PartEdges("E")[0]].Length, 0)
	f := p.Edges[p.PartEdges("F")[0]]
	unknown(t, "hold-up of a machine is not that of its smallest bore", f.Volume, f.Missing, Missing{Record: "F", Key: "hold_up_L"})
	if !p.Edges[between(t, p, "B2", "inside", "draw")].Volume.Known() {
		t.Error("vessel with a cone")
	}
	if a, b := at(t, p, "B.inside"), at(t, p, "B.draw"); !slices.Contains(p.IncidentEdges(b), between(t, p, "B", "outlet", "draw")) ||
		!slices.Contains(p.IncidentEdges(a), between(t, p, "B", "spray", "inside")) {
		t.Error("ports of the vessel join the wrong side")
	}
}

func TestBuild_VesselVolumeMissing(t *testing.T) {
	s := newSketch(t)
	s.part("B", "process-vessel", `"diameter_m":1`)
	s.part("B2", "process-vessel", `"diameter_m":1,"height_m":0.1,"bottom":"cone","top":"flat"`)
	p := s.plant()
	e := p.Edges[between(t, p, "B", "inside", "draw")]
	if e.Volume.Known() || len(e.Missing) == 0 || e.Missing[0] != (Missing{Record: "B", Key: "height_m"}) {
		t.Errorf("%+v", e)
	}
	e = p.Edges[between(t, p, "B2", "inside", "draw")]
	// A cone of 60° on 1 m is (1 m/2)/tan 30° deep.
	unknown(t, "a cone deeper than the vessel", e.Volume, e.Missing, Missing{Record: "B2", Key: "height_m",
		Why: "the two ends are 0.866 m deep together and do not fit in a height of 0.100 m"})
}

func TestBuild_EveryKind(t *testing.T) {
	s := newSketch(t)
	for _, k := range catalogue.Builtin().Kinds() {
		s.part(k.Name, k.Name, "")
	}
	p := s.plant()
	for _, k := range catalogue.Builtin().Kinds() {
		id := model.ID(k.Name)
		if len(p.PartEdges(id)) < len(k.Paths) || len(p.PartNodes(id)) < len(k.Ports)+len(k.Inner) {
			t.Errorf("%s: %d edges, %d nodes", k.Name, len(p.PartEdges(id)), len(p.PartNodes(id)))
		}
		for i, e := range p.PartEdges(id) {
			if d := p.Edges[e]; d.Part != id || i < len(k.Paths) && d.Path != i || !d.Length.Known() && len(d.Missing) == 0 {
				t.Errorf("%s: %+v", k.Name, d)
			}
		}
		for _, port := range k.Ports {
			if n := at(t, p, k.Name+"."+port.Name); p.Nodes[n].Point != port.Name {
				t.Errorf("%s.%s is %+v", k.Name, port.Name, p.Nodes[n])
			}
		}
	}
	if p.Edges[0].Length == (Opt[Length]{}) && p.Edges[0].Missing == nil {
		t.Error("unknown without a reason")
	}
}
