package window

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"strings"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/compare"
)

// export writes the comparison.
func (p *comparePanel) export(kind string) {
	p.on.exportNamed("Export the comparison", " compared", kind, func(out io.Writer) error {
		if kind == ".csv" {
			return p.writeCSV(out)
		}
		return p.writeJSON(out)
	})
}

// writeCSV writes one row a property that differs, then findings and marks, under
// the headings of the terminal's compare --csv.
func (p *comparePanel) writeCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	rows := [][]string{{"what", "status", "id", "name", "property", "label", "element", "old", "new"}}
	for i, l := range p.lines {
		switch {
		case l.what == "finding":
			old, new := l.label, ""
			if l.status != "went" {
				old, new = "", old
			}
			rows = append(rows, []string{"finding", l.status, l.id, l.name, l.rule, "", l.severity, old, new})
		case l.what == "mark" && l.status == "touched":
			rows = append(rows, []string{"mark", "touched", l.id, l.name, "", "", "", "", l.label})
		case l.deep:
			rows = append(rows, []string{l.what, l.status, l.id, l.name, l.key, l.label, l.element, l.old, l.new})
		case i+1 == len(p.lines) || !p.lines[i+1].deep:
			rows = append(rows, []string{l.what, l.status, l.id, l.name, "", "", "", "", ""})
		}
	}
	for _, row := range rows[1:] {
		for i := range row {
			row[i] = guarded(row[i])
		}
	}
	if err := out.WriteAll(rows); err != nil {
		return err
	}
	return out.Error()
}

// guarded puts an apostrophe before what a spreadsheet would take for a formula.
func guarded(s string) string {
	if s != "" && strings.ContainsAny(s[:1], "=+-@\t\r") {
		return "'" + s
	}
	return s
}

// writeJSON writes the comparison as one object, in the shape of the terminal's
// compare --json.
func (p *comparePanel) writeJSON(w io.Writer) error {
	type property struct {
		Key     string        `json:"key"`
		Element string        `json:"element,omitempty"`
		Label   string        `json:"label"`
		Old     *compare.Text `json:"old"`
		New     *compare.Text `json:"new"`
		Drawing bool          `json:"drawing_only,omitempty"`
	}
	type difference struct {
		ID         model.ID       `json:"id"`
		Sort       compare.Sort   `json:"sort"`
		Status     compare.Status `json:"status"`
		Name       string         `json:"name"`
		Properties []property     `json:"properties,omitempty"`
	}
	type findings struct {
		Came     []checks.Finding `json:"came"`
		Went     []checks.Finding `json:"went"`
		Accepted []checks.Finding `json:"accepted"`
		Counts   []checks.Finding `json:"counts_again"`
	}
	type mark struct {
		ID     model.ID        `json:"id"`
		Number int             `json:"number"`
		Class  model.MarkClass `json:"class"`
		State  model.MarkState `json:"state"`
		Text   string          `json:"text"`
	}
	out := struct {
		Old         string       `json:"old"`
		New         string       `json:"new"`
		Same        bool         `json:"same"`
		Differences []difference `json:"differences"`
		Findings    *findings    `json:"findings,omitempty"`
		Marks       []mark       `json:"marks_touched,omitempty"`
	}{Old: p.oldName, New: p.on.file.name(), Same: p.is.Same(), Differences: []difference{}}
	null := func(t compare.Text) *compare.Text {
		if t == (compare.Text{}) {
			return nil
		}
		return &t
	}
	for _, d := range p.is.Differences {
		x := difference{ID: d.ID, Sort: d.Sort, Status: d.Status, Name: d.Name}
		for _, q := range d.Properties {
			x.Properties = append(x.Properties, property{q.Key, q.Element, q.Label, null(q.Old), null(q.New), q.Drawing})
		}
		out.Differences = append(out.Differences, x)
	}
	if b := p.between; b != nil {
		all := func(list []checks.Finding) []checks.Finding { return append([]checks.Finding{}, list...) } // [] rather than null
		out.Findings = &findings{all(b.Came), all(b.Went), all(b.Accepted), all(b.Counts)}
	}
	for _, k := range p.is.MarksTouched() {
		out.Marks = append(out.Marks, mark{k.ID, k.Number, k.Class, k.State(), k.Text})
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(out)
}
