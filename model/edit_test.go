package model_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

func valve(id model.ID, tag string) *model.Valve {
	return &model.Valve{Item: model.Item{ID: id, Kind: "butterfly-valve", Tag: tag}}
}

// plant is a small circuit: two valves and a pump, two runs, two steps.
func plant(t testing.TB) *model.Circuit {
	t.Helper()
	c, err := model.FromRecords(
		&model.Header{Name: "Oat line 2"},
		[]model.Part{valve("p2", "V-2"), valve("p1", "V-1"), &model.Pump{Item: model.Item{ID: "p3", Kind: "pump", Tag: "P-1"}}},
		[]*model.Run{
			{ID: "r2", Tag: "V-1", From: model.End{Part: "p3", Port: "out"}, To: model.End{At: &model.Point{X: 1}}},
			{ID: "r1", From: model.End{Part: "p1", Port: "b"}, To: model.End{Part: "p2", Port: "a"}},
			{ID: "r3", From: model.End{Part: "p3", Port: "out"}, To: model.End{Part: "p3", Port: "in"}},
		},
		[]*model.Step{{ID: "s1", Programme: "A", Order: 2, Name: "Wash"}, {ID: "s9", Programme: "A", Order: 1, Name: "Rinse"}},
	)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// contents gives all that a circuit holds, for comparison.
func contents(c *model.Circuit) []any {
	var out []any
	for _, r := range c.All() {
		out = append(out, reflect.ValueOf(r).Elem().Interface())
	}
	return out
}

func equal(a, b *model.Circuit) bool { return reflect.DeepEqual(contents(a), contents(b)) }

func TestApply(t *testing.T) {
	c := plant(t)
	before := contents(c)
	moved := model.Clone(c.Part("p1").(*model.Valve))
	moved.At.X = 40
	later := model.Clone(c.Step("s9"))
	later.Order = 3
	e := model.Edit{Label: "several things", Changes: []model.Change{
		model.Adding(valve("p0", "V-0")),
		model.Removing(c.Run("r1")),
		model.Replacing(c.Part("p1"), moved),
		model.Replacing(c.Header(), &model.Header{Name: "Oat line 3"}),
		model.Replacing(c.Step("s9"), later),
	}}
	next, err := c.Apply(e)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(contents(c), before) {
		t.Error("the edit changed the circuit that it was applied to")
	}
	if got := next.Parts(); len(got) != 4 || got[0].RecordID() != "p0" || got[1].Meta().At.X != 40 {
		t.Errorf("parts are %v", got)
	}
	if next.Run("r1") != nil || next.Header().Name != "Oat line 3" || next.Steps()[1].ID != "s9" {
		t.Error("a run is not deleted, the header not exchanged or a step not in its new place")
	}
	back, err := next.Apply(e.Inverse())
	if err != nil {
		t.Fatal(err)
	}
	if !equal(back, c) {
		t.Error("the inverse does not lead back")
	}
}

func TestApplySeveralChangesOfOneRecord(t *testing.T) {
	c := plant(t)
	one, two := valve("p7", "V-7"), valve("p7", "V-8")
	e := model.Edit{Changes: []model.Change{model.Adding(one), model.Replacing(one, two), model.Removing(two), model.Adding(one)}}
	next, err := c.Apply(e)
	if err != nil {
		t.Fatal(err)
	}
	if p := next.Part("p7"); p == nil || p.Meta().Tag != "V-7" || len(next.Parts()) != 4 {
		t.Errorf("after four changes the part is %v", p)
	}
	back, err := next.Apply(e.Inverse())
	if err != nil {
		t.Fatal(err)
	}
	if !equal(back, c) {
		t.Error("the inverse does not lead back")
	}
}

func TestApplyRefused(t *testing.T) {
	c := plant(t)
	tests := []struct {
		desc  string
		ch    model.Change
		stale bool
	}{
		{"adding an id that is taken", model.Adding(valve("p1", "V-9")), true},
		{"adding the id of a run", model.Adding(valve("r1", "V-9")), true},
		{"deleting what is not there", model.Removing(valve("p9", "V-9")), true},
		{"deleting what has changed", model.Removing(valve("p1", "another tag")), true},
		{"replacing what has changed", model.Replacing(valve("p1", "another tag"), valve("p1", "V-3")), true},
		{"replacing what is not there", model.Replacing(valve("p9", ""), valve("p9", "V-3")), true},
		{"a new id for a record", model.Replacing(c.Part("p1"), valve("p4", "V-1")), false},
		{"no id", model.Adding(valve("", "V-1")), false},
		{"the header's id", model.Adding(valve(model.HeaderID, "V-1")), false},
		{"deleting the header", model.Removing(c.Header()), false},
		{"nothing", model.Change{}, false},
	}
	before := contents(c)
	for _, tt := range tests {
		next, err := c.Apply(model.Edit{Label: tt.desc, Changes: []model.Change{model.Adding(valve("p8", "first")), tt.ch}})
		if err == nil || next != nil {
			t.Errorf("%s: no error", tt.desc)
			continue
		}
		if errors.Is(err, model.ErrStale) != tt.stale {
			t.Errorf("%s: error %v, stale should be %v", tt.desc, err, tt.stale)
		}
		if !reflect.DeepEqual(contents(c), before) {
			t.Errorf("%s: a part of the edit was applied", tt.desc)
		}
	}
}

func TestEditEmpty(t *testing.T) {
	if !(model.Edit{Label: "x"}).Empty() {
		t.Error("no changes: not empty")
	}
	if !(model.Edit{Changes: []model.Change{model.Replacing(valve("p1", "V"), valve("p1", "V"))}}).Empty() {
		t.Error("the same before and after: not empty")
	}
	if (model.Edit{Changes: []model.Change{model.Adding(valve("p1", "V"))}}).Empty() {
		t.Error("adding: empty")
	}
}

// FuzzEdits makes random edits one after the other and holds that each inverse
// leads back, that going back over all of them gives the first circuit, and that
// an edit for another state is refused and leaves the circuit as it was.
func FuzzEdits(f *testing.F) {
	for seed := range uint64(20) {
		f.Add(seed, uint8(30))
	}
	f.Fuzz(func(t *testing.T, seed uint64, count uint8) {
		rng := rand.New(rand.NewPCG(seed, 0))
		first := plant(t)
		c := first
		var done []model.Edit
		for range count {
			e := randomEdit(rng, c)
			before := contents(c)
			next, err := c.Apply(e)
			if err != nil {
				t.Fatalf("%v is refused: %v", e, err)
			}
			if !reflect.DeepEqual(contents(c), before) {
				t.Fatal("an edit changed the circuit that it was applied to")
			}
			promised(t, next)
			back, err := next.Apply(e.Inverse())
			if err != nil {
				t.Fatalf("the inverse is refused: %v", err)
			}
			if !equal(back, c) {
				t.Fatal("the inverse does not lead back")
			}
			if !e.Empty() {
				after := contents(next)
				if _, err := next.Apply(e); !errors.Is(err, model.ErrStale) {
					t.Fatalf("an edit applied twice: error %v", err)
				}
				if !reflect.DeepEqual(contents(next), after) {
					t.Fatal("a refused edit changed the circuit")
				}
			}
			done = append(done, e)
			c = next
		}
		for _, e := range slices.Backward(done) {
			var err error
			if c, err = c.Apply(e.Inverse()); err != nil {
				t.Fatal(err)
			}
		}
		if !equal(c, first) {
			t.Fatal("going back over all edits does not give the first circuit")
		}
	})
}

// promised holds what a circuit promises of itself: order and lookups.
func promised(t *testing.T, c *model.Circuit) {
	t.Helper()
	var records []model.Record
	for i, p := range c.Parts() {
		if i > 0 && c.Parts()[i-1].RecordID() >= p.RecordID() {
			t.Fatal("parts are not in order of id")
		}
		records = append(records, p)
	}
	for i, r := range c.Runs() {
		if i > 0 && c.Runs()[i-1].ID >= r.ID {
			t.Fatal("runs are not in order of id")
		}
		records = append(records, r)
		for _, end := range []model.End{r.From, r.To} {
			if !end.Loose() && !slices.Contains(c.RunsAt(end.Part), r) {
				t.Fatalf("run %s is not among those at %s", r.ID, end.Part)
			}
		}
	}
	for i, s := range c.Steps() {
		if i > 0 && c.Steps()[i-1].Programme == s.Programme && c.Steps()[i-1].Order > s.Order {
			t.Fatal("steps are not in order")
		}
		records = append(records, s)
	}
	for _, r := range records {
		if c.Record(r.RecordID()) != r {
			t.Fatalf("record %s is not found by its id", r.RecordID())
		}
	}
}

// randomEdit makes an edit of one to four different records that c accepts.
func randomEdit(rng *rand.Rand, c *model.Circuit) model.Edit {
	e := model.Edit{Label: "random"}
	touched := map[model.ID]bool{}
	for range 1 + rng.IntN(4) {
		id := model.ID(fmt.Sprintf("x%d", rng.IntN(12)))
		if n := len(c.Parts()); n > 0 && rng.IntN(2) == 0 {
			id = c.Parts()[rng.IntN(n)].RecordID()
		}
		if rng.IntN(10) == 0 {
			id = model.HeaderID
		}
		if touched[id] {
			continue
		}
		touched[id] = true
		before := c.Record(id)
		switch {
		case id == model.HeaderID:
			e.Changes = append(e.Changes, model.Replacing(before, &model.Header{Name: fmt.Sprint(rng.IntN(3))}))
		case before == nil:
			e.Changes = append(e.Changes, model.Adding(randomRecord(rng, id)))
		case rng.IntN(3) == 0:
			e.Changes = append(e.Changes, model.Removing(before))
		default: // perhaps by a record of another sort
			e.Changes = append(e.Changes, model.Replacing(before, randomRecord(rng, id)))
		}
	}
	return e
}

func randomRecord(rng *rand.Rand, id model.ID) model.Record {
	other := model.ID(fmt.Sprintf("x%d", rng.IntN(12)))
	switch rng.IntN(4) {
	case 0:
		return &model.Run{ID: id, From: model.End{Part: other, Port: "a"}, To: model.End{Part: model.ID(fmt.Sprintf("x%d", rng.IntN(12)))},
			Stretches: []model.Stretch{{Length: quantity.Some(quantity.Length(rng.IntN(3)))}}}
	case 1:
		return &model.Step{ID: id, Order: rng.IntN(5), Positions: map[model.ID]string{other: "open"}}
	case 2:
		return valve(id, fmt.Sprint(rng.IntN(3)))
	default:
		return &model.Pump{Item: model.Item{ID: id, Turn: model.Turn(rng.IntN(4))}, Curve: make([]model.CurvePoint, 1+rng.IntN(2))}
	}
}
