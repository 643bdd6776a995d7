package edit

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// programmesText writes all programmes with their steps in order: "Daily[1 Rinse,
// 2 Wash]".
func programmesText(d *Drawing) string {
	var out []string
	for _, p := range d.Programmes() {
		var steps []string
		for _, s := range d.StepsOf(p) {
			steps = append(steps, fmt.Sprintf("%d %s", s.Order, s.Name))
		}
		out = append(out, p+"["+strings.Join(steps, ", ")+"]")
	}
	return strings.Join(out, " ")
}

// Each row is one edit of a user on what the rows before have left; apply holds each
// edit to its inverse.
func TestProgrammesAsEvents(t *testing.T) {
	s := newSheet(t)
	s.part("v1", "valve", 0, 0, tagged("V-1"))
	s.part("t1", "tank", 40, 0, tagged("T-1"))
	d := func() *Drawing { return s.doc.Drawing() }
	wash := &model.Step{ID: "w", Order: 70, Name: "Wash", Medium: quantity.Some(model.Alkali), Positions: map[model.ID]string{"v1": "open"}, Cleans: []model.ID{"t1"}}
	rinse := &model.Step{ID: "r", Order: 20, Name: "Rinse", Programme: "elsewhere"}
	for _, row := range []struct {
		name string
		do   func() (model.Edit, error)
		want string
		undo string
	}{
		{"an empty one gets a step", func() (model.Edit, error) { return d().AddProgramme(" Daily ", nil) },
			"Daily[1 Step 1]", "Undo add programme Daily"},
		{"ready steps keep their order", func() (model.Edit, error) { return d().AddProgramme("Weekly", []*model.Step{wash, rinse}) },
			"Daily[1 Step 1] Weekly[1 Wash, 2 Rinse]", "Undo add programme Weekly"},
		{"the same ids once more are made anew", func() (model.Edit, error) { return d().AddProgramme("Monthly", []*model.Step{wash}) },
			"Daily[1 Step 1] Monthly[1 Wash] Weekly[1 Wash, 2 Rinse]", "Undo add programme Monthly"},
		{"delete", func() (model.Edit, error) { return d().DeleteProgramme("Daily") },
			"Monthly[1 Wash] Weekly[1 Wash, 2 Rinse]", "Undo delete programme Daily"},
		{"duplicate", func() (model.Edit, error) { return d().DuplicateProgramme("Weekly", d().FreeProgramme("Weekly")) },
			"Monthly[1 Wash] Weekly[1 Wash, 2 Rinse] Weekly 2[1 Wash, 2 Rinse]", "Undo duplicate programme Weekly"},
		{"rename", func() (model.Edit, error) { return d().RenameProgramme("Monthly", " Acid ") },
			"Acid[1 Wash] Weekly[1 Wash, 2 Rinse] Weekly 2[1 Wash, 2 Rinse]", "Undo rename programme to Acid"},
		{"rename to itself is nothing", func() (model.Edit, error) { return d().RenameProgramme("Acid", "Acid") },
			"Acid[1 Wash] Weekly[1 Wash, 2 Rinse] Weekly 2[1 Wash, 2 Rinse]", "Undo rename programme to Acid"},
	} {
		s.apply(row.do())
		if got := programmesText(d()); got != row.want {
			t.Fatalf("%s: %s, want %s", row.name, got, row.want)
		}
		if got := s.doc.UndoLabel(); got != row.undo {
			t.Errorf("%s: %q, want %q", row.name, got, row.undo)
		}
	}
	for _, copied := range d().StepsOf("Weekly 2")[:1] {
		if copied.ID == "w" || copied.Positions["v1"] != "open" || !slices.Equal(copied.Cleans, []model.ID{"t1"}) || copied.Medium != wash.Medium {
			t.Errorf("the copy is %+v", copied)
		}
	}
	if wash.Programme != "" || wash.Order != 70 {
		t.Error("the steps that were handed in have been changed")
	}
	for s.doc.Undo() {
	}
	if got := programmesText(d()); got != "" {
		t.Errorf("undone all, there is %s", got)
	}
}

func TestProgrammesRefused(t *testing.T) {
	s := newSheet(t)
	d := func() *Drawing { return s.doc.Drawing() }
	s.apply(d().AddProgramme("Daily", nil))
	s.apply(d().AddProgramme("Weekly", nil))
	for name, err := range map[string]error{
		"no name":            second(d().AddProgramme("  ", nil)),
		"a name twice":       second(d().AddProgramme("Daily", nil)),
		"copy onto another":  second(d().DuplicateProgramme("Daily", "Weekly")),
		"copy of none":       second(d().DuplicateProgramme("Yearly", "X")),
		"delete none":        second(d().DeleteProgramme("Yearly")),
		"rename none":        second(d().RenameProgramme("Yearly", "X")),
		"rename onto other":  second(d().RenameProgramme("Daily", "Weekly")),
		"rename to nothing":  second(d().RenameProgramme("Daily", "")),
		"put a step of none": second(d().PutSteps("x", []*model.Step{{ID: "nobody"}})),
		"behind none":        second(d().PutStepAnd("x", &model.Step{ID: "nobody"}, &model.Step{Name: "Drain"})),
	} {
		if err == nil {
			t.Errorf("%s was accepted", name)
		}
	}
	if got := d().FreeProgramme("Daily"); got != "Daily 2" {
		t.Errorf("free is %q", got)
	}
}

// Line-ups of several steps are one step of the history.
func TestPutSteps(t *testing.T) {
	s := newSheet(t)
	s.part("v1", "valve", 0, 0, tagged("V-1"))
	d := func() *Drawing { return s.doc.Drawing() }
	s.apply(d().AddProgramme("Daily", []*model.Step{{ID: "a", Name: "Rinse"}, {ID: "b", Name: "Wash", Positions: map[model.ID]string{"v1": "open"}}}))
	a, b := model.Clone(s.doc.Circuit().Step("a")), model.Clone(s.doc.Circuit().Step("b"))
	a.Positions, b.Positions = map[model.ID]string{"v1": "open"}, map[model.ID]string{}
	s.apply(d().PutSteps("line up Daily", []*model.Step{a, b}))
	if got := s.doc.Circuit().Step("a").Positions; !maps.Equal(got, a.Positions) || s.doc.Circuit().Step("b").Positions != nil {
		t.Errorf("positions %v and %v", got, s.doc.Circuit().Step("b").Positions)
	}
	a = model.Clone(a)
	a.Positions = nil
	s.apply(d().PutStepAnd("line up Rinse", a, &model.Step{ID: "a", Name: "Drain", Purpose: quantity.Some(model.Drain)}))
	if got := programmesText(d()); got != "Daily[1 Rinse, 2 Drain, 3 Wash]" || s.doc.Circuit().Step("a").Positions != nil {
		t.Errorf("%s, positions %v", got, s.doc.Circuit().Step("a").Positions)
	}
	s.doc.Undo()
	s.doc.Undo()
	if got := s.doc.Circuit().Step("b").Positions["v1"]; got != "open" || programmesText(d()) != "Daily[1 Rinse, 2 Wash]" {
		t.Errorf("after two undo steps the wash has %q", got)
	}
}
