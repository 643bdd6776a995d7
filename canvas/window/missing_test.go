package window

import (
	"context"
	"slices"
	"strings"
	"testing"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// bare is the station without the heights, diameters and stretches of anything.
func bare(t *testing.T) *bench {
	t.Helper()
	b := newBench(t)
	b.station()
	e := model.Edit{Label: "forget"}
	for _, r := range b.circuit().All() {
		next := r
		for _, key := range []string{"elevation_m", "diameter_m"} {
			if p, ok := model.FindProperty(next, key); ok {
				forgot, err := p.WithText(next, "", quantity.Metric)
				if err != nil {
					t.Fatal(err)
				}
				next = forgot
			}
		}
		if run, ok := r.(*model.Run); ok && len(run.Stretches) > 1 {
			forgot := model.Clone(run)
			forgot.Stretches = nil
			next = forgot
		}
		if next != r {
			e.Changes = append(e.Changes, model.Replacing(r, next))
		}
	}
	if err := b.apply(e); err != nil {
		t.Fatal(err)
	}
	b.checks()
	b.tabs.pick(1)
	if len(b.missing.rows) < 3 {
		t.Fatalf("only %d values are missing", len(b.missing.rows))
	}
	return b
}

// entryRows gives the rows in which a number is typed.
func (p *missingPanel) entryRows() []*missingRow {
	return slices.DeleteFunc(slices.Clone(p.rows), func(r *missingRow) bool {
		_, ok := r.field.(*fieldEntry)
		return !ok || r.m.key == "stretches"
	})
}

func TestEveryMissingValueIsListedOnce(t *testing.T) {
	b := bare(t)
	type which struct {
		id  model.ID
		key string
	}
	want := map[which]int{}
	for _, f := range b.result.NotAssessed {
		if len(f.Missing) == 0 {
			want[which{f.At.Element, ""}]++
		}
		for _, m := range f.Missing {
			want[which{m.Record, m.Key}]++
		}
	}
	if len(want) != len(b.missing.list) {
		t.Errorf("%d values are listed, the findings name %d", len(b.missing.list), len(want))
	}
	for _, m := range b.missing.list {
		if n := want[which{m.record, m.key}]; n != m.waiting || len(m.rules) == 0 {
			t.Errorf("%s of %s: %d wait, %v; the findings name it %d times", m.label, m.name, m.waiting, m.rules, n)
		}
	}
}

func TestValueTypedInTheTable(t *testing.T) {
	b := bare(t)
	b.setUnits(quantity.US)
	p := b.missing
	rows := p.entryRows()
	if len(rows) < 2 {
		t.Fatalf("%d rows take a number", len(rows))
	}
	r := rows[0]
	e := r.field.(*fieldEntry)
	b.focus(e)
	before := b.circuit()
	e.SetText("wide")
	e.OnSubmitted("")
	if b.circuit() != before || !r.message.Visible() {
		t.Fatal("what is no number is taken")
	}
	e.SetText("1e12")
	e.OnSubmitted("")
	if b.circuit() != before || !r.message.Visible() {
		t.Fatal("what is out of range is taken")
	}
	e.SetText("10")
	e.OnSubmitted("")
	prop, _ := model.FindProperty(b.circuit().Record(r.m.record), r.m.key)
	got, known := prop.Number(b.circuit().Record(r.m.record))
	u, _ := quantity.UnitOf(prop.Type, quantity.US)
	if want := u.ToSI(10); !known || got < want*0.9999 || got > want*1.0001 {
		t.Errorf("%s is %v (%v), want %v", r.m.key, got, known, want)
	}
	if next := p.focusedRow(); next == nil || next == r {
		t.Error("the caret does not go to the next row")
	}
	b.checks()
	for _, x := range p.rows {
		if x.m.same(&r.m) && x.m.why == "" {
			t.Error("the row is still there")
		}
	}
	b.do(b.actions.undo)
	if _, known := prop.Value(b.circuit().Record(r.m.record)); known {
		t.Error("undo does not take the value out")
	}
}

func TestOneValueForSeveral(t *testing.T) {
	b := bare(t)
	p := b.missing
	var same []*missingRow
	for _, key := range []string{"elevation_m", "height_m", "diameter_m"} {
		same = nil
		for _, r := range p.rows {
			if r.m.key == key {
				same = append(same, r)
			}
		}
		if len(same) > 1 {
			break
		}
	}
	if len(same) < 2 {
		t.Fatal("no property is missing twice")
	}
	for _, r := range same {
		r.tick.SetChecked(true)
	}
	if !strings.Contains(p.told.Text, "ticked") {
		t.Errorf("told is %q", p.told.Text)
	}
	e := same[0].field.(*fieldEntry)
	e.SetText("2")
	e.OnSubmitted("")
	for _, r := range same {
		prop, _ := model.FindProperty(b.circuit().Record(r.m.record), r.m.key)
		if v, known := prop.Number(b.circuit().Record(r.m.record)); !known || v != 2 {
			t.Errorf("%s of %s is %v (%v)", r.m.key, r.m.name, v, known)
		}
	}
	b.do(b.actions.undo)
	for _, r := range same {
		if prop, _ := model.FindProperty(b.circuit().Record(r.m.record), r.m.key); func() bool { _, k := prop.Value(b.circuit().Record(r.m.record)); return k }() {
			t.Error("one undo does not take all of them out")
		}
	}
}

func TestMissingIsFilteredAndItsEmptyStatesTold(t *testing.T) {
	b := bare(t)
	p := b.missing
	all := len(p.rows)
	p.search.SetText("t-201")
	if len(p.rows) == 0 || len(p.rows) >= all {
		t.Errorf("%d of %d rows have the tag", len(p.rows), all)
	}
	p.search.SetText("no such words")
	if !p.empty.Visible() {
		t.Error("no row, and nothing is said")
	}
	p.search.SetText("")
	title := p.list[0].rules[0]
	p.rule.SetSelected(title)
	for _, r := range p.rows {
		if !slices.Contains(r.m.rules, title) {
			t.Errorf("%s does not wait for %s", title, r.m.label)
		}
	}
	p.rule.SetSelected(anyRule)
	p.byRule.OnTapped()
	if p.table.Visible() || !b.open.root.Visible() {
		t.Error("the judgements are not shown")
	}
	b.NewCircuit()
	b.checks()
	if !p.empty.Visible() || !strings.Contains(p.empty.Text, "Nothing is drawn") {
		t.Errorf("an empty circuit is told %q", p.empty.Text)
	}
}

func TestStretchesTypedInTheTable(t *testing.T) {
	b := bare(t)
	at := slices.IndexFunc(b.missing.rows, func(r *missingRow) bool { return r.m.key == "stretches" })
	if at < 0 {
		t.Fatal("no rule waits for the stretches")
	}
	r := b.missing.rows[at]
	e := r.field.(*fieldEntry)
	e.SetText("5 / -0.05")
	e.OnSubmitted("")
	if s := b.circuit().Run(r.m.record).Stretches; len(s) != 1 || s[0].Length.Or(0) != 5 || s[0].Rise.Or(0) != -0.05 {
		t.Errorf("the run has %v", s)
	}
}

// BenchmarkMissing is what the table costs after each run of the checks on a circuit
// that lacks more than a page of values.
func BenchmarkMissing(b *testing.B) {
	w := benchWindow(b, many(b, 5))
	w.tabs.pick(missingTab)
	result, err := checks.Run(context.Background(), w.circuit(), w.cat, w.profile(), w.checker.rules)
	if err != nil {
		b.Fatal(err)
	}
	for _, f := range result.Findings { // each finding as if its place lacked a height
		f.NotAssessed, f.Missing = true, []network.Missing{checks.Missing(f.At.Element, "elevation_m")}
		result.NotAssessed = append(result.NotAssessed, f)
	}
	for name, again := range map[string]bool{"first": true, "again": false} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if again {
					w.missing.rows = nil
				}
				w.missing.set(result)
			}
		})
	}
}
