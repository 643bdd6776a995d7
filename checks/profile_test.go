package checks_test

import (
	"math"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/checks"
	"rinsewright/model/quantity"
)

func TestProfilesHoldEveryLimitThatARuleReads(t *testing.T) {
	if got := strings.Join(checks.Profiles(), " "); got != "dairy food pharma" {
		t.Fatalf("profiles: %s", got)
	}
	for _, name := range checks.Profiles() {
		f, err := assets.Files.Open("profiles/" + name + ".json")
		if err != nil {
			t.Fatal(err)
		}
		p, err := checks.LoadProfile(f)
		f.Close()
		if err != nil {
			t.Error(err)
			continue
		}
		for _, r := range checks.Rules() {
			for _, limit := range r.Doc.Limits {
				if _, ok := p.Limit(limit); !ok {
					t.Errorf("%s: no limit %s, which %s reads", name, limit, r.Name)
				}
			}
		}
	}
}

func TestEveryLimitIsReadByARule(t *testing.T) {
	read := map[string]bool{}
	for _, r := range checks.Rules() {
		for _, limit := range r.Doc.Limits {
			read[limit] = true
		}
	}
	for _, l := range checks.Builtin("food").Limits() {
		if !read[l.Name] {
			t.Errorf("limit %s is read by no rule", l.Name)
		}
	}
}

// The least velocity is 1.5 m/s, which is 5.4 km/h and 4.92 ft/s (arithmetic;
// the velocity from the Handbook of Hygiene Control in the Food Industry,
// chapter 27).
func TestLeastVelocity(t *testing.T) {
	l, ok := checks.Builtin("food").Limit("velocity-least")
	if !ok || l.Is() != 1.5 {
		t.Fatalf("velocity-least is %v", l)
	}
	if kmh := l.Is() * 3600 / 1000; math.Abs(kmh-5.4) > 1e-12 {
		t.Errorf("%v km/h", kmh)
	}
	if got := l.Value.Text(quantity.US); got != "4.92 ft/s" {
		t.Errorf("%q", got)
	}
}

// 31 L/min a metre is 2.5 gpm/ft as the trade quotes it (common practice, no
// source): 31 / 3.785411784 x 0.3048 = 2.496.
func TestWettingUnits(t *testing.T) {
	l, _ := checks.Builtin("food").Limit("spray-wetting")
	if got := l.Value.Text(quantity.Metric); got != "31 L/min·m" {
		t.Errorf("%q", got)
	}
	if got := l.Value.Text(quantity.US); got != "2.5 gpm/ft" {
		t.Errorf("%q", got)
	}
}

// A plain upright silo at 2.0 gpm/ft is 25 L/min a metre (Clean-In-Place for
// Biopharmaceutical Processes, chapter on spray cleaning): 2 x 3.785411784 /
// 0.3048 = 24.8. The other profiles do not take it over. A fall of 1/8 in a foot
// is 1/96 = 1.04 % (arithmetic).
func TestProfilesDiffer(t *testing.T) {
	for name, want := range map[string]string{"dairy": "25 L/min·m", "food": "31 L/min·m", "pharma": "31 L/min·m"} {
		l, ok := checks.Builtin(name).Limit("spray-wetting-plain")
		if got := l.Value.Text(quantity.Metric); !ok || got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	l, _ := checks.Builtin("dairy").Limit("spray-wetting-plain")
	if got := l.Is() / (2 * 3.785411784e-3 / 60 / 0.3048); math.Abs(got-1) > 0.01 {
		t.Errorf("dairy is %v times 2 gpm/ft", got)
	}
	fall, _ := checks.Builtin("dairy").Limit("fall-least")
	if math.Abs(fall.Is()-1.0/96) > 0.0005 || !strings.Contains(fall.Source.Clause, "1/8 in a foot") {
		t.Errorf("dairy falls %v, %s", fall.Value.Text(quantity.Metric), fall.Source)
	}
}

func TestLoadProfileRefuses(t *testing.T) {
	const head = `{"name": "mine", "title": "Mine", "about": "", "limits": [`
	for _, tt := range []struct{ name, limits, want string }{
		{"no value", `{"name": "a", "label": "A", "unit": "ms", "standing": "computed"}`, "no value"},
		{"unknown unit", `{"name": "a", "label": "A", "value": 1, "unit": "furlong", "standing": "computed"}`, "unit"},
		{"no standing", `{"name": "a", "label": "A", "value": 1, "unit": "ms"}`, "standing"},
		{"read without source", `{"name": "a", "label": "A", "value": 1, "unit": "ms", "standing": "read"}`, "source"},
		{"below zero", `{"name": "a", "label": "A", "value": -1, "unit": "ms", "standing": "computed"}`, "below zero"},
		{"twice", `{"name": "a", "label": "A", "value": 1, "unit": "ms", "standing": "computed"}, {"name": "a", "label": "A", "value": 1, "unit": "ms", "standing": "computed"}`, "twice"},
		{"unknown field", `{"name": "a", "colour": 1}`, "colour"},
		{"limits missing", ``, "is not given"},
		{"wrong sort", `{"name": "dead-leg-ratio", "label": "A", "value": 1, "unit": "ms", "standing": "computed"}`, "velocity, expected a diameters"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := checks.LoadProfile(strings.NewReader(head + tt.limits + "]}"))
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v, want one that says %q", err, tt.want)
			}
		})
	}
}

func TestCitationText(t *testing.T) {
	for want, c := range map[string]checks.Citation{
		"common practice, no source":                                {Standing: checks.StandingPractice},
		"from memory of ASME BPE, SD-2.4; verify against your copy": {Source: "ASME BPE", Clause: "SD-2.4", Standing: checks.StandingMemory},
		"read: a handbook, chapter 27":                              {Source: "a handbook", Clause: "chapter 27", Standing: checks.StandingRead},
	} {
		if got := c.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
