package checktest

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/circuitfile"
	"rinsewright/model/quantity"
)

// withoutFile is, in the folder of a rule, how what it finds in its first case changes
// when one thing of the circuit is taken away: a property, a run, a part, a position or
// an end of a step. Unknown is not zero: what goes must come back as not assessed, or be
// no longer there to judge. It is written by WriteFound and read by a person.
const withoutFile = "without.txt"

// lessOne is a circuit with one thing less.
type lessOne struct {
	what string
	edit model.Edit
}

// lessOnes takes each thing away in turn, in order of the records.
func lessOnes(c *model.Circuit) []lessOne {
	var out []lessOne
	change := func(what string, before, after model.Record) {
		out = append(out, lessOne{what, model.Edit{Changes: []model.Change{model.Replacing(before, after)}}})
	}
	for _, r := range c.All() {
		if _, header := r.(*model.Header); header {
			continue
		}
		for _, p := range model.Properties(r) {
			if _, told := p.Value(r); !told {
				continue
			}
			if after, err := p.WithText(r, "", quantity.Metric); err == nil {
				change(fmt.Sprintf("%s %s", r.RecordID(), p.Key), r, after)
			}
		}
		switch r := r.(type) {
		case *model.Step:
			for _, id := range sortedKeys(r.Positions) {
				after := model.Clone(r)
				delete(after.Positions, id)
				change(fmt.Sprintf("%s position of %s", r.ID, id), r, after)
			}
			for _, part := range []struct {
				what string
				take func(*model.Step)
			}{
				{"source", func(s *model.Step) { s.Source = "" }}, {"destination", func(s *model.Step) { s.Destination = "" }},
				{"cleans", func(s *model.Step) { s.Cleans = nil }}, {"running", func(s *model.Step) { s.Running = nil }},
			} {
				after := model.Clone(r)
				part.take(after)
				change(fmt.Sprintf("%s %s", r.ID, part.what), r, after)
			}
			out = append(out, lessOne{string(r.ID), model.Edit{Changes: []model.Change{model.Removing(r)}}})
		case *model.Run, model.Part:
			out = append(out, lessOne{string(r.RecordID()), model.Edit{Changes: []model.Change{model.Removing(r)}}})
			if p, ok := r.(model.Part); ok && p.Meta().Elevation.Known() {
				after := model.Clone(p)
				after.Meta().Elevation = quantity.Opt[quantity.Length]{}
				change(fmt.Sprintf("%s elevation_m", p.RecordID()), p, after)
			}
		}
	}
	return out
}

func sortedKeys(m map[model.ID]string) []model.ID {
	var out []model.ID
	for id := range m {
		out = append(out, id)
	}
	slices.Sort(out)
	return out
}

// withoutIn tells the changes for the case called bad, else the first.
func withoutIn(t *testing.T, rule *checks.Rule, dir string) []byte {
	t.Helper()
	files := Files(dir, rule.Name)
	file := files[0]
	if i := slices.Index(files, filepath.Join(dir, rule.Name, "bad"+Ending)); i >= 0 {
		file = files[i]
	}
	c, err := circuitfile.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	found := func(c *model.Circuit) []string {
		var out []string
		result := Judge(t, rule, c)
		for _, f := range append(result.Findings, result.NotAssessed...) {
			if f.Rule == rule.Name {
				out = append(out, fmt.Sprintf("%s: %s: %s", f.ID, f.Severity, f.Text(quantity.Metric)))
			}
		}
		return out
	}
	base := found(c)
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", strings.TrimSuffix(filepath.Base(file), Ending))
	for _, line := range base {
		fmt.Fprintf(&b, "  %s\n", line)
	}
	for _, less := range lessOnes(c) {
		next, err := c.Apply(less.edit)
		if err != nil {
			t.Fatalf("without %s: %v", less.what, err)
		}
		now := found(next)
		if slices.Equal(now, base) {
			continue
		}
		fmt.Fprintf(&b, "without %s\n", less.what)
		for _, line := range base {
			if !slices.Contains(now, line) {
				fmt.Fprintf(&b, "  gone %s\n", line[:strings.Index(line, ": ")])
			}
		}
		for _, line := range now {
			if !slices.Contains(base, line) {
				fmt.Fprintf(&b, "  new %s\n", line)
			}
		}
	}
	return []byte(b.String())
}

// hold compares what is found with what a file of the rule's folder holds.
func hold(t *testing.T, rule *checks.Rule, dir, name string, got []byte) {
	t.Helper()
	want, err := os.ReadFile(filepath.Join(dir, rule.Name, name))
	if err != nil {
		t.Fatalf("%v: write it with -update", err)
	}
	a, b := strings.Split(string(got), "\n"), strings.Split(string(want), "\n")
	for i := range max(len(a), len(b)) {
		now, was := "nothing", "nothing"
		if i < len(a) {
			now = a[i]
		}
		if i < len(b) {
			was = b[i]
		}
		if now != was {
			t.Errorf("line %d of %s differs (if it is right, write it with -update):\nnow: %s\nwas: %s", i+1, name, now, was)
			return
		}
	}
}
