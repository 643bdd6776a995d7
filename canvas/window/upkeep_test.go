package window

import (
	"bytes"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/isolation"
	"rinsewright/model/quantity"
)

// firstNamed gives the first line of a name; the zero one if there is none.
func firstNamed(rows []flowLine, name string) flowLine {
	for _, l := range rows {
		if l.name == name {
			return l
		}
	}
	return flowLine{}
}

// The trace follows what is selected; a row leads to its part without beginning there;
// two selected parts are joined by ways, each of which the drawing shows.
func TestTraceFollowsTheSelection(t *testing.T) {
	b := newBench(t)
	b.station()
	p := b.upkeep.trace
	from := b.tagged("P-201")
	b.doc.Select(from)
	b.do(b.actions.upkeep.goTrace)
	b.until("the trace", p.ready)
	if p.found.from != from || len(p.trace.Stops) == 0 || firstNamed(p.rows, "Downstream").name == "" {
		t.Fatalf("traced %+v", p.found)
	}
	var row flowLine
	for _, l := range p.rows {
		if l.run != nil && !l.head {
			row = l
			break
		}
	}
	row.run()
	if p.from != from || len(b.doc.Selection()) != 1 || b.doc.Selection()[0] != from {
		t.Error("looking at a stop begins another trace")
	}
	b.do(b.actions.upkeep.traceShow)
	if !b.lensOf(traceTitle) || !p.onDrawing.lit {
		t.Fatal("the trace is not on the drawing")
	}
	// Coverage takes the place of the trace, and the button comes up.
	b.do(b.actions.wash.coverShow)
	b.until("the coverage", func() bool { return b.board.moment != nil && b.board.lens == nil })
	if p.onDrawing.lit {
		t.Error("the button of the trace stays in")
	}
	b.covering.hide()

	b.doc.Select(b.tagged("T-201"), from)
	b.until("ways", func() bool { return p.ready() && p.found.to != "" })
	if len(p.ways) == 0 {
		t.Fatal("no way from T-201 to P-201 in the alkali wash")
	}
	firstNamed(p.rows, "Way 1").run()
	if !b.lensOf(traceTitle) {
		t.Error("the way is not on the drawing")
	}
}

func TestTraceSaysWhatToDo(t *testing.T) {
	b := newBench(t)
	b.do(b.actions.upkeep.goTrace)
	if p := b.upkeep.trace; !p.empty.Visible() || !strings.Contains(p.empty.Text, "Select a part") {
		t.Errorf("an empty trace says %q", p.empty.Text)
	}
	if p := b.upkeep.isolate; p.empty.Text != "" && !strings.Contains(p.empty.Text, "Select what") {
		t.Errorf("an empty isolation says %q", p.empty.Text)
	}
}

// A plan is made of what is selected when the tab is first looked at; what the site
// relies on, valves asked for and ruled out change it; the signs of the plan are on the
// drawing; an edit makes it anew.
func TestIsolationFromPickToSheet(t *testing.T) {
	b := newBench(t)
	b.station()
	p := b.upkeep.isolate
	b.doc.Select(b.tagged("P-201"))
	b.do(b.actions.upkeep.goIsolate)
	b.until("plans", func() bool { return p.plan() != nil })
	first := p.plan()
	if !first.Found || !first.Proven(p.plant, p.ask) {
		t.Fatal("no proven plan for P-201")
	}
	if !b.lensOf(isolateTitle) || len(b.board.lens.signs) != len(first.Points(p.plant)) {
		t.Error("the plan and its signs are not on the drawing")
	}
	for _, head := range []string{"Points", "Order of work", "What is inside", "To put back", "Cannot run meanwhile"} {
		if firstNamed(p.rows, head).name == "" {
			t.Errorf("%q is not told", head)
		}
	}
	// The first valve is ruled out: no plan relies on it any more.
	valve := first.Barriers[0].Valve
	b.doc.Select(valve)
	b.do(b.actions.upkeep.forbid)
	b.until("plans without it", func() bool { return p.plan() != nil && p.plan() != first })
	for i := range p.plans {
		for _, x := range slices.Concat(p.plans[i].Barriers, p.plans[i].Second) {
			if x.Valve == valve {
				t.Errorf("plan %d relies on what was ruled out", i)
			}
		}
	}
	b.do(b.actions.upkeep.plain)
	b.until("plans with it", func() bool {
		return p.plan() != nil && p.ask.Forbid == nil || len(p.ask.Forbid) == 0 && p.plan() != nil
	})

	// All automatic valves count: the plan may be another, and is proven with it.
	p.automatic.SetChecked(true)
	b.until("plans of another policy", func() bool { return p.plan() != nil })
	if pl := p.plan(); !pl.Found || !pl.Proven(p.plant, p.ask) {
		t.Error("no proven plan with automatic valves")
	}

	pages, err := b.planPages()
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := draw.WritePages(&out, pages, draw.Light, draw.About{Title: p.title()}); err != nil || !bytes.HasPrefix(out.Bytes(), []byte("%PDF")) {
		t.Fatal(err)
	}
	c := exec.Command("pdftotext", "-layout", "-", "-")
	c.Stdin = &out
	text, err := c.Output()
	if err != nil {
		t.Fatal(err)
	}
	flat := strings.Join(strings.Fields(string(text)), " ")
	for _, x := range p.plan().Barriers {
		if tag := isolation.PlaceName(p.plant, x.Valve); !strings.Contains(flat, tag) {
			t.Errorf("the sheet does not name %s", tag)
		}
	}
	if !strings.Contains(flat, "not a permit") {
		t.Error("the sheet has no caution")
	}

	// An edit makes the plan anew for the circuit as it is then.
	b.try(b.drawing().Tag(b.tagged("P-201"), "P-299"))
	b.until("the plan of the edited circuit", func() bool { return p.of == b.circuit() && p.plan() != nil })
	if !strings.Contains(p.title(), "P-299") {
		t.Errorf("the plan is called %q", p.title())
	}
	// Another circuit has no work yet.
	b.NewCircuit()
	if len(p.ask.Work) > 0 || b.board.lens != nil {
		t.Error("the work of the other circuit stays")
	}
}

// Where no valve may be relied on the reason is told and a click leads to the run that
// wants one; the drawing shows the open way.
func TestIsolationSaysWhatIsMissing(t *testing.T) {
	b := newBench(t)
	b.station()
	p := b.upkeep.isolate
	b.doc.Select(b.tagged("P-101")) // behind automatic valves alone
	b.do(b.actions.upkeep.isolate)
	b.until("an answer", func() bool { return p.plan() != nil })
	if p.plan().Found {
		t.Fatal("a plan is found")
	}
	help := firstNamed(p.rows, "What would help")
	if firstNamed(p.rows, "Why").text == "" || help.run == nil {
		t.Fatalf("told %+v", p.rows)
	}
	help.run()
	if ids := b.doc.Selection(); len(ids) != 1 || ids[0] != p.plan().At.Element {
		t.Errorf("led to %v, want %v", ids, p.plan().At)
	}
	if b.actions.upkeep.planSheet.can() {
		t.Error("a sheet of no plan can be written")
	}
	p.automatic.SetChecked(true)
	b.until("a plan with automatic valves", func() bool { return p.plan() != nil && p.plan().Found })
}

// A failed pump stops the steps that run it; the document stays as it is.
func TestWhatIfLeavesTheDocument(t *testing.T) {
	b := newBench(t)
	b.station()
	p := b.upkeep.whatIf
	before := b.circuit()
	b.doc.Select(b.tagged("P-201"))
	b.do(b.actions.upkeep.fail)
	b.until("what the failure does", func() bool { return p.report != nil && !p.work.busy })
	if b.circuit() != before || b.doc.Dirty() {
		t.Fatal("the document has changed")
	}
	stopped := 0
	for _, e := range p.report.Effects {
		if e.Drives {
			stopped++
		}
	}
	want := 0
	for _, s := range before.Steps() {
		if slices.Contains(s.Running, b.tagged("P-201")) {
			want++
		}
	}
	if stopped != want || want == 0 {
		t.Errorf("%d steps have lost their pump, %d run it", stopped, want)
	}
	if len(p.came) == 0 || firstNamed(p.rows, "Findings that come").name == "" {
		t.Error("no finding comes when the return pump fails")
	}
	firstNamed(p.rows, "P-201").run() // takes it back
	if len(p.failures) != 0 || !p.empty.Visible() {
		t.Error("the failure stays")
	}
}

// How often programmes run and the interval are typed; undo takes them back. Figures
// are unknown before and known after.
func TestServiceFromFrequenciesAndIntervals(t *testing.T) {
	b := newBench(t)
	b.station()
	p := b.upkeep.service
	b.do(b.actions.upkeep.goService)
	b.until("the week", func() bool { return p.of == b.circuit() })
	pump := b.circuit().Part(b.tagged("P-101"))
	tell := func() servicedPart {
		b.until("the week", func() bool { return p.of == b.circuit() })
		for _, x := range p.parts() {
			if x.wear.Part == pump.RecordID() {
				return x
			}
		}
		t.Fatal("P-101 is not told")
		return servicedPart{}
	}
	if tell().wear.Hours.Known() {
		t.Error("hours are known though nobody told how often the programmes run")
	}
	for _, name := range b.drawing().Programmes() {
		b.try(b.drawing().SetPerWeek(name, "2"))
	}
	b.try(b.drawing().SetInterval(pump.Meta().Kind, "4000", "", "12"))
	b.doc.Select(pump.RecordID())
	b.do(b.actions.upkeep.serviced)
	x := tell()
	hours, known := x.wear.Hours.Get()
	want := quantity.Duration(0)
	for _, s := range b.circuit().Steps() {
		if slices.Contains(s.Running, pump.RecordID()) {
			minutes, ok := s.Time.Get()
			known = known && ok
			want += 2 * minutes
		}
	}
	if known && hours != want {
		t.Errorf("the pump runs %v s a week, the steps add up to %v", hours, want)
	}
	if x.due.Day == "" || x.due.Over {
		t.Errorf("serviced today, due %+v", x.due)
	}
	if line := firstNamed(p.rows, "P-101"); !strings.Contains(strings.Join(line.cells, " "), string(x.due.Day)) {
		t.Errorf("the row says %q", line.cells)
	}
	for _, table := range [][]string{{p.serviceTable().Title}, {p.spareTable().Title}} {
		if table[0] == "" {
			t.Error("a list without a title")
		}
	}
	rows, spares := len(p.serviceTable().Rows), 0
	for _, r := range p.spareTable().Rows {
		n, _ := r[3].Number.Get()
		spares += int(n)
	}
	if rows != len(p.report.Wears) || spares != rows {
		t.Errorf("%d rows, %d spares for %d parts", rows, spares, len(p.report.Wears))
	}
	for b.doc.CanUndo() {
		b.doc.Undo()
	}
	if h := b.circuit().Header(); h.Programmes != nil || h.Service != nil {
		t.Error("undo leaves frequencies or intervals")
	}
}

// The dialog refuses what is no number and says why.
func TestPerWeekDialogRefuses(t *testing.T) {
	b := newBench(t)
	b.station()
	name := b.drawing().Programmes()[0]
	b.askPerWeek(name)
	entry, ok := b.win.Canvas().Focused().(*searchEntry)
	if !ok {
		t.Fatal("no number is asked for")
	}
	entry.SetText("often")
	entry.OnSubmitted("often")
	if !b.overlayOpen() || len(b.circuit().Header().Programmes) != 0 {
		t.Error("“often” is taken")
	}
	entry.SetText("3.5")
	entry.OnSubmitted("3.5")
	if got := b.perWeek(name); b.overlayOpen() || got != quantity.Some(model.Plain(3.5)) {
		t.Errorf("runs %v a week", got)
	}
}

// Exports offer a name that tells what is worked on.
func TestPlanIsNamed(t *testing.T) {
	b := newBench(t)
	b.station()
	b.upkeep.isolate.ask.Work = []model.ID{b.tagged("P-201")}
	if got := filepath.Base(fileName("x isolation " + b.workTags())); !strings.Contains(got, "p-201") {
		t.Errorf("offered %q", got)
	}
}
