package window

import (
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/circuitfile"
)

// pickRule picks the first finding of a rule and gives it.
func (b *bench) pickRule(rule string) checks.Finding {
	b.t.Helper()
	p := b.findings
	at := slices.IndexFunc(p.shown, func(f checks.Finding) bool { return f.Rule == rule })
	if at < 0 {
		b.t.Fatalf("the list shows no finding of %s", rule)
	}
	p.list.UnselectAll()
	p.list.Select(at)
	return p.shown[at]
}

// plainDemo is the demo with the faults, of which nothing is accepted.
func plainDemo(t *testing.T) *bench {
	t.Helper()
	b := demoBench(t)
	e := model.Edit{Label: "accept nothing"}
	for _, d := range b.circuit().Deviations() {
		e.Changes = append(e.Changes, model.Removing(d))
	}
	if err := b.apply(e); err != nil {
		t.Fatal(err)
	}
	b.checks()
	return b
}

func (b *bench) acceptAs(reason, by, expires string) {
	b.t.Helper()
	b.do(b.actions.deviation.accept)
	a := b.acceptance
	if a == nil || !b.overlayOpen() {
		b.t.Fatal("nothing asks for a reason")
	}
	a.reason.SetText(reason)
	a.by.SetText(by)
	a.expires.SetText(expires)
	test.Tap(b.button("Accept"))
}

func TestFindingIsAcceptedCountedTakenBackAndWritten(t *testing.T) {
	b := plainDemo(t)
	f := b.pickRule("dead-leg")
	before := b.result.Counts
	b.acceptAs("", "A. Reviewer", "")
	if !b.overlayOpen() || !strings.Contains(b.dialogText(), "Say why") {
		t.Fatalf("an acceptance without a reason is taken: %s", b.dialogText())
	}
	b.acceptance.reason.SetText("Swabbed by hand after each batch")
	b.acceptance.expires.SetText("2020-01-01")
	test.Tap(b.button("Accept"))
	if !b.overlayOpen() || !strings.Contains(b.dialogText(), "over already") {
		t.Fatal("an acceptance that is over is taken")
	}
	b.acceptance.expires.SetText("2999-12-31")
	test.Tap(b.button("Accept"))
	if b.overlayOpen() {
		t.Fatalf("the question stays: %s", b.dialogText())
	}
	b.checks()
	now := b.result.Counts
	if now.Accepted != before.Accepted+1 || now.Stop+now.Fix+now.Note != before.Stop+before.Fix+before.Note-1 {
		t.Errorf("counts %+v after accepting one of %+v", now, before)
	}
	if !strings.Contains(b.status.state.Text, "accepted") || !strings.Contains(b.tabs.titles[0].text, "accepted") {
		t.Errorf("status %q, tab %q", b.status.state.Text, b.tabs.titles[0].text)
	}
	if slices.ContainsFunc(b.findings.shown, func(g checks.Finding) bool { return g.ID == f.ID }) {
		t.Error("the accepted finding is still among those that count")
	}
	data, err := circuitfile.Encode(b.circuit())
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Swabbed by hand after each batch", "A. Reviewer", "2999-12-31", f.ID, string(model.DateOf(time.Now()))} {
		if !strings.Contains(string(data), want) {
			t.Errorf("the file has no %q", want)
		}
	}

	b.do(b.actions.deviation.show)
	if len(b.findings.shown) != now.Accepted {
		t.Fatalf("%d are listed as accepted, want %d", len(b.findings.shown), now.Accepted)
	}
	b.pickRule("dead-leg")
	text := textOf(b.findings.detail.box)
	for _, want := range []string{"Swabbed by hand after each batch", "A. Reviewer", "until 2999-12-31"} {
		if !strings.Contains(text, want) {
			t.Errorf("the detail does not tell %q:\n%s", want, text)
		}
	}
	if b.actions.deviation.accept.can() {
		t.Error("what is accepted can be accepted again")
	}
	b.do(b.actions.deviation.withdraw)
	b.checks()
	if b.result.Counts != before {
		t.Errorf("taken back the counts are %+v, were %+v", b.result.Counts, before)
	}
	b.do(b.actions.undo)
	b.checks()
	if b.result.Counts.Accepted != before.Accepted+1 {
		t.Error("undo does not bring the acceptance back")
	}
}

// withDeviation puts a deviation into the circuit.
func (b *bench) withDeviation(d *model.Deviation) {
	b.t.Helper()
	if err := b.apply(model.Edit{Label: "deviation", Changes: []model.Change{model.Adding(d)}}); err != nil {
		b.t.Fatal(err)
	}
	b.checks()
}

func TestExpiredAcceptanceCountsAgainAndIsRenewed(t *testing.T) {
	b := plainDemo(t)
	f := b.pickRule("dead-leg")
	before := len(b.result.Findings)
	d := f.Accept("d1", "2020-01-01")
	d.Reason, d.By, d.Expires = "for the trial", "A. Reviewer", "2020-06-30"
	b.withDeviation(d)
	if n := b.result.Counts.Accepted; n != 0 {
		t.Fatalf("%d findings are accepted by a deviation that is over", n)
	}
	if len(b.result.Findings) != before+1 { // and that it is over is itself told
		t.Errorf("%d findings, want %d", len(b.result.Findings), before+1)
	}
	b.findings.showRegister(true)
	if len(b.findings.shown) != 1 || b.findings.register.Text != "Accepted 0 of 1" {
		t.Fatalf("%d listed, the toggle reads %q", len(b.findings.shown), b.findings.register.Text)
	}
	if _, cells := b.findings.acceptedCells(&b.findings.shown[0]); !strings.Contains(cells[cellText], "expired on 2020-06-30") {
		t.Errorf("the row reads %q", cells[cellText])
	}
	b.findings.showRegister(false)
	b.pickRule("dead-leg")
	for b.pickedFinding().ID != f.ID {
		b.findings.step(1)
	}
	b.do(b.actions.deviation.accept)
	if b.acceptance.reason.Text != "for the trial" {
		t.Errorf("the old reason is not offered: %q", b.acceptance.reason.Text)
	}
	b.acceptance.by.SetText("B. Reviewer")
	test.Tap(b.button("Accept"))
	b.checks()
	if got := b.circuit().Deviations(); len(got) != 1 || got[0].By != "B. Reviewer" || got[0].Expires != "" || b.result.Counts.Accepted != 1 {
		t.Errorf("accepted anew there are %d deviations, %d accepted", len(got), b.result.Counts.Accepted)
	}
}

func TestAcceptanceThatMatchesNothingIsReportedAndDeleted(t *testing.T) {
	b := plainDemo(t)
	b.withDeviation(&model.Deviation{ID: "d1", Rule: "dead-leg", Finding: "dead-leg@gone", Was: "V-999", Reason: "was so", By: "A. Reviewer", Date: "2026-01-01"})
	f := b.pickRule("deviation-unmatched")
	if b.actions.deviation.accept.can() {
		t.Error("that an acceptance matches nothing can itself be accepted")
	}
	if len(f.Fixes) != 1 {
		t.Fatalf("%d remedies", len(f.Fixes))
	}
	b.findings.showRegister(true)
	if len(b.findings.shown) != 1 || !strings.HasPrefix(b.findings.stateWords(&b.findings.shown[0]), "matches nothing") {
		t.Errorf("the register lists %d, %q", len(b.findings.shown), b.findings.stateWords(&b.findings.shown[0]))
	}
	b.findings.showRegister(false)
	b.applyRemedy(f.Fixes[0])
	b.checks()
	if len(b.circuit().Deviations()) != 0 || slices.ContainsFunc(b.result.Findings, func(f checks.Finding) bool { return f.Rule == "deviation-unmatched" }) {
		t.Error("the remedy does not delete the deviation")
	}
}

func TestRowOfAFindingHasAMenu(t *testing.T) {
	b := plainDemo(t)
	row := b.findings.newRow().(*findingRow)
	at := slices.IndexFunc(b.findings.shown, func(f checks.Finding) bool { return f.Rule == "dead-leg" })
	b.findings.fillRow(at, row)
	row.TappedSecondary(&fyne.PointEvent{AbsolutePosition: fyne.NewPos(300, 600)})
	if b.findings.picked != b.findings.shown[at].ID {
		t.Error("the row is not picked")
	}
	if !b.overlayOpen() {
		t.Fatal("no menu opens")
	}
}

func TestEmptyRegisterSaysHow(t *testing.T) {
	b := newBench(t)
	b.bring("water-tank", model.Point{X: 60, Y: 60})
	b.checks()
	b.findings.showRegister(true)
	if !b.findings.empty.Visible() || !strings.Contains(b.findings.empty.Text, "accept it with a reason") {
		t.Errorf("the empty register says %q", b.findings.empty.Text)
	}
}
