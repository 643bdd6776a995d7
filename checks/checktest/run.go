package checktest

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/quantity"
)

// Ending is the end of the name of a case file.
const Ending = ".circuit.json"

// Files gives the case files of a rule under dir, sorted.
func Files(dir, rule string) []string {
	names, _ := filepath.Glob(filepath.Join(dir, rule, "*"+Ending)) // the pattern is well formed
	return names
}

// Run tests a rule on all its case files under dir: dir/RULE/*.circuit.json. Beside the
// wants in the notes, all that it finds must be what dir/RULE/found.txt holds.
func Run(t *testing.T, rule *checks.Rule, dir string) {
	t.Helper()
	files := Files(dir, rule.Name)
	if len(files) == 0 {
		t.Errorf("%s has no case", rule.Name)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), Ending), func(t *testing.T) {
			c, err := circuitfile.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			Circuit(t, rule, c)
		})
	}
	compareFound(t, rule, dir)
}

// Circuit tests a rule on one circuit with its wants in the notes.
func Circuit(t *testing.T, rule *checks.Rule, c *model.Circuit) {
	t.Helper()
	wants, err := wantsOf(c, rule.Name)
	if err != nil {
		t.Fatal(err)
	}
	result := Judge(t, rule, c)
	for _, f := range append(result.Findings, result.NotAssessed...) {
		if f.Rule != rule.Name {
			continue // of another rule that was needed
		}
		text := f.Text(quantity.Metric)
		if !meet(wants, f, f.Severity.String()+": "+text) {
			t.Errorf("not wanted: %s %s: %s", f.Severity, f.ID, text)
		}
		checkFinding(t, c, f)
		for _, fix := range f.Fixes {
			remedied(t, rule, c, f, fix)
		}
	}
	for _, w := range wants {
		if !w.met {
			t.Errorf("%s: wanted %s, found nothing of the kind", w.at, w)
		}
	}
}

// Judge runs a rule on one circuit with the limits that the circuit names; a rule that
// speaks of what others found runs with all of them. A rule that fails fails the test.
func Judge(t *testing.T, rule *checks.Rule, c *model.Circuit) *checks.Result {
	t.Helper()
	profile := checks.Builtin(c.Header().Profile)
	if profile == nil {
		t.Fatalf("no profile %q", c.Header().Profile)
	}
	rules := []*checks.Rule{rule}
	if rule.Last || rule.Audit {
		rules = checks.Rules() // it speaks of what the others found or could not assess
	}
	result, err := checks.Run(context.Background(), c, catalogue.Builtin(), profile, rules)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range result.Errors {
		t.Errorf("%s\n%s", e.Error, e.Stack)
	}
	return result
}

// checkFinding holds what every finding must have.
func checkFinding(t *testing.T, c *model.Circuit, f checks.Finding) {
	t.Helper()
	for _, s := range []quantity.System{quantity.Metric, quantity.US} {
		if text := f.Text(s); text == "" || strings.Contains(text, "%!") {
			t.Errorf("%s: message %q", f.ID, text)
		}
	}
	if f.Where == "" || f.Source.Standing == "" {
		t.Errorf("%s: where %q, source %v", f.ID, f.Where, f.Source)
	}
	for _, p := range append(f.Places, f.Way...) {
		if c.Record(p.Element) == nil {
			t.Errorf("%s: place %s is not in the circuit", f.ID, p)
		}
	}
}

// remedied applies a remedy and demands silence at the place.
func remedied(t *testing.T, rule *checks.Rule, c *model.Circuit, f checks.Finding, fix checks.Remedy) {
	t.Helper()
	next, err := c.Apply(fix.Edit)
	if err != nil {
		t.Errorf("%s: remedy %q: %v", f.ID, fix.Message, err)
		return
	}
	for _, g := range Judge(t, rule, next).Findings {
		if g.ID == f.ID {
			t.Errorf("%s: after remedy %q it still says: %s", f.ID, fix.Message, g.Text(quantity.Metric))
		}
	}
}

// want is one expectation.
type want struct {
	at          model.ID
	notAssessed bool
	message     *regexp.Regexp
	met         bool
}

func (w *want) String() string {
	if w.notAssessed {
		return fmt.Sprintf("not assessed %q", w.message)
	}
	return fmt.Sprintf("%q", w.message)
}

func meet(wants []*want, f checks.Finding, text string) bool {
	for _, w := range wants {
		if !w.met && w.at == f.At.Element && w.notAssessed == f.NotAssessed && w.message.MatchString(text) {
			w.met = true
			return true
		}
	}
	return false
}

var wantLine = regexp.MustCompile(`^(want|want-not-assessed) ([a-z0-9-]+) (".*")$`)

// wantsOf reads the wants of one rule from the notes.
func wantsOf(c *model.Circuit, rule string) ([]*want, error) {
	var out []*want
	var failed error
	read := func(id model.ID, note string) {
		for _, line := range strings.Split(note, "\n") {
			line = strings.TrimSpace(line)
			if !strings.HasPrefix(line, "want") {
				continue
			}
			m := wantLine.FindStringSubmatch(line)
			if m == nil {
				failed = fmt.Errorf("%s: %q is not a want", id, line)
				continue
			}
			if m[2] != rule {
				continue
			}
			pattern, err := strconv.Unquote(m[3])
			if err == nil {
				var re *regexp.Regexp
				if re, err = regexp.Compile(pattern); err == nil {
					out = append(out, &want{at: id, notAssessed: m[1] == "want-not-assessed", message: re})
				}
			}
			if err != nil {
				failed = fmt.Errorf("%s: %q: %w", id, line, err)
			}
		}
	}
	read(model.HeaderID, c.Header().Note)
	for _, p := range c.Parts() {
		read(p.RecordID(), p.Meta().Note)
	}
	for _, r := range c.Runs() {
		read(r.ID, r.Note)
	}
	for _, s := range c.Steps() {
		read(s.ID, s.Note)
	}
	for _, d := range c.Deviations() {
		read(d.ID, d.Note)
	}
	return out, failed
}

// Write puts a sketched case into its file under dir.
func Write(dir, rule, name, text string) error {
	b, err := encoded(text)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Join(dir, rule), 0o755); err != nil {
		return err
	}
	return os.WriteFile(fileOf(dir, rule, name), b, 0o644)
}

// Current says whether a case file holds what its sketch says.
func Current(dir, rule, name, text string) error {
	want, err := encoded(text)
	if err != nil {
		return err
	}
	got, err := os.ReadFile(fileOf(dir, rule, name))
	if err != nil {
		return err
	}
	if !bytes.Equal(got, want) {
		return fmt.Errorf("%s/%s%s differs from its sketch; run the test with -update", rule, name, Ending)
	}
	return nil
}

// fileOf gives the file of a case; blanks in its name become hyphens.
func fileOf(dir, rule, name string) string {
	return filepath.Join(dir, rule, strings.ReplaceAll(name, " ", "-")+Ending)
}

func encoded(text string) ([]byte, error) {
	c, err := Sketch(text)
	if err != nil {
		return nil, err
	}
	return circuitfile.Encode(c)
}
