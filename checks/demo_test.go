package checks_test

import (
	"context"
	"io/fs"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/vessel"
)

// demoResults checks every demo circuit that the program carries, by name.
func demoResults(t *testing.T) map[string]*checks.Result {
	t.Helper()
	names, err := fs.Glob(assets.Files, "demo/*.circuit.json")
	if err != nil || len(names) < 3 {
		t.Fatalf("demo circuits: %v, %v", names, err)
	}
	out := map[string]*checks.Result{}
	for _, name := range names {
		b, err := assets.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		c, err := circuitfile.Decode(name, b)
		if err != nil {
			t.Fatal(err)
		}
		profile := checks.Builtin(c.Header().Profile)
		if profile == nil {
			t.Fatalf("%s: no profile %q", name, c.Header().Profile)
		}
		r, err := checks.Run(context.Background(), c, catalogue.Builtin(), profile, checks.Rules())
		if err != nil {
			t.Fatal(err)
		}
		out[name] = r
	}
	return out
}

// The clean demo circuits show what a good one looks like: nothing above a
// note, nothing that could not be assessed.
func TestCleanDemosHaveOnlyNotes(t *testing.T) {
	results := demoResults(t)
	for _, name := range []string{"demo/oat-drink-station.circuit.json", "demo/oat-mixing-station.circuit.json", "demo/pharma-loop.circuit.json"} {
		r := results[name]
		if r == nil {
			t.Fatalf("%s is not there", name)
		}
		for _, f := range append(r.Findings, r.NotAssessed...) {
			if f.Severity > checks.Note || f.NotAssessed {
				t.Errorf("%s: %s at %s: %s", name, f.Rule, f.Where, f.Message.In(0))
			}
		}
		for _, e := range r.Errors {
			t.Errorf("%s: rule %s failed: %s", name, e.Rule, e.Error)
		}
	}
}

// Every rule can be seen at work in some demo circuit.
func TestEveryRuleFiresInTheDemos(t *testing.T) {
	fired := map[string]bool{}
	for _, r := range demoResults(t) {
		for _, f := range r.Findings {
			fired[f.Rule] = true
		}
	}
	var silent []string
	for _, rule := range checks.Rules() {
		if !fired[rule.Name] {
			silent = append(silent, rule.Name)
		}
	}
	if len(silent) > 0 {
		t.Errorf("no demo circuit shows %s", strings.Join(silent, ", "))
	}
}

// The vessels of the demos can be built: their heads fit into their height, so
// that a level means a volume.
func TestDemoVesselsCanBeBuilt(t *testing.T) {
	names, err := fs.Glob(assets.Files, "demo/*.circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, name := range names {
		b, err := assets.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		c, err := circuitfile.Decode(name, b)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range c.Parts() {
			v, ok := p.(*model.Vessel)
			if !ok {
				continue
			}
			n++
			body, missing, err := vessel.Of(v)
			if err != nil || len(missing) > 0 {
				t.Errorf("%s: %s: %v, missing %v", name, v.Tag, err, missing)
				continue
			}
			if working, ok := v.Working.Get(); ok && working > body.Total() {
				t.Errorf("%s: %s is to hold %.0f L, its whole volume is %.0f L", name, v.Tag, working.Litres(), body.Total().Litres())
			}
		}
	}
	if n < 10 {
		t.Errorf("only %d vessels", n)
	}
}
