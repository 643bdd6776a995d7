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

// An accepted finding stands between those that count and what is not assessed,
// with who accepted it; in JSON it has a list of its own.
func TestAcceptedAreListedApart(t *testing.T) {
	c, r := findings(t)
	d := r.Findings[0].Accept("d1", "2026-01-31")
	d.Reason, d.By, d.Expires, d.Reference = "=known", "A. Reviewer", "2999-01-31", "OD-7"
	c, err := c.Apply(model.Edit{Changes: []model.Change{model.Adding(d)}})
	if err != nil {
		t.Fatal(err)
	}
	if r, err = checks.Run(context.Background(), c, catalogue.Builtin(), checks.Builtin("food"), checks.Rules()); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := listing.WriteCSV(&b, c, r, checks.Rules(), quantity.Metric); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	row := rows[1+len(r.Findings)]
	want := []string{"accepted " + r.Accepted[0].Severity.String(), r.Accepted[0].Rule}
	if row[0] != want[0] || row[1] != want[1] || strings.Join(row[len(row)-5:], "|") != "A. Reviewer|2026-01-31|2999-01-31|'=known|OD-7" {
		t.Errorf("the row is %q", row)
	}
	if n := 1 + len(r.Findings) + len(r.Accepted) + len(r.NotAssessed); len(rows) != n {
		t.Errorf("%d rows, want %d", len(rows), n)
	}
	b.Reset()
	if err := listing.WriteJSON(&b, r); err != nil {
		t.Fatal(err)
	}
	var back struct {
		Accepted []struct {
			ID       string
			Accepted checks.Acceptance
		}
		Deviations []checks.Judgement
	}
	if err := json.Unmarshal(b.Bytes(), &back); err != nil {
		t.Fatal(err)
	}
	if len(back.Accepted) != 1 || back.Accepted[0].Accepted.Reason != "=known" || len(back.Deviations) != 1 || back.Deviations[0].State != checks.DeviationHolds {
		t.Errorf("read back %+v", back)
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
