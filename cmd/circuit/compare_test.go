package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/circuitfile"
	"rinsewright/model/quantity"
)

// revised writes the two revisions of a small circuit: a valve is tagged anew, one
// is moved, the open port of the first revision has a cap in the second.
func revised(t *testing.T) (old, new string) {
	t.Helper()
	tank := &model.Vessel{Item: model.Item{ID: "p1", Kind: "water-tank", Tag: "T-1"}}
	v := &model.Valve{Item: model.Item{ID: "p2", Kind: "butterfly-valve", Tag: "V-1"}}
	run := &model.Run{ID: "r1", From: model.End{Part: "p1", Port: "outlet"}, To: model.End{Part: "p2", Port: "a"}}
	mark := &model.Mark{ID: "m1", Number: 1, Class: model.MarkMust, Text: "=close it", Pin: model.Pin{On: "p2"}}
	next := model.Clone(v)
	next.Tag, next.Kv = "V-2", quantity.Some(quantity.ValveFlow(118.0/3600))
	moved := model.Clone(tank)
	moved.At.X = 40
	h := &model.Header{Name: "x"}
	return circuitOf(t, h, tank, v, run, mark), circuitOf(t, h, moved, next, run, mark,
		&model.Fitting{Item: model.Item{ID: "p3", Kind: "cap", Tag: "C-1"}}, &model.Run{ID: "r2", From: model.End{Part: "p2", Port: "b"}, To: model.End{Part: "p3", Port: "a"}})
}

func TestCompareExitCodes(t *testing.T) {
	old, new := revised(t)
	for _, tt := range []struct {
		args []string
		code int
		errs string
	}{
		{[]string{old, old}, exitDone, ""},
		{[]string{old, new}, exitFindings, ""},
		{[]string{old, new, "--findings=false", "--csv"}, exitFindings, ""},
		{[]string{old}, exitBad, "name two circuit files"},
		{[]string{old, "nowhere.circuit.json"}, exitBad, "nowhere.circuit.json"},
		{[]string{old, new, "--json", "--csv"}, exitBad, "not both"},
		{[]string{old, new, "--units", "feet"}, exitBad, "--units"},
	} {
		code, _, errs := call(append([]string{"compare"}, tt.args...)...)
		if code != tt.code || !strings.Contains(errs, tt.errs) || (errs != "") != (tt.code == exitBad) {
			t.Errorf("%v: %d, %q", tt.args, code, errs)
		}
	}
	if code, out, _ := call("compare", "--help"); code != exitDone || !strings.Contains(out, "0: the same; 1: different; 2:") {
		t.Errorf("help: %d\n%s", code, out)
	}
}

func TestCompareInWords(t *testing.T) {
	old, new := revised(t)
	_, out, _ := call("compare", old, new)
	for _, want := range []string{"2 added, 0 removed, 1 moved on the drawing alone, 1 changed", "moved    part: T-1", "place on the drawing: (0, 0) mm -> (40, 0) mm",
		"changed  part: V-2", "tag: V-1 -> V-2", "(nothing) -> 118", "added    part: C-1", "finding went: fix open-end at V-1", "mark 1 is touched (must, open): =close it"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not in\n%s", want, out)
		}
	}
	if _, out, _ := call("compare", old, old); !strings.Contains(out, "the circuits are the same") {
		t.Errorf("the same:\n%s", out)
	}
}

func TestCompareAsCSVAndJSON(t *testing.T) {
	old, new := revised(t)
	_, out, _ := call("compare", "--csv", old, new)
	rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, row := range rows[1:] {
		seen[strings.Join([]string{row[0], row[1], row[2], row[4], row[7], row[8]}, "|")] = true
	}
	for _, want := range []string{"part|changed|p2|tag|V-1|V-2", "part|moved|p1|at_mm|(0, 0) mm|(40, 0) mm", "part|added|p3|||", "mark|touched|m1|||'=close it"} {
		if !seen[want] {
			t.Errorf("no row %q in\n%s", want, out)
		}
	}
	_, out, _ = call("compare", "--json", old, new)
	var raw struct {
		Same     bool
		Findings struct {
			Went []struct{ ID, Rule string }
		}
		Differences []struct {
			ID, Status string
			Properties []struct {
				Key      string
				Old, New *struct {
					Text   string
					TextUS string `json:"text_us"`
				}
			}
		}
	}
	if err := json.Unmarshal([]byte(out), &raw); err != nil {
		t.Fatal(err)
	}
	went := false
	for _, f := range raw.Findings.Went {
		went = went || f.ID == "open-end@p2:b"
	}
	if raw.Same || !went || len(raw.Differences) != 4 {
		t.Errorf("%+v", raw)
	}
	for _, d := range raw.Differences {
		for _, p := range d.Properties {
			if p.Key == "kv_m3h" && (p.Old != nil || p.New == nil || p.New.Text == p.New.TextUS) {
				t.Errorf("%+v", p)
			}
		}
	}
}

// written reads what a command wrote.
func written(t *testing.T, file string) *model.Circuit {
	t.Helper()
	c, err := circuitfile.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestMergeCommand(t *testing.T) {
	at := func(tag, note string) string {
		return circuitOf(t, &model.Header{Name: "x"}, &model.Valve{Item: model.Item{ID: "p1", Kind: "butterfly-valve", Tag: tag, Note: note}})
	}
	base, mine, theirs, clash := at("V-1", ""), at("V-2", ""), at("V-1", "new seal"), at("V-3", "")
	out := filepath.Join(t.TempDir(), "out.circuit.json")
	code, text, errs := call("merge", base, mine, theirs, "--to", out)
	if code != exitDone || errs != "" || !strings.Contains(text, "written: "+out) {
		t.Fatalf("%d, %s, %s", code, text, errs)
	}
	if m := written(t, out).Part("p1").Meta(); m.Tag != "V-2" || m.Note != "new seal" {
		t.Errorf("merged %+v", m)
	}
	other := filepath.Join(t.TempDir(), "other.circuit.json")
	code, text, _ = call("merge", base, mine, clash, "--to", other)
	if _, err := os.Stat(other); code != exitFindings || err == nil || !strings.Contains(text, "tag: base V-1, mine V-2, theirs V-3") {
		t.Errorf("with a conflict: %d, %v\n%s", code, err, text)
	}
	code, text, _ = call("merge", base, mine, clash, "--to", other, "--prefer", "theirs", "--json")
	var got mergeJSON
	if err := json.Unmarshal([]byte(text), &got); err != nil || code != exitDone || got.Written != other || len(got.Conflicts) != 1 || got.Conflicts[0].Choice != "theirs" {
		t.Errorf("%d, %v\n%s", code, err, text)
	}
	if tag := written(t, other).Part("p1").Meta().Tag; tag != "V-3" {
		t.Errorf("tag %s", tag)
	}
	for _, args := range [][]string{{base, mine}, {base, mine, theirs}, {base, mine, theirs, "--to", out, "--prefer", "ours"}, {base, mine, "nowhere", "--to", out}, {base, mine, theirs, "--to", t.TempDir() + "/no/such/folder.circuit.json"}} {
		if code, _, errs := call(append([]string{"merge"}, args...)...); code != exitBad || errs == "" {
			t.Errorf("%v: %d, %q", args, code, errs)
		}
	}
}

func TestMarksCommand(t *testing.T) {
	old, new := revised(t)
	alone := filepath.Join(t.TempDir(), "marks.circuit.json")
	code, text, errs := call("marks", "export", old, "--to", alone)
	if code != exitDone || errs != "" || !strings.Contains(text, "1 mark\n") {
		t.Fatalf("%d, %s, %s", code, text, errs)
	}
	c := written(t, alone)
	if len(c.Parts()) != 0 || len(c.Marks()) != 1 || c.Marks()[0].Pin.Was != "V-1" {
		t.Errorf("alone: %+v", c.Marks())
	}
	answered := model.Clone(c.Marks()[0])
	answered.History = []model.Entry{{At: "2026-01-01T00:00:00Z", By: "B. Planner", State: quantity.Some(model.MarkDone)}}
	marks := circuitOf(t, &model.Header{Name: "x"}, answered, &model.Mark{ID: "m2", Number: 2, Class: model.MarkPraise})
	out := filepath.Join(t.TempDir(), "out.circuit.json")
	code, text, errs = call("marks", "merge", new, marks, "--to", out, "--json")
	var got markingJSON
	if err := json.Unmarshal([]byte(text), &got); err != nil || code != exitDone || got.Marks != 2 || len(got.Added) != 1 || len(got.Updated) != 1 || got.Adrift != nil {
		t.Errorf("%d, %v, %s, %s", code, err, text, errs)
	}
	if m := written(t, out).Mark("m1"); m.State() != model.MarkDone || m.Pin != (model.Pin{On: "p2"}) {
		t.Errorf("merged %+v", m)
	}
	for _, args := range [][]string{{"export", old}, {"export", "--to", out}, {"print", old, "--to", out}, {"merge", new, "--to", out}, {"merge", "nowhere", marks, "--to", out}, {"export", "nowhere", "--to", out}} {
		if code, _, errs := call(append([]string{"marks"}, args...)...); code != exitBad || errs == "" {
			t.Errorf("%v: %d, %q", args, code, errs)
		}
	}
}
