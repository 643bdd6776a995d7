package window

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"rinsewright/model"
	"rinsewright/model/circuitfile"
	"rinsewright/model/quantity"
)

// signed is demoBench whose user has told a name.
func signed(t *testing.T) *bench {
	t.Helper()
	b := demoBench(t)
	b.app.Preferences().SetString(prefReviewer, "A. Reviewer")
	return b
}

// setMark fills the dialog for a new mark in.
func (b *bench) setMark(class int, text string) *model.Mark {
	b.t.Helper()
	d := b.audit.noting
	if d == nil || !b.overlayOpen() {
		b.t.Fatal("nobody asks for the text of a mark")
	}
	d.class.SetSelectedIndex(class)
	d.text.SetText(text)
	n := len(b.circuit().Marks())
	d.take()
	if len(b.circuit().Marks()) != n+1 {
		b.t.Fatalf("no mark was set: %s", d.wrong.Text)
	}
	marks := b.circuit().Marks()
	return marks[len(marks)-1]
}

// waitFor runs what comes to the main goroutine until something is so.
func (b *bench) waitFor(what string, is func() bool) {
	b.t.Helper()
	limit := time.After(60 * time.Second)
	for !is() {
		select {
		case f := <-b.onMain:
			f()
		case <-limit:
			b.t.Fatalf("waited in vain for %s", what)
		}
	}
}

func TestMarksByHand(t *testing.T) {
	b := signed(t)
	before := b.circuit()
	v := before.Tagged("V-202")[0].(model.Part)
	b.board.setView(fitted(b.drawing().Bounds(v.RecordID()).Grown(40), b.board.Size()))

	// On a part.
	b.do(b.actions.audit.place)
	b.click(b.drawing().Box(v).Centre(), 0)
	onPart := b.setMark(0, "Fit a position switch")
	if onPart.Pin.On != v.RecordID() || onPart.Class != model.MarkMust || onPart.State() != model.MarkOpen || onPart.History[0].By != "A. Reviewer" {
		t.Errorf("the mark on the part is %+v", onPart)
	}
	// At a place of a run.
	var run *model.Run
	for _, r := range b.circuit().Runs() {
		if l := b.drawing().Line(r); len(l) == 2 && b.drawing().Bounds(r.ID).Width() > 40 {
			run = r
		}
	}
	line := b.drawing().Line(run)
	at := model.Point{X: line[0].X + (line[1].X-line[0].X)*0.3, Y: line[0].Y}
	b.board.setView(fitted(b.drawing().Bounds(run.ID).Grown(20), b.board.Size()))
	b.do(b.actions.audit.place)
	b.click(at, 0)
	onRun := b.setMark(1, "More fall here")
	if share, ok := onRun.Pin.Along.Get(); onRun.Pin.On != run.ID || !ok || share < 0.28 || share > 0.32 {
		t.Errorf("the mark at 30 %% of a run is pinned at %+v", onRun.Pin)
	}
	// An area.
	b.board.fit()
	all := b.drawing().Bounds()
	b.do(b.actions.audit.place)
	b.drag(all.Min.Add(model.Point{X: 5, Y: 5}), all.Min.Add(model.Point{X: 80, Y: 60}))
	area := b.setMark(2, "Why is it drawn here?")
	if area.Pin.On != "" || area.Pin.At == nil || area.Pin.To == nil {
		t.Errorf("the area is pinned at %+v", area.Pin)
	}
	// The whole circuit, by key.
	b.board.TypedKey(&fyne.KeyEvent{Name: fyne.KeyK})
	b.board.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	whole := b.setMark(3, "Well tagged")
	if whole.Pin != (model.Pin{}) || whole.Class != model.MarkPraise {
		t.Errorf("the mark on the whole is %+v", whole)
	}

	// Parts, runs and steps are untouched.
	now := b.circuit()
	if len(now.Parts()) != len(before.Parts()) || now.Part(v.RecordID()) != before.Part(v.RecordID()) || now.Run(run.ID) != before.Run(run.ID) {
		t.Error("setting marks has changed the circuit's parts")
	}
	if got := b.tabs.titles[b.audit.marksTab].text; !strings.HasPrefix(got, "Marks  ") || strings.HasSuffix(got, " 0") {
		t.Errorf("the tab is called %q", got)
	}
	// Undo takes one back, redo brings it again.
	b.do(b.actions.undo)
	if b.circuit().Mark(whole.ID) != nil {
		t.Error("undo left the mark")
	}
	b.do(b.actions.redo)
	if b.circuit().Mark(whole.ID) == nil {
		t.Error("redo did not bring the mark back")
	}
	// The signs stand on the board with their numbers, and a click picks one.
	b.board.refreshOverlay()
	if told := strings.Join(b.told(), "|"); !strings.Contains(told, markName(onPart)) || !strings.Contains(told, markName(area)) {
		t.Errorf("the board tells %q", told)
	}
	p, _ := b.audit.pinner.signPoint(area, map[model.Point]int{})
	b.press(b.board.view.at(p), desktop.MouseButtonPrimary, 0)
	b.release(b.board.view.at(p), desktop.MouseButtonPrimary)
	if b.audit.marks.picked != area.ID {
		t.Errorf("a click on the sign picks %q", b.audit.marks.picked)
	}
	if len(pinsOf(b.Window)) < 3 {
		t.Error("the marks are not on paper")
	}
}

func TestMarkListAndStates(t *testing.T) {
	b := signed(t)
	p := b.audit.marks
	n := len(p.shown)
	if n < 2 {
		t.Fatalf("the demo has %d marks", n)
	}
	b.do(b.actions.audit.next)
	first := p.picked
	b.do(b.actions.audit.next)
	if p.picked == first || p.picked == "" {
		t.Error("F7 does not go on")
	}
	b.do(b.actions.audit.last)
	if p.picked != first {
		t.Error("Shift+F7 does not go back")
	}
	// State with a word to it.
	p.detail.said.SetText("seen on site")
	p.detail.setState(first, quantity.Some(model.MarkDone))
	k := b.circuit().Mark(first)
	last := k.History[len(k.History)-1]
	if k.State() != model.MarkDone || last.By != "A. Reviewer" || last.Text != "seen on site" || last.At == "" {
		t.Errorf("the mark is %s, last %+v", k.State(), last)
	}
	p.state.SetSelected(notSettled)
	for _, x := range p.shown {
		if settledMark(x) {
			t.Errorf("%s is settled and listed", markName(x))
		}
	}
	p.state.SetSelected(anyState)
	p.search.SetText(string(first))
	if len(p.shown) != 1 || p.shown[0].ID != first {
		t.Errorf("%d marks found by id", len(p.shown))
	}
	p.search.SetText("")
	// An empty text is refused, another is taken.
	p.pickMark(first)
	p.detail.text.SetText(" ")
	p.detail.text.commit()
	if b.circuit().Mark(first).Text == "" {
		t.Error("an empty text was taken")
	}
	p.detail.text.SetText("Other words")
	p.detail.text.commit()
	if got := b.circuit().Mark(first).Text; got != "Other words" {
		t.Errorf("the text is %q", got)
	}
}

// The name is asked once.
func TestNameIsAskedOnce(t *testing.T) {
	b := demoBench(t)
	b.app.Preferences().SetString(prefReviewer, "")
	asked := 0
	b.named(func(string) { asked++ })
	if asked != 0 || !b.overlayOpen() {
		t.Fatal("the name is not asked for")
	}
	e := b.win.Canvas().Focused().(*searchEntry)
	e.OnSubmitted("") // no name: it stays
	if !b.overlayOpen() {
		t.Fatal("no name was taken for one")
	}
	test.Type(e, "B. Second")
	e.OnSubmitted(e.Text)
	b.named(func(name string) {
		if name == "B. Second" {
			asked++
		}
	})
	if asked != 2 || b.overlayOpen() {
		t.Errorf("told %d times", asked)
	}
}

func TestMarksAloneGoAndComeBack(t *testing.T) {
	b := signed(t)
	file := filepath.Join(t.TempDir(), "plant.circuit.json")
	b.exportMarks()
	b.chooser.path.SetText(file)
	b.chooser.take()
	alone, err := circuitfile.ReadFile(file)
	if err != nil || len(alone.Parts()) != 0 || len(alone.Marks()) != len(b.circuit().Marks()) {
		t.Fatalf("marks alone: %v", err)
	}
	// Somebody else answers one and sets another.
	old := alone.Marks()[0]
	next := model.Clone(old)
	next.History = append(next.History, model.Entry{At: "2099-01-01T00:00:00Z", By: "C. Other", State: quantity.Some(model.MarkAgreed), Text: "yes"})
	more := &model.Mark{ID: "m-theirs", Number: alone.NextMarkNumber(), Class: model.MarkShould, Text: "Theirs", Pin: model.Pin{On: old.Pin.On}}
	alone, err = alone.Apply(model.Edit{Changes: []model.Change{model.Replacing(old, next), model.Adding(more)}})
	if err != nil {
		t.Fatal(err)
	}
	data, err := circuitfile.Encode(alone)
	if err != nil || os.WriteFile(file, data, 0o600) != nil {
		t.Fatal(err)
	}
	before := b.circuit()
	b.mergeMarksOf(file)
	if k := b.circuit().Mark(old.ID); k.State() != model.MarkAgreed {
		t.Errorf("their answer did not come: %s", k.State())
	}
	if k := b.circuit().Mark("m-theirs"); k == nil || k.Pin.On != old.Pin.On {
		t.Errorf("their mark is %+v", k)
	}
	b.dismiss()
	b.do(b.actions.undo)
	if b.circuit() != before {
		// Another snapshot with the same content is as good.
		a, _ := circuitfile.Encode(before)
		c, _ := circuitfile.Encode(b.circuit())
		if string(a) != string(c) {
			t.Error("one undo does not take the merge back")
		}
	}
}

// dismiss takes dialogs down.
func (b *bench) dismiss() {
	for b.overlayOpen() {
		b.win.Canvas().Overlays().Remove(b.win.Canvas().Overlays().Top())
	}
}

func TestChecklistIsAnswered(t *testing.T) {
	b := signed(t)
	p := b.audit.asked
	open := p.open
	if open < 10 || b.tabs.titles[b.audit.askedTab].text != "Checklist  "+itoa(open) {
		t.Fatalf("%d open, the tab is %q", open, b.tabs.titles[b.audit.askedTab].text)
	}
	b.do(b.actions.audit.nextOpen)
	it := p.detail.item
	if p.picked == "" || it.Question == nil {
		t.Fatal("F9 picks no question")
	}
	p.detail.answer(model.ReplyYes)
	p.detail.evidence.SetText("Certificate 12")
	p.detail.evidence.commit()
	var a *model.Answer
	for _, x := range b.circuit().Answers() {
		if x.Question == it.Question.ID && x.On == it.On {
			a = x
		}
	}
	if a == nil || a.Reply != model.ReplyYes || a.Evidence != "Certificate 12" || a.By != "A. Reviewer" || a.Date == "" {
		t.Fatalf("the answer is %+v", a)
	}
	if p.open != open-1 {
		t.Errorf("%d open after one answer of %d", p.open, open)
	}
	p.onlyOpe.set(true)
	p.picked = ""
	p.filter()
	if len(p.shown) != open-1 {
		t.Errorf("%d listed of %d open", len(p.shown), open-1)
	}
	p.onlyOpe.set(false)
	p.filter()
	// For all parts of a sort at once.
	for i := range p.shown {
		if x := p.shown[i]; x.On != "" && x.Answer == nil {
			p.list.Select(i)
			break
		}
	}
	asked := p.detail.item.Question.ID
	n := 0
	for i := range p.items {
		if p.items[i].Question.ID == asked {
			n++
		}
	}
	was := p.open
	p.detail.all.SetChecked(true)
	p.detail.answer(model.ReplyNone)
	if n < 2 || p.open != was-n {
		t.Errorf("%d are open of %d after one answer for %d", p.open, was, n)
	}
	p.detail.date.SetText("yesterday")
	p.detail.date.commit()
	if b.circuit().Answers()[0].Date == "yesterday" {
		t.Error("a date that is none was taken")
	}
}

func itoa(n int) string { return strconv.Itoa(n) }

func TestCompareAndExport(t *testing.T) {
	b := signed(t)
	old := b.circuit()
	p := b.audit.compare
	if !p.empty.Visible() || !strings.Contains(p.empty.Text, "Compare with a file") {
		t.Errorf("before anything is compared the tab reads %q", p.empty.Text)
	}
	v := old.Tagged("V-202")[0].(model.Part)
	s := old.Tagged("V-201")[0].(model.Part)
	if err := b.apply(b.drawing().Move([]model.ID{v.RecordID()}, model.Point{X: 5, Y: 5})); err != nil {
		t.Fatal(err)
	}
	if err := b.apply(b.drawing().Delete([]model.ID{s.RecordID()})); err != nil {
		t.Fatal(err)
	}
	vessel := old.Tagged("T-201")[0].RecordID()
	b.try(b.drawing().SetProperty([]model.ID{vessel}, "diameter_m", "1.9", quantity.Metric))
	b.checks()
	p.begin(old, "old.circuit.json")
	b.waitFor("the findings of the old one", func() bool { return p.between != nil })
	has := func(what, status, name, label string) bool {
		for _, l := range p.lines {
			if l.what == what && l.status == status && strings.Contains(l.name, name) && strings.Contains(strings.ToLower(l.label), label) {
				return true
			}
		}
		return false
	}
	for _, want := range [][4]string{{"part", "removed", "V-201", ""}, {"part", "changed", "T-201", "diameter"}, {"part", "moved", "V-202", ""}} {
		if !has(want[0], want[1], want[2], want[3]) {
			t.Errorf("%v is not told", want)
		}
	}
	if len(p.between.Came)+len(p.between.Went) == 0 {
		t.Error("no finding came or went although a valve is gone")
	}
	// The old is drawn with broken lines.
	b.board.fit()
	lines := b.board.over.lines.used
	if lines < 10 {
		t.Errorf("%d lines over the drawing", lines)
	}
	var out strings.Builder
	if err := p.writeCSV(&out); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(out.String())).ReadAll()
	if err != nil || len(rows) < 4 || rows[0][0] != "what" {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	var object struct {
		Same        bool
		Differences []struct{ ID, Status string }
	}
	out.Reset()
	if err := p.writeJSON(&out); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal([]byte(out.String()), &object); err != nil || object.Same || len(object.Differences) != len(p.is.Differences) {
		t.Errorf("the JSON tells %+v, %v", object, err)
	}
	for i := range p.shown {
		p.pick(i) // also what is gone
	}
	p.end()
	if b.tabs.titles[b.audit.compTab].text != "Compare" || p.old != nil || len(p.shown) > 0 {
		t.Error("the comparison does not end")
	}
}

func TestMergeOneByOne(t *testing.T) {
	b := signed(t)
	base := b.circuit()
	vessel := base.Tagged("T-201")[0].RecordID()
	other := base.Tagged("T-202")[0].RecordID()
	theirs := base
	put := func(c *model.Circuit, id model.ID, d float64) *model.Circuit {
		old := c.Part(id).(*model.Vessel)
		next := model.Clone(old)
		next.Diameter = quantity.Some(quantity.Length(d))
		c, err := c.Apply(model.Edit{Changes: []model.Change{model.Replacing(old, next)}})
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	theirs = put(put(theirs, vessel, 2.6), other, 2.7)
	b.try(b.drawing().SetProperty([]model.ID{vessel}, "diameter_m", "1.9", quantity.Metric))
	b.mergeWith(base, theirs)
	d := b.audit.merging
	if len(d.choose) != 1 || d.merge.Unresolved() != 1 {
		t.Fatalf("%d conflicts, %s", len(d.choose), d.told.Text)
	}
	d.take()
	if !b.overlayOpen() || !strings.Contains(d.told.Text, "Decide") {
		t.Error("a merge with an open conflict was taken")
	}
	d.choose[0].SetSelected("theirs")
	d.take()
	got := func(id model.ID) float64 { return float64(b.circuit().Part(id).(*model.Vessel).Diameter.Or(0)) }
	if got(vessel) != 2.6 || got(other) != 2.7 {
		t.Errorf("merged diameters %v and %v", got(vessel), got(other))
	}
	b.do(b.actions.undo)
	if got(vessel) != 1.9 || got(other) == 2.7 {
		t.Errorf("after undo %v and %v", got(vessel), got(other))
	}
}

func TestReportFromTheWindow(t *testing.T) {
	b := signed(t)
	f := b.findings.shown[0]
	b.findings.list.Select(0)
	b.do(b.actions.audit.onFinding)
	k := b.setMark(0, "Close it by spring, please")
	if k.Finding != f.ID {
		t.Errorf("the mark is about %q", k.Finding)
	}
	b.checks()
	b.do(b.actions.audit.report)
	d := b.audit.report
	d.chapters["lists"].SetChecked(false)
	d.choose()
	path := filepath.Join(t.TempDir(), "r.pdf")
	b.chooser.path.SetText(path)
	b.chooser.take()
	b.waitFor("the report", func() bool { _, err := os.Stat(path); return err == nil })
	out, err := exec.Command("pdftotext", "-raw", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(string(out)), "")
	for _, want := range []string{f.ID, "Close it by spring, please", "A. Reviewer", string(k.ID)} {
		if !strings.Contains(text, strings.Join(strings.Fields(want), "")) {
			t.Errorf("the report does not tell %q", want)
		}
	}
	if b.overlayOpen() {
		t.Error("a dialog stays after the report")
	}
}

// Each panel of the audit fits where it stands, also with US units and in the dark.
func TestAuditFitsTheWindow(t *testing.T) {
	b := signed(t)
	b.setLook(LookDark)
	b.setUnits(quantity.US)
	b.audit.compare.begin(b.circuit(), "itself")
	if most := b.tabs.header.MinSize().Width; most > 1280 {
		t.Errorf("the row of tabs is %v wide", most)
	}
	for _, tab := range []int{b.audit.marksTab, b.audit.askedTab, b.audit.compTab} {
		b.audit.show(tab)
		if w := b.tabs.bodies[tab].MinSize().Width; w > 1280 {
			t.Errorf("tab %d needs %v units", tab, w)
		}
	}
	b.do(b.actions.audit.report)
	if s := b.win.Canvas().Overlays().Top().MinSize(); s.Width > 1280 || s.Height > 800 {
		t.Errorf("the dialog of the report needs %v", s)
	}
	b.dismiss()
	b.do(b.actions.audit.onCircuit)
	if s := b.win.Canvas().Overlays().Top().MinSize(); s.Width > 1280 || s.Height > 800 {
		t.Errorf("the dialog of a mark needs %v", s)
	}
}

// What a report tells by its id is found in the window by it.
func TestIdsOfTheReportAreFound(t *testing.T) {
	b := signed(t)
	f := b.findings.all[7]
	b.findings.search.SetText(f.ID)
	if len(b.findings.shown) != 1 || b.findings.shown[0].ID != f.ID {
		t.Errorf("%d findings found by the id %s", len(b.findings.shown), f.ID)
	}
	for _, id := range []model.ID{b.circuit().Parts()[3].RecordID(), b.circuit().Runs()[5].ID, b.circuit().Steps()[1].ID} {
		found := b.drawing().Find(string(id), b.system)
		if len(found) == 0 || !slices.Contains(found, id) {
			t.Errorf("%s is not found by its id: %v", id, found)
		}
	}
}
