package window

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// row finds the input and the message of a field by its label.
func row(t *testing.T, f *form, label string) (fyne.CanvasObject, *widget.Label) {
	t.Helper()
	for _, o := range f.box.Objects {
		box, ok := o.(*fyne.Container)
		if !ok || len(box.Objects) != 2 {
			continue
		}
		line, ok := box.Objects[0].(*fyne.Container)
		if !ok || len(line.Objects) < 2 {
			continue
		}
		if l, ok := line.Objects[0].(*widget.Label); ok && l.Text == label {
			in := line.Objects[1]
			if o, ok := in.(*container.ThemeOverride); ok {
				in = o.Content
			}
			return in, box.Objects[1].(*widget.Label)
		}
	}
	t.Fatalf("no field %q", label)
	return nil, nil
}

func TestPropertiesTypedWithUnits(t *testing.T) {
	b := newBench(t)
	id := b.bring("process-vessel", model.Point{X: 60, Y: 60}).RecordID()
	in, message := row(t, b.props.form, "Inside diameter")
	e := in.(*fieldEntry)
	e.SetText("10 ft")
	e.commit()
	d, ok := b.circuit().Part(id).(*model.Vessel).Diameter.Get()
	if !ok || d < 3.048-1e-9 || d > 3.048+1e-9 { // 1 ft = 0.3048 m by definition
		t.Errorf("10 ft became %v m (%v)", d, ok)
	}
	if e.Text != "3.048" {
		t.Errorf("the field reads %q, want 3.048", e.Text)
	}

	// What cannot be is refused beside the field and changes nothing.
	before := b.circuit()
	e.SetText("wide")
	e.commit()
	if !message.Visible() || !strings.Contains(message.Text, "number") {
		t.Errorf("message is %q", message.Text)
	}
	if b.circuit() != before {
		t.Error("a text that is no number has changed the circuit")
	}
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if e.Text != "3.048" || message.Visible() {
		t.Errorf("Escape leaves %q and the message %v", e.Text, message.Visible())
	}

	// Empty is unknown, not zero.
	e.SetText("")
	e.commit()
	if b.circuit().Part(id).(*model.Vessel).Diameter.Known() {
		t.Error("an empty field is not unknown")
	}

	b.setUnits(quantity.US)
	in, _ = row(t, b.props.form, "Inside height")
	in.(*fieldEntry).SetText("10")
	in.(*fieldEntry).commit()
	if h, _ := b.circuit().Part(id).(*model.Vessel).Height.Get(); h < 3.048-1e-9 || h > 3.048+1e-9 {
		t.Errorf("10 in US units became %v m", h)
	}
}

func TestPropertiesThreeStatesAndChoice(t *testing.T) {
	b := newBench(t)
	id := b.bring("centrifugal-pump", model.Point{X: 60, Y: 60}).RecordID()
	in, _ := row(t, b.props.form, "Casing drain")
	c := in.(*choiceField)
	for _, want := range []string{"yes", "no", unknownWord} {
		c.SetSelected(want)
		v, known := b.circuit().Part(id).(*model.Pump).CasingDrain.Get()
		if known != (want != unknownWord) || known && v != (want == "yes") {
			t.Errorf("%s gives %v, known %v", want, v, known)
		}
	}
}

func TestPropertiesOfSeveralTogether(t *testing.T) {
	b := newBench(t)
	one := b.bring("butterfly-valve", model.Point{X: 40, Y: 40}).RecordID()
	two := b.bring("seat-valve", model.Point{X: 90, Y: 40}).RecordID()
	b.doc.Select(one, two)
	in, _ := row(t, b.props.form, "Elevation")
	e := in.(*fieldEntry)
	e.SetText("1.2")
	e.commit()
	for _, id := range []model.ID{one, two} {
		if h, ok := b.circuit().Part(id).Meta().Elevation.Get(); !ok || h != 1.2 {
			t.Errorf("%s: elevation %v (%v)", id, h, ok)
		}
	}
	b.do(b.actions.undo)
	if b.circuit().Part(one).Meta().Elevation == b.circuit().Part(two).Meta().Elevation && b.circuit().Part(one).Meta().Elevation.Or(0) == 1.2 {
		t.Error("one undo does not take both back")
	}
	for _, label := range []string{"Tag"} {
		for _, o := range b.props.form.box.Objects {
			if box, ok := o.(*fyne.Container); ok && len(box.Objects) == 2 {
				if line, ok := box.Objects[0].(*fyne.Container); ok {
					if l, ok := line.Objects[0].(*widget.Label); ok && l.Text == label {
						t.Error("several things could be given the same tag")
					}
				}
			}
		}
	}
}

func TestRunStretches(t *testing.T) {
	b := newBench(t)
	tank := b.bring("water-tank", model.Point{X: 60, Y: 60})
	pump := b.bring("centrifugal-pump", model.Point{X: 140, Y: 110})
	b.click(model.Point{X: 250, Y: 150}, 0)
	b.drag(b.port(tank, "outlet"), b.port(pump, "a"))
	id := b.circuit().Runs()[0].ID
	b.doc.Select(id)
	b.try(b.drawing().SetProperty([]model.ID{id}, "size", "EN 10357-A DN50", b.units()))
	b.try(b.drawing().AddStretch(id, 0))
	b.try(b.drawing().SetStretch(id, 0, "length_m", "4", b.units()))
	fact := func(label string) string {
		in, _ := row(t, b.props.form, label)
		return in.(*widget.Label).Text
	}
	if got := fact("Length"); got != "4 m" {
		t.Errorf("length reads %q", got)
	}
	// DN50 of EN 10357 series A is 53 mm by 1.5 mm: bore 50 mm, so 4 m hold
	// pi/4 · 0.050² · 4 m³ = 7.854 L.
	if got := fact("Hold-up"); got != "7.85 L" {
		t.Errorf("hold-up reads %q, want 7.85 L", got)
	}
	if got := fact("Rise"); got != "unknown" {
		t.Errorf("rise reads %q although it was never told", got)
	}
}

func TestFindingsFilterAndJump(t *testing.T) {
	b := newBench(t)
	list := demos()
	if len(list) == 0 {
		t.Fatal("no demo circuit")
	}
	b.OpenCopy(list[0].file, list[0].data)
	b.checks()
	p := b.findings
	if len(p.all) < 5 {
		t.Fatalf("the demo has %d findings, too few to filter", len(p.all))
	}
	all := len(p.shown)
	// Severity: switched off, its findings go and no others.
	count := 0
	for _, f := range p.all {
		if f.Severity == p.all[0].Severity {
			count++
		}
	}
	p.marks[p.all[0].Severity].OnTapped()
	if got := len(p.shown); got != all-count {
		t.Errorf("%d shown without %s, want %d", got, p.all[0].Severity, all-count)
	}
	p.marks[p.all[0].Severity].OnTapped()
	// Words: every row that stays has them.
	where := p.all[0].Where
	p.search.SetText(where)
	if len(p.shown) == 0 || len(p.shown) == all {
		t.Errorf("%q filters %d to %d", where, all, len(p.shown))
	}
	for i := range p.shown {
		f := &p.shown[i]
		text := strings.ToLower(p.title(f) + " " + f.Where + " " + f.Text(b.units()))
		for _, word := range strings.Fields(strings.ToLower(where)) {
			if !strings.Contains(text, word) {
				t.Errorf("%s stays without %q", f.ID, word)
			}
		}
	}
	p.search.SetText("")
	// Rule.
	p.rule.SetSelected(p.title(&p.all[0]))
	for i := range p.shown {
		if p.shown[i].Rule != p.all[0].Rule {
			t.Errorf("%s passes the filter of %s", p.shown[i].Rule, p.all[0].Rule)
		}
	}
	p.rule.SetSelected(anyRule)

	// A row leads to its place.
	for i := range p.shown {
		f := p.shown[i]
		if _, ok := b.board.spot(b.drawing(), f.At); !ok {
			continue
		}
		b.board.setView(b.board.view.moved(1e6, 1e6)) // far away
		p.list.Select(i)
		at, _ := b.board.spot(b.drawing(), f.At)
		if !b.board.view.shown(b.board.Size()).Contains(at) {
			t.Errorf("%s is at %v, shown is %v", f.ID, at, b.board.view.shown(b.board.Size()))
		}
		if b.board.picked == nil || b.board.picked.ID != f.ID || p.detail.id != f.ID {
			t.Errorf("%s is not lit up or not told", f.ID)
		}
		break
	}
	first := p.picked
	b.do(b.actions.nextFinding)
	if p.picked == first {
		t.Error("the next finding is the same")
	}
	b.do(b.actions.lastFinding)
	if p.picked != first {
		t.Errorf("back from the next finding stands %s, want %s", p.picked, first)
	}
}

// A remedy is an edit like any other: applied, the finding goes; undone, it is
// there again.
func TestRemedyCuresAndUndoes(t *testing.T) {
	b := newBench(t)
	b.OpenCopy(demos()[0].file, demos()[0].data)
	b.checks()
	for _, f := range b.result.Findings {
		if len(f.Fixes) == 0 {
			continue
		}
		b.applyRemedy(f.Fixes[0])
		b.checks()
		for _, g := range b.result.Findings {
			if g.ID == f.ID {
				t.Errorf("%s is still there after %q", f.ID, f.Fixes[0].Message)
			}
		}
		b.do(b.actions.undo)
		b.checks()
		back := false
		for _, g := range b.result.Findings {
			back = back || g.ID == f.ID
		}
		if !back {
			t.Errorf("%s does not come back with undo", f.ID)
		}
		return
	}
	t.Fatal("no finding of the demo has a remedy")
}

func TestStepsGridCyclesPositions(t *testing.T) {
	b := newBench(t)
	valve := b.bring("butterfly-valve", model.Point{X: 60, Y: 60}).RecordID()
	pump := b.bring("centrifugal-pump", model.Point{X: 120, Y: 60}).RecordID()
	b.do(b.actions.addStep)
	step := func() *model.Step { return b.circuit().Steps()[0] }
	if len(b.steps.columns) != 2 || b.shownStep() != step() {
		t.Fatalf("%d columns, shown step %v", len(b.steps.columns), b.shownStep())
	}
	col := func(id model.ID) int {
		for i, p := range b.steps.columns {
			if p.RecordID() == id {
				return i
			}
		}
		return -1
	}
	v := b.circuit().Part(valve).(*model.Valve)
	kind := b.cat.Kind(v.Kind)
	normal, _ := positionOf(v, kind, nil)
	b.steps.cycle(0, col(valve))
	if got, moved := positionOf(v, kind, step()); got == normal || !moved {
		t.Errorf("a click leaves the valve %s", got)
	}
	b.steps.cycle(0, col(valve))
	if got, moved := positionOf(v, kind, step()); got != normal || moved {
		t.Errorf("two clicks of a two-position valve give %s", got)
	}
	b.steps.cycle(0, col(pump))
	if len(step().Running) != 1 || step().Running[0] != pump {
		t.Errorf("running is %v", step().Running)
	}
	b.do(b.actions.undo)
	if len(step().Running) != 0 {
		t.Error("the pump still runs after undo")
	}
}

// Ctrl+Z belongs to the text that is half typed, and to the drawing once it is
// taken over.
func TestUndoGoesToTheFieldFirst(t *testing.T) {
	b := newBench(t)
	id := b.bring("process-vessel", model.Point{X: 60, Y: 60}).RecordID()
	e := b.props.form.keys["diameter_m"].(*fieldEntry)
	was := e.Text
	b.focus(e)
	e.SetText("")
	for _, r := range "2.5" {
		e.TypedRune(r)
	}
	before := b.circuit()
	b.do(b.actions.undo)
	if b.circuit() != before {
		t.Fatal("the drawing was undone while a value was half typed")
	}
	e.SetText("2.5")
	e.commit()
	if d, _ := b.circuit().Part(id).(*model.Vessel).Diameter.Get(); d != 2.5 {
		t.Fatalf("diameter is %v", d)
	}
	b.do(b.actions.undo)
	if e.Text != was || b.circuit().Part(id).(*model.Vessel).Diameter.Or(0) == 2.5 {
		t.Errorf("after undo the field reads %q, was %q", e.Text, was)
	}
}
