package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/compare"
	"rinsewright/model/quantity"
)

// compared is what compare tells of two files.
type compared struct {
	oldFile, newFile string
	*compare.Comparison
	findings *checks.Between // nil: not asked for
	marks    []*model.Mark
}

// Exit codes of compare: exitDone where nothing tells the circuits apart,
// exitFindings where something does, exitBad for a bad file or call.
func runCompare(ctx context.Context, args []string, out, errs io.Writer) int {
	f := flag.NewFlagSet("compare", flag.ContinueOnError)
	asJSON := f.Bool("json", false, "one JSON object: same, differences, findings that came and went, marks touched")
	asCSV := f.Bool("csv", false, "a table, one row a property that differs")
	findings := f.Bool("findings", true, "check both circuits and tell which findings came and went")
	profile, units := profileOption(f), systemOption(f)
	files, code, done := parse(f, "OLD NEW (ends with 0: the same; 1: different; 2: a file or the call is bad)", args, out, errs)
	if done {
		return code
	}
	s, err := system(*units)
	switch {
	case err != nil:
	case len(files) != 2:
		err = fmt.Errorf("name two circuit files, the old and the new one, not %d", len(files))
	case *asJSON && *asCSV:
		err = fmt.Errorf("--json or --csv, not both")
	}
	var c *compared
	if err == nil {
		c, err = comparedFiles(ctx, files[0], files[1], *profile, *findings)
	}
	if err == nil {
		switch {
		case *asJSON:
			err = c.writeJSON(out)
		case *asCSV:
			err = c.writeCSV(out, s)
		default:
			err = c.writeText(out, s)
		}
	}
	switch {
	case err != nil:
		fmt.Fprintln(errs, "circuit compare:", err)
		return exitBad
	case !c.Same():
		return exitFindings
	}
	return exitDone
}

func comparedFiles(ctx context.Context, oldFile, newFile, profile string, findings bool) (*compared, error) {
	old, err := circuitfile.ReadFile(oldFile)
	if err != nil {
		return nil, err
	}
	new, err := circuitfile.ReadFile(newFile)
	if err != nil {
		return nil, err
	}
	c := &compared{oldFile: oldFile, newFile: newFile, Comparison: compare.Circuits(old, new, catalogue.Builtin())}
	c.marks = c.MarksTouched()
	if !findings {
		return c, nil
	}
	before, err := findingsOf(ctx, old, profile)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", oldFile, err)
	}
	after, err := findingsOf(ctx, new, profile)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", newFile, err)
	}
	for _, r := range []*checks.Result{before, after} {
		for _, e := range r.Errors {
			return nil, fmt.Errorf("rule %s failed, which findings came and went is not known: %s", e.Rule, e.Error)
		}
	}
	between := checks.Compare(before, after)
	c.findings = &between
	return c, nil
}

// movement is a list of findings that became something.
type movement struct {
	what     string
	findings []checks.Finding
}

func (c *compared) movements() []movement {
	if c.findings == nil {
		return nil
	}
	b := c.findings
	return []movement{{"came", b.Came}, {"went", b.Went}, {"accepted", b.Accepted}, {"counts again", b.Counts}}
}

func (c *compared) writeText(w io.Writer, s quantity.System) error {
	out := &printer{w: w}
	out.line("%s -> %s", c.oldFile, c.newFile)
	if c.Same() {
		out.line("  the circuits are the same")
	} else {
		n := c.Counts()
		out.line("  %d added, %d removed, %d moved on the drawing alone, %d changed", n[compare.Added], n[compare.Removed], n[compare.Moved], n[compare.Changed])
	}
	for _, d := range c.Differences {
		out.line("  %-8s %s: %s", d.Status, d.Sort, d.Name)
		for _, p := range d.Properties {
			out.line("           %s: %s -> %s", p.Label, orAbsent(p.Old.In(s)), orAbsent(p.New.In(s)))
		}
	}
	for _, m := range c.movements() {
		for i := range m.findings {
			f := &m.findings[i]
			out.line("  finding %s: %s %s at %s: %s", m.what, f.Severity, f.Rule, f.Where, f.Text(s))
		}
	}
	for _, m := range c.marks {
		out.line("  mark %d is touched (%s, %s): %s", m.Number, m.Class, m.State(), m.Text)
	}
	return out.err
}

func orAbsent(text string) string {
	if text == "" {
		return "(nothing)"
	}
	return text
}

// printer writes lines until one fails.
type printer struct {
	w   io.Writer
	err error
}

func (p *printer) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}

// compareColumns are the headings of compare --csv. New ones are added at the end.
var compareColumns = []string{"what", "status", "id", "name", "property", "label", "element", "old", "new"}

func (c *compared) writeCSV(w io.Writer, s quantity.System) error {
	out := newTable(w, compareColumns)
	for _, d := range c.Differences {
		if len(d.Properties) == 0 {
			out.row(string(d.Sort), string(d.Status), string(d.ID), d.Name, "", "", "", "", "")
		}
		for _, p := range d.Properties {
			out.row(string(d.Sort), string(d.Status), string(d.ID), d.Name, p.Key, p.Label, p.Element, p.Old.In(s), p.New.In(s))
		}
	}
	for _, m := range c.movements() {
		for i := range m.findings {
			f := &m.findings[i]
			old, new := f.Text(s), ""
			if m.what != "went" {
				old, new = "", old
			}
			out.row("finding", m.what, f.ID, f.Where, f.Rule, f.Title, f.Severity.String(), old, new)
		}
	}
	for _, m := range c.marks {
		out.row("mark", "touched", string(m.ID), fmt.Sprintf("mark %d", m.Number), "", "", "", "", m.Text)
	}
	return out.end()
}

// compareJSON is the shape of compare --json. It only ever grows.
type compareJSON struct {
	Old         string           `json:"old"`
	New         string           `json:"new"`
	Same        bool             `json:"same"`
	Differences []differenceJSON `json:"differences"`
	Findings    *betweenJSON     `json:"findings,omitempty"` // left out where not asked for
	Marks       []markJSON       `json:"marks_touched,omitempty"`
}

type differenceJSON struct {
	ID         model.ID       `json:"id"`
	Sort       compare.Sort   `json:"sort"`
	Status     compare.Status `json:"status"`
	Name       string         `json:"name"`
	Properties []propertyJSON `json:"properties,omitempty"`
}

type propertyJSON struct {
	Key     string        `json:"key"`
	Element string        `json:"element,omitempty"`
	Label   string        `json:"label"`
	Old     *compare.Text `json:"old"` // null: not known, or not there
	New     *compare.Text `json:"new"`
	Drawing bool          `json:"drawing_only,omitempty"`
}

type betweenJSON struct {
	Came     []checks.Finding `json:"came"`
	Went     []checks.Finding `json:"went"`
	Accepted []checks.Finding `json:"accepted"`
	Counts   []checks.Finding `json:"counts_again"`
	Assessed []string         `json:"assessed_now,omitempty"`
	Unknown  []string         `json:"not_assessed_any_more,omitempty"`
}

type markJSON struct {
	ID     model.ID        `json:"id"`
	Number int             `json:"number"`
	Class  model.MarkClass `json:"class"`
	State  model.MarkState `json:"state"`
	Text   string          `json:"text"`
}

func (c *compared) writeJSON(w io.Writer) error {
	out := compareJSON{Old: c.oldFile, New: c.newFile, Same: c.Same(), Differences: []differenceJSON{}}
	for _, d := range c.Differences {
		row := differenceJSON{ID: d.ID, Sort: d.Sort, Status: d.Status, Name: d.Name}
		for _, p := range d.Properties {
			row.Properties = append(row.Properties, propertyJSON{p.Key, p.Element, p.Label, orNull(p.Old), orNull(p.New), p.Drawing})
		}
		out.Differences = append(out.Differences, row)
	}
	if b := c.findings; b != nil {
		all := func(list []checks.Finding) []checks.Finding { return append([]checks.Finding{}, list...) } // [] rather than null
		out.Findings = &betweenJSON{all(b.Came), all(b.Went), all(b.Accepted), all(b.Counts), b.Assessed, b.Unknown}
	}
	for _, m := range c.marks {
		out.Marks = append(out.Marks, markJSON{m.ID, m.Number, m.Class, m.State(), m.Text})
	}
	return json.NewEncoder(w).Encode(out)
}

func orNull(t compare.Text) *compare.Text {
	if t == (compare.Text{}) {
		return nil
	}
	return &t
}
