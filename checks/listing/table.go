package listing

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"

	"rinsewright/checks"
	"rinsewright/checks/lists"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// FindingTable gives the findings of a run of the checks as a table, as [WriteCSV]
// writes them.
func FindingTable(c *model.Circuit, r *checks.Result, rules []*checks.Rule, system quantity.System) *lists.Table {
	t := &lists.Table{Name: "findings", Title: "Findings"}
	for _, name := range Columns {
		t.Columns = append(t.Columns, lists.Column{Heading: name})
	}
	for _, list := range [][]checks.Finding{r.Findings, r.Accepted, r.NotAssessed} {
		for i := range list {
			var cells []lists.Cell
			for _, s := range cellsOf(c, &list[i], rules, system) {
				cells = append(cells, lists.Text(s))
			}
			t.Rows = append(t.Rows, cells)
		}
	}
	return t
}

// WriteTableCSV writes a table as CSV (RFC 4180): one row of headings with their
// units, then one row a row. Cells that a spreadsheet would take for a formula get
// an apostrophe before them. Remarks are left out.
func WriteTableCSV(w io.Writer, t *lists.Table) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true // RFC 4180
	row := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		row[i] = plainCell(c.Words())
	}
	if err := out.Write(row); err != nil {
		return fmt.Errorf("%s as CSV: %w", t.Name, err)
	}
	for _, cells := range t.Rows {
		for i, c := range cells {
			row[i] = plainText(c.Text)
			if v, ok := c.Number.Get(); ok {
				row[i] = strconv.FormatFloat(rounded(v), 'f', -1, 64)
			}
		}
		if err := out.Write(row); err != nil {
			return fmt.Errorf("%s as CSV: %w", t.Name, err)
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("%s as CSV: %w", t.Name, err)
	}
	return nil
}

// plainText keeps a spreadsheet from taking a text for a formula. Unlike a cell of
// the findings it is never a number, so a sign gets its apostrophe in any case.
func plainText(s string) string {
	if s == "" {
		return s
	}
	switch s[0] {
	case '=', '+', '-', '@', '\t', '\r', '\n':
		return "'" + s
	}
	return s
}

// rounded gives a number to five significant figures, more than its data have.
func rounded(v float64) float64 {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return v
	}
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 5, 64), 64)
	if err != nil {
		return v
	}
	return out
}

// WriteTableJSON writes a table as one indented JSON object: list, title, columns
// with heading and unit, rows of texts and numbers (null for an empty cell), and
// remarks.
func WriteTableJSON(w io.Writer, t *lists.Table) error {
	type column struct {
		Heading string `json:"heading"`
		Unit    string `json:"unit,omitempty"`
	}
	out := struct {
		List    string   `json:"list"`
		Title   string   `json:"title"`
		Columns []column `json:"columns"`
		Rows    [][]any  `json:"rows"`
		Remarks []string `json:"remarks,omitempty"`
	}{List: t.Name, Title: t.Title, Columns: []column{}, Rows: [][]any{}, Remarks: t.Remarks}
	for _, c := range t.Columns {
		out.Columns = append(out.Columns, column{c.Heading, c.Unit})
	}
	for _, cells := range t.Rows {
		row := make([]any, len(cells))
		for i, c := range cells {
			if v, ok := c.Number.Get(); ok {
				row[i] = rounded(v)
			} else if c.Text != "" {
				row[i] = c.Text
			}
		}
		out.Rows = append(out.Rows, row)
	}
	b, err := json.MarshalIndent(out, "", "  ")
	if err != nil {
		return fmt.Errorf("%s as JSON: %w", t.Name, err)
	}
	if _, err := w.Write(append(b, '\n')); err != nil {
		return fmt.Errorf("%s as JSON: %w", t.Name, err)
	}
	return nil
}
