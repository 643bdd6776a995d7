package checks_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/quantity"
)

// randomCircuit draws parts of all kinds, runs between ports that may not be
// there, and steps that make no sense. Nothing in it need fit together.
func randomCircuit(r *rand.Rand) *model.Circuit {
	kinds := catalogue.Builtin().Kinds()
	tubes := catalogue.Builtin().Tubes()
	var edit model.Edit
	var parts []model.Part
	for i := range r.IntN(25) {
		kind := kinds[r.IntN(len(kinds))]
		p, err := kind.New(model.ID(fmt.Sprintf("p%d", i)), model.Point{X: r.Float64() * 100})
		if err != nil {
			continue
		}
		if r.IntN(10) == 0 {
			p.Meta().Kind = "no-such-kind"
		}
		p = randomProperties(r, p, tubes)
		p.Meta().Tag = fmt.Sprint(r.IntN(20))
		parts = append(parts, p)
		edit.Changes = append(edit.Changes, model.Adding(p))
	}
	end := func() model.End {
		switch {
		case len(parts) == 0 || r.IntN(12) == 0:
			return model.End{}
		case r.IntN(20) == 0:
			return model.End{Part: "nobody", Port: "a"}
		}
		p := parts[r.IntN(len(parts))]
		port := []string{"a", "b", "branch", "outlet", "return", "", "inside", "t"}[r.IntN(8)]
		if k := catalogue.Builtin().Kind(p.Meta().Kind); k != nil && len(k.Ports) > 0 && r.IntN(8) > 0 {
			port = k.Ports[r.IntN(len(k.Ports))].Name
		}
		return model.End{Part: p.RecordID(), Port: port}
	}
	for i := range r.IntN(40) {
		run := &model.Run{ID: model.ID(fmt.Sprintf("r%d", i)), From: end(), To: end()}
		if r.IntN(4) > 0 {
			run.Size = quantity.Some(tubes[r.IntN(len(tubes))].Size)
		}
		for range r.IntN(4) {
			var s model.Stretch
			if r.IntN(6) > 0 {
				s.Length = quantity.Some(quantity.Length(r.Float64() * float64(r.IntN(5)-1)))
			}
			if r.IntN(6) > 0 {
				s.Rise = quantity.Some(quantity.Length(r.Float64() - 0.5))
			}
			run.Stretches = append(run.Stretches, s)
		}
		if r.IntN(6) == 0 {
			run.Carries = quantity.Some(model.Product)
		}
		edit.Changes = append(edit.Changes, model.Adding(run))
	}
	for i := range r.IntN(6) {
		edit.Changes = append(edit.Changes, model.Adding(randomStep(r, i, parts)))
	}
	c, err := model.New("random").Apply(edit)
	if err != nil {
		panic(err) // the ids are all different
	}
	return c
}

// randomProperties fills in about half of the properties; numbers may be zero or
// below.
func randomProperties(r *rand.Rand, p model.Part, tubes []catalogue.Tube) model.Part {
	for _, prop := range model.Properties(p) {
		if r.IntN(2) == 0 {
			continue
		}
		text := fmt.Sprint(float64(r.IntN(400)-20) / 10)
		if c := prop.Choices(); c != nil {
			text = c[r.IntN(len(c))]
		} else if prop.Type.Name() == "TubeSize" {
			text = string(tubes[r.IntN(len(tubes))].Size)
		} else if prop.Type.Kind().String() == "bool" {
			text = []string{"yes", "no"}[r.IntN(2)]
		}
		if next, err := prop.WithText(p, text, quantity.Metric); err == nil {
			p = next.(model.Part)
		}
	}
	return p
}

func randomStep(r *rand.Rand, i int, parts []model.Part) *model.Step {
	id := func() model.ID {
		if len(parts) == 0 || r.IntN(8) == 0 {
			return []model.ID{"", "nobody", "r0"}[r.IntN(3)]
		}
		return parts[r.IntN(len(parts))].RecordID()
	}
	purposes := model.Purpose("").Choices()
	media := model.Medium("").Choices()
	s := &model.Step{ID: model.ID(fmt.Sprintf("s%d", i)), Order: r.IntN(4), Name: fmt.Sprint("step ", i), Source: id(), Destination: id(),
		Programme: []string{"", "A"}[r.IntN(2)], EndsOn: "3 below 2", Positions: map[model.ID]string{}}
	if r.IntN(5) > 0 {
		s.Purpose = quantity.Some(model.Purpose(purposes[r.IntN(len(purposes))]))
	}
	if r.IntN(5) > 0 {
		s.Medium = quantity.Some(model.Medium(media[r.IntN(len(media))]))
	}
	if r.IntN(5) > 0 {
		s.Flow = quantity.Some(quantity.CubicMetresPerHour(float64(r.IntN(30) - 1)))
	}
	for range r.IntN(3) {
		s.Cleans = append(s.Cleans, id())
		s.Running = append(s.Running, id())
	}
	for _, p := range parts {
		if k := catalogue.Builtin().Kind(p.Meta().Kind); k != nil && len(k.Positions) > 0 && r.IntN(3) > 0 {
			s.Positions[p.RecordID()] = append(k.Positions, "nowhere")[r.IntN(len(k.Positions)+1)]
		}
	}
	return s
}

// broken takes some records out of a circuit that is whole.
func broken(r *rand.Rand, c *model.Circuit) *model.Circuit {
	var edit model.Edit
	for _, p := range c.Parts() {
		if r.IntN(30) == 0 {
			edit.Changes = append(edit.Changes, model.Removing(p))
		}
	}
	for _, run := range c.Runs() {
		if r.IntN(30) == 0 {
			edit.Changes = append(edit.Changes, model.Removing(run))
		}
	}
	next, err := c.Apply(edit)
	if err != nil {
		panic(err) // the records are those of c
	}
	return next
}

// holdRules demands what holds for any circuit: no rule fails, two runs give the
// same bytes, and each remedy applies and silences its finding.
func holdRules(t *testing.T, c *model.Circuit) {
	t.Helper()
	rules := checks.Rules()
	judge := func(c *model.Circuit, rules []*checks.Rule) *checks.Result {
		r, err := checks.Run(context.Background(), c, catalogue.Builtin(), checks.Builtin("dairy"), rules)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range r.Errors {
			t.Fatalf("%s\n%s", e.Error, e.Stack)
		}
		return r
	}
	first := judge(c, rules)
	a, err := json.Marshal(first)
	if err != nil {
		t.Fatal(err)
	}
	if b, _ := json.Marshal(judge(c, rules)); !bytes.Equal(a, b) {
		t.Error("two runs differ")
	}
	seen := map[string]bool{}
	for _, f := range first.Findings {
		if seen[f.ID] {
			t.Errorf("%s stands twice", f.ID)
		}
		seen[f.ID] = true
		for _, s := range []quantity.System{quantity.Metric, quantity.US} {
			if text := f.Text(s); text == "" || strings.Contains(text, "%!") || f.Where == "" {
				t.Errorf("%s: %q at %q", f.ID, text, f.Where)
			}
		}
		for _, fix := range f.Fixes {
			next, err := c.Apply(fix.Edit)
			if err != nil {
				t.Errorf("%s: %s: %v", f.ID, fix.Message, err)
				continue
			}
			for _, g := range judge(next, []*checks.Rule{checks.Find(rules, f.Rule)}).Findings {
				if g.ID == f.ID {
					t.Errorf("%s: %q, and after %q still: %q", f.ID, f.Text(quantity.Metric), fix.Message, g.Text(quantity.Metric))
				}
			}
		}
	}
}

func TestRulesOnRandomCircuits(t *testing.T) {
	for seed := range uint64(150) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) { holdRules(t, randomCircuit(rand.New(rand.NewPCG(seed, 1)))) })
	}
}

func TestRulesOnTheDemoCircuits(t *testing.T) {
	names, err := assets.Files.ReadDir("demo")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		b, err := assets.Files.ReadFile("demo/" + name.Name())
		if err != nil {
			t.Fatal(err)
		}
		c, err := circuitfile.Decode(name.Name(), b)
		if err != nil {
			t.Fatal(err)
		}
		t.Run(name.Name(), func(t *testing.T) { holdRules(t, c) })
		for seed := range uint64(10) {
			t.Run(fmt.Sprint(name.Name(), " broken ", seed), func(t *testing.T) { holdRules(t, broken(rand.New(rand.NewPCG(seed, 2)), c)) })
		}
	}
}

func FuzzRules(f *testing.F) {
	for seed := range uint64(4) {
		f.Add(seed, uint64(1))
	}
	f.Fuzz(func(t *testing.T, a, b uint64) { holdRules(t, randomCircuit(rand.New(rand.NewPCG(a, b)))) })
}
