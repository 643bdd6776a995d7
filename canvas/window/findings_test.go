package window

import (
	"math"
	"slices"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/checks"
	"rinsewright/model"
)

func demoBench(t *testing.T) *bench {
	t.Helper()
	b := newBench(t)
	for _, d := range demos() {
		if d.file == "oat-drink-station-faults.circuit.json" {
			b.OpenCopy(d.file, d.data)
		}
	}
	b.checks()
	if len(b.findings.all) < 20 {
		t.Fatalf("the demo has only %d findings", len(b.findings.all))
	}
	return b
}

// One mark a part or run, with a count, and clear of tags and symbols.
func TestMarksKeepClear(t *testing.T) {
	b := demoBench(t)
	v := b.board.view
	v.Zoom = unitsPerMillimetre
	b.board.setView(v)
	marks := b.board.marks()
	seen, total := map[model.ID]bool{}, 0
	covering := 0
	side := float64(sizeOfMark(1).side) / b.board.view.Zoom
	for _, m := range marks {
		if seen[m.of] {
			t.Errorf("%s has two marks", m.of)
		}
		seen[m.of] = true
		total += m.count
		if math.IsNaN(m.at.X) {
			continue
		}
		r := place.Rect{Min: m.at, Max: m.at}.Grown(side/2 - 0.1)
		for _, it := range b.board.draw().Items {
			if (it.Layer == draw.LayerTag || it.Layer == draw.LayerPart) && r.Touches(it.Bounds) {
				covering++
				break
			}
		}
	}
	if total != len(b.findings.all) {
		t.Errorf("the marks count %d findings, there are %d", total, len(b.findings.all))
	}
	if covering > len(marks)/20 {
		t.Errorf("%d of %d marks lie on a tag or a symbol", covering, len(marks))
	}
	for _, tt := range []struct {
		show marking
		ok   func(checks.Severity) bool
	}{
		{markGrave, func(s checks.Severity) bool { return s >= checks.Fix }},
		{markNone, func(checks.Severity) bool { return false }},
	} {
		b.board.marking = tt.show
		count := 0
		for _, m := range b.board.marks() {
			count += m.count
		}
		want := 0
		for i := range b.findings.all {
			if tt.ok(b.findings.all[i].Severity) {
				want++
			}
		}
		if count != want {
			t.Errorf("%s: %d findings are marked, want %d", tt.show, count, want)
		}
	}
}

func TestExportsWakeWithTheResult(t *testing.T) {
	b := newBench(t)
	disabled := func() bool {
		for _, m := range b.items {
			if m.of == b.actions.exportCSV {
				return m.item.Disabled
			}
		}
		t.Fatal("no entry for the export")
		return false
	}
	if !disabled() {
		t.Error("findings can be exported before there are any")
	}
	b.checks()
	if disabled() {
		t.Error("the export of findings is still greyed after the checks")
	}
}

// After a remedy the list goes on to what follows, and what was changed is
// framed.
func TestRemedyGoesOn(t *testing.T) {
	b := demoBench(t)
	p := b.findings
	at := slices.IndexFunc(p.shown, func(f checks.Finding) bool { return len(f.Fixes) > 0 })
	if at < 0 {
		t.Fatal("no finding has a remedy")
	}
	p.list.Select(at)
	was := p.picked
	b.applyRemedy(p.shown[at].Fixes[0])
	if len(b.board.flashed) == 0 {
		t.Error("nothing is framed")
	}
	b.checks()
	if p.picked == "" || p.picked == was || p.detail.id != p.picked {
		t.Errorf("picked is %q, told is %q; was %q", p.picked, p.detail.id, was)
	}
}

func TestOtherLimitsKeepThePickedFinding(t *testing.T) {
	b := demoBench(t)
	p := b.findings
	at := slices.IndexFunc(p.shown, func(f checks.Finding) bool { return f.Rule == "dead-leg" })
	if at < 0 {
		t.Fatal("no dead leg in the demo")
	}
	p.list.Select(at)
	was := p.picked
	if err := b.setProfile("dairy"); err != nil {
		t.Fatal(err)
	}
	b.checks()
	still := slices.ContainsFunc(p.all, func(f checks.Finding) bool { return f.ID == was })
	if still && p.picked != was {
		t.Errorf("picked is %q, was %q, which is still there", p.picked, was)
	}
	if !still && p.picked != "" {
		t.Errorf("picked is %q although %q is gone", p.picked, was)
	}
}

func TestNoRouteLeadsToThePlace(t *testing.T) {
	b := newBench(t)
	tank := b.bring("water-tank", model.Point{X: 60, Y: 60})
	pump := b.bring("centrifugal-pump", model.Point{X: 120, Y: 120})
	drain := b.bring("sewer-drain", model.Point{X: 220, Y: 120})
	b.click(model.Point{X: 300, Y: 200}, 0)
	b.drag(b.port(tank, "outlet"), b.port(pump, "a"))
	b.do(b.actions.addStep)
	step := b.shownStep().ID
	b.try(b.drawing().SetSource(step, tank.RecordID()))
	b.try(b.drawing().SetDestination(step, drain.RecordID()))
	want := "No route: liquid reaches " + pump.Meta().Tag + " and ends there: nothing is joined to " + pump.Meta().Tag + " Discharge, and nothing is joined to " + drain.Meta().Tag
	if n := b.tools.trouble; !n.Visible() || n.text != want {
		t.Errorf("the bar reads %q, want %q", n.text, want)
	}
	b.doc.Select()
	b.tools.trouble.Tapped(nil)
	if !b.doc.Selected(pump.RecordID()) {
		t.Error("a click on it does not lead to the pump")
	}
	// A step that drains asks for no route.
	b.try(b.drawing().SetProperty([]model.ID{step}, "purpose", "drain", b.units()))
	if b.tools.trouble.Visible() {
		t.Errorf("a step that drains is told %q", b.tools.trouble.text)
	}
}
