package lists_test

import (
	"strings"
	"testing"

	"rinsewright/checks/lists"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
	"rinsewright/model/sizing"
)

func TestSizingTable(t *testing.T) {
	p := sizing.NewProject()
	p.Objects = []sizing.Object{{Name: "T-1", Sort: sizing.VesselSort, Diameter: quantity.Some(quantity.Length(2)), Bottom: quantity.Some(model.DIN28011), Device: quantity.Some(sizing.Static)}}
	sheet, err := sizing.Size(p, catalogue.Builtin())
	if err != nil {
		t.Fatal(err)
	}
	for _, system := range []quantity.System{quantity.Metric, quantity.US} {
		l := lists.Sizing(sheet, system)
		if len(l.Rows) != len(sheet.Lines) || len(l.Remarks) == 0 {
			t.Fatalf("%d rows of %d lines", len(l.Rows), len(sheet.Lines))
		}
		empty := 0
		for i, r := range l.Rows {
			if len(r) != len(l.Columns) {
				t.Fatalf("row %d has %d cells", i, len(r))
			}
			if r[3] == (lists.Cell{}) {
				empty++
				if !strings.HasPrefix(r[8].Text, sizing.NotKnown) {
					t.Errorf("%s is empty without a remark", r[2].Text)
				}
			}
		}
		if empty == 0 || empty == len(l.Rows) {
			t.Errorf("%d of %d values are empty: no lengths were told", empty, len(l.Rows))
		}
	}
	a := lists.SizingAssumptions(p.Assumptions, quantity.US)
	if len(a.Rows) != len(p.Assumptions) || a.Rows[0][3].Text != "ft/s" {
		t.Errorf("%d assumptions, the first in %s", len(a.Rows), a.Rows[0][3].Text)
	}
}
