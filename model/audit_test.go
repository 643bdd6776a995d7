package model_test

import (
	"slices"
	"testing"
	"time"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// The records of an audit live beside the others: found by id, kept in order,
// changed by edits that have an inverse.
func TestAuditRecords(t *testing.T) {
	c := plant(t)
	second := &model.Mark{ID: "m0", Number: 2, Class: model.MarkPraise}
	first := &model.Mark{ID: "m9", Number: 1, Class: model.MarkMust, Pin: model.Pin{On: "p1"}}
	e := model.Edit{Label: "audit", Changes: []model.Change{
		model.Adding(second), model.Adding(first),
		model.Adding(&model.Deviation{ID: "d1", Rule: "size-jump", Finding: "size-jump@p1"}),
		model.Adding(&model.Deviation{ID: "d2", Rule: "dead-leg", Finding: "dead-leg@p1"}),
		model.Adding(&model.Answer{ID: "a1", Question: "gasket", On: "p2"}),
		model.Adding(&model.Answer{ID: "a2", Question: "gasket"}),
	}}
	next, err := c.Apply(e)
	if err != nil {
		t.Fatal(err)
	}
	if got := next.Marks(); len(got) != 2 || got[0].ID != "m9" {
		t.Errorf("marks are not in order of number: %v", got)
	}
	if next.Deviations()[0].ID != "d2" || next.Answers()[0].ID != "a2" {
		t.Error("deviations are not in order of finding or answers not of what they are about")
	}
	if next.Mark("m0") != second || next.Deviation("d1") == nil || next.Answer("a1") == nil || next.Mark("p1") != nil {
		t.Error("records are not found by id")
	}
	if next.NextMarkNumber() != 3 || c.NextMarkNumber() != 1 {
		t.Errorf("next marks are %d and %d, want 3 and 1", next.NextMarkNumber(), c.NextMarkNumber())
	}
	without, err := next.Apply(model.Edit{Changes: []model.Change{model.Removing(next.Part("p1"))}})
	if err != nil {
		t.Fatal(err)
	}
	if next.Adrift(first) || !without.Adrift(first) || without.Adrift(second) {
		t.Error("a mark is adrift once what it is pinned to is gone, and only then")
	}
	back, err := next.Apply(e.Inverse())
	if err != nil {
		t.Fatal(err)
	}
	if !equal(back, c) {
		t.Error("the inverse does not lead back")
	}
	if _, err := (model.Records{Parts: []model.Part{valve("x", "")}, Marks: []*model.Mark{{ID: "x"}}}).Circuit(); err == nil {
		t.Error("a mark with the id of a part is not refused")
	}
}

func TestMarkState(t *testing.T) {
	m := &model.Mark{}
	if m.State() != model.MarkOpen {
		t.Errorf("a mark without history is %s", m.State())
	}
	m.History = []model.Entry{{State: quantity.Some(model.MarkAnswered)}, {Text: "more"}}
	if m.State() != model.MarkAnswered {
		t.Errorf("an entry without a state changes it to %s", m.State())
	}
}

func TestDeviationHolds(t *testing.T) {
	d := &model.Deviation{Reason: "r", By: "n", Date: "2026-01-31", Expires: "2026-11-25"}
	if d.Expired("2026-11-25") || !d.Expired("2026-11-26") || (&model.Deviation{}).Expired("9999-12-31") {
		t.Error("a deviation holds up to and on the day on which it expires")
	}
	if got := d.Lacks(); got != nil {
		t.Errorf("lacks %v", got)
	}
	if got := (&model.Deviation{By: "n"}).Lacks(); !slices.Equal(got, []string{"reason", "date"}) {
		t.Errorf("lacks %v, want reason and date", got)
	}
	some := &model.Deviation{Steps: []model.ID{"s1", "s2"}}
	for _, tt := range []struct {
		d     *model.Deviation
		steps []model.ID
		want  bool
	}{{d, nil, true}, {d, []model.ID{"s1"}, true}, {some, []model.ID{"s2"}, true}, {some, []model.ID{"s1", "s3"}, false}, {some, nil, false}} {
		if got := tt.d.Covers(tt.steps); got != tt.want {
			t.Errorf("for %v covers %v: %v, want %v", tt.d.Steps, tt.steps, got, tt.want)
		}
	}
}

func TestDates(t *testing.T) {
	// 23:30 in a zone five hours west is the next day in UTC: a date is the day
	// where it was taken, a moment is in UTC.
	at := time.Date(2026, 11, 25, 23, 30, 15, 7, time.FixedZone("", -5*3600))
	if model.DateOf(at) != "2026-11-25" || model.MomentOf(at) != "2026-11-26T04:30:15Z" {
		t.Errorf("got %s and %s", model.DateOf(at), model.MomentOf(at))
	}
	if got, ok := model.MomentOf(at).Time(); !ok || !got.Equal(at.Truncate(time.Second)) {
		t.Errorf("the moment reads back as %v", got)
	}
	for _, d := range []model.Date{"", "2026-02-30", "2026-1-02", "26-01-02", "2026-01-02 "} {
		if _, ok := d.Time(); ok {
			t.Errorf("%q is taken for a date", d)
		}
	}
	for _, m := range []model.Moment{"", "2026-01-02T24:00:00Z", "2026-01-02T10:00:00+01:00", "2026-01-02"} {
		if _, ok := m.Time(); ok {
			t.Errorf("%q is taken for a moment", m)
		}
	}
}
