//go:build window

package main_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
)

// board tells where on the screen a place of the drawing lies.
type board struct{ event }

func (b board) px(p model.Point) (x, y float64) {
	return b.number("x") + (p.X-b.number("offset_x"))*b.number("zoom"), b.number("y") + (p.Y-b.number("offset_y"))*b.number("zoom")
}

// bring searches a kind in the store of parts and drags it to a place.
func bring(s *screen, search, kind string, to model.Point) {
	s.t.Helper()
	n := s.count()
	parts := s.last("edit").number("parts")
	if s.last("opened").number("ms") > s.last("edit").number("ms") {
		parts = 0
	}
	s.do("key", "ctrl+k")
	s.do("type", "--delay", "5", search)
	row, _ := s.wait(n, "search for "+search, func(e event) bool {
		return e.text("event") == "search" && e.text("text") == search
	})
	if row.text("kind") != kind {
		s.t.Fatalf("%q finds %s first, want %s", search, row.text("kind"), kind)
	}
	x, y := board{s.last("view")}.px(to)
	s.drag(row.number("x")+60, row.number("y")+row.number("height")/2, x, y)
	s.wait(n, kind+" on the board", func(e event) bool {
		return e.text("event") == "edit" && e.number("parts") == parts+1
	})
}

// join drags from a port to another.
func join(s *screen, from, to model.Point, runs float64) {
	s.t.Helper()
	n := s.count()
	b := board{s.last("view")}
	x1, y1 := b.px(from)
	x2, y2 := b.px(to)
	s.drag(x1, y1, x2, y2)
	s.wait(n, "run", func(e event) bool { return e.text("event") == "edit" && e.number("runs") == runs })
}

// port gives where a port of a new part of a kind at a place lies.
func port(t *testing.T, kind, name string, at model.Point) model.Point {
	t.Helper()
	k := catalogue.Builtin().Kind(kind)
	if k == nil {
		t.Fatalf("no kind %s", kind)
	}
	p, ok := k.Port(name)
	if !ok {
		t.Fatalf("%s has no port %s", kind, name)
	}
	place, _ := p.PortAt(&model.Item{At: at})
	return place
}

// The first hour of a new user in short: parts from the store by mouse, joined by
// mouse, a finding that comes and goes with the drawing, undo and redo by key,
// and a file that holds what was drawn.
func TestDrawCheckAndSave(t *testing.T) {
	s := start(t)
	_, n := s.wait(0, "window", named("ready"))
	s.wait(n, "checks of the demo", named("checks"))
	n = s.count()
	s.do("key", "ctrl+n")
	s.wait(n, "empty circuit", func(e event) bool { return e.text("event") == "opened" && e.number("parts") == 0 })
	s.wait(n, "checks of the empty circuit", named("checks"))

	tank, pump, valve, drain := model.Point{X: 60, Y: 60}, model.Point{X: 120, Y: 100}, model.Point{X: 170, Y: 100}, model.Point{X: 220, Y: 120}
	bring(s, "water tank", "water-tank", tank)
	bring(s, "centrifugal", "centrifugal-pump", pump)
	bring(s, "butterfly", "butterfly-valve", valve)
	join(s, port(t, "water-tank", "outlet", tank), port(t, "centrifugal-pump", "a", pump), 1)
	n = s.count()
	join(s, port(t, "centrifugal-pump", "b", pump), port(t, "butterfly-valve", "a", valve), 2)

	// The valve's far port is open: a finding. A drain on it cures that.
	open, n := s.wait(n, "findings", func(e event) bool { return e.text("event") == "checks" && e.number("runs") == 2 })
	before := open.rule("open-end")
	if before == 0 {
		t.Fatalf("an open valve is no finding: %v", open["rules"])
	}
	bring(s, "drain to sewer", "sewer-drain", drain)
	n = s.count()
	join(s, port(t, "butterfly-valve", "b", valve), port(t, "sewer-drain", "a", drain), 3)
	cured, n := s.wait(n, "findings after the cure", func(e event) bool { return e.text("event") == "checks" && e.number("runs") == 3 })
	if got := cured.rule("open-end"); got >= before {
		t.Errorf("%v open ends after the cure, %v before", got, before)
	}
	after := func(keys string, runs float64) float64 {
		t.Helper()
		n := s.count()
		s.do("key", keys)
		s.wait(n, keys, func(e event) bool { return e.text("event") == "edit" && e.number("runs") == runs })
		e, _ := s.wait(n, "findings after "+keys, func(e event) bool { return e.text("event") == "checks" && e.number("runs") == runs })
		return e.rule("open-end")
	}
	if got := after("ctrl+z", 2); got < before {
		t.Errorf("undo brings %v open ends back, there were %v", got, before)
	}
	if got := after("ctrl+y", 3); got != cured.rule("open-end") {
		t.Errorf("redo leaves %v open ends, there were %v", got, cured.rule("open-end"))
	}

	path := filepath.Join(t.TempDir(), "first.circuit.json")
	n = s.count()
	s.do("key", "ctrl+s")
	s.wait(n, "dialog for the name", named("dialog"))
	s.do("key", "ctrl+a")
	s.do("type", "--delay", "5", path)
	s.do("key", "Return")
	saved, n := s.wait(n, "saved file", named("saved"))
	if saved.text("path") != path {
		t.Errorf("saved at %s, want %s", saved.text("path"), path)
	}
	compare(t, path, map[string]model.Point{"water-tank": tank, "centrifugal-pump": pump, "butterfly-valve": valve, "sewer-drain": drain},
		[][4]string{{"water-tank", "outlet", "centrifugal-pump", "a"}, {"centrifugal-pump", "b", "butterfly-valve", "a"}, {"butterfly-valve", "b", "sewer-drain", "a"}})

	// All is saved: quitting asks nothing.
	s.do("key", "ctrl+q")
	select {
	case err := <-s.ended:
		s.ended <- err
		if err != nil {
			t.Errorf("the program ended with %v", err)
		}
	case <-time.After(deadline):
		t.Error("the program does not quit")
	}
}

// compare reads a file back and holds it against what was drawn.
func compare(t *testing.T, path string, parts map[string]model.Point, runs [][4]string) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	c, err := circuitfile.Decode(path, data)
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Parts()) != len(parts) || len(c.Runs()) != len(runs) {
		t.Fatalf("the file holds %d parts and %d runs, drawn were %d and %d", len(c.Parts()), len(c.Runs()), len(parts), len(runs))
	}
	tags := map[string]bool{}
	for _, p := range c.Parts() {
		m := p.Meta()
		if want, ok := parts[m.Kind]; !ok || m.At != want {
			t.Errorf("%s lies at %v, was placed at %v", m.Kind, m.At, want)
		}
		if m.Tag == "" || tags[m.Tag] {
			t.Errorf("%s has the tag %q", m.Kind, m.Tag)
		}
		tags[m.Tag] = true
	}
	found := map[[4]string]bool{}
	for _, r := range c.Runs() {
		a, b := c.Part(r.From.Part), c.Part(r.To.Part)
		if a == nil || b == nil {
			t.Errorf("run %s has a loose end", r.ID)
			continue
		}
		found[[4]string{a.Meta().Kind, r.From.Port, b.Meta().Kind, r.To.Port}] = true
	}
	for _, want := range runs {
		if !found[want] {
			t.Errorf("no run goes from %s %s to %s %s; found %v", want[0], want[1], want[2], want[3], found)
		}
	}
}

// A file given on the command line, changed and saved by keys alone, and the
// question before unsaved work is thrown away.
func TestOpenChangeAndSaveByKeys(t *testing.T) {
	k := catalogue.Builtin().Kind("water-tank")
	tank, err := k.New("p1", model.Point{X: 60, Y: 60})
	if err != nil {
		t.Fatal(err)
	}
	tank.Meta().Tag = "T-1"
	c, err := model.FromRecords(&model.Header{Name: "one tank"}, []model.Part{tank}, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	data, err := circuitfile.Encode(c)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "one.circuit.json")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	s := start(t, path)
	_, n := s.wait(0, "file", func(e event) bool { return e.text("event") == "opened" && e.text("path") == path })
	_, n = s.wait(n, "window", named("ready"))

	retag := func(tag string) {
		t.Helper()
		n := s.count()
		s.do("key", "ctrl+e", "ctrl+a")
		s.do("type", "--delay", "5", tag)
		s.do("key", "Return")
		s.wait(n, "new tag", func(e event) bool { return e.text("event") == "edit" })
	}
	s.do("key", "n")
	s.wait(n, "selection", func(e event) bool {
		ids, _ := e["ids"].([]any)
		return e.text("event") == "selection" && len(ids) == 1
	})
	retag("T-900")
	n = s.count()
	s.do("key", "ctrl+s")
	s.wait(n, "saved file", named("saved"))
	got, err := circuitfile.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if tag := got.Part("p1").Meta().Tag; tag != "T-900" {
		t.Errorf("the file holds the tag %q", tag)
	}
	if backup, err := os.ReadFile(path + ".bak"); err != nil || string(backup) != string(data) {
		t.Errorf("the version before is not kept: %v", err)
	}

	retag("T-901")
	n = s.count()
	s.do("key", "ctrl+q")
	s.wait(n, "question", named("dialog"))
	s.do("key", "Escape")
	s.do("key", "ctrl+q")
	_, n = s.wait(n+1, "question again", named("dialog"))
	s.do("key", "Tab", "Return") // "Do not save"
	select {
	case err := <-s.ended:
		s.ended <- err
		if err != nil {
			t.Errorf("the program ended with %v", err)
		}
	case <-time.After(deadline):
		t.Fatal("the program does not quit")
	}
	if got, err := circuitfile.ReadFile(path); err != nil || got.Part("p1").Meta().Tag != "T-900" {
		t.Errorf("the file was changed although saving was refused: %v", err)
	}
	if _, err := os.Stat(filepath.Join(filepath.Dir(path), ".one.circuit.json.autosave")); err == nil {
		t.Error("the copy of unwanted work is left behind")
	}
}

// The flow of the step shown is solved beside the user, Ctrl+U brings it to the
// front, and W writes it beside the runs.
func TestFlowIsSolvedBesideTheUser(t *testing.T) {
	s := start(t, filepath.Join("..", "..", "assets", "demo", "oat-drink-station.circuit.json"))
	first, n := s.wait(0, "flow of the first step", named("solved"))
	s.wait(0, "window", named("ready"))
	before := s.picture()
	s.do("key", "ctrl+Next")
	second, _ := s.wait(n, "flow of the next step", named("solved"))
	if first["solved"] != true || second["solved"] != true || first.text("step") == second.text("step") {
		t.Errorf("first %v, then %v", first, second)
	}
	s.do("key", "ctrl+u")
	shown := s.settled(before)

	// W on the board writes the velocity beside the runs, for the drawing to be seen.
	n = s.count()
	s.do("key", "ctrl+b", "w")
	values, _ := s.wait(n, "values beside runs", named("values"))
	if values.text("value") != "velocity" || values.number("runs") < 10 {
		t.Errorf("beside the runs stands %v", values)
	}
	s.settled(shown)
}
