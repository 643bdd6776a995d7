package edit

import (
	"reflect"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// How often programmes run and how far apart services are is set, follows a new
// name, is taken out, and comes back by undo.
func TestServiceEdits(t *testing.T) {
	step := &model.Step{ID: "s1", Programme: "Daily", Name: "Rinse"}
	c, err := model.FromRecords(&model.Header{Name: "x"}, nil, nil, []*model.Step{step})
	if err != nil {
		t.Fatal(err)
	}
	doc := NewDocument(c, catalogue.Builtin())
	do := func(e model.Edit, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		if err := doc.Apply(e); err != nil {
			t.Fatal(err)
		}
	}
	do(doc.Drawing().SetPerWeek("Daily", "3,5"))
	do(doc.Drawing().SetInterval("centrifugal-pump", "4000", "", "12"))
	do(doc.Drawing().RenameProgramme("Daily", "Every day"))
	h := doc.Circuit().Header()
	if want := []model.Frequency{{Name: "Every day", PerWeek: quantity.Some(model.Plain(3.5))}}; !reflect.DeepEqual(h.Programmes, want) {
		t.Errorf("programmes %+v", h.Programmes)
	}
	if want := []model.Interval{{Kind: "centrifugal-pump", Hours: quantity.Some(model.Plain(4000)), Months: quantity.Some(model.Plain(12))}}; !reflect.DeepEqual(h.Service, want) {
		t.Errorf("intervals %+v", h.Service)
	}
	do(doc.Drawing().SetPerWeek("Every day", ""))
	do(doc.Drawing().SetInterval("centrifugal-pump", "", "", ""))
	if h := doc.Circuit().Header(); h.Programmes != nil || h.Service != nil {
		t.Errorf("left: %+v", h)
	}
	for range 5 {
		if !doc.Undo() {
			t.Fatal("nothing to undo")
		}
	}
	if doc.Circuit() != c && !reflect.DeepEqual(doc.Circuit().Header(), c.Header()) {
		t.Error("undo leaves something")
	}
	for _, bad := range []string{"often", "-1", "1e9", "NaN"} {
		if _, err := doc.Drawing().SetPerWeek("Daily", bad); err == nil {
			t.Errorf("%q is taken for runs a week", bad)
		}
	}
	if _, err := doc.Drawing().SetInterval("centrifugal-pump", "0", "", ""); err == nil {
		t.Error("an interval of 0 hours is taken")
	}
	if _, err := doc.Drawing().SetInterval("no-such-kind", "1", "", ""); err == nil {
		t.Error("an unknown kind is taken")
	}
}
