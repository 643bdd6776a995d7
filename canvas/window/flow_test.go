package window

import (
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"rinsewright/assets"
	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// demo opens a demo circuit and shows one of its steps.
func (b *bench) demo(file, programme, step string) {
	b.t.Helper()
	data, err := assets.Files.ReadFile("demo/" + file + ".circuit.json")
	if err != nil {
		b.t.Fatal(err)
	}
	if !b.OpenCopy(file, data) {
		b.t.Fatal("the demo does not open")
	}
	for _, s := range b.circuit().Steps() {
		if s.Programme == programme && s.Name == step {
			b.showStep(s.ID)
			b.flow()
			return
		}
	}
	b.t.Fatalf("no step %s of %s", step, programme)
}

// station shows the alkali wash of T-201.
func (b *bench) station() {
	b.t.Helper()
	b.demo("oat-drink-station", "Vessel T-201", "Alkali wash")
}

// flow waits for the flow of the step shown.
func (b *bench) flow() {
	b.t.Helper()
	deadline := time.After(20 * time.Second)
	for b.solution == nil && b.unsolved == nil {
		select {
		case f := <-b.onMain:
			f()
		case <-deadline:
			b.t.Fatal("the flow is not solved")
		}
	}
}

func (b *bench) tagged(tag string) model.ID {
	b.t.Helper()
	found := b.circuit().Tagged(tag)
	if len(found) != 1 {
		b.t.Fatalf("%d things are called %s", len(found), tag)
	}
	return found[0].RecordID()
}

// 12 m³/h in DN50 (50 mm inside, EN 10357 series A) is 1.7 m/s by arithmetic.
func TestFlowOfTheStepShown(t *testing.T) {
	b := newBench(t)
	b.station()
	if !b.solution.Solved() || b.solution.Step.Name != "Alkali wash" {
		t.Fatalf("solved %v of step %s", b.solution.Solved(), b.solution.Step.Name)
	}
	run := b.circuit().RunsAt(b.tagged("PT-101"))[0].ID
	if len(b.lines.options.Values) != 0 {
		t.Error("values stand beside runs though none were asked for")
	}
	b.chooseValues(scene.Velocity)
	if got := b.lines.options.Values[run]; got != "1.7 m/s" {
		t.Errorf("beside the run stands %q", got)
	}
	b.setUnits(quantity.US)
	if got := b.lines.options.Values[run]; got != "5.57 ft/s" {
		t.Errorf("in US units %q", got)
	}
	b.setUnits(quantity.Metric)

	b.doc.Select(run)
	if got := b.props.valueOf(run, scene.Flow); got != "12 m³/h" {
		t.Errorf("flow of the run: %q", got)
	}
	if got, ok := b.pumpLine(b.tagged("P-101"), pumpLines[0]); !ok || !strings.HasPrefix(got, "12 m³/h at ") {
		t.Errorf("duty of the pump: %q", got)
	}
	// Another step: what was solved is dropped, the new flow comes.
	b.showStep(b.circuit().Steps()[0].ID)
	if b.solution != nil {
		t.Error("the flow of the step before is still shown")
	}
	b.flow()
	if b.solution.Step != b.shownStep() || len(b.lines.options.Values) == 0 {
		t.Errorf("shown is the flow of %s with %d values", b.solution.Step.Name, len(b.lines.options.Values))
	}
}

// While the flow of the same step is solved anew its last values stay on the
// drawing; nothing else tells what was solved for the circuit before.
func TestValuesStayUntilTheNewFlowIsThere(t *testing.T) {
	b := newBench(t)
	b.station()
	b.chooseValues(scene.Velocity)
	run := b.circuit().RunsAt(b.tagged("PT-101"))[0].ID
	before := b.solution
	b.try(b.drawing().SetProperty([]model.ID{run}, "size", "EN 10357-A DN40", b.units()))
	if b.solution != nil {
		t.Error("the flow of the circuit before counts as that of the present one")
	}
	if got := b.lines.options.Values[run]; got != "1.7 m/s" {
		t.Errorf("while it is solved anew %q stands beside the run", got)
	}
	if got := b.props.valueOf(run, scene.Velocity); got != stillSolving {
		t.Errorf("the properties tell %q", got)
	}
	if !strings.Contains(b.valuesTold(), "being solved") {
		t.Errorf("the legend says %q", b.valuesTold())
	}
	b.flow()
	// DN40 of EN 10357 series A is 38 mm inside: 12 m³/h are 2.94 m/s by arithmetic.
	if got := b.lines.options.Values[run]; got != "2.94 m/s" || b.solution == before {
		t.Errorf("after the edit %q stands beside the run", got)
	}
	b.showStep("")
	if len(b.lines.options.Values) != 0 || !strings.Contains(b.valuesTold(), "no step") {
		t.Errorf("without a step %d values, and the legend says %q", len(b.lines.options.Values), b.valuesTold())
	}
}

// A late result of a state that is no longer shown is dropped.
func TestLateFlowIsDropped(t *testing.T) {
	b := newBench(t)
	b.station()
	b.solve(0)
	late := <-b.onMain // handed over, not yet taken in
	b.showStep("")
	late()
	if b.solution != nil || b.solving.busy {
		t.Error("the flow of a step that is not shown is taken in")
	}
}

func TestValuesTurnByKeyAndAreRemembered(t *testing.T) {
	b := newBench(t)
	b.station()
	key := func() { b.board.TypedKey(&fyne.KeyEvent{Name: fyne.KeyW}) }
	var seen []scene.Value
	for range scene.ValueNames() {
		key()
		seen = append(seen, b.values)
	}
	if !slices.Equal(seen, scene.ValueNames()) {
		t.Errorf("W goes through %v", seen)
	}
	if got := b.app.Preferences().String(prefValues); got != string(scene.Temperature) {
		t.Errorf("kept is %q", got)
	}
	if told := strings.Join(b.told(), "|"); !strings.Contains(told, "temperature of the liquid") {
		t.Errorf("the board tells %q", told)
	}
	if key(); b.values != scene.NoValue || b.valuesTold() != "" {
		t.Errorf("after the last comes %q", b.values)
	}
}

// rowsWith gives the lines of the panel whose name or text has some words.
func (b *bench) rowsWith(words string) []flowLine {
	var out []flowLine
	for _, l := range b.flows.rows {
		if strings.Contains(l.name+" "+l.text+" "+strings.Join(l.cells, " "), words) {
			out = append(out, l)
		}
	}
	return out
}

func TestFlowPanelTellsAndPlots(t *testing.T) {
	b := newBench(t)
	b.flows.refresh()
	if !strings.Contains(b.flows.sum.Text, "No step is shown") || b.flows.along.why == "" {
		t.Errorf("without a step the panel says %q and plots %q", b.flows.sum.Text, b.flows.along.why)
	}
	b.station()
	b.tabs.pick(3)
	if got := b.flows.sum.Text; !strings.Contains(got, "12 m³/h flows, 12 m³/h asked for; P-101 at 89 %") {
		t.Errorf("the supply is %q", got)
	}
	for _, tag := range []string{"P-101", "P-201", "SD-201", "T-201"} {
		found := b.rowsWith(tag)
		if len(found) == 0 || found[0].cells == nil || !strings.HasPrefix(found[0].cells[0], "12 m³/h") {
			t.Errorf("%s is told by %+v", tag, found)
		}
	}
	if len(b.rowsWith("roughness of tube walls"))+len(b.rowsWith("Roughness of tube walls")) != 1 {
		t.Error("the assumed roughness is not told")
	}
	if len(b.flows.pump.Options) != 2 { // two pumps run
		t.Errorf("pumps %v", b.flows.pump.Options)
	}
	drawn := func(name string, v *plotView) {
		if v.why != "" || len(v.chart.Lines) == 0 {
			t.Errorf("%s: %q, %d lines", name, v.why, len(v.chart.Lines))
		}
		img := v.paint(400, 240)
		ground := img.At(1, 1)
		other := 0
		for y := range 240 {
			for x := range 400 {
				if img.At(x, y) != ground {
					other++
				}
			}
		}
		if other < 1000 {
			t.Errorf("%s: only %d pixels are drawn", name, other)
		}
	}
	for i, name := range b.flows.pump.Options {
		b.flows.pump.SetSelectedIndex(i)
		drawn(name, b.flows.curve)
		if !strings.HasPrefix("Pump "+b.flows.curve.chart.Title, name) {
			t.Errorf("%s gives the plot %q", name, b.flows.curve.chart.Title)
		}
	}
	for i, name := range wayPlots {
		b.flows.way.SetSelectedIndex(i)
		drawn(name, b.flows.along)
	}
}

// The heat side of the step stands below the flow, the greatest loss first, and leads to
// what is missing.
func TestFlowPanelTellsTheHeat(t *testing.T) {
	b := newBench(t)
	b.station()
	h := b.heated()
	if h == nil || len(h.Exchangers) != 1 || h.WarmUp == nil {
		t.Fatalf("heat %+v", h)
	}
	row := func(name string) flowLine {
		t.Helper()
		for _, l := range b.flows.rows {
			if l.name == name && !l.head {
				return l
			}
		}
		t.Fatalf("no line %q", name)
		return flowLine{}
	}
	x := h.Exchangers[0]
	if got := row("E-101").cells; len(got) != 4 || got[3] != "75 °C" || got[1] != quantity.OptText(x.Needed, quantity.Metric) {
		t.Errorf("the heater is told by %q", got)
	}
	if got := row("Steam").text; !strings.Contains(got, "kg/h, as much condensate") {
		t.Errorf("steam is %q", got)
	}
	if got := row("Steam side").text; !strings.HasPrefix(got, "3 bar gauge, 4.01 bar absolute, condenses at 144 °C") {
		t.Errorf("steam side is %q", got)
	}
	if got := row("Hot after").text; !strings.Contains(got, quantity.OptText(h.WarmUp.Time, quantity.Metric)+": T-102 from") {
		t.Errorf("hot after %q", got)
	}
	row("While it runs")
	row("Transfer")
	at := slices.IndexFunc(b.flows.rows, func(l flowLine) bool { return l.head && l.name == "Heat lost" })
	if at < 0 || len(h.Losses) < 20 || b.flows.rows[at+len(h.Losses)].head {
		t.Fatalf("losses stand at %d", at)
	}
	most := quantity.Power(0)
	for _, l := range h.Losses {
		most = max(most, l.Power.Or(0))
	}
	if got := b.flows.rows[at+1].cells[0]; got != quantity.Text(most, quantity.Metric) {
		t.Errorf("the first loss is %q, the greatest %v", got, most)
	}
	b.setUnits(quantity.US)
	if got := row("Steam").text; !strings.Contains(got, "lb/h") {
		t.Errorf("steam in US units is %q", got)
	}
	if got := row("P-101").cells[3]; !strings.HasSuffix(got, " hp") {
		t.Errorf("the shaft is told as %q", got)
	}
	b.selectAndShow(b.tagged("E-101"))
	for _, want := range []string{"Heat needed", "Steam", "Tank hot after", "Mean difference"} {
		if text := b.fact(want); text == "" || text == notFlowing || text == unknownWord {
			t.Errorf("%s of the heater is %q", want, text)
		}
	}
}

// The pointer over the plot of the way marks the place on the drawing: near the
// right end the destination, which the step draws from and returns to.
func TestPointerOnThePlotMarksThePlace(t *testing.T) {
	b := newBench(t)
	b.station()
	b.tabs.pick(3)
	v := b.flows.along
	size := v.raster.Size()
	last, _ := b.solution.Along[len(b.solution.Along)-1].Distance.Get()
	marked := map[model.ID]bool{}
	for x := float32(0); x < size.Width; x += 2 {
		v.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, size.Height/2)}})
		if b.board.pointed != (model.Place{}) {
			marked[b.board.pointed.Element] = true
		}
	}
	if !marked[b.tagged("T-102")] || len(marked) < 10 {
		t.Errorf("over a plot of %.0f m and %v the pointer marks %d things, the tank %v", float64(last), size, len(marked), marked[b.tagged("T-102")])
	}
	v.MouseOut()
	if b.board.pointed != (model.Place{}) || v.dot != nil {
		t.Error("the mark stays when the pointer leaves")
	}
}

// What is missing leads to its field.
func TestMissingLeadsToItsField(t *testing.T) {
	b := newBench(t)
	data, err := assets.Files.ReadFile("demo/pharma-loop-draft.circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	b.OpenCopy("draft", data)
	for _, s := range b.circuit().Steps() {
		b.showStep(s.ID)
		b.flow()
		if len(b.solution.Missing) > 0 && b.circuit().Step(b.solution.Missing[0].Record) == nil {
			break
		}
	}
	b.tabs.pick(3)
	missing := b.solution.Missing
	if len(missing) == 0 {
		t.Fatal("nothing is missing in the draft")
	}
	for i, l := range b.flows.rows {
		if l.head || !strings.HasPrefix(l.text, "Enter: ") {
			continue
		}
		b.flows.list.OnSelected(i)
		if got := b.doc.Selection(); len(got) != 1 || got[0] != missing[0].Record {
			t.Fatalf("%q leads to %v, want %s", l.text, got, missing[0].Record)
		}
		if b.win.Canvas().Focused() != b.props.form.keys[missing[0].Key] {
			t.Errorf("%q leaves the focus on %T", l.text, b.win.Canvas().Focused())
		}
		return
	}
	t.Error("nothing that is missing is listed")
}

// A run without a length leads to the place where its stretches are entered.
func TestMissingLengthLeadsToTheStretches(t *testing.T) {
	b := newBench(t)
	b.station()
	run := b.circuit().RunsAt(b.tagged("PT-101"))[0]
	bare := model.Clone(run)
	bare.Stretches = nil
	if err := b.apply(model.Edit{Label: "forget", Changes: []model.Change{model.Replacing(run, bare)}}); err != nil {
		t.Fatal(err)
	}
	b.flow()
	for i, l := range b.flows.rows {
		if l.run == nil || !l.link || !strings.HasPrefix(l.text, "Enter: ") {
			continue
		}
		b.flows.list.OnSelected(i)
		if x, ok := b.win.Canvas().Focused().(*button); !ok || x.Text != "Add stretch" {
			t.Errorf("%s, %q leaves the focus on %T", l.name, l.text, b.win.Canvas().Focused())
		}
		return
	}
	t.Errorf("the missing length is not listed: %v", b.solution.Missing)
}

// fact gives what a row of the properties tells.
func (b *bench) fact(label string) string {
	b.t.Helper()
	in, _ := row(b.t, b.props.form, label)
	return in.(*widget.Label).Text
}

func TestPropertiesTellTheFlow(t *testing.T) {
	b := newBench(t)
	b.station()
	for _, tt := range []struct{ tag, label, want string }{
		{"P-101", "Duty", "12 m³/h at "},
		{"P-101", "Speed", "89 %"},
		{"P-101", "Shaft power", " kW"},
		{"P-101", "NPSH available", " m"},
		{"SD-201", "Pressure", " bar"},
		{"T-201", "In", "12 m³/h"},
		{"T-201", "Out", "12 m³/h"},
		{"T-102", "Drawn from it", "12 m³/h"},
		{"T-102", "Comes back", "12 m³/h"},
		{"T-101", "Flow", "no flow"},
		{"V-102", "Pressure drop", " bar"},
		{"V-101", "Pressure drop", notFlowing},
		{"E-101", "Pressure drop", " bar"},
	} {
		b.doc.Select(b.tagged(tt.tag))
		if got := b.fact(tt.label); !strings.Contains(got, tt.want) {
			t.Errorf("%s, %s: %q, want %q in it", tt.tag, tt.label, got, tt.want)
		}
	}
	run := b.circuit().RunsAt(b.tagged("PT-101"))[0].ID
	b.doc.Select(run)
	if got := b.fact("Loss"); !strings.Contains(got, " bar, ") {
		t.Errorf("the loss of a run is %q", got)
	}
}

// The tee before the heater's bypass, which stands open, tells the shares; together
// they are the whole.
func TestTeeTellsItsSplit(t *testing.T) {
	b := newBench(t)
	b.demo("oat-drink-station-faults", "Vessel T-201", "Alkali wash")
	split, ok := b.splitAt(b.tagged("TE-151"))
	if !ok {
		t.Fatal("the flow does not divide at the bypass")
	}
	sum := 0.0
	for _, x := range split.Branches {
		sum += float64(x.Share)
	}
	if sum < 1-1e-9 || sum > 1+1e-9 {
		t.Errorf("the shares make %v", sum)
	}
	if got := b.splitWords(split); !strings.Contains(got, "towards V-151") || !strings.Contains(got, "towards E-101") {
		t.Errorf("the split is told as %q", got)
	}
}

// The speed that passes the flow at hand is the speed at hand. DN50 carries 12 m³/h
// below 3 m/s, DN40 (38 mm inside) at 2.94 m/s too, DN32 does not: 4.14 m/s
// (arithmetic on EN 10357 series A).
func TestDesignQuestions(t *testing.T) {
	b := newBench(t)
	b.station()
	run := b.circuit().RunsAt(b.tagged("PT-101"))[0].ID
	b.doc.Select(run)
	b.do(b.actions.design)
	d := b.flows.design
	if !b.overlayOpen() {
		t.Fatal("no dialog opens")
	}
	ask := func(i int, flow string) string {
		d.what.SetSelectedIndex(i)
		b.focus(d.flow)
		d.flow.SetText(flow)
		b.focus(d.ask) // what is typed must outlive the loss of the focus
		test.Tap(d.ask)
		return d.answer.Text
	}
	if got := ask(askSpeed, "12"); !strings.Contains(got, "89 %") || !strings.HasPrefix(got, "P-101") {
		t.Errorf("speed for the flow at hand: %q", got)
	}
	if got := ask(askHead, "12"); !strings.Contains(got, "30.5 m") {
		t.Errorf("head for the flow at hand: %q", got)
	}
	for _, bad := range []string{"", "much", "-3", "0"} {
		if got := ask(askSpeed, bad); got == "" || strings.Contains(got, "%") && !strings.Contains(got, "number") {
			t.Errorf("flow %q is answered %q", bad, got)
		}
	}
	if got := ask(askTube, "400"); !strings.Contains(got, "no tube") && !strings.Contains(got, "No tube") {
		t.Errorf("a tube for 400 m³/h: %q", got)
	}
	if d.give.Visible() {
		t.Error("what was not found is offered as an edit")
	}
	if got := ask(askTube, "12"); !strings.Contains(got, "DN40") || !d.give.Visible() {
		t.Fatalf("tube: %q, offered %v", got, d.give.Visible())
	}
	test.Tap(d.give)
	if size, _ := b.circuit().Run(run).Size.Get(); size != "EN 10357-A DN40" || !strings.Contains(d.answer.Text, "Done") {
		t.Errorf("the run is of %s and the answer reads %q", size, d.answer.Text)
	}
	b.doc.Undo()
	if size, _ := b.circuit().Run(run).Size.Get(); size != "EN 10357-A DN50" {
		t.Errorf("undone, the run is of %s", size)
	}
}

// The bypass valve of the faulty station is to pass less: the Kv that is found is
// entered as one edit and taken back by one undo.
func TestBalanceBranches(t *testing.T) {
	b := newBench(t)
	b.demo("oat-drink-station-faults", "Vessel T-201", "Alkali wash")
	b.do(b.actions.design)
	d := b.flows.design
	d.what.SetSelectedIndex(askBalance)
	at := slices.Index(d.balance.valves, b.tagged("V-151"))
	if at < 0 {
		t.Fatalf("V-151 is not offered: %v", d.balance.valves)
	}
	test.Tap(d.ask)
	if got := d.answer.Text; !strings.Contains(got, "at least one branch") {
		t.Errorf("without a flow the answer is %q", got)
	}
	d.balance.fields[at].SetText("0.5")
	test.Tap(d.ask)
	if got := d.answer.Text; !strings.Contains(got, "V-151 throttled to") || !strings.Contains(got, "of its rated speed") || !d.give.Visible() {
		t.Fatalf("the answer is %q, offered %v", got, d.give.Visible())
	}
	valve := func() *model.Valve { return b.circuit().Part(b.tagged("V-151")).(*model.Valve) }
	before := valve().Kv
	test.Tap(d.give)
	if kv, ok := valve().Kv.Get(); !ok || valve().Kv == before || kv <= 0 {
		t.Errorf("the Kv is %v", valve().Kv)
	}
	b.doc.Undo()
	if valve().Kv != before {
		t.Errorf("undone, the Kv is %v, was %v", valve().Kv, before)
	}
}

// A shortcut that two things answer to does only one of them.
func TestNoTwoActionsShareAShortcut(t *testing.T) {
	b := newBench(t)
	seen := map[string]string{}
	for _, item := range b.items {
		if item.of.shortcut == nil {
			continue
		}
		name := item.of.shortcut.ShortcutName()
		if other, taken := seen[name]; taken {
			t.Errorf("%s is %q and %q", name, other, item.of.title())
		}
		seen[name] = item.of.title()
	}
	if len(seen) < 20 {
		t.Errorf("only %d shortcuts", len(seen))
	}
}
