package window

import (
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"rinsewright/checks"
	"rinsewright/model/quantity"
)

func (b *bench) change(limit, value, reason string) {
	b.t.Helper()
	v := b.limitsView
	v.picked = limit
	v.filter()
	v.editor.value.SetText(value)
	v.editor.reason.SetText(reason)
	v.editor.by.SetText("A. Reviewer")
	test.Tap(v.editor.change)
}

func TestLimitIsChangedForOneCircuitAndPutBack(t *testing.T) {
	b := demoBench(t)
	b.do(b.actions.deviation.limits)
	v := b.limitsView
	if len(v.shown) != len(b.profile().Limits()) {
		t.Fatalf("%d of %d limits are listed", len(v.shown), len(b.profile().Limits()))
	}
	before := b.circuit()
	b.change("dead-leg-ratio", "4", "")
	if b.circuit() != before || !strings.Contains(v.editor.wrong.Text, "Say why") {
		t.Fatalf("a change without a reason is taken: %q", v.editor.wrong.Text)
	}
	b.change("dead-leg-ratio", "-4", "validated")
	if b.circuit() != before || !v.editor.wrong.Visible() {
		t.Fatal("a limit below zero is taken")
	}
	b.change("dead-leg-ratio", "4", "validated by swabs")
	h := b.circuit().Header()
	if len(h.Limits) != 1 || h.Limits[0].Value != 4 || h.Limits[0].Reason != "validated by swabs" || h.Limits[0].By != "A. Reviewer" {
		t.Fatalf("the circuit holds %+v", h.Limits)
	}
	if v.changed.Text != "Changed 1" || !strings.Contains(v.head.Text, "1 limit changed") {
		t.Errorf("told are %q and %q", v.changed.Text, v.head.Text)
	}
	row := newTableRow(b.Window, limitColumns)
	v.fill(v.at(), row)
	if row.full[3] != "4 D" || row.full[2] == row.full[3] || !strings.Contains(row.full[4], "validated by swabs") || !row.strong {
		t.Errorf("the row reads %q", row.full)
	}
	b.change("dead-leg-ratio", "100", "validated by swabs")
	v.editor.value.SetText("1000")
	if !strings.Contains(v.editor.wrong.Text, "ten times") {
		t.Errorf("a value far off is not warned of: %q", v.editor.wrong.Text)
	}
	if n := len(b.circuit().Header().Limits); n != 1 {
		t.Errorf("a limit that is changed again stands %d times", n)
	}
	v.changed.OnTapped()
	if len(v.shown) != 1 {
		t.Errorf("%d limits are shown as changed", len(v.shown))
	}
	test.Tap(v.editor.reset)
	if len(b.circuit().Header().Limits) != 0 {
		t.Error("the limit is not put back")
	}
	v.down()
	b.do(b.actions.undo)
	if len(b.circuit().Header().Limits) != 1 {
		t.Error("undo does not bring the change back")
	}
	b.checks()
	if got := b.result.Limits; len(got) != 1 || got[0].Refused != "" {
		t.Errorf("the checks tell %+v", got)
	}
}

// What is loosened makes findings fall silent; what is typed in US units is the same.
func TestChangedLimitChangesTheFindings(t *testing.T) {
	b := demoBench(t)
	b.setUnits(quantity.US)
	slow := func() (n int) {
		for _, f := range b.result.Findings {
			if f.LimitName == "velocity-least" {
				n++
			}
		}
		return n
	}
	was := slow()
	if was == 0 {
		t.Fatal("the demo has no run that is too slow")
	}
	b.do(b.actions.deviation.limits)
	b.change("velocity-least", "0.003", "thin rinse water only")
	b.limitsView.down()
	b.checks()
	if n := slow(); n >= was {
		t.Errorf("%d findings of the velocity, were %d", n, was)
	}
	// 0.003 ft/s is 0.0009144 m/s: 1 ft = 0.3048 m by definition.
	if got := float64(b.circuit().Header().Limits[0].Value); got < 0.000914 || got > 0.000915 {
		t.Errorf("the file holds %v m/s", got)
	}
}

func TestLimitsAreSavedAsOnesOwn(t *testing.T) {
	b := demoBench(t)
	b.do(b.actions.deviation.limits)
	b.change("dead-leg-ratio", "4", "validated by swabs")
	b.limitsView.down()
	path := filepath.Join(t.TempDir(), "ours.json")
	b.saveOwnLimits(path, "Our own")
	h := b.circuit().Header()
	if h.Profile != "our-own" || len(h.Limits) != 0 {
		t.Errorf("the circuit names %q and changes %d limits", h.Profile, len(h.Limits))
	}
	if l, _ := b.profile().Limit("dead-leg-ratio"); l.Is() != 4 || l.Source.Standing != checks.StandingOwn {
		t.Errorf("the limit in use is %v, %s", l.Is(), l.Source)
	}
	b.do(b.actions.undo)
	if len(b.circuit().Header().Limits) != 1 {
		t.Error("undo does not bring the changes back")
	}
	// Another start of the program reads them again.
	b.limits = nil
	b.readLimits()
	if b.profileNamed("our-own") == nil {
		t.Error("the limits are not known at the next start")
	}
}

func TestLimitLeadsToItsRulesAndBack(t *testing.T) {
	b := newBench(t)
	b.openLimits("velocity-least")
	v := b.limitsView
	if v.picked != "velocity-least" {
		t.Fatalf("picked is %q", v.picked)
	}
	if text := textOf(v.editor.rules); !strings.Contains(text, "Rule: ") {
		t.Errorf("no rule is named: %q", text)
	}
	v.search.SetText("no such words at all")
	if !v.empty.Visible() || v.editor.root.Visible() {
		t.Error("an empty list says nothing")
	}
	v.search.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if b.overlayOpen() {
		t.Error("Escape does not close the limits")
	}
	b.openRules("slow-run")
	if text := textOf(b.rulePages.page); !strings.Contains(text, "Show among the limits") {
		t.Error("the page does not lead to the limit")
	}
}
