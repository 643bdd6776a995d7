package main

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
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
	var file struct {
		Steps []struct{ Source, Destination string }
	}
	text, err := os.ReadFile(demo(t, "oat-drink-station"))
	if err != nil || json.Unmarshal(text, &file) != nil {
		t.Fatal(err)
	}
	want := 0
	for _, s := range file.Steps {
		if s.Source != "" && s.Destination != "" {
			want++
		}
	}
	if len(steps) != want || want < 15 {
		t.Errorf("%d steps in the list, %d in the file have a source and a destination", len(steps), want)
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

type heatedStep struct {
	Step string
	Heat *struct {
		Asked      float64 `json:"asked_C"`
		Start      float64 `json:"start_C"`
		Supplied   float64 `json:"supplied_C"`
		End        float64 `json:"end_C"`
		Lost       float64 `json:"lost_kW"`
		Exchangers []struct {
			Tag    string
			Needed float64 `json:"needed_kW"`
			Gives  float64 `json:"gives_kW"`
			Steam  struct {
				Absolute float64 `json:"absolute_bar"`
				Flow     float64 `json:"steam_kgh"`
			}
		}
		WarmUp struct {
			Tag     string
			Time    float64 `json:"time_min"`
			AtLeast bool    `json:"at_least"`
		} `json:"warm_up"`
		Losses []struct {
			Lost float64 `json:"lost_kW"`
		}
	}
}

// Rules of the trade, computed: 1.161 kW per m³/h and kelvin, and of steam at 4 bar absolute
// 1.96/1.161 kg/h per kW. Dilute caustic takes some less at other temperatures.
func TestSolveTellsTheHeat(t *testing.T) {
	args := []string{demo(t, "oat-drink-station"), "--step", "Vessel T-201/Alkali wash"}
	code, out, errs := call(append([]string{"solve", "--json"}, args...)...)
	if code != exitDone {
		t.Fatalf("ends with %d: %s", code, errs)
	}
	var got heatedStep
	if err := json.Unmarshal([]byte(out), &got); err != nil || got.Heat == nil || len(got.Heat.Exchangers) != 1 {
		t.Fatalf("%v: %+v", err, got)
	}
	h, x := got.Heat, got.Heat.Exchangers[0]
	if h.Asked != 75 || !(h.Start > 0) || math.Abs(h.Supplied-75) > 0.1 || !(h.End < h.Supplied) || math.Abs(x.Needed/(1.161*12*(75-h.Start))-1) > 0.02 || x.Tag != "E-101" {
		t.Errorf("%+v", h)
	}
	if math.Abs(x.Steam.Flow/(min(x.Needed, x.Gives)*1.96/1.161)-1) > 5e-3 || math.Abs(x.Steam.Absolute-4.01325) > 1e-6 {
		t.Errorf("steam %+v", x.Steam)
	}
	// 3.9 m³ of solution at 4.1 MJ/(m³·K), steel and losses on top, at 700 kW at most.
	if least := 3.9 * 4.1e3 * (75 - h.Start) / 700 / 60; h.WarmUp.Tag != "T-102" || h.WarmUp.Time < least || h.WarmUp.Time > 1.3*least {
		t.Errorf("warm-up %+v", h.WarmUp)
	}
	sum := 0.0
	for _, l := range h.Losses {
		sum += l.Lost
	}
	if len(h.Losses) < 20 || math.Abs(sum-h.Lost) > 1e-6 {
		t.Errorf("%v kW lost, its parts are %v", h.Lost, sum)
	}

	// 700 kW are 2 388 500 Btu/h, told by the thousand, and pumps are told in hp: 1.69 kW are 2.27 hp (GNU Units).
	code, out, _ = call(append([]string{"solve", "--units", "us"}, args...)...)
	for _, want := range []string{"duty 2388 kBtu/h", "psi gauge", " to 167 °F: ", "lb/h", "Computed, not measured", "shaft 2.27 hp"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not told:\n%s", want, out)
		}
	}
	if code != exitDone {
		t.Errorf("ends with %d", code)
	}
}

func TestSolveHeatAsCSV(t *testing.T) {
	code, out, errs := call("solve", "--csv", "--table", "heat", demo(t, "oat-drink-station"))
	if code != exitDone {
		t.Fatalf("ends with %d: %s", code, errs)
	}
	rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	if err != nil || len(rows) < 16 || len(rows[0]) != len(exchangerColumns(0)) {
		t.Fatalf("%v: %d rows", err, len(rows))
	}
	for _, row := range rows[1:] {
		if row[2] != "E-101" || strings.HasSuffix(row[1], "Alkali wash") && (row[5] != "75" || row[6] == "0" || row[20] == "") {
			t.Errorf("%v", row)
		}
	}
	if code, _, errs := call("solve", "--table", "heat", demo(t, "pharma-loop")); code != exitBad || errs == "" {
		t.Errorf("--table without --csv ends with %d", code)
	}
	if code, _, errs := call("solve", "--csv", "--table", "moon", demo(t, "pharma-loop")); code != exitBad || errs == "" {
		t.Errorf("an unknown table ends with %d", code)
	}
}

// A run is told as it flows, whichever way it was drawn: the demo draws the one to the
// spray device of T-201 from the device to the swing bend. 12 m³/h in 50 mm are 1.70 m/s.
func TestSolveTellsRunsAsTheyFlow(t *testing.T) {
	_, out, _ := call("solve", demo(t, "oat-drink-station"), "--step", "Every day/First rinse T-201")
	row := ""
	for _, line := range strings.Split(out, "\n") {
		if strings.Contains(line, "SD-201 to SB-201") {
			t.Errorf("told against its flow: %s", line)
		}
		if strings.Contains(line, "run from SB-201 to SD-201") {
			row = line
		}
	}
	if f := strings.Fields(strings.TrimPrefix(strings.TrimSpace(row), "run from SB-201 to SD-201")); len(f) < 2 || f[0] != "12" || f[1] != "1.7" {
		t.Errorf("the run to the spray device is told by %q", row)
	}
}
