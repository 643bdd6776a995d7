package checks_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// A rule is one file, one line in the list and its cases. The example of how that is done
// stands in testdata/example; here it is put into the package as a hand would, with the
// go command's overlay, and its cases are written and run.
func TestTheExampleOfARuleBuildsAndRuns(t *testing.T) {
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	over := map[string]string{}
	put := func(name, text string) {
		to := filepath.Join(dir, name)
		if err := os.WriteFile(to, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		over[filepath.Join(here, name)] = to
	}
	read := func(name string) string {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	put("rule_hose_in_route.go", read("testdata/example/rule_hose_in_route.go.txt"))
	put("cases_hose_test.go", read("testdata/example/cases_hose_test.go.txt"))
	list := read("rules.go")
	more := strings.Replace(list, "\t\truleUncleanablePart,\n", "\t\truleUncleanablePart,\n\t\truleHoseInRoute,\n", 1)
	if more == list {
		t.Fatal("the list of rules has no line to put another one after")
	}
	put("rules.go", more)
	put("example_run_test.go", `package checks_test

import (
	"testing"

	"rinsewright/checks"
	"rinsewright/checks/checktest"
)

func TestExampleRule(t *testing.T) {
	if err := checks.Validate(checks.Rules()); err != nil {
		t.Fatal(err)
	}
	rule, dir := checks.Find(checks.Rules(), "hose-in-route"), t.TempDir()
	for _, c := range casesHose {
		if err := checktest.Write(dir, c.rule, c.name, c.text); err != nil {
			t.Fatal(err)
		}
	}
	if n := len(checktest.Files(dir, rule.Name)); n < 4 {
		t.Fatalf("%d cases", n)
	}
	checktest.WriteFound(t, rule, dir)
	checktest.Run(t, rule, dir)
}
`)
	b, err := json.Marshal(map[string]any{"Replace": over})
	if err != nil {
		t.Fatal(err)
	}
	overlay := filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(overlay, b, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("go", "test", "-overlay", overlay, "-run", "^TestExampleRule$", "-v", ".").CombinedOutput()
	if err != nil || !strings.Contains(string(out), "--- PASS: TestExampleRule/the-flow-does-not-pass-it") {
		t.Errorf("%v\n%s", err, out)
	}
}
