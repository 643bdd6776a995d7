package flow_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// sketch draws a circuit for a test through the edits that a user would make.
type sketch struct {
	t       testing.TB
	changes []model.Change
	runs    int
}

func newSketch(t testing.TB) *sketch { return &sketch{t: t} }

// part adds a part of a kind with properties as they stand in a circuit file.
func (s *sketch) part(id, kind, properties string) {
	s.t.Helper()
	p, err := catalogue.Builtin().Kind(kind).New(model.ID(id), model.Point{})
	if err != nil {
		s.t.Fatal(err)
	}
	if properties != "" {
		if err := json.Unmarshal([]byte("{"+properties+"}"), p); err != nil {
			s.t.Fatal(err)
		}
	}
	p.Meta().Tag = id
	s.changes = append(s.changes, model.Adding(p))
}

// set changes properties of a part that was drawn before.
func (s *sketch) set(id, properties string) {
	s.t.Helper()
	for i, c := range s.changes {
		if c.After.RecordID() == model.ID(id) {
			p := model.Clone(c.After)
			if err := json.Unmarshal([]byte("{"+properties+"}"), p); err != nil {
				s.t.Fatal(err)
			}
			s.changes[i] = model.Adding(p)
			return
		}
	}
	s.t.Fatalf("no part %s", id)
}

// unset makes a property of a part unknown.
func (s *sketch) unset(id, key string) {
	s.t.Helper()
	for i, c := range s.changes {
		if c.After.RecordID() == model.ID(id) {
			p, _ := model.FindProperty(c.After, key)
			next, err := p.WithText(c.After, "", Metric)
			if err != nil {
				s.t.Fatal(err)
			}
			s.changes[i] = model.Adding(next)
		}
	}
}

func number(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

const (
	dn50 = "EN 10357-A DN50" // inside diameter 50 mm
	dn40 = "EN 10357-A DN40" // 38 mm
	dn25 = "EN 10357-A DN25" // 26 mm
)

// stretch is a length and a rise in m; unknown where NaN.
type stretch struct{ length, rise float64 }

// run joins two ports, each written part.port.
func (s *sketch) run(from, to, size string, elbows int, stretches ...stretch) model.ID {
	s.runs++
	r := &model.Run{ID: model.ID(fmt.Sprintf("r%05d", s.runs)), From: endOf(from), To: endOf(to)}
	if elbows >= 0 {
		r.Elbows = Some(elbows)
	}
	if size != "" {
		r.Size = Some(model.TubeSize(size))
	}
	for _, st := range stretches {
		var x model.Stretch
		if !math.IsNaN(st.length) {
			x.Length = Some(Length(st.length))
		}
		if !math.IsNaN(st.rise) {
			x.Rise = Some(Length(st.rise))
		}
		r.Stretches = append(r.Stretches, x)
	}
	s.changes = append(s.changes, model.Adding(r))
	return r.ID
}

func endOf(s string) model.End {
	if s == "" {
		return model.End{At: &model.Point{}}
	}
	part, port, _ := strings.Cut(s, ".")
	return model.End{Part: model.ID(part), Port: port}
}

// face joins two ports face to face.
func (s *sketch) face(from, to string) model.ID { return s.run(from, to, dn50, 0, stretch{0, 0}) }

func (s *sketch) plant() *network.Plant {
	s.t.Helper()
	c, err := model.New("test").Apply(model.Edit{Label: "draw", Changes: s.changes})
	if err != nil {
		s.t.Fatal(err)
	}
	return network.Build(c, catalogue.Builtin())
}

// solve solves a step; a test that wants a whole solution calls whole.
func (s *sketch) solve(st *model.Step, opt flow.Options) *flow.Solution {
	s.t.Helper()
	p := s.plant()
	sol, err := flow.Solve(p, p.Heights(), st, opt)
	if err != nil {
		s.t.Fatal(err)
	}
	return sol
}

func (s *sketch) whole(st *model.Step, opt flow.Options) *flow.Solution {
	s.t.Helper()
	sol := s.solve(st, opt)
	if !sol.Solved() {
		s.t.Fatalf("not solved: missing %v, failures %v", sol.Missing, sol.Failures)
	}
	balanced(s.t, sol)
	return sol
}

// water makes a step with water at a temperature in °C.
func water(source, destination string, celsius float64, running ...model.ID) *model.Step {
	return &model.Step{ID: "s1", Name: "rinse", Source: model.ID(source), Destination: model.ID(destination),
		Medium: Some(model.Water), Temperature: Some(Celsius(celsius)), Running: running}
}

func asks(st *model.Step, m3h float64) *model.Step {
	st.Flow = Some(CubicMetresPerHour(m3h))
	return st
}

func node(t testing.TB, s *flow.Solution, name string) int {
	t.Helper()
	part, port, _ := strings.Cut(name, ".")
	n, ok := s.Plant.PortNode(model.ID(part), port)
	if !ok {
		t.Fatalf("no node %s", name)
	}
	return n
}

// flowIn gives the flow in a run in m³/h, from its From to its To.
func flowIn(t testing.TB, s *flow.Solution, run model.ID) float64 {
	t.Helper()
	q, known := s.Edges[s.Plant.RunEdges(run)[0]].Flow.Get()
	if !known {
		t.Fatalf("flow in %s is not known", run)
	}
	return q.CubicMetresPerHour()
}

func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, want %.9g within %.2g", what, got, want, tolerance)
	}
}

func known[T ~float64](t testing.TB, what string, v Opt[T]) float64 {
	t.Helper()
	x, ok := v.Get()
	if !ok {
		t.Fatalf("%s is not known", what)
	}
	return float64(x)
}

// balanced holds a solution to what must be true of any: at every node that is no
// end as much comes in as goes out, what is known is finite, and along every edge
// the heads of its ends differ by its loss.
func balanced(t testing.TB, s *flow.Solution) {
	t.Helper()
	sum := make([]float64, len(s.Nodes))
	unknown := make([]bool, len(s.Nodes))
	for e := range s.Edges {
		edge := &s.Plant.Edges[e]
		q, ok := s.Edges[e].Flow.Get()
		if !ok {
			unknown[edge.From], unknown[edge.To] = true, true
			continue
		}
		if math.IsNaN(float64(q)) || math.IsInf(float64(q), 0) {
			t.Errorf("edge %d: flow %v", e, q)
		}
		sum[edge.From] -= float64(q)
		sum[edge.To] += float64(q)
		lost, ok := s.Edges[e].Loss.Get()
		a, okA := s.Nodes[edge.From].Head.Get()
		b, okB := s.Nodes[edge.To].Head.Get()
		isVessel := func(n int) bool { return s.Plant.Nodes[n].Role == catalogue.RoleVessel }
		if !ok || !okA || !okB || s.Edges[e].PartFull || isVessel(edge.From) && isVessel(edge.To) || isVessel(edge.To) && s.Plant.Nodes[edge.To].Point == network.Inside {
			continue
		}
		if q < 0 {
			lost = -lost
		}
		// A way that loses nothing is solved as one that loses 1e-6 m at 36 m³/h.
		if off := float64(a - b - lost); math.Abs(off) > 2e-6+2e-2*float64(q*q) && !partFullBeside(s, edge) {
			t.Errorf("edge %d of %s%s: heads %.6f and %.6f differ from its loss %.6f by %.2g m", e, edge.Part, edge.Run, a, b, lost, off)
		}
	}
	for n := range sum {
		d := s.Plant.Nodes[n]
		if d.Role == catalogue.RoleVessel || d.Role == catalogue.RoleAir || unknown[n] || isMouth(s, n) {
			continue
		}
		if math.Abs(sum[n]) > 1e-9 {
			t.Errorf("node %d (%s%s %s): %.3g m³/h more come in than go out", n, d.Part, d.Run, d.Point, sum[n]*3600)
		}
	}
}

// partFullBeside says whether an edge belongs to a return that runs part-full, where
// the surface follows the tube.
func partFullBeside(s *flow.Solution, edge *network.Edge) bool {
	for _, v := range s.Vessels {
		if v.PartFull {
			return true
		}
	}
	return false
}

// isMouth says whether flow begins or ends at a node of a terminal.
func isMouth(s *flow.Solution, n int) bool {
	part := s.Plant.Circuit.Part(s.Plant.Nodes[n].Part)
	if part == nil || part.Class() != model.ClassTerminal {
		return false
	}
	_, isPort := s.Plant.Catalogue.Kind(part.Meta().Kind).Port(s.Plant.Nodes[n].Point)
	return !isPort
}

func length(x float64) Opt[Length] { return Some(Length(x)) }
