package compare_test

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/compare"
	"rinsewright/model/quantity"
)

func entry(at, by string, s model.MarkState) model.Entry {
	return model.Entry{At: model.Moment(at), By: by, State: quantity.Some(s)}
}

// Marks go out alone, are answered elsewhere, and come back into a circuit that
// has been edited meanwhile.
func TestMarksGoOutAndComeBack(t *testing.T) {
	v2 := valve("p2", "V-2")
	v2.At = model.Point{X: 40, Y: 20}
	pinned := &model.Mark{ID: "m1", Number: 1, Class: model.MarkMust, Text: "show the fall", Pin: model.Pin{On: "p2"}, History: []model.Entry{entry("2026-01-01T00:00:00Z", "a", model.MarkOpen)}}
	onRun := &model.Mark{ID: "m2", Number: 2, Class: model.MarkQuestion, Pin: model.Pin{On: "r1", Along: quantity.Some(quantity.Strength(0.25))}}
	run := &model.Run{ID: "r1", From: model.End{Part: "p1", Port: "b"}, To: model.End{Part: "p2", Port: "a"}}
	c := circuit(t, model.Records{Header: &model.Header{Name: "Oat line 2", Revision: "A"}, Parts: []model.Part{valve("p1", "V-1"), v2}, Runs: []*model.Run{run},
		Marks: []*model.Mark{pinned, onRun}})
	alone := compare.MarksAlone(c, catalogue.Builtin())
	if len(alone.Parts()) != 0 || len(alone.Marks()) != 2 || alone.Header().Name != "Oat line 2" {
		t.Fatalf("alone: %d parts, %d marks", len(alone.Parts()), len(alone.Marks()))
	}
	if pin := alone.Mark("m1").Pin; pin.On != "p2" || pin.Was != "V-2" || *pin.At != v2.At {
		t.Errorf("pinned %+v", pin)
	}
	if pin := alone.Mark("m2").Pin; pin.Was != "run from V-1 to V-2" || *pin.At != (model.Point{X: 20, Y: 10}) || pin.Along != onRun.Pin.Along {
		t.Errorf("pinned %+v", pin)
	}
	alone, err := circuitfile.Decode("marks", encoded(t, alone)) // through the file
	if err != nil {
		t.Fatal(err)
	}

	// Elsewhere: the first is answered, one is added, with the number that comes next.
	answered := model.Clone(alone.Mark("m1"))
	answered.History = append(slices.Clone(answered.History), entry("2026-01-03T00:00:00Z", "b", model.MarkAnswered))
	answered.Text = "show the fall, 1 %"
	back, err := alone.Apply(model.Edit{Changes: []model.Change{model.Replacing(alone.Mark("m1"), answered),
		model.Adding(&model.Mark{ID: "m9", Number: 3, Class: model.MarkPraise})}})
	if err != nil {
		t.Fatal(err)
	}

	// Here: the run is gone, the valve has moved and is tagged anew, the same mark
	// was spoken of, and another took the next number.
	spoken := model.Clone(pinned)
	spoken.History = append(slices.Clone(spoken.History), entry("2026-01-02T00:00:00Z", "c", model.MarkAgreed))
	moved := valve("p2", "V-22")
	moved.At = model.Point{X: 90}
	now := circuit(t, model.Records{Header: &model.Header{Name: "Oat line 2", Revision: "B"}, Parts: []model.Part{valve("p1", "V-1"), moved},
		Marks: []*model.Mark{spoken, onRun, {ID: "m5", Number: 3, Class: model.MarkMust}}})
	m := compare.MergeMarks(now, back)
	next, err := now.Apply(m.Edit)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(m.Added, []model.ID{"m9"}) || !slices.Equal(m.Renumbered, []model.ID{"m9"}) || !slices.Equal(m.Updated, []model.ID{"m1"}) || !slices.Equal(m.Adrift, []model.ID{"m2"}) {
		t.Errorf("marking %+v", m)
	}
	got := next.Mark("m1")
	if got.Text != "show the fall, 1 %" || got.State() != model.MarkAnswered || len(got.History) != 3 || got.History[1].By != "c" {
		t.Errorf("merged %+v", got)
	}
	if got.Pin != (model.Pin{On: "p2"}) {
		t.Errorf("the mark does not follow its part: %+v", got.Pin)
	}
	if next.Mark("m9").Number != 4 || next.Mark("m5").Number != 3 {
		t.Errorf("numbers %d, %d", next.Mark("m9").Number, next.Mark("m5").Number)
	}
	if again := compare.MergeMarks(next, back); len(again.Edit.Changes) != 0 {
		t.Errorf("merged once more: %+v", again)
	}
}

// Marks merged back untouched change nothing, and no entry of any history is lost
// whatever was done on either side.
func TestMarksMergeWithoutLoss(t *testing.T) {
	for seed := range uint64(300) {
		g := &generator{Rand: rand.New(rand.NewPCG(seed, 5))}
		base := g.circuit(3 + g.IntN(8))
		alone := compare.MarksAlone(base, nil)
		here := g.edited(t, base, g.IntN(10), true)
		for _, m := range g.edited(t, alone, g.IntN(10), true).Marks() {
			from := circuit(t, model.Records{Marks: []*model.Mark{m}})
			next, err := here.Apply(compare.MergeMarks(here, from).Edit)
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			got := next.Mark(m.ID)
			if got == nil {
				t.Fatalf("seed %d: mark %s is lost", seed, m.ID)
			}
			wanted := m.History
			if old := here.Mark(m.ID); old != nil {
				wanted = slices.Concat(wanted, old.History)
				if got.Number != old.Number {
					t.Errorf("seed %d: mark %s had number %d and has %d", seed, m.ID, old.Number, got.Number)
				}
			}
			for _, e := range wanted {
				if !slices.ContainsFunc(got.History, func(x model.Entry) bool { return reflect.DeepEqual(x, e) }) {
					t.Fatalf("seed %d: an entry of mark %s is lost", seed, m.ID)
				}
			}
		}
	}
}
