package main

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"strings"
	"testing"
)

type solvedStep struct {
	Step   string
	Solved bool
	Supply struct {
		Asked float64 `json:"asked_m3h"`
		Flow  float64 `json:"flow_m3h"`
	}
	Runs []struct {
		Velocity float64 `json:"velocity_ms"`
		Flow     float64 `json:"flow_m3h"`
		Shear    float64 `json:"shear_Pa"`
	}
	Vessels []struct{ Tag, Balance string }
}

// 12 m³/h in DN50 (50 mm inside, EN 10357 series A) is 1.698 m/s by arithmetic,
// and no stretch of the alkali wash has another bore.
func TestSolveTellsTheStep(t *testing.T) {
	code, out, errs := call("solve", "--json", demo(t, "oat-drink-station"), "--step", "Vessel T-201/Alkali wash")
	if code != exitDone {
		t.Fatalf("ends with %d: %s", code, errs)
	}
	var got solvedStep
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	if !got.Solved || got.Step != "Alkali wash" || math.Abs(got.Supply.Flow-12) > 1e-6 || got.Supply.Asked != 12 {
		t.Errorf("%+v", got)
	}
	if len(got.Runs) < 20 {
		t.Fatalf("only %d stretches flow", len(got.Runs))
	}
	want := 12.0 / 3600 / (math.Pi / 4 * 0.05 * 0.05)
	for _, r := range got.Runs {
		if math.Abs(math.Abs(r.Velocity)-want) > 1e-3 || r.Shear < 3 {
			t.Errorf("a stretch at %v m/s with %v Pa at its wall, want %.3f m/s", r.Velocity, r.Shear, want)
		}
	}
	if len(got.Vessels) != 1 || got.Vessels[0].Tag != "T-201" || got.Vessels[0].Balance == "" {
		t.Errorf("vessels %+v", got.Vessels)
	}
}

func TestSolveAllStepsAsCSV(t *testing.T) {
	code, out, errs := call("solve", "--csv", demo(t, "oat-drink-station"))
	if code != exitDone {
		t.Fatalf("ends with %d: %s", code, errs)
	}
	rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	steps := map[string]bool{}
	for _, row := range rows[1:] {
		steps[row[1]] = true
	}
	if len(steps) != 15 { // three programmes of five washes; their drain steps have no source
		t.Errorf("%d steps in the list", len(steps))
	}
}

func TestSolveRefused(t *testing.T) {
	for _, args := range [][]string{
		{"solve"},
		{"solve", "--json", "--csv", demo(t, "pharma-loop")},
		{"solve", demo(t, "pharma-loop"), "--step", "Dance"},
		{"solve", "nowhere.circuit.json"},
	} {
		if code, _, errs := call(args...); code != exitBad || errs == "" {
			t.Errorf("%v: ends with %d and says %q", args, code, errs)
		}
	}
}

// A step that cannot be solved ends with 1 and says why.
func TestSolveOfAFaultyStationSaysWhy(t *testing.T) {
	code, out, _ := call("solve", demo(t, "oat-drink-station-faults"))
	if code != exitFindings || !strings.Contains(out, "not solved:") && !strings.Contains(out, "missing:") {
		t.Errorf("ends with %d:\n%s", code, out)
	}
}
