// Package listing writes the findings of a run of the checks for other
// programs: as CSV for a spreadsheet and as JSON.
package listing

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// Columns are the headings of the CSV in their order. New ones are added at the
// end.
var Columns = []string{"severity", "rule", "where", "step", "measured", "limit", "message", "source", "remedy", "id"}

// WriteCSV writes a heading and one row a finding, then one a place that could
// not be assessed (severity "not assessed"). Numbers are told in the units of
// system. Cells that a spreadsheet would take for a formula get an apostrophe
// before them, since tags and notes are typed by users.
func WriteCSV(w io.Writer, c *model.Circuit, r *checks.Result, rules []*checks.Rule, system quantity.System) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true // RFC 4180
	if err := out.Write(Columns); err != nil {
		return fmt.Errorf("findings as CSV: %w", err)
	}
	for _, list := range [][]checks.Finding{r.Findings, r.NotAssessed} {
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
	severity := f.Severity.String()
	if f.NotAssessed {
		severity = "not assessed"
	}
	remedy := ""
	if rule := checks.Find(rules, f.Rule); rule != nil {
		remedy = rule.Doc.Remedy
	}
	cells := []string{severity, f.Rule, f.Where, StepNames(c, f.Steps), value(f.Measured, system), value(f.Limit, system),
		f.Text(system), f.Source.String(), remedy, f.ID}
	for i := range cells {
		cells[i] = plainCell(cells[i])
	}
	return cells
}

func value(v checks.Value, system quantity.System) string {
	if !v.Known() {
		return ""
	}
	return v.Text(system)
}

// StepNames gives the names of steps with their programmes, parted by
// semicolons.
func StepNames(c *model.Circuit, steps []model.ID) string {
	names := make([]string, 0, len(steps))
	for _, id := range steps {
		s := c.Step(id)
		switch {
		case s == nil:
			names = append(names, string(id))
		case s.Programme == "":
			names = append(names, s.Name)
		default:
			names = append(names, s.Programme+" / "+s.Name)
		}
	}
	return strings.Join(names, "; ")
}

// plainCell keeps a spreadsheet from taking what a user typed for a formula. A
// number keeps its sign.
func plainCell(s string) string {
	if s == "" || !strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return s
	}
	if (s[0] == '-' || s[0] == '+') && len(s) > 1 && (s[1] >= '0' && s[1] <= '9' || s[1] == '.') {
		return s
	}
	return "'" + s
}

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
