package main

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"
)

type washedProgramme struct {
	Programme string
	Cycle     float64 `json:"cycle_min"`
	Steps     []struct {
		Step      string
		Simulated bool
		Why       string
		Time      float64 `json:"time_min"`
		Use       struct {
			Drawn float64 `json:"drawn_L"`
		}
	}
	Trends []struct {
		What   string
		Points []struct {
			Time float64 `json:"time_min"`
		}
	}
	Switching []struct {
		Step  string
		Moves []struct {
			Tag, From, To string
			ByHand        bool `json:"by_hand"`
		}
	}
	LineUps []struct {
		Step      string
		Same      bool `json:"first_as_the_step_stands"`
		Proposals []struct{ Why string }
	} `json:"line_ups"`
	Coverage []struct{ What, Place, Medium, State string }
	Cautions []string
}

func washOf(t *testing.T, args ...string) washedProgramme {
	t.Helper()
	code, out, errs := call(append([]string{"wash", "--json", demo(t, "oat-drink-station"), "--programme", "Vessel T-201"}, args...)...)
	if code != exitDone {
		t.Fatalf("%v: ends with %d: %s", args, code, errs)
	}
	var got washedProgramme
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	return got
}

// A rinse of 12 m³/h draws 200 L a minute.
func TestWashTellsThePrograme(t *testing.T) {
	got := washOf(t)
	if got.Programme != "Vessel T-201" || len(got.Steps) < 5 || len(got.Cautions) < 3 {
		t.Fatalf("%+v", got)
	}
	sum := 0.0
	for _, s := range got.Steps {
		sum += s.Time
		if !s.Simulated || s.Why != "" {
			t.Errorf("%s: %s", s.Step, s.Why)
		}
		if strings.Contains(s.Step, "rinse") && math.Abs(s.Use.Drawn-200*s.Time) > 0.01 {
			t.Errorf("%s draws %v L in %v min", s.Step, s.Use.Drawn, s.Time)
		}
	}
	if math.Abs(sum-got.Cycle) > 1e-6 {
		t.Errorf("%v min in all, %v in its steps", got.Cycle, sum)
	}
}

func TestWashViews(t *testing.T) {
	if got := washOf(t, "--show", "trends"); len(got.Trends) < 5 || len(got.Trends[0].Points) < 100 {
		t.Errorf("%d trends", len(got.Trends))
	}
	switching := washOf(t, "--show", "switching").Switching
	if len(switching) < 5 || len(switching[0].Moves) == 0 || !switching[0].Moves[0].ByHand {
		t.Errorf("switching %+v", switching)
	}
	lines := washOf(t, "--show", "line-ups", "--step", "Vessel T-201/Alkali wash").LineUps
	if len(lines) != 1 || !lines[0].Same || len(lines[0].Proposals) == 0 || lines[0].Proposals[0].Why == "" {
		t.Errorf("line-ups %+v", lines)
	}
	seen := map[string]bool{}
	for _, c := range washOf(t, "--show", "coverage").Coverage {
		seen[c.State] = true
	}
	if !seen["swept"] || !seen["standing"] || seen["not reached"] {
		t.Errorf("coverage %v", seen)
	}
}

// Text in US units and rows in metric ones tell the same: 1 US gallon is 3.785411784 L.
func TestWashInUSUnits(t *testing.T) {
	rows := func(args ...string) [][]string {
		code, out, errs := call(append([]string{"wash", demo(t, "oat-drink-station"), "--csv"}, args...)...)
		if code != exitDone {
			t.Fatalf("ends with %d: %s", code, errs)
		}
		list, err := csv.NewReader(strings.NewReader(out)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		return list
	}
	metric, us := rows(), rows("--units", "us")
	if len(metric) != len(us) || len(metric) < 15 || us[0][4] != "drawn gal" || us[0][11] != "steam lb" || us[0][10] != "heat kBtu" {
		t.Fatalf("%d and %d rows under %v", len(metric), len(us), us[0])
	}
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	for i := 1; i < len(us); i++ {
		for k, factor := range map[int]float64{4: 1 / 3.785411784, 10: 3.412142, 11: 1 / 0.45359237} {
			if a, b := number(metric[i][k]), number(us[i][k]); math.Abs(a*factor-b) > 0.011*b {
				t.Errorf("%v: %v %s, %v %s", us[i][:3], a, metric[0][k], b, us[0][k])
			}
		}
	}
	code, out, _ := call("wash", demo(t, "oat-drink-station"), "--programme", "Vessel T-201", "--units", "us")
	if code != exitDone || !strings.Contains(out, "°F") || strings.Contains(out, "°C") && !strings.Contains(out, "20 to 75 °C") {
		t.Errorf("ends with %d:\n%s", code, out)
	}
	if !strings.Contains(out, "CAUTION") {
		t.Error("no caution with hot caustic and acid")
	}
}

func TestWashTrendsAsRows(t *testing.T) {
	code, out, errs := call("wash", demo(t, "pharma-loop"), "--show", "trends")
	if code == exitBad {
		t.Fatal(errs)
	}
	rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	if err != nil || len(rows) < 500 || len(rows[1]) != len(rows[0]) {
		t.Errorf("%d rows, %v", len(rows), err)
	}
}

func TestWashRefused(t *testing.T) {
	file := demo(t, "pharma-loop")
	for _, args := range [][]string{
		{"wash"},
		{"wash", "--json", "--csv", file},
		{"wash", file, "--programme", "Dance"},
		{"wash", file, "--show", "stars"},
		{"wash", file, "--step", "Drain"},
		{"wash", file, "--show", "line-ups", "--step", "Dance"},
		{"wash", file, "--show", "line-ups", "--csv"},
		{"wash", file, "--units", "ells"},
		{"wash", "nowhere.circuit.json"},
	} {
		if code, _, errs := call(args...); code != exitBad || errs == "" {
			t.Errorf("%v: ends with %d and says %q", args, code, errs)
		}
	}
}

// A station on which steps cannot run ends with 1 and says why.
func TestWashOfAFaultyStationSaysWhy(t *testing.T) {
	code, out, _ := call("wash", demo(t, "oat-drink-station-faults"))
	if code != exitFindings || !strings.Contains(out, "not simulated") {
		t.Errorf("ends with %d:\n%s", code, out)
	}
}
