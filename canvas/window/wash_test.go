package window

import (
	"context"

	"encoding/csv"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"rinsewright/assets"
	"rinsewright/canvas/plot"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/coverage"
	"rinsewright/model/quantity"
)

// washed opens the station at the alkali wash of T-201, looks at a tab and waits for
// the programme to be run.
func (b *bench) washed(tab func() int) {
	b.t.Helper()
	b.t.Cleanup(b.washing.stop)
	b.t.Cleanup(b.player.halt)
	b.station()
	b.tabs.pick(tab())
	b.ran()
}

func (b *bench) atWash() int  { return b.washTab }
func (b *bench) atCover() int { return b.coverTab }

// ran waits for the programme.
func (b *bench) ran() {
	b.t.Helper()
	deadline := time.After(20 * time.Second)
	for !b.washing.fresh() || b.washing.work.busy {
		select {
		case f := <-b.onMain:
			f()
		case <-deadline:
			b.t.Fatal("the programme is not run")
		}
	}
	if !b.washing.ran.ok() {
		b.t.Fatal(b.washing.ran.err)
	}
}

// clocked makes the clock of the play stand until it is moved on.
func (b *bench) clocked() (pass func(time.Duration)) {
	now := time.Now()
	b.player.now = func() time.Time { return now }
	return func(d time.Duration) {
		now = now.Add(d)
		b.player.frame()
	}
}

func lineNamed(rows []flowLine, name string) (flowLine, bool) {
	for _, l := range rows {
		if l.name == name {
			return l, true
		}
	}
	return flowLine{}, false
}

// The first rinse sends 12 m³/h for 5 min: 1000 L by arithmetic, 264 US gallons of
// 3.785411784 L (NIST SP 811, 2008, appendix B.8).
func TestWashTellsUse(t *testing.T) {
	b := newBench(t)
	b.washed(b.atWash)
	rows := b.washPanel.rows
	head, ok := lineNamed(rows, "Use")
	if !ok || len(head.cells) != len(useColumns) || head.cells[1] != "Water L" {
		t.Fatalf("head of the use: %v", head.cells)
	}
	first, ok := lineNamed(rows, "1  First rinse")
	if !ok || first.cells[0] != "5" || first.cells[1] != "1000" {
		t.Errorf("first rinse %v", first.cells)
	}
	if !strings.Contains(first.full, "drawn from the source 1000 L") {
		t.Errorf("told in full: %q", first.full)
	}
	total, ok := lineNamed(rows, "Total")
	sum := quantity.Duration(0)
	for _, s := range b.washing.ran.record.Steps {
		sum += s.Time
	}
	if !ok || total.cells[0] != shortNumber(float64(sum)/60) {
		t.Errorf("total %v of %v s", total.cells, sum)
	}
	for _, want := range []string{"Recovered", "Circulated", "Saved", "Mixed phases", "At the return", "Assumed"} {
		if l, ok := lineNamed(rows, want); !ok {
			t.Errorf("nothing is told of %q", want)
		} else if want == "Circulated" && !strings.Contains(l.text, "heat") {
			t.Errorf("circulated %q", l.text)
		}
	}
	b.setUnits(quantity.US)
	rows = b.washPanel.rows
	head, _ = lineNamed(rows, "Use")
	first, _ = lineNamed(rows, "1  First rinse")
	if head.cells[1] != "Water gal" || first.cells[1] != "264" {
		t.Errorf("in US units %v %v", head.cells, first.cells)
	}
	b.setUnits(quantity.Metric)
}

// A second of play at ten times is ten seconds of the wash; drawing, slider and
// cursor follow.
func TestPlay(t *testing.T) {
	b := newBench(t)
	b.washed(b.atWash)
	pass := b.clocked()
	b.do(b.actions.play.toggle)
	if !b.player.running || b.board.moment == nil {
		t.Fatal("nothing plays")
	}
	for range 10 {
		pass(100 * time.Millisecond)
	}
	if got := float64(b.player.at); math.Abs(got-10) > 1e-6 {
		t.Errorf("after a second at ten times the wash is at %v s", got)
	}
	if got := b.washPanel.bar.slider.Value; got != 10 {
		t.Errorf("the slider stands at %v", got)
	}
	if got := b.shownStep().Name; got != "First rinse" {
		t.Errorf("the step shown is %s", got)
	}
	v := b.washPanel.trends.views[0]
	if v.of != plot.Temperature || !v.cursorShown || math.Abs(v.cursor-10.0/60) > 1e-9 || !strings.Contains(v.text.Text, "supply") {
		t.Errorf("cursor of %s at %v min: %q", v.of, v.cursor, v.text.Text)
	}
	// The supply run is filled in part: water behind a front, air before it.
	found := false
	for _, pieces := range b.board.moment.Pieces {
		found = found || len(pieces) > 1
	}
	if !found {
		t.Error("no run is filled in part")
	}
	b.do(b.actions.play.toggle)
	if b.player.running || b.board.moment == nil {
		t.Error("paused, the moment is not shown any more")
	}
	at := b.player.at
	b.player.skip(1)
	if s := b.washing.ran.record.Steps[1]; b.player.at != s.Start || b.shownStep().ID != s.Step.ID {
		t.Errorf("the next step begins at %v, the play is at %v of %s", s.Start, b.player.at, b.shownStep().Name)
	}
	b.player.skip(-1)
	if b.player.at != 0 || at == 0 {
		t.Errorf("back at %v", b.player.at)
	}
	// A step that is asked for is gone to.
	b.showStep(b.washing.ran.record.Steps[3].Step.ID)
	if b.player.at != b.washing.ran.record.Steps[3].Start {
		t.Errorf("asked for the fourth step the play is at %v", b.player.at)
	}
	// The play ends at the end.
	b.player.seek(b.washing.ran.record.Cycle - 1)
	b.do(b.actions.play.toggle)
	pass(200 * time.Millisecond)
	if b.player.running || b.player.at != b.washing.ran.record.Cycle {
		t.Errorf("behind the end the play runs: %v, at %v", b.player.running, b.player.at)
	}
	b.do(b.actions.play.stop)
	if b.board.moment != nil || b.player.shown {
		t.Error("ended, the moment stays")
	}
}

// A stall of the machine does not skip what was to be seen.
func TestPlayOutlivesAStall(t *testing.T) {
	b := newBench(t)
	b.washed(b.atWash)
	pass := b.clocked()
	b.player.play()
	pass(time.Minute)
	if got := float64(b.player.at); got > usualSpeed*longestFrame.Seconds()+1e-9 {
		t.Errorf("after a stall the wash is at %v s", got)
	}
}

func TestPlayByKeys(t *testing.T) {
	b := newBench(t)
	b.washed(b.atWash)
	b.clocked()
	b.focusBoard()
	key := func(k fyne.KeyName) { b.win.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: k}) }
	key(fyne.KeyT)
	if !b.player.running {
		t.Fatal("T does not play")
	}
	key(fyne.KeyT)
	key(fyne.KeyPeriod)
	if b.player.running || b.player.at != 10 {
		t.Errorf("running %v at %v", b.player.running, b.player.at)
	}
	key(fyne.KeyPageDown)
	if b.player.at != b.washing.ran.record.Steps[1].Start {
		t.Errorf("page down leads to %v", b.player.at)
	}
	speed := b.player.speed
	key(fyne.KeyRightBracket)
	if b.player.speed <= speed {
		t.Error("] is not faster")
	}
	b.do(b.actions.wash.goWash)
	for _, k := range []struct {
		key  fyne.KeyName
		want quantity.Duration
	}{{fyne.KeyHome, 0}, {fyne.KeyRight, 10}, {fyne.KeyRight, 20}, {fyne.KeyLeft, 10}, {fyne.KeyEnd, b.washing.ran.record.Cycle}} {
		key(k.key)
		if b.player.at != k.want {
			t.Errorf("%s on the slider leads to %v, want %v", k.key, b.player.at, k.want)
		}
	}
}

// An edit ends the play, and the programme is run anew.
func TestEditEndsThePlay(t *testing.T) {
	b := newBench(t)
	b.washed(b.atWash)
	b.clocked()
	b.player.seek(400)
	b.player.play()
	old := b.washing.ran
	step := b.shownStep()
	next := model.Clone(step)
	next.Time = quantity.Some(quantity.Duration(600))
	if err := b.apply(model.Edit{Label: "shorten", Changes: []model.Change{model.Replacing(step, next)}}); err != nil {
		t.Fatal(err)
	}
	if b.player.running || b.player.shown || b.board.moment != nil {
		t.Error("the play goes on over an edit")
	}
	if b.washing.ran != nil {
		t.Error("what was run of the circuit before is still shown")
	}
	b.ran()
	if got := b.washing.ran.record.Cycle; got != old.record.Cycle-300 {
		t.Errorf("5 min shorter, the programme takes %v s, took %v", got, old.record.Cycle)
	}
	b.doc.Undo()
	b.ran()
	if got := b.washing.ran.record.Cycle; got != old.record.Cycle {
		t.Errorf("undone, the programme takes %v s", got)
	}
}

func TestWashWithoutProgramme(t *testing.T) {
	b := newBench(t)
	b.tabs.pick(b.washTab)
	if !strings.Contains(b.washPanel.empty.Text, "No programme yet") || !b.washPanel.make.Visible() {
		t.Errorf("told: %q", b.washPanel.empty.Text)
	}
	b.player.toggle() // nothing to play: nothing happens
	if b.player.running {
		t.Error("nothing plays")
	}
	test.Tap(b.washPanel.make)
	if b.tabs.at != 2 {
		t.Error("the button does not lead to the steps")
	}
}

// What could not be simulated stands first and leads to where it can be mended; what
// the use lacks leads to its field.
func TestWashTellsWhatHinders(t *testing.T) {
	b := newBench(t)
	b.t.Cleanup(b.washing.stop)
	open := func(name string) []flowLine {
		data, err := assets.Files.ReadFile("demo/" + name + ".circuit.json")
		if err != nil {
			t.Fatal(err)
		}
		b.OpenCopy(name, data)
		b.tabs.pick(b.washTab)
		b.ran()
		return b.washPanel.rows
	}
	// In the station as found a link on the way is off in the first rinse.
	rows := open("oat-drink-station-faults")
	if rows[0].name != "Not simulated" || !strings.Contains(rows[1].text, "hut on the way") {
		t.Fatalf("first is told %q, %q", rows[0].name, rows[1].text)
	}
	if !strings.Contains(b.washPanel.sum.Text, "the totals are of these alone") {
		t.Errorf("told: %q", b.washPanel.sum.Text)
	}
	b.doc.Select()
	b.washPanel.list.OnSelected(1)
	if len(b.doc.Selection()) != 1 {
		t.Error("it does not lead to the place")
	}
	for i, l := range open("pharma-loop-draft") {
		if !l.link {
			continue
		}
		before := b.win.Canvas().Focused()
		b.washPanel.list.OnSelected(i)
		if b.win.Canvas().Focused() == before {
			t.Errorf("%q leads nowhere", l.text)
		}
		return
	}
	t.Error("nothing that is missing is listed")
}

func TestTrendsAreChosen(t *testing.T) {
	b := newBench(t)
	b.washed(b.atWash)
	g := b.washPanel.trends
	if !g.lit(plot.Temperature) || g.lit(plot.Level) {
		t.Fatal("the usual trends are not shown")
	}
	for _, x := range b.actions.wash.shown {
		if x.short == plot.Level.Title() {
			b.do(x)
			if !x.checked() {
				t.Error("the menu does not tick what it shows")
			}
		}
	}
	level := g.views[3]
	if !level.Visible() || level.Size().Width < trendWide-10 || level.Size().Height < trendHigh-3 {
		t.Errorf("levels %v of %v", level.Visible(), level.Size())
	}
	if len(level.chart.Lines) < 4 || level.chart.Lines[0].Name != "T-101" {
		t.Errorf("levels of %v", level.chart.Lines)
	}
	// A sensor's curve is added to supply and return.
	was := len(g.views[0].chart.Lines)
	g.turnPlace("TT-201")
	if got := len(g.views[0].chart.Lines); got != was+1 {
		t.Errorf("%d curves, were %d", got, was)
	}
	// A click goes there.
	v := g.views[0]
	at, top, bottom := v.chart.Upright(float64(v.Size().Width)/plotZoom, float64(v.Size().Height)/plotZoom, 12)
	v.Tapped(&fyne.PointEvent{Position: fyne.NewPos(float32(at*plotZoom), float32((top+bottom)/2*plotZoom))})
	if got := float64(b.player.at) / 60; math.Abs(got-12) > 0.2 {
		t.Errorf("a click at 12 min goes to %v", got)
	}
}

// The tables that are written hold what was run: the water of the steps is that of
// the total.
func TestWashTables(t *testing.T) {
	b := newBench(t)
	b.washed(b.atWash)
	r := b.washing.ran
	var out strings.Builder
	if err := writeRecords(&out, b.useRecords(r)); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(out.String())).ReadAll()
	if err != nil || len(rows) != len(r.record.Steps)+2 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	column := -1
	for i, name := range rows[0] {
		if name == "water_L" {
			column = i
		}
	}
	sum := 0.0
	for _, row := range rows[1 : len(rows)-1] {
		x, err := strconv.ParseFloat(row[column], 64)
		if err != nil {
			t.Fatal(err)
		}
		sum += x
	}
	total, err := strconv.ParseFloat(rows[len(rows)-1][column], 64)
	if err != nil || math.Abs(total-sum) > 0.01*total || total < 2000 {
		t.Errorf("the steps use %v L of water, the total is %v", sum, total)
	}
	trends := b.trendRecords(r)
	if len(trends) < 1000 || len(trends[0]) != len(trends[1]) {
		t.Errorf("%d rows of trends", len(trends))
	}
	b.do(b.actions.wash.copyUse)
	if got := b.app.Clipboard().Content(); !strings.Contains(got, "water_L\t") {
		t.Errorf("copied: %.60q", got)
	}
	cover := b.coverRecords(r)
	if len(cover) != len(r.cover.Rows)+1 {
		t.Errorf("%d rows of coverage of %d", len(cover), len(r.cover.Rows))
	}
}

// The table of coverage is narrowed, ordered and leads to the drawing. At 12 m³/h
// DN50 has 1.7 m/s (arithmetic), above the limits' 1.5; with limits of 5 m/s all
// that flows would be too slow.
func TestCoverage(t *testing.T) {
	b := newBench(t)
	b.washed(b.atCover)
	p := b.coverPanel
	count := func() int {
		n := 0
		for _, l := range p.rows {
			if l.run != nil {
				n++
			}
		}
		return n
	}
	few := count()
	p.filter.SetSelectedIndex(0)
	all := count()
	if all <= few || all != len(b.washing.ran.cover.Rows) {
		t.Errorf("%d rows, of which %d are not swept at speed", all, few)
	}
	p.sort.SetSelectedIndex(sortWorst)
	worst := b.washing.ran.cover.Rows[p.kept(b.washing.ran)[0]].Worst
	for _, i := range p.kept(b.washing.ran) {
		now := b.washing.ran.cover.Rows[i].Worst
		if now > worst {
			t.Error("a worse row comes later")
		}
		worst = now
	}
	p.search.SetText("T-201")
	if n := count(); n == 0 || n >= all {
		t.Errorf("%d rows of T-201", n)
	}
	for i, l := range p.rows {
		if l.run != nil {
			p.list.OnSelected(i)
			if got := b.doc.Selection(); len(got) != 1 {
				t.Errorf("%q selects %v", l.name, got)
			}
			break
		}
	}
	p.search.SetText("")
	p.medium.SetSelectedIndex(2)
	if b.covering.medium != b.washing.ran.cover.Media[1] {
		t.Errorf("medium %q", b.covering.medium)
	}
	b.do(b.actions.wash.coverShow)
	if b.board.moment == nil || len(b.board.moment.Outlines) == 0 || !p.onDrawing.lit {
		t.Fatal("coverage is not on the drawing")
	}
	if !b.overlayTells("Coverage of Vessel T-201: alkali; at speed from 1.5 m/s") || !b.overlayTells("not reached") {
		t.Error("no key tells what the lines mean")
	}
	// A play takes its place, and the other way round.
	b.player.seek(30)
	if b.covering.shown || p.onDrawing.lit || len(b.board.moment.Outlines) != 0 {
		t.Error("coverage stays under the play")
	}
	b.do(b.actions.wash.coverShow)
	if b.player.shown || len(b.board.moment.Outlines) == 0 {
		t.Error("the play stays under the coverage")
	}
	b.do(b.actions.wash.coverShow)
	if b.board.moment != nil {
		t.Error("coverage stays on the drawing")
	}
	for _, s := range coverage.States()[1:] {
		if strings.TrimSpace(s.String()) == "" {
			t.Error("a state without words")
		}
	}
}

func (b *bench) overlayTells(text string) bool {
	for i := range b.board.over.texts.used {
		if strings.Contains(b.board.over.texts.all[i].Text, text) {
			return true
		}
	}
	return false
}

// Nothing of the wash is cut off in a small window.
func TestWashFitsASmallWindow(t *testing.T) {
	b := newBench(t)
	b.washed(b.atWash)
	for _, size := range []fyne.Size{fyne.NewSize(1280, 800), fyne.NewSize(1920, 1080)} {
		b.win.Resize(size)
		bar := b.washPanel.bar
		wide := b.washPanel.root.Size().Width
		for _, o := range []fyne.CanvasObject{bar.programme, bar.toggle, bar.next, bar.stop, bar.slider, bar.told, bar.speed} {
			if o.Size().Width < 20 || o.Position().X+o.Size().Width > wide+1 {
				t.Errorf("%v: %T lies from %v over %v of %v", size, o, o.Position().X, o.Size().Width, wide)
			}
		}
		if bar.slider.Size().Width < barSlider {
			t.Errorf("%v: the slider is %v wide", size, bar.slider.Size().Width)
		}
	}
}

// BenchmarkPlayFrame is one frame of a play of the demo: the picture of the moment,
// painted as large as the board is in a window of 1280 by 800 and of 1920 by 1080.
func BenchmarkPlayFrame(b *testing.B) {
	for _, size := range []struct {
		name string
		w, h int
	}{{"1280x800", 784, 458}, {"1920x1080", 1290, 640}} {
		b.Run(size.name, func(b *testing.B) {
			c, err := circuitfile.Decode(demos()[0].file, demos()[0].data)
			if err != nil {
				b.Fatal(err)
			}
			w := benchWindow(b, c)
			name := w.circuit().Steps()[0].Programme
			w.washing.take(runWash(context.Background(), w.circuit(), catalogue.Builtin(), name, w.leastVelocity(), false))
			w.showStep(w.circuit().Steps()[0].ID)
			w.board.fit()
			now := time.Now()
			w.player.now = func() time.Time { return now }
			w.player.play()
			for b.Loop() {
				now = now.Add(framePause)
				w.player.frame()
				w.player.timer.Stop()
				w.board.paint(size.w, size.h)
				if !w.player.running {
					w.player.play()
				}
			}
			w.player.halt()
		})
	}
}

// A programme that cleans nothing promises nothing: the table does not say that all of it
// is met.
func TestCoverageOfAProgrammeThatCleansNothing(t *testing.T) {
	b := newBench(t)
	i := slices.IndexFunc(demos(), func(d demo) bool { return d.file == "oat-mixing-station.circuit.json" })
	b.OpenCopy(demos()[i].file, demos()[i].data)
	t.Cleanup(b.washing.stop)
	b.step("Make up alkali", "Dose and warm")
	b.tabs.pick(b.coverTab)
	b.ran()
	if text := b.coverPanel.sumWords(); !strings.HasPrefix(text, "Nothing is promised") {
		t.Errorf("the sum tells %q", text)
	}
	for _, l := range b.coverPanel.rows {
		if strings.Contains(l.text, "All that is promised") {
			t.Errorf("the table tells %q", l.text)
		}
	}
}
