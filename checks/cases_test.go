package checks_test

import (
	"flag"
	"os"
	"testing"

	"rinsewright/checks"
	"rinsewright/checks/checktest"
)

var update = flag.Bool("update", false, "write the case files anew from their sketches")

// ruleCase is a case file as a sketch. Expected numbers are worked by hand in
// the note beside them; limits are those of the profile, for food unless said:
// dead leg 1.5 D, 1.5 to 3 m/s, two bores, fall 1 %, 31 L/min a metre.
type ruleCase struct{ rule, name, text string }

func allCases() []ruleCase {
	var out []ruleCase
	for _, group := range [][]ruleCase{casesWhole, casesLegs, casesFlow, casesVessels, casesDraining, casesSensors, casesProgramme, casesSolved, casesMachines, casesAudit, casesTanks, casesVolumes, casesChemistry, casesHazards, casesAuditor} {
		out = append(out, group...)
	}
	return out
}

func TestCases(t *testing.T) {
	for _, c := range allCases() {
		if *update {
			if err := checktest.Write("testdata", c.rule, c.name, c.text); err != nil {
				t.Errorf("%s/%s: %v", c.rule, c.name, err)
			}
			continue
		}
		if err := checktest.Current("testdata", c.rule, c.name, c.text); err != nil {
			t.Error(err)
		}
	}
	for _, rule := range checks.Rules() {
		if *update {
			checktest.WriteFound(t, rule, "testdata")
		}
		t.Run(rule.Name, func(t *testing.T) { checktest.Run(t, rule, "testdata") })
	}
}

func TestEveryRuleIsDocumentedAndHasFourCases(t *testing.T) {
	if err := checks.Validate(checks.Rules()); err != nil {
		t.Error(err)
	}
	for _, rule := range checks.Rules() {
		if n := len(checktest.Files("testdata", rule.Name)); n < 4 {
			t.Errorf("%s has %d cases", rule.Name, n)
		}
	}
}

func TestEveryCaseFolderIsOfARule(t *testing.T) {
	folders, err := os.ReadDir("testdata")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range folders {
		if f.Name() != "fuzz" && f.Name() != "example" && checks.Find(checks.Rules(), f.Name()) == nil {
			t.Errorf("testdata/%s: no such rule", f.Name())
		}
	}
}

func TestValidateRefuses(t *testing.T) {
	whole := *checks.Rules()[0]
	for name, spoil := range map[string]func(*checks.Rule){
		"title": func(r *checks.Rule) { r.Doc.Title = "" }, "why": func(r *checks.Rule) { r.Doc.Why = "" },
		"how": func(r *checks.Rule) { r.Doc.How = "" }, "blind": func(r *checks.Rule) { r.Doc.Blind = "" },
		"remedy": func(r *checks.Rule) { r.Doc.Remedy = "" }, "cites": func(r *checks.Rule) { r.Doc.Cites = nil },
		"run": func(r *checks.Rule) { r.Run = nil }, "name": func(r *checks.Rule) { r.Name = "Open End" },
		"standing": func(r *checks.Rule) { r.Doc.Cites = []checks.Citation{{Standing: "everybody knows"}} },
	} {
		r := whole
		spoil(&r)
		if checks.Validate([]*checks.Rule{&r}) == nil {
			t.Errorf("a rule with a bad %s passes", name)
		}
	}
	if checks.Validate([]*checks.Rule{&whole, &whole}) == nil {
		t.Error("a rule that stands twice passes")
	}
}
