package window

import (
	"encoding/csv"
	"encoding/xml"
	"io"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/edit"
	"rinsewright/model"
	"rinsewright/model/programme"
	"rinsewright/model/quantity"
)

// until takes in what is worked out beside the user until a condition is met.
func (b *bench) until(what string, ok func() bool) {
	b.t.Helper()
	deadline := time.After(20 * time.Second)
	for !ok() {
		select {
		case f := <-b.onMain:
			f()
		case <-deadline:
			b.t.Fatalf("waited in vain for %s", what)
		}
	}
}

// step shows a step of a programme and gives it.
func (b *bench) step(programme, name string) *model.Step {
	b.t.Helper()
	for _, s := range b.circuit().Steps() {
		if s.Programme == programme && s.Name == name {
			b.showStep(s.ID)
			return s
		}
	}
	b.t.Fatalf("no step %s of %s", name, programme)
	return nil
}

// strip takes the line-ups out of all steps of a programme.
func (b *bench) strip(programme string) {
	b.t.Helper()
	var bare []*model.Step
	for _, s := range b.drawing().StepsOf(programme) {
		next := model.Clone(s)
		next.Positions, next.Running = nil, nil
		bare = append(bare, next)
	}
	b.try(b.drawing().PutSteps("strip", bare))
}

// routed says whether the network finds the way of a step from its positions alone.
func (b *bench) routed(s *model.Step) bool {
	p := b.lines.plant
	return p.Route(p.LineUp(s)).Found
}

func TestReadyProgrammeIsOneEdit(t *testing.T) {
	b := newBench(t)
	b.station()
	before := len(b.circuit().Steps())
	b.do(b.actions.programmes.add)
	list := b.win.Canvas().Focused().(*keyList)
	list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown}) // from the first ready one to the second
	var wanted *programme.Template
	for i, x := range programme.All() {
		if i == 1 {
			wanted = x
		}
	}
	text := func() string { return b.dialogText() }
	b.until("a plan", func() bool { return strings.Contains(text(), "from T-101") })
	for _, want := range []string{wanted.Title, wanted.About, programme.StandingPractice[1:], "Add programme"} {
		if !strings.Contains(text()+"Add programme", want) {
			t.Errorf("the dialog does not say %q", want)
		}
	}
	b.button("Add programme").OnTapped()
	name := b.steps.choice.name
	steps := b.drawing().StepsOf(name)
	always := 0
	for _, p := range wanted.Steps {
		if p.Optional == "" {
			always++
		}
	}
	if len(steps) < always || !strings.HasPrefix(name, wanted.Title) || len(b.steps.steps) != len(steps) {
		t.Fatalf("%d steps of %q, %d in the grid; the ready programme has %d that are always done", len(steps), name, len(b.steps.steps), always)
	}
	for _, s := range steps {
		if s.Purpose.Or("") != model.Drain && !b.routed(s) {
			t.Errorf("%s has no route", s.Name)
		}
		if !slices.Equal(s.Cleans, []model.ID{b.tagged("T-201")}) {
			t.Errorf("%s washes %v, the programme that was shown washes T-201", s.Name, s.Cleans)
		}
	}
	b.do(b.actions.undo)
	if n := len(b.circuit().Steps()); n != before || b.overlayOpen() {
		t.Errorf("one undo step leaves %d steps, there were %d", n, before)
	}
}

func TestNewProgrammeTellsWhatIsWrong(t *testing.T) {
	b := newBench(t)
	b.station()
	b.do(b.actions.programmes.add)
	b.until("a plan", func() bool { return strings.Contains(b.dialogText(), "from T-101") })
	var name, flow *searchEntry
	var ticks []*check
	for _, o := range test.LaidOutObjects(b.win.Canvas().Overlays().Top()) {
		switch o := o.(type) {
		case *searchEntry:
			if o.PlaceHolder == "Name of the programme" {
				name = o
			} else {
				flow = o
			}
		case *check:
			ticks = append(ticks, o)
		}
	}
	name.SetText("Vessel T-202") // there is one
	b.button("Add programme").OnTapped()
	if !strings.Contains(b.dialogText(), "already") {
		t.Error("the name of another programme was taken without a word")
	}
	flow.SetText("much")
	b.button("Add programme").OnTapped()
	if !strings.Contains(b.dialogText(), "Flow: ") {
		t.Errorf("a flow that is no number was taken: %s", b.dialogText())
	}
	flow.SetText("")
	for _, c := range ticks {
		if c.Checked {
			c.SetChecked(false)
		}
	}
	if !strings.Contains(b.dialogText(), "Tick what is to be washed") {
		t.Error("nothing is to be washed, and nothing is said")
	}
	name.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if b.overlayOpen() {
		t.Error("Escape leaves the dialog open")
	}
}

func TestProgrammesAreChosenCopiedRenamedDeleted(t *testing.T) {
	b := newBench(t)
	b.station()
	pick := b.steps.bar.pick
	if want := append(b.drawing().Programmes(), allProgrammes); !slices.Equal(pick.Options, want) || len(want) < 4 {
		t.Fatalf("offered are %v, want %v", pick.Options, want)
	}
	if len(b.steps.steps) != 6 || pick.Selected != "Vessel T-201" || strings.Contains(b.steps.label(b.steps.steps[0]), "Vessel") {
		t.Errorf("the grid shows %d steps of %q", len(b.steps.steps), pick.Selected)
	}
	pick.SetSelected(allProgrammes)
	all := b.circuit().Steps()
	if len(b.steps.steps) != len(all) || !strings.HasPrefix(b.steps.label(all[0]), all[0].Programme+", 1") {
		t.Errorf("of all programmes there are %d steps", len(b.steps.steps))
	}
	pick.SetSelected("Filler line")
	if s := b.shownStep(); s.Programme != "Filler line" || s.Order != b.steps.steps[0].Order || len(b.steps.steps) != 6 {
		t.Errorf("shown is %s of %s", s.Name, s.Programme)
	}
	b.do(b.actions.programmes.after)
	if b.shownStep().Programme != "Vessel T-201" {
		t.Errorf("the next programme is %s", b.shownStep().Programme)
	}
	b.do(b.actions.programmes.duplicate)
	if b.steps.choice.name != "Vessel T-201 2" || len(b.steps.steps) != 6 {
		t.Errorf("after a copy the grid shows %q", b.steps.choice.name)
	}
	b.do(b.actions.programmes.rename)
	e := b.win.Canvas().Focused().(*searchEntry)
	e.SetText("Filler line")
	b.button("Rename").OnTapped()
	if !strings.Contains(b.dialogText(), "already") {
		t.Error("renamed onto another programme")
	}
	e.SetText("Weekly T-201")
	b.button("Rename").OnTapped()
	if b.steps.choice.name != "Weekly T-201" || pick.Selected != "Weekly T-201" || b.overlayOpen() {
		t.Errorf("after renaming the grid shows %q", pick.Selected)
	}
	b.do(b.actions.programmes.remove)
	if slices.Contains(b.drawing().Programmes(), "Weekly T-201") || len(b.steps.steps) == 0 {
		t.Errorf("after deleting there are %v, the grid shows %d", b.drawing().Programmes(), len(b.steps.steps))
	}
	b.do(b.actions.undo)
	if !slices.Contains(b.drawing().Programmes(), "Weekly T-201") {
		t.Error("undo does not bring it back")
	}
	// With no programme left the panel says how to begin.
	for len(b.drawing().Programmes()) > 0 {
		b.do(b.actions.programmes.remove)
	}
	if !b.steps.empty.Visible() || !strings.Contains(b.steps.empty.Text, "New programme") || b.steps.bar.pick.Selected != "" {
		t.Errorf("empty, the panel says %q and %q is chosen", b.steps.empty.Text, b.steps.bar.pick.Selected)
	}
}

func TestFinderPreviewsAndApplies(t *testing.T) {
	b := newBench(t)
	b.station()
	b.strip("Vessel T-201")
	step := b.step("Vessel T-201", "Alkali wash")
	if b.lines.found() {
		t.Fatal("a step without positions has a route")
	}
	b.do(b.actions.programmes.find)
	f := b.steps.finder
	b.until("line-ups", func() bool { return len(f.rows) > 0 })
	if !b.lines.found() || len(b.circuit().Step(step.ID).Positions) != 0 {
		t.Errorf("preview: route %v, the circuit has %v", b.lines.found(), b.circuit().Step(step.ID).Positions)
	}
	if !f.root.Visible() || b.steps.sideBox.Visible() {
		t.Error("the finder is not in view")
	}
	for _, want := range []string{"V-102 open", "P-101", "Proven", "Steam is opened by TCV-101"} {
		if !strings.Contains(f.text.Text, want) {
			t.Errorf("told is %q, without %q", f.text.Text, want)
		}
	}
	// Without steam the heater's valve stays shut in the preview.
	f.steam.SetChecked(false)
	if _, open := f.preview.Positions[b.tagged("TCV-101")]; open {
		t.Error("steam is open although it is not ticked")
	}
	f.steam.SetChecked(true)
	undo := b.doc.UndoLabel()
	f.rows[0].TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	got := b.circuit().Step(step.ID)
	if !b.routed(got) || got.Positions[b.tagged("TCV-101")] != "open" || !slices.Contains(got.Running, b.tagged("P-101")) || f.open {
		t.Errorf("applied: %v, running %v", got.Positions, got.Running)
	}
	b.do(b.actions.undo)
	if b.doc.UndoLabel() != undo || len(b.circuit().Step(step.ID).Positions) != 0 {
		t.Errorf("after one undo step %q stands", b.doc.UndoLabel())
	}
	// Escape puts all back as it was.
	b.do(b.actions.programmes.find)
	b.until("line-ups", func() bool { return len(f.rows) > 0 })
	f.rows[0].TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if f.open || b.lines.found() || !b.steps.sideBox.Visible() {
		t.Errorf("after Escape: open %v, route %v", f.open, b.lines.found())
	}
	// An edit meanwhile puts away what was found for another state.
	b.do(b.actions.programmes.find)
	b.until("line-ups", func() bool { return len(f.rows) > 0 })
	b.try(b.drawing().SetSource(step.ID, b.tagged("T-103")))
	if f.open || f.preview != nil {
		t.Error("line-ups of an older state stay in view")
	}
}

// The ways are those of the demo before they were taken out: both lead from the same
// source over the same object, and none but the network judges them.
func TestFinderForAWholeProgramme(t *testing.T) {
	b := newBench(t)
	b.station()
	b.strip("Vessel T-202")
	b.step("Vessel T-202", "First rinse")
	b.do(b.actions.programmes.findAll)
	f := b.steps.finder
	b.until("line-ups", func() bool { return len(f.rows) == 6 })
	// The second is left out.
	f.ticks[1].SetChecked(false)
	if f.apply.Text != "Apply to 5 steps" {
		t.Errorf("the button reads %q", f.apply.Text)
	}
	f.rows[0].TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	if b.shownStep().Name != "Alkali wash" || !b.lines.found() || b.routed(b.shownStep()) {
		t.Errorf("preview of the second row: %s", b.shownStep().Name)
	}
	f.take()
	for i, s := range b.drawing().StepsOf("Vessel T-202") {
		drain := s.Purpose.Or("") == model.Drain
		if want := i != 1 && !drain; b.routed(s) != want {
			t.Errorf("%s: route %v, want %v", s.Name, !want, want)
		}
		if drain && (len(s.Positions) == 0 || len(s.Running) > 0) {
			t.Errorf("the drain step has %v and runs %v", s.Positions, s.Running)
		}
		if hot := s.Temperature.Known() && s.Temperature.Or(0).Celsius() > 30 && i != 1; hot != (s.Positions[b.tagged("TCV-101")] == "open") {
			t.Errorf("%s: steam %q, hot %v", s.Name, s.Positions[b.tagged("TCV-101")], hot)
		}
	}
	b.do(b.actions.undo)
	for _, s := range b.drawing().StepsOf("Vessel T-202") {
		if len(s.Positions) > 0 {
			t.Errorf("one undo step leaves %v in %s", s.Positions, s.Name)
		}
	}
}

func TestFinderNamesWhatIsMissing(t *testing.T) {
	b := newBench(t)
	b.demo("oat-drink-station-faults", "Vessel T-201", "Acid wash") // its return is shut by a check valve
	f := b.steps.finder
	b.do(b.actions.programmes.find)
	b.until("an answer", func() bool { return f.jump.Visible() })
	if !strings.Contains(f.text.Text, "CV-103") || f.apply.Visible() {
		t.Errorf("told is %q", f.text.Text)
	}
	f.jump.OnTapped()
	if len(b.doc.Selection()) != 1 {
		t.Errorf("selected is %v after going to the place", b.doc.Selection())
	}
	// A step that tells no source leads to the field for it.
	s := b.step("Vessel T-201", "First rinse")
	b.try(b.drawing().SetSource(s.ID, ""))
	b.do(b.actions.programmes.find)
	b.until("an answer", func() bool { return strings.Contains(f.text.Text, "comes from") })
	f.jump.OnTapped()
	if b.win.Canvas().Focused() != b.steps.form.keys["source"] || f.open {
		t.Errorf("the focus is on %T", b.win.Canvas().Focused())
	}
}

func TestFinderTellsUSUnits(t *testing.T) {
	b := newBench(t)
	b.setUnits(quantity.US)
	t.Cleanup(func() { b.setUnits(quantity.Metric) })
	b.station()
	f := b.steps.finder
	b.do(b.actions.programmes.find)
	b.until("line-ups", func() bool { return len(f.rows) > 0 })
	if !strings.Contains(f.rows[0].head, " ft,") || strings.Contains(f.rows[0].under, " m ") {
		t.Errorf("told is %q, %q", f.rows[0].head, f.rows[0].under)
	}
}

func TestSteamAndEmptying(t *testing.T) {
	b := newBench(t)
	b.station()
	s := b.step("Vessel T-201", "Alkali wash")
	b.try(b.drawing().SetNormal(s.ID, b.tagged("TCV-101")))
	b.do(b.actions.programmes.steam)
	if got := b.circuit().Step(s.ID).Positions[b.tagged("TCV-101")]; got != "open" {
		t.Errorf("the steam valve stands %q", got)
	}
	was := b.doc.UndoLabel()
	b.do(b.actions.programmes.steam) // it is open: nothing to do
	if b.doc.UndoLabel() != was {
		t.Errorf("opening open steam is an edit: %s", b.doc.UndoLabel())
	}
	n := len(b.drawing().StepsOf("Vessel T-201"))
	b.do(b.actions.programmes.empty)
	list := b.drawing().StepsOf("Vessel T-201")
	if len(list) != n+1 || list[2].Purpose.Or("") != model.Drain || list[2].ID != b.stepID || len(list[2].Running) > 0 || list[2].Destination == "" {
		t.Fatalf("%d steps, the third is %+v", len(list), list[2])
	}
	// The way that was washed stays open, the source is shut.
	if list[2].Positions[b.tagged("V-102")] == "open" {
		t.Error("the source is open while the line runs empty")
	}
	b.do(b.actions.undo)
	if len(b.drawing().StepsOf("Vessel T-201")) != n {
		t.Error("the step is not undone as one")
	}
}

// The line of the step before is what a drain step empties, as that step stands.
func TestFinderEmptiesTheLineBefore(t *testing.T) {
	b := newBench(t)
	b.station()
	s := b.step("Vessel T-201", "Drain")
	next := model.Clone(s)
	next.Positions, next.Destination = nil, ""
	b.try(b.drawing().PutSteps("strip", []*model.Step{next}))
	f := b.steps.finder
	b.do(b.actions.programmes.find)
	b.until("a line-up", func() bool { return len(f.rows) > 0 })
	if !strings.HasPrefix(f.rows[0].head, "1   Runs empty to ") || f.drain.Visible() || f.steam.Visible() {
		t.Errorf("told is %q", f.rows[0].head)
	}
	f.take()
	got := b.circuit().Step(s.ID)
	if got.Destination == "" || got.Positions[b.tagged("SB-221")] != "joined" || len(got.Running) > 0 {
		t.Errorf("the drain step is %+v", got)
	}
	// The first step has none before it.
	first := b.drawing().StepsOf("Vessel T-201")[0]
	b.try(b.drawing().MoveStep(s.ID, 0))
	b.do(b.actions.programmes.find)
	b.until("an answer", func() bool { return f.jump.Visible() })
	if !strings.Contains(f.text.Text, "no step before") {
		t.Errorf("told is %q, though %s comes after", f.text.Text, first.Name)
	}
}

func TestFinderIsCancelled(t *testing.T) {
	b := newBench(t)
	b.station()
	b.step("Vessel T-201", "Alkali wash")
	f := b.steps.finder
	b.do(b.actions.programmes.findAll)
	if f.away.Text != "Cancel" || !f.work.busy {
		t.Fatalf("while it looks the button reads %q", f.away.Text)
	}
	f.away.OnTapped()
	// A second look comes in; nothing of the first does.
	b.do(b.actions.programmes.find)
	b.until("line-ups", func() bool { return len(f.rows) > 0 })
	if f.whole || f.found[0].step.ID != b.stepID {
		t.Error("what was cancelled has come in")
	}
}

// Steam is opened where the step is warm, unless the tick of the step picked is taken
// off.
func TestSteamTickCountsForTheStepPicked(t *testing.T) {
	b := newBench(t)
	b.station()
	b.strip("Vessel T-201")
	b.step("Vessel T-201", "First rinse")
	f := b.steps.finder
	b.do(b.actions.programmes.findAll)
	b.until("line-ups", func() bool { return len(f.rows) > 0 })
	f.pick(1)
	f.steam.SetChecked(false)
	f.pick(2)
	f.take()
	list := b.drawing().StepsOf("Vessel T-201")
	valve := b.tagged("TCV-101")
	if list[1].Positions[valve] == "open" || list[3].Positions[valve] != "open" {
		t.Errorf("steam in the alkali wash %q, in the acid wash %q", list[1].Positions[valve], list[3].Positions[valve])
	}
}

// cellAt gives the cell of a step and a part as the grid draws it.
func (b *bench) cellAt(step int, tag string) *stepCell {
	b.t.Helper()
	id := b.tagged(tag)
	col := slices.IndexFunc(b.steps.columns, func(p model.Part) bool { return p.RecordID() == id })
	if col < 0 {
		b.t.Fatalf("no column for %s", tag)
	}
	c := newStepCell()
	at := widget.TableCellID{Row: step, Col: col}
	b.steps.fill(at, c)
	return c
}

func TestGridMarksWhatChanges(t *testing.T) {
	b := newBench(t)
	b.station()
	b.step("Vessel T-201", "First rinse")
	list := b.drawing().StepsOf("Vessel T-201")
	rest := map[model.ID]string{}
	for i, s := range list {
		before := rest
		if i > 0 {
			before = b.lines.plant.LineUp(list[i-1]).Positions
		} else {
			before = b.lines.plant.LineUp(nil).Positions
		}
		now := b.lines.plant.LineUp(s).Positions
		for _, tag := range []string{"V-101", "V-102", "V-103", "V-232", "TCV-101", "SB-201"} {
			id := b.tagged(tag)
			if c := b.cellAt(i, tag); c.changed != (before[id] != now[id]) {
				t.Errorf("%s, %s: marked %v, stood %s, stands %s", s.Name, tag, c.changed, before[id], now[id])
			}
		}
	}
	// The first step of a programme is held against rest, not against another programme.
	b.showProgramme(programmeChoice{all: true, name: "Vessel T-201"})
	for i, s := range b.steps.steps {
		if c := b.cellAt(i, "P-101"); s.Order == 10 && s.Purpose.Or("") == model.FirstRinse && (!c.changed || !c.moved) {
			t.Errorf("the pump starts in the first step of %s: %+v", s.Programme, c.cellState)
		}
	}
}

// Two tanks of different media with an open valve each on one line.
func TestGridMarksSuppliesThatMeet(t *testing.T) {
	b := newBench(t)
	water := b.bring("water-tank", model.Point{X: 60, Y: 40})
	alkali := b.bring("alkali-tank", model.Point{X: 160, Y: 40})
	v1 := b.bring("butterfly-valve", model.Point{X: 80, Y: 100})
	v2 := b.bring("butterfly-valve", model.Point{X: 180, Y: 100})
	tee := b.bring("tee", model.Point{X: 120, Y: 130})
	drain := b.bring("sewer-drain", model.Point{X: 120, Y: 150})
	b.click(model.Point{X: 250, Y: 150}, 0)
	var ports []string
	for _, p := range b.cat.Kind("tee").Ports {
		ports = append(ports, p.Name)
	}
	for _, x := range [][2]model.End{
		{{Part: water.RecordID(), Port: "outlet"}, {Part: v1.RecordID(), Port: "a"}}, {{Part: alkali.RecordID(), Port: "outlet"}, {Part: v2.RecordID(), Port: "a"}},
		{{Part: v1.RecordID(), Port: "b"}, {Part: tee.RecordID(), Port: ports[0]}}, {{Part: v2.RecordID(), Port: "b"}, {Part: tee.RecordID(), Port: ports[1]}},
		{{Part: tee.RecordID(), Port: ports[2]}, {Part: drain.RecordID(), Port: "a"}},
	} {
		b.try(b.drawing().Connect(edit.OnPort(x[0].Part, x[0].Port), edit.OnPort(x[1].Part, x[1].Port), nil))
	}
	b.do(b.actions.addStep)
	id := b.stepID
	b.try(b.drawing().SetPosition(id, v1.RecordID(), "open"))
	looked := func() { b.until("the steps to be gone through", func() bool { return !b.steps.meeting.work.busy }) }
	looked()
	if b.cellAt(0, v1.Meta().Tag).meets {
		t.Error("one supply alone meets another")
	}
	b.try(b.drawing().SetPosition(id, v2.RecordID(), "open"))
	looked()
	for _, tag := range []string{v1.Meta().Tag, v2.Meta().Tag} {
		if !b.cellAt(0, tag).meets {
			t.Errorf("%s is not marked although water and alkali meet through it", tag)
		}
	}
	if text := b.steps.foot.text.Text; !strings.Contains(text, "stand open to each other") || !strings.Contains(text, water.Meta().Tag) {
		t.Errorf("beneath the grid stands %q", text)
	}
	if b.steps.meeting.sign(id) != iconStop {
		t.Error("the row has no sign")
	}
}

func TestStepFieldsThatMakeSense(t *testing.T) {
	time10 := quantity.Some(quantity.Duration(600))
	for _, tt := range []struct {
		name string
		step model.Step
		off  string // keys that are greyed, in order
	}{
		{"nothing told", model.Step{}, "longest_min timer_from"},
		{"water", model.Step{Medium: quantity.Some(model.Water), Time: time10}, "chemical longest_min strength_pct"},
		{"alkali with flow", model.Step{Medium: quantity.Some(model.Alkali), Time: time10, Flow: quantity.Some(quantity.CubicMetresPerHour(10))}, "longest_min pump_speed_pct"},
		{"ends by conductivity", model.Step{Medium: quantity.Some(model.Acid), EndConductivity: quantity.Some(quantity.Conductivity(1))}, "timer_from"},
		{"hold", model.Step{Purpose: quantity.Some(model.Hold), Time: time10}, "end_conductivity_mScm end_temperature_C end_volume_L flow_m3h longest_min pump_speed_pct"},
		{"air", model.Step{Medium: quantity.Some(model.Air), Time: time10, TimerFrom: quantity.Some(model.TimerWarm)}, "chemical end_conductivity_mScm end_temperature_C end_volume_L strength_pct"},
	} {
		var off []string
		for _, key := range stepKeys {
			if senseless(&tt.step, key) != "" {
				off = append(off, key)
			}
		}
		slices.Sort(off)
		if got := strings.Join(off, " "); got != tt.off {
			t.Errorf("%s: greyed are %s, want %s", tt.name, got, tt.off)
		}
	}
}

func TestStepFormTakesAllFields(t *testing.T) {
	b := newBench(t)
	b.station()
	s := b.step("Vessel T-201", "Alkali wash")
	for _, tt := range []struct{ key, text, want string }{
		{"end_conductivity_mScm", "40", "40"}, {"end_temperature_C", "150 °F", "65.5556"}, {"end_volume_L", "500", "500"}, {"longest_min", "45", "45"},
	} {
		e := b.steps.form.keys[tt.key].(*fieldEntry)
		if e.Disabled() {
			t.Errorf("%s is greyed in an alkali wash", tt.key)
		}
		e.SetText(tt.text)
		e.commit()
		if got := b.drawing().Text(s.ID, tt.key, quantity.Metric); got != tt.want {
			t.Errorf("%s reads %q, want %q", tt.key, got, tt.want)
		}
	}
	for key, value := range map[string]string{"chemical": "sodium-hydroxide", "timer_from": "return-warm-and-strong", "optional": "yes"} {
		c := b.steps.form.keys[key].(*choiceField)
		c.SetSelected(plainWords(value))
		if got := b.drawing().Text(s.ID, key, quantity.Metric); got != value {
			t.Errorf("%s reads %q, want %q", key, got, value)
		}
	}
	// The speed of the pump is greyed while a flow is asked, and says why.
	speed := b.steps.form.keys["pump_speed_pct"].(*fieldEntry)
	if !speed.Disabled() || speed.PlaceHolder == unknownWord {
		t.Errorf("the speed is open beside a flow: %q", speed.PlaceHolder)
	}
	b.try(b.drawing().SetProperty([]model.ID{s.ID}, "flow_m3h", "", quantity.Metric))
	if speed.Disabled() || speed.PlaceHolder != unknownWord {
		t.Errorf("the speed stays greyed without a flow: %q", speed.PlaceHolder)
	}
	for _, key := range stepKeys {
		if captions[key].help == "" {
			t.Errorf("%s has no help", key)
		}
	}
}

// A list worked out by hand from the positions of the demo's first two steps.
func TestSwitchingList(t *testing.T) {
	b := newBench(t)
	b.station()
	b.step("Filler line", "First rinse")
	lists := b.switchingLists(programmeChoice{name: "Filler line"})
	first, second := lists[0].steps[0], lists[0].steps[1]
	var acts []string
	for _, a := range append(slices.Clone(first.acts), second.acts...) {
		acts = append(acts, a.words())
	}
	want := "join SB-301, by hand|join SB-321, by hand|open V-101|start P-101|start P-201|" +
		"shut V-101|open TCV-101|open V-102|set V-102B: to V-102 (was: to V-101)|set V-232: to T-102 (was: to SW-103)"
	if got := strings.Join(acts, "|"); got != want {
		t.Errorf("the list reads\n%s\nwant\n%s", got, want)
	}
	if len(second.caution) == 0 || !strings.Contains(second.caution[0], "T-102") {
		t.Errorf("no caution where water gives way to alkali: %v", second.caution)
	}
	for _, s := range lists[0].steps {
		for i := 1; i < len(s.acts); i++ {
			if s.acts[i].verb == "stop" && s.acts[i-1].verb != "stop" || s.acts[i-1].verb == "start" && s.acts[i].verb != "start" {
				t.Errorf("%s: %s comes after %s", s.name, s.acts[i].words(), s.acts[i-1].words())
			}
		}
	}
	all := b.switchingLists(programmeChoice{all: true})
	var text, table, page strings.Builder
	for kind, out := range map[string]io.Writer{".txt": &text, ".csv": &table, ".html": &page} {
		if err := writeSwitching(out, kind, b.circuit(), all); err != nil {
			t.Fatal(err)
		}
	}
	rows, err := csv.NewReader(strings.NewReader(table.String())).ReadAll()
	if err != nil || !slices.Equal(rows[0], switchingColumns) {
		t.Fatalf("the table does not read back: %v, %v", err, rows[0])
	}
	n := 0
	for _, l := range all {
		for _, s := range l.steps {
			n += len(s.acts) + len(s.caution)
		}
	}
	if len(rows)-1 != n {
		t.Errorf("%d rows for %d things to do", len(rows)-1, n)
	}
	for name, out := range map[string]string{"text": text.String(), "page": page.String()} {
		for _, want := range []string{"Vessel T-202", "V-102B", "CAUTION", "by hand", "lock-out"} {
			if !strings.Contains(out, want) {
				t.Errorf("the %s does not say %q", name, want)
			}
		}
	}
	if strings.Count(page.String(), `class="box"`) != strings.Count(text.String(), "[ ]") {
		t.Error("page and text have not as many boxes to tick")
	}
}

// What a user has typed must not become a part of the page.
func TestSwitchingPageIsSound(t *testing.T) {
	b := newBench(t)
	b.station()
	s := b.step("Filler line", "First rinse")
	b.try(b.drawing().SetProperty([]model.ID{s.ID}, "name", "Rinse <b> & \"more\"", quantity.Metric))
	var page strings.Builder
	if err := writeSwitching(&page, ".html", b.circuit(), b.switchingLists(programmeChoice{name: "Filler line"})); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(page.String(), "Rinse <b>") || !strings.Contains(page.String(), "Rinse &lt;b&gt;") {
		t.Error("a name stands in the page as it was typed")
	}
	d := xml.NewDecoder(strings.NewReader(page.String()))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	open := 0
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch token.(type) {
		case xml.StartElement:
			open++
		case xml.EndElement:
			open--
		}
	}
	if open != 0 {
		t.Errorf("%d elements of the page are left open", open)
	}
}

func TestSwitchingDialog(t *testing.T) {
	b := newBench(t)
	b.station()
	b.do(b.actions.programmes.list)
	if !strings.Contains(b.dialogText(), "Switching list: Vessel T-201") {
		t.Error("the dialog shows another programme than the grid")
	}
	pick := b.win.Canvas().Focused().(*pickList)
	pick.SetSelected(allProgrammes)
	if !strings.Contains(b.dialogText(), "Switching list: Filler line") {
		t.Error("all programmes are not shown")
	}
	pick.SetSelected("Filler line")
	for _, o := range test.LaidOutObjects(b.win.Canvas().Overlays().Top()) {
		if x, ok := o.(*button); ok && x.Text == "Copy" {
			x.OnTapped()
		}
	}
	if got := b.app.Clipboard().Content(); !strings.Contains(got, "Switching list: Filler line") || strings.Contains(got, "Vessel T-201") {
		t.Errorf("copied is %.60q", got)
	}
	pick.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if b.overlayOpen() {
		t.Error("Escape leaves the dialog open")
	}
}

// All that can be done with programmes is in the menu, and what stands above the grid
// opens by key.
func TestProgrammesAreReachedByKey(t *testing.T) {
	b := newBench(t)
	b.station()
	in := map[*action]bool{}
	for _, m := range b.items {
		in[m.of] = true
	}
	shortcuts := map[string]string{}
	for _, m := range b.items {
		s, ok := m.of.shortcut.(fyne.KeyboardShortcut)
		if !ok {
			continue
		}
		if other := shortcuts[keyName(s)]; other != "" && other != m.of.label {
			t.Errorf("%s stands for %s and %s", keyName(s), other, m.of.label)
		}
		shortcuts[keyName(s)] = m.of.label
	}
	p := b.actions.programmes
	for _, a := range []*action{p.add, p.rename, p.duplicate, p.remove, p.all, p.before, p.after, p.find, p.findAll, p.steam, p.empty, p.list, p.listText, p.listCSV, p.listPage} {
		if !in[a] {
			t.Errorf("%q is in no menu", a.label)
		}
	}
	for _, m := range b.steps.bar.menus {
		m.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		if !b.overlayOpen() {
			t.Errorf("Return does not open %s", m.Text)
			continue
		}
		b.win.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
		if b.overlayOpen() {
			t.Errorf("Escape does not close %s", m.Text)
			b.win.Canvas().Overlays().Remove(b.win.Canvas().Overlays().Top())
		}
	}
}

// What is made up is not washed: no object is asked for, and none is named.
func TestProgrammeThatMakesUpAsksForNothingToWash(t *testing.T) {
	b := newBench(t)
	b.station()
	d := &newProgramme{on: b.Window, templates: programme.All(), work: &besideWork{on: b.Window}, objects: likelyWashed(b.Window)}
	d.build()
	d.fields()
	d.order = []model.ID{d.objects[0].RecordID()}
	for i, x := range d.templates {
		d.pick(i + 1)
		makes := x.Name == "make-up-alkali" || x.Name == "make-up-acid"
		if d.washed.Visible() == makes {
			t.Errorf("%s: what is washed is asked for: %t", x.Name, !makes)
		}
		o, err := d.options()
		if err != nil || (len(o.Objects) == 0) != makes {
			t.Errorf("%s: objects %v, %v", x.Name, o.Objects, err)
		}
		if named := d.offered() != x.Title; named == makes {
			t.Errorf("%s is called %q", x.Name, d.offered())
		}
		b.until("the plan", func() bool { return d.plan != nil })
	}
}

// Looking for line-ups shows what is found, from whatever tab it is asked for.
func TestLineUpsAreShownFromAnyTab(t *testing.T) {
	b := newBench(t)
	b.station()
	b.tabs.pick(b.washTab)
	b.do(b.actions.programmes.findAll)
	if b.tabs.at != stepsTab || b.tabs.titles[stepsTab].text[:5] != "Steps" {
		t.Errorf("tab %d, %q, is shown", b.tabs.at, b.tabs.titles[b.tabs.at].text)
	}
}
