package checktest

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/circuitfile"
	"rinsewright/model/quantity"
)

// foundFile is, in the folder of a rule, all that the rule finds in its cases. It holds
// what the wants in the notes leave open: remedies, numbers, places, ways and steps. It
// is written by WriteFound and read by a person before it is committed.
const foundFile = "found.txt"

// WriteFound writes what a rule finds in all its cases under dir, and how that changes
// when one thing is taken away.
func WriteFound(t *testing.T, rule *checks.Rule, dir string) {
	t.Helper()
	for name, text := range map[string][]byte{foundFile: foundIn(t, rule, dir), withoutFile: withoutIn(t, rule, dir)} {
		if err := os.WriteFile(filepath.Join(dir, rule.Name, name), text, 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// compareFound holds what a rule finds in its cases against what was found before.
func compareFound(t *testing.T, rule *checks.Rule, dir string) {
	t.Helper()
	hold(t, rule, dir, foundFile, foundIn(t, rule, dir))
	hold(t, rule, dir, withoutFile, withoutIn(t, rule, dir))
}

func foundIn(t *testing.T, rule *checks.Rule, dir string) []byte {
	t.Helper()
	var b bytes.Buffer
	for _, file := range Files(dir, rule.Name) {
		c, err := circuitfile.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&b, "%s\n", strings.TrimSuffix(filepath.Base(file), Ending))
		result := Judge(t, rule, c)
		for _, f := range append(result.Findings, result.NotAssessed...) {
			if f.Rule != rule.Name {
				continue
			}
			fmt.Fprintf(&b, "  %s: %s: %s\n", f.ID, f.Severity, f.Text(quantity.Metric))
			if f.Measured.Known() || f.LimitName != "" {
				fmt.Fprintf(&b, "    measured %s, limit %s %s\n", f.Measured.Text(quantity.Metric), f.LimitName, f.Limit.Text(quantity.Metric))
			}
			places(&b, "places", f.Places)
			places(&b, "way", f.Way)
			if len(f.Steps) > 0 {
				fmt.Fprintf(&b, "    steps %v\n", f.Steps)
			}
			for _, x := range f.Fixes {
				fmt.Fprintf(&b, "    remedy: %s (%d changes)\n", x.Text(quantity.Metric), len(x.Edit.Changes))
			}
		}
	}
	return b.Bytes()
}

func places(b *bytes.Buffer, what string, list []model.Place) {
	if len(list) == 0 {
		return
	}
	fmt.Fprintf(b, "    %s", what)
	for _, p := range list {
		fmt.Fprintf(b, " %s", p)
	}
	b.WriteByte('\n')
}
