package model_test

import (
	"fmt"
	"regexp"
	"strings"
	"sync"
	"testing"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

func ids[R model.Record](list []R) string {
	var out []string
	for _, r := range list {
		out = append(out, string(r.RecordID()))
	}
	return strings.Join(out, " ")
}

func TestLookups(t *testing.T) {
	c := plant(t)
	for _, tt := range []struct{ desc, got, want string }{
		{"parts", ids(c.Parts()), "p1 p2 p3"},
		{"runs", ids(c.Runs()), "r1 r2 r3"},
		{"steps, in order of place", ids(c.Steps()), "s9 s1"},
		{"runs at p1", ids(c.RunsAt("p1")), "r1"},
		{"runs at p3, one of them with both ends", ids(c.RunsAt("p3")), "r2 r3"},
		{"runs at a loose end", ids(c.RunsAt("")), ""},
		{"runs at no part", ids(c.RunsAt("p9")), ""},
		{"tagged V-1", ids(c.Tagged("V-1")), "p1 r2"},
		{"tagged nothing", ids(c.Tagged("V-9")), ""},
	} {
		if tt.got != tt.want {
			t.Errorf("%s: %q, want %q", tt.desc, tt.got, tt.want)
		}
	}
	if c.Record(model.HeaderID) != model.Record(c.Header()) {
		t.Error("the header is not found by its id")
	}
	if c.Part("r1") != nil || c.Run("p1") != nil || c.Step("p1") != nil || c.Record("none") != nil {
		t.Error("an id finds a record of another sort")
	}
	if c.Part("p1") == nil || c.Run("r1") == nil || c.Step("s1") == nil {
		t.Error("an id does not find its record")
	}
	if empty := model.New("new"); empty.Header().Name != "new" || len(empty.Parts())+len(empty.Runs())+len(empty.Steps()) != 0 {
		t.Error("a new circuit is not empty")
	}
}

func TestStepsOfSeveralProgrammes(t *testing.T) {
	c, err := model.FromRecords(nil, nil, nil, []*model.Step{
		{ID: "s1", Programme: "B", Order: 1}, {ID: "s3", Programme: "A", Order: 2},
		{ID: "s2", Programme: "A", Order: 2}, {ID: "s4", Programme: "A", Order: 1},
	})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := ids(c.Steps()), "s4 s2 s3 s1"; got != want {
		t.Errorf("steps are %s, want %s", got, want)
	}
}

// Readers beside each other find the same; run under the race detector.
func TestLookupsBesideEachOther(t *testing.T) {
	c := plant(t)
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			if c.Part("p1") == nil || len(c.RunsAt("p3")) != 2 {
				t.Error("not found")
			}
		})
	}
	wait.Wait()
}

func TestFromRecordsRefused(t *testing.T) {
	run := &model.Run{ID: "x1"}
	tests := []struct {
		desc  string
		parts []model.Part
		runs  []*model.Run
		steps []*model.Step
		want  string
	}{
		{"two parts", []model.Part{valve("x1", ""), valve("x1", "")}, nil, nil, `two records have the id "x1"`},
		{"a part and a run", []model.Part{valve("x1", "")}, []*model.Run{run}, nil, `two records have the id "x1"`},
		{"a run and a step", nil, []*model.Run{run}, []*model.Step{{ID: "x1"}}, `two records have the id "x1"`},
		{"no id", nil, []*model.Run{{}}, nil, `"" is not an id`},
		{"the header's", nil, nil, []*model.Step{{ID: model.HeaderID}}, `"circuit" is not an id`},
	}
	for _, tt := range tests {
		if _, err := model.FromRecords(nil, tt.parts, tt.runs, tt.steps); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: error %v, want one with %q", tt.desc, err, tt.want)
		}
	}
}

func TestFromRecordsCopiesTheLists(t *testing.T) {
	parts := []model.Part{valve("p2", ""), valve("p1", "")}
	c, err := model.FromRecords(nil, parts, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	if ids(parts) != "p2 p1" {
		t.Error("the caller's list was sorted")
	}
	parts[0] = nil
	if ids(c.Parts()) != "p1 p2" {
		t.Error("the circuit shares the caller's list")
	}
}

func TestNewID(t *testing.T) {
	shape := regexp.MustCompile(`^r[a-z2-7]{8}$`) // 40 bits in the base 32 of RFC 4648
	seen := map[model.ID]bool{}
	for range 10_000 { // chance that two of them are the same: 5e-5
		id := model.NewID("r")
		if !shape.MatchString(string(id)) {
			t.Fatalf("%q is not an r and eight letters", id)
		}
		if seen[id] {
			t.Fatalf("%q was given twice", id)
		}
		seen[id] = true
	}
}

func TestTurned(t *testing.T) {
	// On a drawing with y downwards a quarter turn clockwise takes right to down.
	right, down, left, up := model.Point{X: 1}, model.Point{Y: 1}, model.Point{X: -1}, model.Point{Y: -1}
	tests := []struct {
		v        model.Point
		turn     model.Turn
		mirrored bool
		want     model.Point
	}{
		{right, 0, false, right}, {right, 1, false, down}, {right, 2, false, left}, {right, 3, false, up},
		{down, 1, false, left}, {up, 1, false, right}, {left, 3, false, down},
		{right, 0, true, left}, {up, 0, true, up}, {right, 1, true, up}, {down, 1, true, left}, {right, 2, true, right},
		{right, 5, false, down}, {right, -1, false, up},
	}
	for _, tt := range tests {
		if got := model.Turned(tt.v, tt.turn, tt.mirrored); got != tt.want {
			t.Errorf("%v turned %d, mirrored %v: %v, want %v", tt.v, tt.turn, tt.mirrored, got, tt.want)
		}
	}
}

func TestPlaced(t *testing.T) {
	at := model.Point{X: 100, Y: 50}
	tests := []struct {
		turn     model.Turn
		mirrored bool
		want     model.Point
	}{
		{0, false, model.Point{X: 110, Y: 55}},
		{1, false, model.Point{X: 95, Y: 60}},
		{2, false, model.Point{X: 90, Y: 45}},
		{3, false, model.Point{X: 105, Y: 40}},
		{0, true, model.Point{X: 90, Y: 55}},
		{1, true, model.Point{X: 95, Y: 40}}, // mirrored first: (-10, 5), then turned: (-5, -10)
	}
	for _, tt := range tests {
		if got := model.Placed(model.Point{X: 10, Y: 5}, at, tt.turn, tt.mirrored); got != tt.want {
			t.Errorf("turned %d, mirrored %v: %v, want %v", tt.turn, tt.mirrored, got, tt.want)
		}
	}
}

func TestClone(t *testing.T) {
	s := &model.Step{ID: "s1", Cleans: []model.ID{"p1"}, Positions: map[model.ID]string{"p1": "open"}}
	copied := model.Clone(s)
	copied.Cleans[0], copied.Positions["p1"] = "p2", "closed"
	if s.Cleans[0] != "p1" || s.Positions["p1"] != "open" {
		t.Error("a change of the copy changed the original")
	}
}

func TestLengthAndRise(t *testing.T) {
	stretch := func(length, rise float64) model.Stretch {
		return model.Stretch{Length: quantity.Some(quantity.Length(length)), Rise: quantity.Some(quantity.Length(rise))}
	}
	unknown := model.Stretch{}
	tests := []struct {
		stretches    []model.Stretch
		length, rise string
	}{
		{nil, "unknown", "unknown"},
		{[]model.Stretch{stretch(2, 1), stretch(3, -0.25)}, "5 m", "0.75 m"},
		{[]model.Stretch{stretch(0, 0)}, "0 m", "0 m"},
		{[]model.Stretch{stretch(2, 1), unknown}, "unknown", "unknown"},
	}
	for _, tt := range tests {
		r := &model.Run{Stretches: tt.stretches}
		if got := quantity.OptText(r.Length(), quantity.Metric); got != tt.length {
			t.Errorf("%v: length %s, want %s", tt.stretches, got, tt.length)
		}
		if got := quantity.OptText(r.Rise(), quantity.Metric); got != tt.rise {
			t.Errorf("%v: rise %s, want %s", tt.stretches, got, tt.rise)
		}
	}
}

// Every class makes its own part, and a part tells its class.
func TestClasses(t *testing.T) {
	for _, c := range model.Classes() {
		if p := model.NewPart(c); p == nil || p.Class() != c {
			t.Errorf("class %s makes %s", c, fmt.Sprint(p))
		}
	}
	if model.NewPart("none") != nil {
		t.Error("an unknown class makes a part")
	}
}
