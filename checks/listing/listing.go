// Package listing writes the findings of a run of the checks, and the lists of a
// circuit, for other programs: as CSV and XLSX for a spreadsheet and as JSON.
package listing

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"regexp"
	"strings"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// Columns are the headings of the CSV in their order. New ones are added at the
// end.
var Columns = []string{"severity", "rule", "where", "step", "measured", "limit", "message", "source", "remedy", "id",
	"accepted_by", "accepted_on", "expires", "reason", "reference"}

// WriteCSV writes a heading and one row a finding, then one an accepted finding
// (severity "accepted fix" and the like, with who accepted it), then one a place
// that could not be assessed (severity "not assessed"). Numbers are told in the units of
// system. Cells that a spreadsheet would take for a formula get an apostrophe
// before them, since tags and notes are typed by users.
func WriteCSV(w io.Writer, c *model.Circuit, r *checks.Result, rules []*checks.Rule, system quantity.System) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true // RFC 4180
	if err := out.Write(Columns); err != nil {
		return fmt.Errorf("findings as CSV: %w", err)
	}
	for _, list := range [][]checks.Finding{r.Findings, r.Accepted, r.NotAssessed} {
		for i := range list {
			if err := out.Write(row(c, &list[i], rules, system)); err != nil {
				return fmt.Errorf("findings as CSV: %w", err)
			}
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("findings as CSV: %w", err)
	}
	return nil
}

func row(c *model.Circuit, f *checks.Finding, rules []*checks.Rule, system quantity.System) []string {
	cells := cellsOf(c, f, rules, system)
	for i := range cells {
		cells[i] = plainCell(cells[i])
	}
	return cells
}

func cellsOf(c *model.Circuit, f *checks.Finding, rules []*checks.Rule, system quantity.System) []string {
	severity := f.Severity.String()
	if f.NotAssessed {
		severity = "not assessed"
	}
	remedy := ""
	if rule := checks.Find(rules, f.Rule); rule != nil {
		remedy = rule.Doc.Remedy
	}
	var by checks.Acceptance
	if f.Accepted != nil {
		by = *f.Accepted
		severity = "accepted " + severity
	}
	return []string{severity, f.Rule, f.Where, StepNames(c, f.Steps), value(f.Measured, system), value(f.Limit, system),
		f.Text(system), f.Source.String(), remedy, f.ID,
		by.By, string(by.Date), string(by.Expires), by.Reason, by.Reference}
}

func value(v checks.Value, system quantity.System) string {
	if !v.Known() {
		return ""
	}
	return v.Text(system)
}

// StepNames tells steps by programme: "Filler line (First rinse, Drain); Vessel
// T-201 (all but Drain)". Steps without a programme are told by their names.
func StepNames(c *model.Circuit, steps []model.ID) string {
	asked := map[model.ID]bool{}
	for _, id := range steps {
		asked[id] = true
	}
	var words []string
	all := c.Steps() // in order of programme
	for i := 0; i < len(all); {
		j := i
		for j < len(all) && all[j].Programme == all[i].Programme {
			j++
		}
		if w := programmeSteps(all[i:j], asked); w != "" {
			words = append(words, w)
		}
		i = j
	}
	for _, id := range steps {
		if c.Step(id) == nil {
			words = append(words, string(id))
		}
	}
	return strings.Join(words, "; ")
}

// programmeSteps tells which of the steps of one programme are asked for, the
// shorter way; empty for none.
func programmeSteps(steps []*model.Step, asked map[model.ID]bool) string {
	var in, out []string
	for _, s := range steps {
		if asked[s.ID] {
			in = append(in, s.Name)
		} else {
			out = append(out, s.Name)
		}
	}
	programme := steps[0].Programme
	switch {
	case len(in) == 0:
		return ""
	case programme == "":
		return strings.Join(in, ", ")
	case len(out) == 0 && len(in) > 1:
		return programme + " (all steps)"
	case len(in) > 2 && len(out) < len(in):
		return programme + " (all but " + strings.Join(out, ", ") + ")"
	}
	return programme + " (" + strings.Join(in, ", ") + ")"
}

// Plain makes the cells of a row of CSV such that a spreadsheet takes none of them for
// a formula, whatever users typed: it gives a new row, in which what begins as one has
// an apostrophe before it (OWASP, CSV Injection). Numbers keep their sign.
func Plain(row []string) []string {
	out := make([]string, len(row))
	for i, s := range row {
		out[i] = plainCell(s)
	}
	return out
}

// plainCell keeps a spreadsheet from taking what a user typed for a formula. A
// number keeps its sign.
func plainCell(s string) string {
	if s == "" || !strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return s
	}
	if signed.MatchString(s) {
		return s
	}
	return "'" + s
}

// signed is a number with a sign, alone or with a unit: no further figure and no sign
// of a formula may follow.
var signed = regexp.MustCompile(`^[+-][0-9.]+(e[+-]?[0-9]+)?( [\pL°µ%³²/·]{1,12})?$`)

// WriteJSON writes the result as one indented JSON object; see [checks.Result].
func WriteJSON(w io.Writer, r *checks.Result) error {
	b, err := json.Marshal(r)
	if err != nil {
		return fmt.Errorf("findings as JSON: %w", err)
	}
	var out bytes.Buffer
	if err := json.Indent(&out, b, "", "  "); err != nil {
		return fmt.Errorf("findings as JSON: %w", err)
	}
	out.WriteByte('\n')
	if _, err := w.Write(out.Bytes()); err != nil {
		return fmt.Errorf("findings as JSON: %w", err)
	}
	return nil
}
