package main

import (
	"encoding/csv"
	"io"
	"strings"
)

// table writes rows as CSV (RFC 4180).
type table struct {
	out *csv.Writer
	err error
}

func newTable(w io.Writer, headings []string) *table {
	t := &table{out: csv.NewWriter(w)}
	t.out.UseCRLF = true
	t.row(headings...)
	return t
}

// row writes one row. Cells that a spreadsheet would take for a formula get an
// apostrophe before them, since tags and notes are typed by users.
func (t *table) row(cells ...string) {
	if t.err != nil {
		return
	}
	safe := make([]string, len(cells))
	for i, c := range cells {
		if c != "" && strings.ContainsRune("=+-@\t\r\n", rune(c[0])) {
			c = "'" + c
		}
		safe[i] = c
	}
	t.err = t.out.Write(safe)
}

func (t *table) end() error {
	t.out.Flush()
	if t.err != nil {
		return t.err
	}
	return t.out.Error()
}
