package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

func TestIsolate(t *testing.T) {
	f := demo(t, "oat-drink-station")
	code, out, errs := call("isolate", f, "P-201")
	if code != exitDone || errs != "" {
		t.Fatalf("ends with %d: %s", code, errs)
	}
	for _, want := range []string{"shut SB-221 (away)", "order of work:", "Try to start P-201", "cannot run", "to put back:", "not a permit"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is missing in\n%s", want, out)
		}
	}
	// The table has a row for each action and its caution comes last.
	_, table, _ := call("isolate", f, "P-201", "--csv")
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil || len(rows) < 10 || !strings.Contains(rows[len(rows)-1][4], "not a permit") {
		t.Errorf("%d rows, %v", len(rows), err)
	}
	_, text, _ := call("isolate", f, "P-201", "--json", "--most", "2")
	plans := strings.Split(strings.TrimSpace(text), "\n")
	var plan struct {
		Found bool
		Shut  []struct{ Valve string }
		Held  float64 `json:"held_L"`
		Order []struct{ Deed, Text string }
	}
	if err := json.Unmarshal([]byte(plans[0]), &plan); err != nil || !plan.Found || len(plan.Shut) != 3 || plan.Held < 1 || len(plan.Order) < 5 || len(plans) != 2 {
		t.Errorf("%d plans, the first %+v, %v", len(plans), plan, err)
	}
}

// The sheets hold the drawing, all points with room to sign, the order of work and
// the caution, as pdftotext of Poppler reads them.
func TestIsolateSheets(t *testing.T) {
	f := demo(t, "oat-drink-station")
	to := filepath.Join(t.TempDir(), "plan.pdf")
	code, out, errs := call("isolate", f, "P-201", "--to", to, "--sheet", "A4")
	if code != exitDone || errs != "" || !strings.Contains(out, to) {
		t.Fatalf("ends with %d: %s%s", code, out, errs)
	}
	text, err := exec.Command("pdftotext", "-layout", to, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	flat := strings.Join(strings.Fields(string(text)), " ")
	for _, want := range []string{"Isolation of P-201", "lock 1", "SB-221", "Checked by, time", "Order of work", "To put back", "not a permit", "Cannot run", "prove zero"} {
		if !strings.Contains(flat, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
	table := filepath.Join(t.TempDir(), "plan.csv")
	if code, _, errs := call("isolate", f, "P-201", "--to", table); code != exitDone {
		t.Fatal(errs)
	}
	file, err := os.Open(table)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if rows, err := csv.NewReader(file).ReadAll(); err != nil || len(rows) < 10 || rows[0][6] != "Done by" {
		t.Errorf("%v, %v", rows, err)
	}
	for _, bad := range [][]string{{"--to", "x.pdf", "--sheet", "A9"}, {"--to", "x.txt"}, {"--to", "x.csv", "--json"}} {
		if code, _, errs := call(append([]string{"isolate", f, "P-201"}, bad...)...); code != exitBad || errs == "" {
			t.Errorf("%v ends with %d: %s", bad, code, errs)
		}
	}
}

func TestIsolateBadCalls(t *testing.T) {
	f := demo(t, "oat-drink-station")
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"isolate", f}, exitBad, "the tag of what is to be worked on"},
		{[]string{"isolate", f, "NO-1"}, exitBad, `no part or run carries the tag "NO-1"`},
		{[]string{"isolate", f, "P-201", "--without", "P-101"}, exitBad, "P-101 is no valve"},
		{[]string{"isolate", f, "P-201", "--after", "no step"}, exitBad, `there is no step "no step"`},
		{[]string{"isolate", f, "P-201", "--csv", "--json"}, exitBad, "choose one"},
		{[]string{"trace", f, "P-201", "--sense", "sideways"}, exitBad, "sideways"},
		{[]string{"trace", f}, exitBad, "one tag"},
		{[]string{"trace", "nowhere.circuit.json", "P-201"}, exitBad, "nowhere.circuit.json"},
	} {
		if code, _, errs := call(c.args...); code != c.code || !strings.Contains(errs, c.want) {
			t.Errorf("%v ends with %d: %s", c.args[2:], code, errs)
		}
	}
	if code, out, _ := call("isolate", f, "P-101"); code != exitFindings || !strings.Contains(out, "does not count under this policy") {
		t.Errorf("no plan: ends with %d: %s", code, out)
	}
}

func TestTrace(t *testing.T) {
	f := demo(t, "oat-drink-station")
	code, out, errs := call("trace", f, "P-101", "--step", "Vessel T-201/Alkali wash")
	if code != exitDone || errs != "" {
		t.Fatalf("ends with %d: %s", code, errs)
	}
	for _, want := range []string{"T-102", "E-101", "T-201", "; ends here", "after ", "washed through it: "} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is missing in\n%s", want, out)
		}
	}
	if strings.Contains(out, " T-202  ") || strings.Contains(out, " T-101  ") {
		t.Errorf("a vessel that the step does not use is on its way:\n%s", out)
	}
	if code, out, _ := call("trace", f, "P-101", "--to", "T-201", "--step", "Vessel T-201/Alkali wash"); code != exitDone || strings.Count(out, "way ") != 1 {
		t.Errorf("ways in the step: %s", out)
	}
	var answer struct {
		Stops []struct{ Tag, Sense string }
		Steps []struct{ State string }
	}
	if _, out, _ := call("trace", f, "P-101", "--steps", "--json"); json.Unmarshal([]byte(out), &answer) != nil || len(answer.Stops) < 10 || len(answer.Steps) < 5 {
		t.Errorf("answer in JSON: %s", out)
	}
}
