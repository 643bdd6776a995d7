package listing_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"math"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/checks"
	"rinsewright/checks/listing"
	"rinsewright/checks/lists"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/quantity"
)

// hostile is a table as a user could make it by tags and notes.
func hostile() *lists.Table {
	t := &lists.Table{Name: "parts", Title: "Parts", Columns: []lists.Column{{Heading: "Tag"}, {Heading: "Length", Unit: "m"}, {Heading: "Note"}}, Remarks: []string{"=A1"}}
	for _, s := range []string{"=1+1", "+cmd|' /C calc'!A0", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "plain", "comma, \"quote\"", "line\nbreak", "Öl µ ≤"} {
		t.Rows = append(t.Rows, []lists.Cell{lists.Text(s), lists.Number(-1.5), {}})
	}
	return t
}

// What begins as a formula gets an apostrophe (OWASP, CSV Injection); numbers keep
// their sign.
func TestTableCSV(t *testing.T) {
	var b bytes.Buffer
	if err := listing.WriteTableCSV(&b, hostile()); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if strings.Join(rows[0], "|") != "Tag|Length, m|Note" {
		t.Errorf("headings %q", rows[0])
	}
	for i, r := range rows[1:] {
		want := hostile().Rows[i][0].Text
		if i < 6 {
			want = "'" + strings.TrimPrefix(want, "\r") // which a file with lines ended by CR LF cannot hold
		}
		if r[0] != want || r[1] != "-1.5" || r[2] != "" {
			t.Errorf("row %q, want %q", r, want)
		}
	}
	if err := listing.WriteTableCSV(broken{}, hostile()); !errors.Is(err, errBroken) {
		t.Errorf("error %v", err)
	}
}

type xlsxSheet struct {
	Title, Freeze, Filter string
	Rows                  [][]any
	Types                 [][]string
	Bold                  bool
	Widths                []float64
}

// readXLSX reads a workbook back with openpyxl (Debian package python3-openpyxl
// 3.0), an independent reader.
func readXLSX(t *testing.T, h *model.Header, tables ...*lists.Table) []xlsxSheet {
	t.Helper()
	var b, complaint bytes.Buffer
	if err := listing.WriteXLSX(&b, h, tables); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("/usr/bin/python3", "testdata/read_xlsx.py")
	cmd.Stdin, cmd.Stderr = &b, &complaint
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("the reader needs the Debian package python3-openpyxl: %v\n%s", err, complaint.Bytes())
	}
	var sheets []xlsxSheet
	if err := json.Unmarshal(out, &sheets); err != nil {
		t.Fatal(err)
	}
	return sheets
}

func TestXLSXReadsBack(t *testing.T) {
	b, err := assets.Files.ReadFile("demo/oat-drink-station.circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	c, err := circuitfile.Decode("demo", b)
	if err != nil {
		t.Fatal(err)
	}
	s := &checks.Snapshot{Circuit: c, Catalogue: catalogue.Builtin()}
	var tables []*lists.Table
	for _, name := range lists.Names() {
		tables = append(tables, lists.Make(name, s, quantity.Metric))
	}
	sheets := readXLSX(t, c.Header(), tables...)
	if len(sheets) != len(tables) {
		t.Fatalf("%d sheets, want %d", len(sheets), len(tables))
	}
	for n, sheet := range sheets {
		table := tables[n]
		if sheet.Title != table.Title || sheet.Freeze != "B2" || !sheet.Bold || !strings.HasPrefix(sheet.Filter, "$A$1:") {
			t.Errorf("%s: titled %q, frozen at %q, filter %q, bold %v", table.Name, sheet.Title, sheet.Freeze, sheet.Filter, sheet.Bold)
		}
		for i, col := range table.Columns {
			if sheet.Rows[0][i] != col.Words() {
				t.Errorf("%s: heading %v, want %q", table.Name, sheet.Rows[0][i], col.Words())
			}
			if w := sheet.Widths[i]; w < 6 || w > 43 {
				t.Errorf("%s: column %d is %v wide", table.Name, i, w)
			}
		}
		for r, row := range table.Rows {
			for i, cell := range row {
				got := sheet.Rows[r+1][i]
				if want, ok := cell.Number.Get(); ok {
					v, isNumber := got.(float64)
					if !isNumber || math.Abs(v-want) > 1e-4*math.Abs(want) || sheet.Types[r+1][i] != "n" {
						t.Errorf("%s, row %d, %s: %v, want the number %v", table.Name, r, table.Columns[i].Heading, got, want)
					}
				} else if text, _ := got.(string); text != cell.Text {
					t.Errorf("%s, row %d, %s: %q, want %q", table.Name, r, table.Columns[i].Heading, got, cell.Text)
				}
			}
		}
	}
}

func TestXLSXHoldsNoFormula(t *testing.T) {
	sheet := readXLSX(t, &model.Header{Name: "&x\x01", Author: "=1"}, hostile())[0]
	for r, row := range sheet.Types {
		for i, kind := range row {
			if kind == "f" {
				t.Errorf("a formula in row %d, column %d", r, i)
			}
		}
	}
	for i, want := range []string{"'=1+1", "'+cmd|' /C calc'!A0", "'-2+3", "'@SUM(A1)", "'\t=1"} {
		if got := sheet.Rows[i+1][0]; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if v := sheet.Rows[1][1]; v != -1.5 {
		t.Errorf("number %v", v)
	}
}

func TestTableJSON(t *testing.T) {
	var b bytes.Buffer
	if err := listing.WriteTableJSON(&b, hostile()); err != nil {
		t.Fatal(err)
	}
	var got struct {
		List    string
		Columns []struct{ Heading, Unit string }
		Rows    [][]any
	}
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if got.List != "parts" || got.Columns[1].Unit != "m" || got.Rows[0][0] != "=1+1" || got.Rows[0][1] != -1.5 || got.Rows[0][2] != nil {
		t.Errorf("%+v", got)
	}
}

// The findings as a table are those of the CSV.
func TestFindingTable(t *testing.T) {
	b, err := assets.Files.ReadFile("demo/oat-drink-station-faults.circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	c, err := circuitfile.Decode("demo", b)
	if err != nil {
		t.Fatal(err)
	}
	r, err := checks.Run(t.Context(), c, catalogue.Builtin(), checks.Builtin("food"), checks.Rules())
	if err != nil {
		t.Fatal(err)
	}
	table := listing.FindingTable(c, r, checks.Rules(), quantity.Metric)
	if len(table.Rows) != len(r.Findings)+len(r.Accepted)+len(r.NotAssessed) || len(table.Columns) != len(listing.Columns) {
		t.Errorf("%d rows, %d columns", len(table.Rows), len(table.Columns))
	}
	for i := range r.Findings {
		if table.Rows[i][1].Text != r.Findings[i].Rule {
			t.Errorf("row %s is of %q", strconv.Itoa(i), table.Rows[i][1].Text)
		}
	}
}

var errBroken = errors.New("broken")

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errBroken }
