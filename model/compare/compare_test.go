package compare_test

import (
	"bytes"
	"errors"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/compare"
	"rinsewright/model/quantity"
)

func encoded(t testing.TB, c *model.Circuit) []byte {
	t.Helper()
	b, err := circuitfile.Encode(c)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func same(t testing.TB, a, b *model.Circuit) bool { return bytes.Equal(encoded(t, a), encoded(t, b)) }

// What tells two circuits apart is what an implementation on the JSON of the
// files finds; and the comparison as an edit makes the new one of the old one.
func TestCompareAgainstTheOracle(t *testing.T) {
	for seed := range uint64(1000) {
		g := &generator{Rand: rand.New(rand.NewPCG(seed, 1))}
		a := g.circuit(2 + g.IntN(12))
		b := g.edited(t, a, g.IntN(12), true)
		if seed%50 == 0 {
			b = g.circuit(4) // nothing in common but ids
		}
		c := compare.Circuits(a, b, catalogue.Builtin())
		var got []string
		for _, d := range c.Differences {
			switch d.Status {
			case compare.Added:
				got = append(got, string(d.ID)+" +")
			case compare.Removed:
				got = append(got, string(d.ID)+" -")
			default:
				if len(d.Properties) == 0 {
					t.Fatalf("seed %d: %s is %s in nothing", seed, d.ID, d.Status)
				}
				for _, p := range d.Properties {
					got = append(got, string(d.ID)+" "+p.Key)
					if p.Old == p.New {
						t.Errorf("seed %d: %s %s (%s): old and new read the same: %q", seed, d.ID, p.Key, p.Element, p.Old.Metric)
					}
					if p.Label == "" {
						t.Errorf("seed %d: %s has no label", seed, p.Key)
					}
				}
			}
		}
		slices.Sort(got)
		got = slices.Compact(got)
		if want := keysThatDiffer(objectsOf(t, a), objectsOf(t, b)); !slices.Equal(got, want) {
			t.Fatalf("seed %d: got\n%v\nwant\n%v", seed, got, want)
		}
		next, err := a.Apply(c.Edit("compare"))
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if !same(t, next, b) {
			t.Fatalf("seed %d: the edit does not lead from old to new", seed)
		}
		if c.Same() != same(t, a, b) {
			t.Fatalf("seed %d: same is %v", seed, c.Same())
		}
	}
}

func TestMergeWithOneSideUnchanged(t *testing.T) {
	for seed := range uint64(300) {
		g := &generator{Rand: rand.New(rand.NewPCG(seed, 2))}
		base := g.circuit(2 + g.IntN(10))
		x := g.edited(t, base, 1+g.IntN(15), true)
		for name, m := range map[string]*compare.Merge{"mine": compare.Three(base, x, base, nil), "theirs": compare.Three(base, base, x, nil), "both": compare.Three(base, x, x, nil)} {
			if len(m.Conflicts()) != 0 || !same(t, m.Circuit(), x) {
				t.Fatalf("seed %d, %s: %d conflicts; %v", seed, name, len(m.Conflicts()), m.Conflicts())
			}
		}
		nothing, err := compare.Three(base, x, base, nil).Edit("merge")
		if err != nil || len(nothing.Changes) != 0 {
			t.Fatalf("seed %d: merging nothing changes %v, %v", seed, nothing, err)
		}
	}
}

// Two sides' edits are put together as the oracle does, with the same conflicts;
// nothing that one side alone did is lost; and who is "mine" does not matter.
func TestMergeAgainstTheOracle(t *testing.T) {
	withConflicts := 0
	for seed := range uint64(1000) {
		g := &generator{Rand: rand.New(rand.NewPCG(seed, 3))}
		base := g.circuit(2 + g.IntN(8))
		mine := g.edited(t, base, g.IntN(20), false)
		theirs := g.edited(t, base, g.IntN(20), false)
		m, swapped := compare.Three(base, mine, theirs, nil), compare.Three(base, theirs, mine, nil)
		var conflicts []string
		for i, c := range m.Conflicts() {
			conflicts = append(conflicts, string(c.ID)+" "+c.Key+" "+c.Element)
			other := swapped.Conflicts()[i]
			if c.ID != other.ID || c.Key != other.Key || c.Element != other.Element || c.Mine != other.Theirs || c.Theirs != other.Mine || c.Base != other.Base || c.Name != other.Name {
				t.Fatalf("seed %d: conflict %+v is %+v from the other side", seed, c, other)
			}
		}
		slices.Sort(conflicts)
		objects, want := merged(objectsOf(t, base), objectsOf(t, mine), objectsOf(t, theirs))
		if !slices.Equal(conflicts, want) {
			t.Fatalf("seed %d: conflicts\n%v\nwant\n%v", seed, conflicts, want)
		}
		if got := keysThatDiffer(sortedLists(objectsOf(t, m.Circuit())), sortedLists(objects)); len(got) > 0 {
			t.Fatalf("seed %d: merged is another than the oracle's in %v", seed, got)
		}
		if len(want) > 0 {
			withConflicts++
			if _, err := m.Edit("merge"); !errors.Is(err, compare.ErrConflicts) {
				t.Fatalf("seed %d: conflicts, but the edit gives %v", seed, err)
			}
		} else if !same(t, m.Circuit(), swapped.Circuit()) {
			t.Fatalf("seed %d: merged the other way round it is another", seed)
		}
		m.ChooseAll(compare.Mine)
		swapped.ChooseAll(compare.Theirs)
		if !same(t, m.Circuit(), swapped.Circuit()) {
			t.Fatalf("seed %d: chosen alike, merged the other way round it is another", seed)
		}
		edit, err := m.Edit("merge")
		if err != nil {
			t.Fatal(err)
		}
		next, err := mine.Apply(edit)
		if err != nil || !same(t, next, m.Circuit()) {
			t.Fatalf("seed %d: the edit does not lead from mine to the merged circuit: %v", seed, err)
		}
		m.ChooseAll(compare.Theirs)
		noLoss(t, base, mine, theirs, m.Circuit())
	}
	if withConflicts < 100 {
		t.Errorf("only %d of the random merges had conflicts", withConflicts)
	}
}

// noLoss holds that records which one side alone added or deleted are there or
// gone in the merged circuit.
func noLoss(t *testing.T, base, mine, theirs, merged *model.Circuit) {
	t.Helper()
	for _, side := range [][2]*model.Circuit{{mine, theirs}, {theirs, mine}} {
		for _, r := range side[0].All() {
			if base.Record(r.RecordID()) == nil && merged.Record(r.RecordID()) == nil {
				t.Errorf("%s was added by one side and is lost", r.RecordID())
			}
		}
		for _, r := range base.All() {
			id := r.RecordID()
			if side[0].Record(id) == nil && reflect.DeepEqual(side[1].Record(id), r) && merged.Record(id) != nil {
				t.Errorf("%s was deleted by one side, left alone by the other, and is there", id)
			}
		}
	}
}

// With deleted parts among the edits no conflict is left without a way out, and no
// reference hangs that neither side had.
func TestMergeWithDeletedParts(t *testing.T) {
	restored := 0
	for seed := range uint64(500) {
		g := &generator{Rand: rand.New(rand.NewPCG(seed, 4))}
		base := g.circuit(3 + g.IntN(6))
		mine, theirs := g.edited(t, base, g.IntN(15), true), g.edited(t, base, g.IntN(15), true)
		for _, choice := range []compare.Choice{compare.Mine, compare.Theirs, compare.Base} {
			m := compare.Three(base, mine, theirs, catalogue.Builtin())
			for _, c := range m.Conflicts() {
				if strings.Contains(c.Mine.Metric+c.Theirs.Metric, "needed by") {
					restored++
				}
			}
			m.ChooseAll(choice)
			if m.Unresolved() > 0 {
				t.Fatalf("seed %d: %d conflicts stay, whatever is chosen", seed, m.Unresolved())
			}
			for _, r := range m.Circuit().Runs() {
				for _, e := range []model.End{r.From, r.To} {
					if e.Loose() || m.Circuit().Part(e.Part) != nil {
						continue
					}
					hung := false
					for _, c := range []*model.Circuit{mine, theirs} {
						if o := c.Run(r.ID); o != nil && (o.From.Part == e.Part || o.To.Part == e.Part) && c.Part(e.Part) == nil {
							hung = true
						}
					}
					if !hung {
						t.Fatalf("seed %d: run %s ends on %s, which is gone", seed, r.ID, e.Part)
					}
				}
			}
		}
	}
	if restored == 0 {
		t.Error("no random merge deleted a part that the other side needs")
	}
}

func valve(id model.ID, tag string) *model.Valve {
	return &model.Valve{Item: model.Item{ID: id, Kind: "butterfly-valve", Tag: tag}}
}

func circuit(t *testing.T, all model.Records) *model.Circuit {
	t.Helper()
	c, err := all.Circuit()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// An example worked by hand: all that can differ, in words.
func TestInWords(t *testing.T) {
	run := func(length float64) *model.Run {
		return &model.Run{ID: "r1", From: model.End{Part: "p1", Port: "b"}, To: model.End{At: &model.Point{X: 5}},
			Stretches: []model.Stretch{{Length: quantity.Some(quantity.Length(length)), Rise: quantity.Some(quantity.Length(-0.1))}}}
	}
	step := func(positions map[model.ID]string, cleans ...model.ID) *model.Step {
		return &model.Step{ID: "s1", Name: "Rinse", Programme: "A", Positions: positions, Cleans: cleans,
			Flow: quantity.Some(quantity.CubicMetresPerHour(10))}
	}
	moved, tagged := valve("p2", "V-2"), valve("p3", "V-3")
	movedLater := model.Clone(moved)
	movedLater.At.X, movedLater.Turn = 40, 1
	kv := valve("p3", "V-33")
	kv.Kv = quantity.Some(quantity.ValveFlow(0.01))
	later := step(map[model.ID]string{"p1": "open", "p3": "shut"}, "p3")
	later.Flow = quantity.Some(quantity.CubicMetresPerHour(12))
	old := circuit(t, model.Records{Header: &model.Header{Name: "x"}, Parts: []model.Part{valve("p1", "V-1"), moved, tagged, valve("p9", "V-9")},
		Runs: []*model.Run{run(2)}, Steps: []*model.Step{step(map[model.ID]string{"p1": "shut", "p2": "open"}, "p2", "p3")}})
	new := circuit(t, model.Records{Header: &model.Header{Name: "x", Revision: "B"}, Parts: []model.Part{valve("p1", "V-1"), movedLater, kv, valve("p4", "")},
		Runs: []*model.Run{run(3.5)}, Steps: []*model.Step{later},
		Marks: []*model.Mark{{ID: "m1", Number: 1, Pin: model.Pin{On: "p3"}}, {ID: "m2", Number: 2, Pin: model.Pin{On: "p1"}}}})
	c := compare.Circuits(old, new, catalogue.Builtin())
	var got []string
	for _, d := range c.Differences {
		got = append(got, string(d.Status)+" "+string(d.Sort)+" "+d.Name)
		for _, p := range d.Properties {
			got = append(got, "  "+p.Label+": "+p.Old.Metric+" -> "+p.New.Metric)
		}
	}
	want := []string{
		"changed circuit the circuit", "  revision:  -> B",
		"moved part V-2", "  place on the drawing: (0, 0) mm -> (40, 0) mm", "  quarter turns: 0 -> 1",
		"changed part V-33", "  tag: V-3 -> V-33", "",
		"added part untagged butterfly valve", "removed part V-9",
		"changed run run from V-1 to nowhere", "  stretches: length 2 m, rise -0.1 m -> length 3.5 m, rise -0.1 m",
		"changed step step Rinse of A", "  flow: 10 m³/h -> 12 m³/h", "  cleans: V-2 -> ",
		"  position of V-1: shut -> open", "  position of V-2: open -> ", "  position of V-33:  -> shut",
		"added mark mark 1", "added mark mark 2",
	}
	want[7] = "  flow coefficient Kv:  -> " + quantity.Text(quantity.ValveFlow(0.01), quantity.Metric)
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	// 12 m³/h is 52.8344 gal/min: 12 / 60 / 0.003785411784 (NIST SP 811, appendix B.8).
	if d, ok := c.Of("s1"); !ok || !strings.HasPrefix(d.Properties[0].New.US, "52.8344 ") {
		t.Errorf("flow in US units: %+v", d.Properties[0].New)
	}
	if marks := c.MarksTouched(); len(marks) != 1 || marks[0].ID != "m1" {
		t.Errorf("marks touched: %v", marks)
	}
	if n := c.Counts(compare.OfPart); n[compare.Added] != 1 || n[compare.Removed] != 1 || n[compare.Moved] != 1 || n[compare.Changed] != 1 {
		t.Errorf("counts %v", n)
	}
}

func TestConflictsAreNamedAndChosen(t *testing.T) {
	at := func(kv float64, tag, position string) *model.Circuit {
		v := valve("p1", tag)
		v.Kv = quantity.Some(quantity.ValveFlow(kv / 3600))
		return circuit(t, model.Records{Parts: []model.Part{v}, Steps: []*model.Step{{ID: "s1", Name: "Rinse", Positions: map[model.ID]string{"p1": position}}}})
	}
	m := compare.Three(at(100, "V-1", "open"), at(118, "V-1", "shut"), at(120, "V-11", "left"), nil)
	if len(m.Conflicts()) != 2 || m.Unresolved() != 2 {
		t.Fatalf("conflicts %+v", m.Conflicts())
	}
	kv, position := m.Conflicts()[0], m.Conflicts()[1]
	if kv.ID != "p1" || kv.Key != "kv_m3h" || kv.Base.Metric != "100 Kv m³/h" || kv.Mine.Metric != "118 Kv m³/h" || kv.Theirs.Metric != "120 Kv m³/h" || kv.Name != "V-1" {
		t.Errorf("conflict %+v", kv)
	}
	if position.ID != "s1" || position.Element != "p1" || position.Label != "position of V-1" || position.Theirs.Metric != "left" {
		t.Errorf("conflict %+v", position)
	}
	m.Choose(kv, compare.Theirs)
	m.Choose(position, compare.Base)
	v, s := m.Circuit().Part("p1").(*model.Valve), m.Circuit().Step("s1")
	if v.Kv != quantity.Some(quantity.ValveFlow(120.0/3600)) || v.Tag != "V-11" || s.Positions["p1"] != "open" || m.Unresolved() != 0 {
		t.Errorf("merged %+v, %+v", v, s)
	}
	m.Choose(kv, compare.Unchosen)
	if m.Unresolved() != 1 || m.Conflicts()[0].Choice != compare.Unchosen {
		t.Errorf("a choice cannot be taken back: %+v", m.Conflicts())
	}
}

// Mine deletes a part with its run; theirs joins a new run to it and uses it in a
// step.
func TestAPartThatOneDeletesAndTheOtherNeeds(t *testing.T) {
	base := circuit(t, model.Records{Parts: []model.Part{valve("p1", "V-1"), valve("p2", "V-2")}, Steps: []*model.Step{{ID: "s1", Name: "Rinse"}}})
	mine := circuit(t, model.Records{Parts: []model.Part{valve("p2", "V-2")}, Steps: []*model.Step{{ID: "s1", Name: "Rinse"}}})
	theirs := circuit(t, model.Records{Parts: []model.Part{valve("p1", "V-1"), valve("p2", "V-2")},
		Runs: []*model.Run{{ID: "r1", From: model.End{Part: "p1", Port: "a"}, To: model.End{Part: "p2", Port: "b"}}},
		Steps: []*model.Step{{ID: "s1", Name: "Rinse", Positions: map[model.ID]string{"p1": "open"},
			Source: "p1", Destination: "p1", Cleans: []model.ID{"p1", "p2"}, Running: []model.ID{"p1"}}}})
	m := compare.Three(base, mine, theirs, nil)
	if len(m.Conflicts()) != 1 || m.Circuit().Part("p1") == nil {
		t.Fatalf("conflicts %+v", m.Conflicts())
	}
	c := m.Conflicts()[0]
	if c.ID != "p1" || c.Mine.Metric != "" || c.Theirs.Metric != "there; needed by run from V-1 to V-2, step Rinse" {
		t.Errorf("conflict %+v", c)
	}
	m.Choose(c, compare.Mine)
	r, s := m.Circuit().Run("r1"), m.Circuit().Step("s1")
	if m.Circuit().Part("p1") != nil || !r.From.Loose() || r.From.At == nil || r.To.Part != "p2" || len(s.Positions) != 0 || s.Source != "" || s.Destination != "" ||
		!slices.Equal(s.Cleans, []model.ID{"p2"}) || len(s.Running) != 0 || m.Unresolved() != 0 {
		t.Errorf("without the part: %+v, %+v", r, s)
	}
	m.Choose(c, compare.Theirs)
	if m.Circuit().Part("p1") == nil || m.Circuit().Run("r1").From.Part != "p1" {
		t.Error("with the part: it is not there")
	}
}

func TestMarksOfBothGetNumbers(t *testing.T) {
	mark := func(id model.ID, n int) *model.Mark {
		return &model.Mark{ID: id, Number: n, Class: model.MarkMust}
	}
	base := circuit(t, model.Records{Marks: []*model.Mark{mark("m1", 1)}})
	mine := circuit(t, model.Records{Marks: []*model.Mark{mark("m1", 1), mark("m8", 2)}})
	theirs := circuit(t, model.Records{Marks: []*model.Mark{mark("m1", 1), mark("m3", 2), mark("m4", 3)}})
	for _, m := range []*compare.Merge{compare.Three(base, mine, theirs, nil), compare.Three(base, theirs, mine, nil)} {
		c := m.Circuit()
		if len(m.Conflicts()) != 0 || c.Mark("m3").Number != 2 || c.Mark("m4").Number != 3 || c.Mark("m8").Number != 4 {
			t.Errorf("numbers %v", c.Marks())
		}
	}
}

// What both sides add to a list stands in one order, whoever merges.
func TestBothAddToAList(t *testing.T) {
	of := func(names ...string) *model.Circuit {
		return circuit(t, model.Records{Marks: []*model.Mark{{ID: "m1", Number: 1, Attachments: names}}})
	}
	base, mine, theirs := of("b", "a"), of("b", "a", "z"), of("b", "c", "d")
	for _, m := range []*compare.Merge{compare.Three(base, mine, theirs, nil), compare.Three(base, theirs, mine, nil)} {
		if got := m.Circuit().Mark("m1").Attachments; !slices.Equal(got, []string{"b", "c", "d", "z"}) || len(m.Conflicts()) != 0 {
			t.Errorf("merged %v", got)
		}
	}
}

func TestHistoriesAreMergedByTime(t *testing.T) {
	mark := func(entries ...model.Entry) *model.Circuit {
		return circuit(t, model.Records{Marks: []*model.Mark{{ID: "m1", Number: 1, History: entries}}})
	}
	first, second, third := model.Entry{At: "2026-01-01T00:00:00Z", By: "a"}, model.Entry{At: "2026-01-02T00:00:00Z", By: "b"}, model.Entry{At: "2026-01-03T00:00:00Z", By: "c"}
	m := compare.Three(mark(first), mark(first, third), mark(first, second), nil)
	if got := m.Circuit().Mark("m1").History; len(m.Conflicts()) != 0 || !reflect.DeepEqual(got, []model.Entry{first, second, third}) {
		t.Errorf("history %v, conflicts %v", got, m.Conflicts())
	}
}
