package report

import (
	"encoding/json"

	"rinsewright/checks/lists"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// Table is a list of rows. The last column of a table of calculations holds the
// id of the record that a row is of.
type Table struct{ *lists.Table }

// MarshalJSON writes name, title, columns, rows (null for an empty cell) and
// remarks.
func (t Table) MarshalJSON() ([]byte, error) {
	type column struct {
		Heading string `json:"heading"`
		Unit    string `json:"unit,omitempty"`
	}
	out := struct {
		Name    string   `json:"list"`
		Title   string   `json:"title"`
		Columns []column `json:"columns"`
		Rows    [][]any  `json:"rows"`
		Remarks []string `json:"remarks,omitempty"`
	}{Name: t.Name, Title: t.Title, Rows: [][]any{}, Remarks: t.Remarks}
	for _, c := range t.Columns {
		out.Columns = append(out.Columns, column{c.Heading, c.Unit})
	}
	for _, r := range t.Rows {
		row := make([]any, len(r))
		for i, c := range r {
			if x, ok := c.Number.Get(); ok {
				row[i] = x
			} else if c.Text != "" {
				row[i] = c.Text
			}
		}
		out.Rows = append(out.Rows, row)
	}
	return json.Marshal(out)
}

// cellText writes a cell as a reader sees it; empty for an empty one.
func cellText(c lists.Cell) string {
	if x, ok := c.Number.Get(); ok {
		return quantity.Number(x)
	}
	return c.Text
}

func table(name, title string, columns ...lists.Column) Table {
	return Table{&lists.Table{Name: name, Title: title, Columns: append(columns, lists.Column{Heading: "Id"})}}
}

// row adds a row about a record.
func (t Table) row(of model.ID, cells ...lists.Cell) {
	t.Rows = append(t.Rows, append(cells, lists.Text(string(of))))
}

func column[T ~float64](heading string, s quantity.System) lists.Column {
	return lists.Column{Heading: heading, Unit: quantity.DisplayUnit[T](s).Name}
}

func words(heading string) lists.Column { return lists.Column{Heading: heading} }

// cell gives the cell of a quantity; empty while it is unknown.
func cell[T ~float64](v quantity.Opt[T], s quantity.System) lists.Cell {
	x, ok := v.Get()
	if !ok {
		return lists.Cell{}
	}
	return lists.Number(quantity.DisplayUnit[T](s).FromSI(float64(x)))
}

func percent(v quantity.Opt[quantity.Ratio]) lists.Cell {
	x, ok := v.Get()
	if !ok {
		return lists.Cell{}
	}
	return lists.Number(100 * float64(x))
}

func listNames() []string { return lists.Names() }

func (m *maker) lists() error {
	for _, name := range listNames() {
		m.out.Lists = append(m.out.Lists, Table{lists.Make(name, m.Snapshot, m.system)})
		if err := m.step(1, "lists"); err != nil {
			return err
		}
	}
	return nil
}

// texts adds a row of texts.
func (t Table) texts(cells ...string) {
	row := make([]lists.Cell, len(cells))
	for i, c := range cells {
		row[i] = lists.Text(c)
	}
	t.Rows = append(t.Rows, row)
}
