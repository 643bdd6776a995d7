package network

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
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
	k := catalogue.Builtin().Kind(kind)
	if k == nil {
		s.t.Fatalf("no kind %q", kind)
	}
	p, err := k.New(model.ID(id), model.Point{})
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

const dn50 = "EN 10357-A DN50" // inside diameter 50 mm
const dn25 = "EN 10357-A DN25" // inside diameter 26 mm

// stretch is a length and a rise in m; unknown where NaN.
type stretch struct{ length, rise float64 }

// run joins two ports, each written part.port, or "" for a loose end.
func (s *sketch) run(from, to, size string, stretches ...stretch) model.ID {
	s.runs++
	r := &model.Run{ID: model.ID(fmt.Sprintf("r%05d", s.runs)), From: endOf(from), To: endOf(to)}
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
func (s *sketch) face(from, to string) model.ID { return s.run(from, to, dn50, stretch{0, 0}) }

func (s *sketch) circuit() *model.Circuit {
	s.t.Helper()
	c, err := model.New("test").Apply(model.Edit{Label: "draw", Changes: s.changes})
	if err != nil {
		s.t.Fatal(err)
	}
	return c
}

func (s *sketch) plant() *Plant { return Build(s.circuit(), catalogue.Builtin()) }

func step(source, destination string, positions map[model.ID]string) *model.Step {
	return &model.Step{ID: "s1", Source: model.ID(source), Destination: model.ID(destination), Positions: positions}
}

// at gives the node of "part.port".
func at(t testing.TB, p *Plant, name string) int {
	t.Helper()
	part, port, _ := strings.Cut(name, ".")
	n, ok := p.PortNode(model.ID(part), port)
	if !ok {
		t.Fatalf("no node %s", name)
	}
	return n
}

// called writes a node as "part.point" or "run/joint".
func called(p *Plant, n int) string {
	if n < 0 {
		return "-"
	}
	if d := p.Nodes[n]; d.Part != "" {
		return string(d.Part) + "." + d.Point
	} else {
		return fmt.Sprintf("%s/%d", d.Run, d.Joint)
	}
}

// between gives the edge of a part between two of its points.
func between(t testing.TB, p *Plant, part, a, b string) int {
	t.Helper()
	u, v := at(t, p, part+"."+a), at(t, p, part+"."+b)
	for _, e := range p.PartEdges(model.ID(part)) {
		if d := p.Edges[e]; d.From == u && d.To == v || d.From == v && d.To == u {
			return e
		}
	}
	t.Fatalf("no path %s to %s in %s", a, b, part)
	return -1
}

func near[T ~float64](t testing.TB, what string, got Opt[T], want float64) {
	t.Helper()
	v, known := got.Get()
	if !known || math.Abs(float64(v)-want) > 1e-9 {
		t.Errorf("%s: %v (known %v), want %v", what, float64(v), known, want)
	}
}

func unknown[T any](t testing.TB, what string, got Opt[T], missing []Missing, want ...Missing) {
	t.Helper()
	if got.Known() {
		t.Errorf("%s: known %v", what, got)
	}
	if !slices.Equal(missing, want) {
		t.Errorf("%s: missing %v, want %v", what, missing, want)
	}
}

func count(list []bool) int {
	n := 0
	for _, x := range list {
		if x {
			n++
		}
	}
	return n
}
