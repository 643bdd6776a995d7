package checks_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rinsewright/checks"
	"rinsewright/checks/checktest"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/compare"
)

// examplesFolder holds the two circuits from which the page of a rule is drawn:
// RULE-bad and RULE-good. They are cases of the rule without what a case wants.
const examplesFolder = "../assets/rules"

// TestExamplesAreCases holds the examples to the cases from which they are made;
// -update makes them anew.
func TestExamplesAreCases(t *testing.T) {
	known := map[string]bool{}
	for _, rule := range checks.Rules() {
		bad, good := examplesOf(t, rule)
		for name, c := range map[string]*model.Circuit{"bad": bad, "good": good} {
			if c == nil {
				t.Errorf("%s: no case is %s enough for an example", rule.Name, name)
				continue
			}
			want, err := circuitfile.Encode(c)
			if err != nil {
				t.Fatal(err)
			}
			file := rule.Name + "-" + name + checktest.Ending
			known[file] = true
			path := filepath.Join(examplesFolder, file)
			if *update {
				if err := os.WriteFile(path, want, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, want) {
				t.Errorf("%s is not the case that it should be (%v); run the test with -update", path, err)
			}
		}
	}
	files, err := os.ReadDir(examplesFolder)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if !known[f.Name()] {
			t.Errorf("%s is of no rule", filepath.Join(examplesFolder, f.Name()))
		}
	}
}

// examplesOf gives a case in which a rule finds something and one in which it finds
// nothing: small, and as little unlike each other as can be had.
func examplesOf(t *testing.T, rule *checks.Rule) (bad, good *model.Circuit) {
	t.Helper()
	var badOnes, goodOnes []*model.Circuit
	for _, file := range checktest.Files("testdata", rule.Name) {
		c, err := circuitfile.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		found, open := 0, 0
		result := checktest.Judge(t, rule, c)
		for _, f := range result.Findings {
			if f.Rule == rule.Name {
				found++
			}
		}
		for _, f := range result.NotAssessed {
			if f.Rule == rule.Name {
				open++
			}
		}
		switch c = withoutWants(t, c); {
		case open > 0:
		case found > 0:
			badOnes = append(badOnes, c)
		default:
			goodOnes = append(goodOnes, c)
		}
	}
	least := -1
	for _, b := range badOnes {
		for _, g := range goodOnes {
			// The list is in order of the files, so that the first of equals counts.
			if cost := records(b) + 4*unlike(b, g); least < 0 || cost < least {
				least, bad, good = cost, b, g
			}
		}
	}
	return bad, good
}

// unlike says how much a reader has to be told of what makes one circuit of another.
// A value that is merely taken away tells him little.
func unlike(bad, good *model.Circuit) int {
	n := 0
	for _, d := range compare.Circuits(bad, good, catalogue.Builtin()).Differences {
		if d.Sort == compare.OfHeader {
			if bad.Header().Profile != good.Header().Profile {
				n += 6
			}
			continue
		}
		n++
		if d.Status == compare.Added || d.Status == compare.Removed {
			n += 2
		}
		for _, p := range d.Properties {
			n++
			if p.New.Metric == "" {
				n += 3
			}
		}
	}
	return n
}

// withoutWants takes the wants, and the other notes of a case, out of a circuit.
func withoutWants(t *testing.T, c *model.Circuit) *model.Circuit {
	t.Helper()
	var changes []model.Change
	blank := func(r model.Record, note func(model.Record) *string) {
		next := model.Clone(r)
		if text := note(next); *text != "" {
			*text = ""
			changes = append(changes, model.Replacing(r, next))
		}
	}
	blank(c.Header(), func(r model.Record) *string { return &r.(*model.Header).Note })
	for _, p := range c.Parts() {
		blank(p, func(r model.Record) *string { return &r.(model.Part).Meta().Note })
	}
	for _, x := range c.Runs() {
		blank(x, func(r model.Record) *string { return &r.(*model.Run).Note })
	}
	for _, x := range c.Steps() {
		blank(x, func(r model.Record) *string { return &r.(*model.Step).Note })
	}
	for _, x := range c.Deviations() {
		blank(x, func(r model.Record) *string { return &r.(*model.Deviation).Note })
	}
	next, err := c.Apply(model.Edit{Label: "take the notes out", Changes: changes})
	if err != nil {
		t.Fatal(err)
	}
	if text, _ := circuitfile.Encode(next); strings.Contains(string(text), "want ") {
		t.Error("a want is left in an example")
	}
	return next
}

// records counts what is drawn or done in a circuit.
func records(c *model.Circuit) int {
	return len(c.Parts()) + len(c.Runs()) + len(c.Steps()) + len(c.Deviations())
}
