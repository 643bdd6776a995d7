package window

import (
	"testing"

	"fyne.io/fyne/v2"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

func TestGridShowsWhatMovesAndWhereItLeads(t *testing.T) {
	b := newBench(t)
	divert := b.bring("divert-valve", model.Point{X: 60, Y: 60})
	tank := b.bring("water-tank", model.Point{X: 140, Y: 80})
	b.bring("butterfly-valve", model.Point{X: 60, Y: 120})
	b.click(model.Point{X: 250, Y: 150}, 0)
	b.drag(b.port(divert, "a"), b.port(tank, "return"))
	b.do(b.actions.addStep)
	words := b.steps.wordsOf(b.circuit().Part(divert.RecordID()))
	if words[0] != "to "+tank.Meta().Tag {
		t.Errorf("the positions read %q", words)
	}
	all := len(b.steps.columns)
	b.steps.bar.movers.OnTapped()
	if n := len(b.steps.columns); n != 0 {
		t.Errorf("%d columns although no step moves anything", n)
	}
	b.steps.bar.movers.OnTapped()
	for i, p := range b.steps.columns {
		if p.RecordID() == divert.RecordID() {
			b.steps.cycle(0, i)
		}
	}
	b.steps.bar.movers.OnTapped()
	if len(b.steps.columns) != 1 || b.steps.columns[0].RecordID() != divert.RecordID() || all != 2 {
		t.Errorf("only what moves: %d of %d columns", len(b.steps.columns), all)
	}
	// What is selected on the board lights its column.
	b.doc.Select(divert.RecordID())
	if b.steps.marked != divert.RecordID() {
		t.Error("the column of the selected valve is not lit")
	}
	b.doc.Select(tank.RecordID())
	if b.steps.marked != "" {
		t.Error("a column stays lit")
	}
}

// About 25 valves fit beside each other at 1920, 14 at 1280, with the details of
// the step put away.
func TestGridIsNarrow(t *testing.T) {
	b := demoBench(t)
	b.steps.bar.details.OnTapped()
	for _, tt := range []struct {
		size  fyne.Size
		least int
	}{{fyne.NewSize(1280, 800), 14}, {fyne.NewSize(1920, 1080), 25}} {
		b.win.Resize(tt.size)
		b.tabs.pick(2)
		b.steps.refresh()
		room := b.steps.table.Size().Width - b.steps.wide
		n := 0
		for i := range b.steps.columns {
			if room -= b.steps.widths[i] + 4; room < 0 {
				break
			}
			n++
		}
		if n < tt.least && n < len(b.steps.columns) {
			t.Errorf("at %v %d columns fit, want %d", tt.size, n, tt.least)
		}
	}
}

func TestStepButtonsAreGreyWithoutSteps(t *testing.T) {
	b := newBench(t)
	for i, x := range b.steps.bar.buttons {
		if x.Disabled() != (i > 0) { // only the first one adds
			t.Errorf("%q: disabled %v", x.Text, x.Disabled())
		}
	}
	b.do(b.actions.addStep)
	for _, x := range b.steps.bar.buttons {
		want := x.does == b.actions.stepUp || x.does == b.actions.stepDown // there is but one
		if x.Disabled() != want {
			t.Errorf("with one step %q: disabled %v", x.Text, x.Disabled())
		}
	}
}

func TestASewerIsNoSource(t *testing.T) {
	b := newBench(t)
	for i, kind := range []string{"water-tank", "sewer-drain", "water-supply", "vent"} {
		b.bring(kind, model.Point{X: 60 + 60*float64(i), Y: 60})
	}
	kinds := func(from bool) map[string]bool {
		out := map[string]bool{}
		for _, p := range ends(b.circuit(), catalogue.Builtin(), from) {
			out[p.Meta().Kind] = true
		}
		return out
	}
	if k := kinds(true); !k["water-tank"] || !k["water-supply"] || k["sewer-drain"] || k["vent"] {
		t.Errorf("offered as source: %v", k)
	}
	if k := kinds(false); !k["water-tank"] || k["water-supply"] || !k["sewer-drain"] || k["vent"] {
		t.Errorf("offered as destination: %v", k)
	}
}
