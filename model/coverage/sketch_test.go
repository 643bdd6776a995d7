package coverage_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

const dn50 = "EN 10357-A DN50"

// sketch draws a circuit for a test.
type sketch struct {
	t       testing.TB
	changes []model.Change
	runs    int
}

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
	if err := json.Unmarshal([]byte("{"+properties+"}"), p); err != nil {
		s.t.Fatal(err)
	}
	p.Meta().Tag = id
	s.changes = append(s.changes, model.Adding(p))
}

// run joins two ports, each written part.port, with so many metres of tube.
func (s *sketch) run(from, to string, metres float64) model.ID {
	s.runs++
	end := func(text string) model.End {
		part, port, _ := strings.Cut(text, ".")
		return model.End{Part: model.ID(part), Port: port}
	}
	r := &model.Run{ID: model.ID(fmt.Sprintf("r%05d", s.runs)), From: end(from), To: end(to), Size: Some(model.TubeSize(dn50)),
		Stretches: []model.Stretch{{Length: Some(Length(metres))}}}
	s.changes = append(s.changes, model.Adding(r))
	return r.ID
}

func (s *sketch) plant() *network.Plant {
	s.t.Helper()
	c, err := model.New("test").Apply(model.Edit{Label: "draw", Changes: s.changes})
	if err != nil {
		s.t.Fatal(err)
	}
	return network.Build(c, catalogue.Builtin())
}

const (
	seats = `"size":"` + dn50 + `","second_size":"` + dn50 + `","seat_a_mm":100,"seat_b_mm":100`
	stubs = `"size":"` + dn50 + `","second_size":"` + dn50 + `","stub_mm":100,"run_mm":200`
)

func sorted[V any](m map[model.ID]V) []model.ID { return slices.Sorted(maps.Keys(m)) }
