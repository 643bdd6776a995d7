package listing_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"

	"rinsewright/checks"
	"rinsewright/checks/listing"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// findings checks a circuit of two tanks that share a tag which a spreadsheet
// would run as a formula.
func findings(t *testing.T) (*model.Circuit, *checks.Result) {
	t.Helper()
	edit := model.Edit{Label: "two tanks with one tag"}
	for _, id := range []model.ID{"p1", "p2"} {
		edit.Changes = append(edit.Changes, model.Adding(&model.Vessel{Item: model.Item{ID: id, Kind: "water-tank", Tag: `=HYPERLINK("x")`}}))
	}
	c, err := model.New("test").Apply(edit)
	if err != nil {
		t.Fatal(err)
	}
	r, err := checks.Run(context.Background(), c, catalogue.Builtin(), checks.Builtin("food"), checks.Rules())
	if err != nil {
		t.Fatal(err)
	}
	if checks.Find(checks.Rules(), "tag-twice") == nil || len(r.Findings) == 0 {
		t.Fatal("two parts with one tag give no finding")
	}
	return c, r
}

func TestCSVReadsBackAndHoldsNoFormula(t *testing.T) {
	c, r := findings(t)
	var b bytes.Buffer
	if err := listing.WriteCSV(&b, c, r, checks.Rules(), quantity.Metric); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if want := 1 + len(r.Findings) + len(r.NotAssessed); len(rows) != want {
		t.Errorf("%d rows, want %d", len(rows), want)
	}
	found := false
	for _, row := range rows[1:] {
		for i, cell := range row {
			if cell != "" && strings.ContainsRune("=@", rune(cell[0])) {
				t.Errorf("column %s holds a formula: %q", listing.Columns[i], cell)
			}
		}
		if row[1] == "tag-twice" {
			found = true
		}
	}
	if !found {
		t.Error("the finding tag-twice is not in the list")
	}
}

func TestJSONReadsBack(t *testing.T) {
	_, r := findings(t)
	var b bytes.Buffer
	if err := listing.WriteJSON(&b, r); err != nil {
		t.Fatal(err)
	}
	var back struct {
		Profile  string
		Counts   checks.Counts
		Findings []struct{ Rule, Severity, Message string }
	}
	if err := json.Unmarshal(b.Bytes(), &back); err != nil {
		t.Fatal(err)
	}
	if back.Profile != "food" || back.Counts != r.Counts || len(back.Findings) != len(r.Findings) {
		t.Errorf("read back %+v, want %d findings and %+v", back, len(r.Findings), r.Counts)
	}
	for i, f := range back.Findings {
		if f.Rule != r.Findings[i].Rule || f.Severity != r.Findings[i].Severity.String() || f.Message == "" {
			t.Errorf("finding %d reads back as %+v", i, f)
		}
	}
}

func TestStepNames(t *testing.T) {
	edit := model.Edit{Label: "steps"}
	add := func(programme, name string, order int) model.ID {
		id := model.ID(programme + name)
		edit.Changes = append(edit.Changes, model.Adding(&model.Step{ID: id, Programme: programme, Name: name, Order: order}))
		return id
	}
	rinse, wash, final, drain := add("A", "Rinse", 1), add("A", "Wash", 2), add("A", "Final", 3), add("A", "Drain", 4)
	other := add("B", "Rinse", 1)
	alone := add("", "Loose", 1)
	c, err := model.New("test").Apply(edit)
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		steps []model.ID
		want  string
	}{
		{nil, ""},
		{[]model.ID{rinse}, "A (Rinse)"},
		{[]model.ID{wash, rinse}, "A (Rinse, Wash)"},
		{[]model.ID{rinse, wash, final}, "A (all but Drain)"},
		{[]model.ID{rinse, wash, final, drain, other}, "A (all steps); B (Rinse)"},
		{[]model.ID{alone, other}, "Loose; B (Rinse)"},
		{[]model.ID{"gone"}, "gone"},
	}
	for _, tt := range tests {
		if got := listing.StepNames(c, tt.steps); got != tt.want {
			t.Errorf("%v: %q, want %q", tt.steps, got, tt.want)
		}
	}
}
