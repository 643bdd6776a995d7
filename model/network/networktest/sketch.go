// Package networktest draws small circuits for the tests of packages that work on
// the network of a circuit.
package networktest

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// DN50 is the tube of everything that is drawn.
const DN50 = "EN 10357-A DN50"

// Sketch draws a circuit for a test.
type Sketch struct {
	t       testing.TB
	changes []model.Change
	runs    int
}

// New begins an empty drawing.
func New(t testing.TB) *Sketch { return &Sketch{t: t} }

// Part adds a part of a kind with properties as they stand in a circuit file; its
// tag is its id.
func (s *Sketch) Part(id, kind, properties string) {
	s.t.Helper()
	k := catalogue.Builtin().Kind(kind)
	if k == nil {
		s.t.Fatalf("no kind %q", kind)
	}
	p, err := k.New(model.ID(id), model.Point{})
	if err != nil {
		s.t.Fatal(err)
	}
	if err := json.Unmarshal([]byte("{"+properties+"}"), p); err != nil {
		s.t.Fatal(err)
	}
	p.Meta().Tag = id
	s.changes = append(s.changes, model.Adding(p))
}

// Run joins two ports, each written part.port, with so many metres of tube.
func (s *Sketch) Run(from, to string, metres float64) model.ID {
	s.runs++
	end := func(text string) model.End {
		part, port, _ := strings.Cut(text, ".")
		return model.End{Part: model.ID(part), Port: port}
	}
	r := &model.Run{ID: model.ID(fmt.Sprintf("r%05d", s.runs)), From: end(from), To: end(to), Size: Some(model.TubeSize(DN50)),
		Stretches: []model.Stretch{{Length: Some(Length(metres))}}}
	s.changes = append(s.changes, model.Adding(r))
	return r.ID
}

// Runs gives the runs that were drawn, to be changed before the plant is made.
func (s *Sketch) Runs() []*model.Run {
	var out []*model.Run
	for _, c := range s.changes {
		if r, ok := c.After.(*model.Run); ok {
			out = append(out, r)
		}
	}
	return out
}

// Plant gives the network of what was drawn.
func (s *Sketch) Plant() *network.Plant {
	s.t.Helper()
	c, err := model.New("test").Apply(model.Edit{Label: "draw", Changes: s.changes})
	if err != nil {
		s.t.Fatal(err)
	}
	return network.Build(c, catalogue.Builtin())
}

// Properties of valves and tees that are drawn.
const (
	Seats = `"size":"` + DN50 + `","second_size":"` + DN50 + `","seat_a_mm":100,"seat_b_mm":100`
	Stubs = `"size":"` + DN50 + `","second_size":"` + DN50 + `","stub_mm":100,"run_mm":200`
)
