package checks_test

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"math/rand/v2"
	"testing"

	"rinsewright/assets"
	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var editsFlag = flag.Int("edits", 30, "random edits of each circuit of TestCheckerDoesNotDrift")

// pick gives a random one of a list; false where it is empty.
func pick[T any](r *rand.Rand, list []T) (one T, ok bool) {
	if len(list) == 0 {
		return one, false
	}
	return list[r.IntN(len(list))], true
}

// randomEdit changes one thing of a circuit, as a hand would: mostly one property, a
// tag, a place or a valve of a step; now and then it takes a record away, leads a run to
// another port or gives a copy of a run.
func randomEdit(r *rand.Rand, c *model.Circuit) model.Edit {
	var out model.Edit
	change := func(before, after model.Record) {
		out.Changes = append(out.Changes, model.Replacing(before, after))
	}
	switch r.IntN(12) {
	case 0, 1: // a property of a part
		if p, ok := pick(r, c.Parts()); ok {
			if next := randomProperty(r, p); next != nil {
				change(p, next)
			}
		}
	case 2, 3: // of a run
		if run, ok := pick(r, c.Runs()); ok {
			if next := randomProperty(r, run); next != nil && r.IntN(3) > 0 {
				change(run, next)
				break
			}
			after := model.Clone(run)
			if len(after.Stretches) > 0 {
				after.Stretches[0].Rise = quantity.Some(quantity.Length(float64(r.IntN(100)-50) / 100))
				after.Stretches[0].Length = quantity.Some(quantity.Length(float64(r.IntN(400)) / 100))
			}
			change(run, after)
		}
	case 4, 5: // of a step
		if step, ok := pick(r, c.Steps()); ok {
			if next := randomProperty(r, step); next != nil {
				change(step, next)
			}
		}
	case 6: // what only the drawing shows
		if p, ok := pick(r, c.Parts()); ok {
			after := model.Clone(p)
			after.Meta().At.X += 10
			after.Meta().Note = fmt.Sprint(r.IntN(9))
			change(p, after)
		}
	case 7: // a tag
		if p, ok := pick(r, c.Parts()); ok {
			after := model.Clone(p)
			after.Meta().Tag = fmt.Sprint("X-", r.IntN(9))
			change(p, after)
		}
	case 8, 9: // a valve of a step
		step, ok := pick(r, c.Steps())
		valve, found := pick(r, c.Parts())
		if !ok || !found {
			break
		}
		after := model.Clone(step)
		if after.Positions == nil {
			after.Positions = map[model.ID]string{}
		}
		after.Positions[valve.RecordID()] = []string{"open", "closed", "through", "nowhere"}[r.IntN(4)]
		if r.IntN(3) == 0 {
			delete(after.Positions, valve.RecordID())
		}
		change(step, after)
	case 10: // what a step runs, and its ends
		step, ok := pick(r, c.Steps())
		part, found := pick(r, c.Parts())
		if !ok || !found {
			break
		}
		after := model.Clone(step)
		switch r.IntN(3) {
		case 0:
			after.Running = append(after.Running, part.RecordID())
		case 1:
			after.Destination = part.RecordID()
		default:
			after.Cleans = []model.ID{part.RecordID()}
		}
		change(step, after)
	default: // the shape
		run, ok := pick(r, c.Runs())
		part, found := pick(r, c.Parts())
		switch {
		case !ok || !found:
		case r.IntN(3) == 0:
			out.Changes = append(out.Changes, model.Removing(run))
		case r.IntN(2) == 0:
			after := model.Clone(run)
			after.ID = model.ID(fmt.Sprint("copy", r.Uint64()))
			out.Changes = append(out.Changes, model.Adding(after))
		case r.IntN(4) == 0:
			out.Changes = append(out.Changes, model.Removing(part))
		default:
			after := model.Clone(run)
			after.To = model.End{Part: part.RecordID(), Port: "a"}
			change(run, after)
		}
	}
	return out
}

// randomProperty changes one property of a record; nil where the text does not fit.
func randomProperty(r *rand.Rand, of model.Record) model.Record {
	p, ok := pick(r, model.Properties(of))
	if !ok {
		return nil
	}
	text := fmt.Sprint(float64(r.IntN(400)-20) / 10)
	if list := p.Choices(); list != nil {
		text = list[r.IntN(len(list))]
	} else if p.Type.Name() == "TubeSize" {
		tubes := catalogue.Builtin().Tubes()
		text = string(tubes[r.IntN(len(tubes))].Size)
	} else if p.Type.Kind().String() == "bool" {
		text = []string{"yes", "no"}[r.IntN(2)]
	}
	if r.IntN(5) == 0 {
		text = ""
	}
	next, err := p.WithText(of, text, quantity.Metric)
	if err != nil {
		return nil
	}
	return next
}

// holdNoDrift edits a circuit again and again, back too, and demands of a checker that
// keeps what it can the very result of a run from nothing, with remedies that apply.
func holdNoDrift(t *testing.T, r *rand.Rand, c *model.Circuit, edits int) {
	t.Helper()
	const day = model.Date("2026-01-01")
	profile := checks.Builtin("food")
	var kept checks.Checker
	back := []*model.Circuit{c}
	var done []model.Edit
	for n := range edits {
		if r.IntN(4) == 0 {
			kept.Use(network.Build(c, catalogue.Builtin()))
		}
		got, err := kept.RunOn(context.Background(), day, c, catalogue.Builtin(), profile, checks.Rules())
		if err != nil {
			t.Fatal(err)
		}
		want, err := checks.RunOn(context.Background(), day, c, catalogue.Builtin(), profile, checks.Rules())
		if err != nil {
			t.Fatal(err)
		}
		a, _ := json.MarshalIndent(got, "", " ")
		b, _ := json.MarshalIndent(want, "", " ")
		if !bytes.Equal(a, b) {
			last := ""
			if len(done) > 0 {
				x, _ := json.Marshal(done[len(done)-1].Changes)
				last = string(x)
			}
			t.Fatalf("after edit %d (%s) the kept result differs:\n%s", n, last, difference(a, b))
		}
		for _, f := range got.Findings {
			for _, fix := range f.Fixes {
				if _, err := c.Apply(fix.Edit); err != nil {
					t.Fatalf("after edit %d: %s: %s: %v", n, f.ID, fix.Message, err)
				}
			}
		}
		if r.IntN(8) == 0 {
			c, _ = pick(r, back)
			continue
		}
		edit := randomEdit(r, c)
		next, err := c.Apply(edit)
		if err != nil {
			continue
		}
		done = append(done, edit)
		c = next
		back = append(back, c)
	}
}

// difference shows the first lines in which two texts differ.
func difference(a, b []byte) string {
	x, y := bytes.Split(a, []byte("\n")), bytes.Split(b, []byte("\n"))
	for i := range min(len(x), len(y)) {
		if !bytes.Equal(x[i], y[i]) {
			from := max(0, i-12)
			return fmt.Sprintf("kept:\n%s\n\nfrom nothing:\n%s", bytes.Join(x[from:min(i+6, len(x))], []byte("\n")), bytes.Join(y[from:min(i+6, len(y))], []byte("\n")))
		}
	}
	return fmt.Sprintf("%d and %d lines", len(x), len(y))
}

// A checker that keeps what an edit cannot have touched gives what a run from nothing
// gives, over random edits of random circuits, of the demo circuits and of a plant that
// is whole. More edits: go test -run Drift -edits 2000.
func TestCheckerDoesNotDrift(t *testing.T) {
	for seed := range uint64(24) {
		t.Run(fmt.Sprint("random ", seed), func(t *testing.T) {
			t.Parallel()
			r := rand.New(rand.NewPCG(seed, 3))
			holdNoDrift(t, r, randomCircuit(r), *editsFlag)
		})
	}
	for seed := range uint64(4) {
		t.Run(fmt.Sprint("plant ", seed), func(t *testing.T) {
			t.Parallel()
			holdNoDrift(t, rand.New(rand.NewPCG(seed, 4)), plantOf(t, 40), *editsFlag)
		})
	}
	names, err := assets.Files.ReadDir("demo")
	if err != nil {
		t.Fatal(err)
	}
	for i, name := range names {
		t.Run(name.Name(), func(t *testing.T) {
			t.Parallel()
			b, err := assets.Files.ReadFile("demo/" + name.Name())
			if err != nil {
				t.Fatal(err)
			}
			c, err := circuitfile.Decode(name.Name(), b)
			if err != nil {
				t.Fatal(err)
			}
			holdNoDrift(t, rand.New(rand.NewPCG(uint64(i), 5)), c, *editsFlag)
		})
	}
}
