package window

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"rinsewright/assets"
	"rinsewright/checks"
	"rinsewright/model"
)

// 1 ft = 0.3048 m by definition, so 6.5 ft is 1.9812 m.
func TestFieldReadsBackWhatIsHeld(t *testing.T) {
	b := newBench(t)
	b.bring("process-vessel", model.Point{X: 60, Y: 60})
	in, message := row(t, b.props.form, "Inside diameter")
	e := in.(*fieldEntry)
	b.focus(e)
	e.SetText("6.5 ft")
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if e.Text != "1.9812" {
		t.Errorf("6.5 ft with Return reads %q", e.Text)
	}
	// A refused text stays, is framed, and what is kept is told.
	e.SetText("wide")
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if e.Text != "wide" || !strings.HasSuffix(message.Text, "Kept: 1.9812.") || !e.AlwaysShowValidationError {
		t.Errorf("text %q, message %q, framed %v", e.Text, message.Text, e.AlwaysShowValidationError)
	}
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if e.Text != "1.9812" || message.Visible() || e.AlwaysShowValidationError {
		t.Errorf("after Escape: text %q, message %v", e.Text, message.Visible())
	}
}

func TestHelpTakesNoRoomWhileThereIsNone(t *testing.T) {
	b := newBench(t)
	b.bring("process-vessel", model.Point{X: 60, Y: 60})
	if b.props.foot.Visible() {
		t.Error("an empty help is shown")
	}
	b.focus(b.props.form.keys["diameter_m"])
	if !b.props.foot.Visible() || b.props.help.Text == "" {
		t.Error("no help for the field that has the focus")
	}
}

func TestPumpCurve(t *testing.T) {
	b := newBench(t)
	id := b.bring("centrifugal-pump", model.Point{X: 60, Y: 60}).RecordID()
	curve := func() []model.CurvePoint { return b.circuit().Part(id).(*model.Pump).Curve }
	add := func() {
		for _, o := range b.props.form.box.Objects {
			if c, ok := o.(*fyne.Container); ok && len(c.Objects) == 1 {
				if x, ok := c.Objects[0].(*button); ok && x.Text == "Add point" {
					x.OnTapped()
					return
				}
			}
		}
		t.Fatal("no button for a point of the curve")
	}
	fields := func(point int) (flow, head *fieldEntry) {
		n := 0
		for _, o := range b.props.form.box.Objects {
			c, ok := o.(*fyne.Container)
			if !ok || len(c.Objects) != 2 {
				continue
			}
			line, ok := c.Objects[0].(*fyne.Container)
			if !ok || len(line.Objects) != 4 {
				continue
			}
			if n == point {
				return line.Objects[1].(*fieldEntry), line.Objects[2].(*fieldEntry)
			}
			n++
		}
		t.Fatalf("no line for point %d", point)
		return nil, nil
	}
	type numbers struct{ flow, head string }
	for i, x := range []numbers{{"0", "40"}, {"20", "32"}} {
		add()
		flow, _ := fields(i)
		flow.SetText(x.flow)
		flow.commit()
		_, head := fields(i) // the form is made anew with the first number
		head.SetText(x.head)
		head.commit()
	}
	got := curve()
	if len(got) != 2 {
		t.Fatalf("%d points", len(got))
	}
	// 20 m³/h = 20/3600 m³/s.
	if q, _ := got[1].Flow.Get(); q < 20.0/3600-1e-12 || q > 20.0/3600+1e-12 {
		t.Errorf("flow %v", q)
	}
	if h, _ := got[1].Head.Get(); h != 32 {
		t.Errorf("head %v", h)
	}
	flow, _ := fields(0)
	flow.SetText("-3")
	flow.commit()
	if q, _ := curve()[0].Flow.Get(); q != 0 {
		t.Errorf("a negative flow was taken: %v", q)
	}
	b.do(b.actions.undo)
	b.do(b.actions.undo)
	if len(curve()) != 1 {
		t.Errorf("%d points after two undo steps, want 1", len(curve()))
	}
}

func TestFactsOfTheStepShown(t *testing.T) {
	b := newBench(t)
	for _, d := range demos() {
		if d.file == "oat-drink-station.circuit.json" {
			b.OpenCopy(d.file, d.data)
		}
	}
	var pump *model.Pump
	for _, s := range b.circuit().Steps() {
		if len(s.Running) > 0 && pump == nil {
			b.showStep(s.ID)
			pump, _ = b.circuit().Part(s.Running[0]).(*model.Pump)
		}
	}
	if pump == nil || !b.lines.found() {
		t.Fatal("the demo runs no pump")
	}
	b.doc.Select(pump.ID)
	fact := func(label string) string {
		in, _ := row(t, b.props.form, label)
		return in.(*widget.Label).Text
	}
	for _, label := range []string{"Fed by", "Feeds"} {
		tag := fact(label)
		if len(b.circuit().Tagged(tag)) == 0 {
			t.Errorf("%s reads %q, which is no tag", label, tag)
		}
	}
	if fact("Fed by") == fact("Feeds") {
		t.Error("what feeds the pump and what it feeds are the same")
	}
	if m, _ := b.shownStep().Medium.Get(); fact("Medium") != plainWords(string(m)) {
		t.Errorf("medium %q, the step sends %s", fact("Medium"), m)
	}
	b.showStep("")
	b.doc.Select()
	b.doc.Select(pump.ID)
	for _, o := range b.props.form.box.Objects {
		if l, ok := o.(*widget.Label); ok && l.Text == "In the step shown" {
			t.Error("facts of a step although none is shown")
		}
	}
}

func TestSearchPutsTheTitleFirst(t *testing.T) {
	b := newBench(t)
	for search, want := range map[string]string{
		"spray": "spray-ball", "drain": "sewer-drain", "vent": "vent", "pump": "centrifugal-pump", "valve": "butterfly-valve",
		"tank": "water-tank", "steam trap": "steam-trap", "heater": "plate-heater", "caustic": "alkali-tank",
	} {
		b.parts.search.SetText(search)
		if len(b.parts.shown) == 0 || b.parts.shown[0].kind.Name != want {
			got := ""
			for _, r := range b.parts.shown {
				got += r.kind.Name + " "
			}
			t.Errorf("%q finds %s, want %s first", search, got, want)
			continue
		}
		if b.parts.list.Objects[0] != fyne.CanvasObject(b.parts.shown[0]) {
			t.Errorf("%q: the best does not stand on top", search)
		}
		// No title that holds the word stands below one that does not.
		hit := true
		for _, r := range b.parts.shown {
			holds := strings.Contains(strings.ToLower(r.kind.Title), strings.Fields(search)[0])
			if holds && !hit {
				t.Errorf("%q: %s stands below what is found by other words", search, r.kind.Name)
			}
			hit = holds
		}
	}
	b.parts.search.SetText("")
	if _, ok := b.parts.list.Objects[0].(*widget.Label); !ok {
		t.Error("with nothing searched for the groups are gone")
	}
}

// A copy of the program's own limits under a name of its own, with one changed.
func TestLimitsFromAFile(t *testing.T) {
	b := newBench(t)
	data, err := assets.Files.ReadFile("profiles/food.json")
	if err != nil {
		t.Fatal(err)
	}
	var all map[string]any
	if err := json.Unmarshal(data, &all); err != nil {
		t.Fatal(err)
	}
	write := func(name string) string {
		all["name"], all["title"] = name, "Plant limits"
		out, err := json.Marshal(all)
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), "limits.json")
		if err := os.WriteFile(path, out, 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	b.useLimits(write("food"))
	if !b.overlayOpen() {
		t.Error("limits with the name of the program's own are taken")
	}
	for b.overlayOpen() {
		b.win.Canvas().Overlays().Remove(b.win.Canvas().Overlays().Top())
	}
	path := write("plant")
	b.useLimits(path)
	if got := b.circuit().Header().Profile; got != "plant" {
		t.Errorf("the circuit names the limits %q", got)
	}
	b.checks()
	if b.result.Profile != "plant" {
		t.Errorf("checked against %q", b.result.Profile)
	}
	in, _ := row(t, b.props.form, "Limits from")
	if in.(*widget.Label).Text != path {
		t.Errorf("the source reads %q", in.(*widget.Label).Text)
	}
	// The next start has them again; without the file the circuit is checked
	// against the program's own, and that is said.
	again := New(Options{App: b.app, Kinds: b.cat})
	if again.profileNamed("plant") == nil {
		t.Error("the limits are not there at the next start")
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	again = New(Options{App: b.app, Kinds: b.cat})
	again.replace(b.circuit(), file{}, false)
	if !again.lacksLimits() || again.profile() != checks.Builtin(checks.DefaultProfile) {
		t.Error("lost limits are not noticed")
	}
	again.checker.stop()
}

func TestNewFolder(t *testing.T) {
	b := newBench(t)
	dir := t.TempDir()
	var saved string
	b.chooseFile(choice{title: "Save", confirm: "Save", start: filepath.Join(dir, "a"+ending), ending: ending, save: true}, func(path string) { saved = path })
	c := b.chooser
	c.makeFolder("line 2")
	if info, err := os.Stat(filepath.Join(dir, "line 2")); err != nil || !info.IsDir() {
		t.Fatalf("no folder: %v", err)
	}
	for _, bad := range []string{"", "..", "a/b"} {
		c.makeFolder(bad)
		if c.wrong.Text == "" {
			t.Errorf("a folder %q is not refused", bad)
		}
	}
	c.take()
	if want := filepath.Join(dir, "line 2", "a"+ending); saved != want {
		t.Errorf("saved as %q, want %q: the name is kept", saved, want)
	}
}
