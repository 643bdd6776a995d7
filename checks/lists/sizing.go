package lists

import (
	"strings"

	"rinsewright/model/quantity"
	"rinsewright/model/sizing"
)

// Sizing makes the table of a calculation sheet: one row a result, with formula,
// inputs and source. What is not known is an empty number and told in its remark.
func Sizing(sheet *sizing.Sheet, s quantity.System) *Table {
	t := &Table{Name: "sizing", Title: "Sizing", Remarks: sheet.Cautions, Columns: []Column{
		{"Section", ""}, {"Object", ""}, {"Result", ""}, {"Value", ""}, {"Unit", ""}, {"Formula", ""}, {"Inputs", ""}, {"Source", ""}, {"Remark", ""}}}
	for _, l := range sheet.Lines {
		value, unit := Text(""), ""
		switch x, isNumber := l.Value.Number(s); {
		case isNumber:
			value, unit = Number(x), l.Value.Unit(s).Name
		case l.Value.Known():
			value = Text(l.Value.Text(s))
		}
		remark := l.Why
		if !l.Value.Known() {
			remark = l.Told(s)
		}
		t.Rows = append(t.Rows, []Cell{Text(l.Section), Text(l.Of), Text(l.Label), value, Text(unit), Text(l.Formula), Text(l.InputWords(s)), Text(l.SourceWords()), Text(remark)})
	}
	return t
}

// SizingAssumptions makes the table of the assumptions of a sheet.
func SizingAssumptions(list []sizing.Assumption, s quantity.System) *Table {
	t := &Table{Name: "assumptions", Title: "Assumptions", Columns: []Column{
		{"Section", ""}, {"Assumption", ""}, {"Value", ""}, {"Unit", ""}, {"Usual, least", ""}, {"Usual, most", ""}, {"Source", ""}, {"Remark", ""}}}
	for _, a := range list {
		v, _ := a.Value.Number(s)
		low, _ := a.Least.Number(s)
		high, _ := a.Most.Number(s)
		var remarks []string
		if a.Changed() {
			remarks = append(remarks, "changed")
		}
		if a.Unusual() {
			remarks = append(remarks, "outside the usual range")
		}
		t.Rows = append(t.Rows, []Cell{Text(a.Section), Text(a.Label), Number(v), Text(a.Value.Unit(s).Name), Number(low), Number(high), Text(a.Basis.String()), Text(strings.Join(remarks, "; "))})
	}
	return t
}
