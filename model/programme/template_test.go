package programme_test

import (
	"encoding/json"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"rinsewright/assets"
	"rinsewright/model/programme"
)

func TestBuiltinTemplates(t *testing.T) {
	list, err := programme.Load(assets.Files)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"beer-wine-cold", "dairy-hot", "nectar-tomato", "make-up-acid", "make-up-alkali", "oat-drink", "pharma", "small-single-use"}
	for _, name := range want {
		if programme.Named(name) == nil {
			t.Errorf("no template %s", name)
		}
	}
	if len(list) != len(want) || programme.Named("nothing") != nil {
		t.Errorf("%d templates", len(list))
	}
}

// Facts of the trade that programmes must keep to: alkali before acid with a rinse
// between them, so that they never meet (Principles of Food Sanitation: a water rinse
// separates them); a first rinse at 40 °C at most (Handbook of Hygiene Control in the
// Food Industry, chapter 27); alkali of 0.5 to 2 %, acid of 0.5 to 1 % (common
// practice, no source).
func TestTemplatesKeepToTheTrade(t *testing.T) {
	for _, x := range programme.All() {
		prepares := strings.HasPrefix(x.Name, "make-up")
		last := ""
		for _, s := range x.Steps {
			chemical := ""
			switch s.Medium {
			case "alkali", "acid":
				chemical = string(s.Medium)
			}
			if chemical != "" && last != "" && chemical != last {
				t.Errorf("%s: %s comes straight after %s", x.Name, s.Name, last)
			}
			last = chemical
			if s.Purpose == "first-rinse" && (s.Temperature == nil || s.Temperature.Value > 40) {
				t.Errorf("%s: the first rinse is at %+v", x.Name, s.Temperature)
			}
			if s.Strength != nil {
				most := map[string]float64{"alkali": 2, "acid": 1, "disinfectant": 0.02}[string(s.Medium)]
				if s.Strength.Value > most {
					t.Errorf("%s: %s at %v %%", x.Name, s.Name, s.Strength.Value)
				}
			}
		}
		for _, s := range x.Steps {
			if prepares != (s.Purpose == "prepare") {
				t.Errorf("%s: %s is to %s", x.Name, s.Name, s.Purpose)
			}
			if washes := s.Purpose == "alkali-wash" || s.Purpose == "acid-wash" && s.Strength != nil; washes != (s.TimerFrom != nil) && s.Purpose != "disinfection" {
				t.Errorf("%s: %s: the time of a wash counts from when the return is ready: %v", x.Name, s.Name, s.TimerFrom)
			}
			if s.Longest != nil && s.Time != nil && s.Longest.Value < 1.5*s.Time.Value {
				t.Errorf("%s: %s takes %v of at most %v min", x.Name, s.Name, s.Time.Value, s.Longest.Value)
			}
		}
		if prepares {
			continue
		}
		if first, end := x.Steps[0], x.Steps[len(x.Steps)-1]; first.Purpose != "first-rinse" || end.Purpose != "drain" {
			t.Errorf("%s begins with %s and ends with %s", x.Name, first.Purpose, end.Purpose)
		}
	}
}

func TestCites(t *testing.T) {
	f := programme.Named("dairy-hot").Steps[1]
	if got := f.Strength.Cites(); got != "from memory of Bylund, Dairy Processing Handbook; verify against your copy" {
		t.Error(got)
	}
	if got := programme.Named("nectar-tomato").Steps[1].Time.Cites(); got != "common practice, no source" {
		t.Error(got)
	}
}

func TestLoadRefuses(t *testing.T) {
	good, err := fs.ReadFile(assets.Files, "programmes/pharma.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, want string
		spoil      func(m map[string]any, step map[string]any)
	}{
		{"unknown key", "unknown field", func(m, s map[string]any) { m["colour"] = "red" }},
		{"other name", "is named", func(m, s map[string]any) { m["name"] = "other" }},
		{"no steps", "steps are needed", func(m, s map[string]any) { m["steps"] = []any{} }},
		{"purpose", "purpose", func(m, s map[string]any) { s["purpose"] = "polish" }},
		{"medium", "none that washes", func(m, s map[string]any) { s["medium"] = "steam" }},
		{"to", "to \"river\"", func(m, s map[string]any) { s["to"] = "river" }},
		{"no time", "a time is needed", func(m, s map[string]any) { delete(s, "time_min") }},
		{"no agent", "without an agent", func(m, s map[string]any) { delete(s, "agent") }},
		{"too strong", "cannot be", func(m, s map[string]any) { s["strength_pct"].(map[string]any)["value"] = 120 }},
		{"out of range", "own range", func(m, s map[string]any) { s["strength_pct"].(map[string]any)["value"] = 5 }},
		{"standing", "standing", func(m, s map[string]any) { s["strength_pct"].(map[string]any)["standing"] = "sure" }},
		{"read nowhere", "needs a source", func(m, s map[string]any) { s["strength_pct"].(map[string]any)["standing"] = "read" }},
		{"practice with a source", "has no source", func(m, s map[string]any) { s["strength_pct"].(map[string]any)["source"] = "a book" }},
		{"timer", "timer_from", func(m, s map[string]any) { s["timer_from"].(map[string]any)["value"] = "noon" }},
		{"timer's standing", "timer_from", func(m, s map[string]any) { s["timer_from"].(map[string]any)["standing"] = "sure" }},
		{"agent", "agent", func(m, s map[string]any) { s["agent"] = "soap" }},
		{"tank", "preparing step", func(m, s map[string]any) { s["to"] = "tank" }},
		{"two ends", "is enough", func(m, s map[string]any) {
			end := map[string]any{"value": 1, "standing": "common practice, no source"}
			s["end_conductivity_mScm"], s["end_above_water_mScm"] = end, end
		}},
		{"twice", "stands twice", func(m, s map[string]any) { s["name"] = "First rinse" }},
	} {
		var m map[string]any
		if err := json.Unmarshal(good, &m); err != nil {
			t.Fatal(err)
		}
		c.spoil(m, m["steps"].([]any)[1].(map[string]any))
		b, err := json.Marshal(m)
		if err != nil {
			t.Fatal(err)
		}
		_, err = programme.Load(fstest.MapFS{"programmes/pharma.json": {Data: b}})
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "pharma.json: ") {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}
