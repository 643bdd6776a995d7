//go:build window

package main_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A programme made from a ready one by keys alone: chosen, added as one edit, lined up
// by the program after a pump was stopped by hand, and its switching list written.
func TestProgrammeFromAReadyOne(t *testing.T) {
	s := start(t, filepath.Join("..", "..", "assets", "demo", "oat-drink-station.circuit.json"))
	opened, n := s.wait(0, "file", named("opened"))
	_, n = s.wait(n, "window", named("ready"))
	s.wait(n, "checks of the demo", named("checks"))

	n = s.count()
	s.do("key", "ctrl+shift+n")
	_, n = s.wait(n, "dialog", named("dialog"))
	first, n := s.wait(n, "plan of the first ready programme", named("plan"))
	s.do("key", "Down")
	plan, n := s.wait(n, "plan of the next one", func(e event) bool {
		return e.text("event") == "plan" && e.text("template") != first.text("template")
	})
	s.do("key", "Tab", "Return") // the name is offered
	added, n := s.wait(n, "programme", named("edit"))
	if got := added.number("steps") - opened.number("steps"); got != plan.number("steps") || !strings.HasPrefix(added.text("label"), "add programme ") {
		t.Errorf("%v steps were added by %q, the plan had %v", got, added.text("label"), plan.number("steps"))
	}
	shown, n := s.wait(n, "programme in the grid", named("programme"))
	if shown.number("steps") != plan.number("steps") {
		t.Errorf("the grid shows %v steps of %s", shown.number("steps"), shown.text("name"))
	}

	// The first cell of the grid is a pump: it is stopped by hand, then the program
	// finds the line-up of the step again, and of all of them.
	s.do("key", "ctrl+t")
	s.do("key", "space")
	stopped, n := s.wait(n, "pump", named("edit"))
	if !strings.HasPrefix(stopped.text("label"), "stop ") {
		t.Fatalf("the first cell does %q", stopped.text("label"))
	}
	s.do("key", "ctrl+shift+l")
	found, n := s.wait(n, "line-ups of the step", named("lineups"))
	if found.number("options") < 1 || found.number("proven") < 1 {
		t.Errorf("found: %v", found)
	}
	s.do("key", "Return")
	lined, n := s.wait(n, "line-up", named("edit"))
	if !strings.HasPrefix(lined.text("label"), "line up ") {
		t.Errorf("Return on a line-up does %q", lined.text("label"))
	}
	before := n
	s.do("key", "ctrl+shift+p")
	all, n := s.wait(n, "line-ups of all steps", func(e event) bool { return e.text("event") == "lineups" && e.number("steps") > 1 })
	if all.number("found") != plan.number("steps") {
		t.Errorf("line-ups for %v of %v steps", all.number("found"), plan.number("steps"))
	}
	preview, _ := s.wait(before, "preview", named("preview"))
	if preview["route"] != true {
		t.Errorf("the preview has no route: %v", preview)
	}
	s.do("key", "Escape")

	path := filepath.Join(t.TempDir(), "list.txt")
	s.do("key", "ctrl+shift+w")
	_, n = s.wait(n, "switching list", func(e event) bool { return e.text("event") == "dialog" && e.text("title") == "Switching list" })
	s.do("key", "Tab", "Tab", "Return") // copy, then text
	_, n = s.wait(n, "dialog for the name", named("dialog"))
	s.do("key", "ctrl+a")
	s.do("type", "--delay", "5", path)
	s.do("key", "Return")
	s.wait(n, "list on the disk", named("exported"))
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for _, want := range []string{"Switching list: " + shown.text("name"), "1  First rinse", "start P-101", "Alkali wash", "CAUTION", "lock-out"} {
		if !strings.Contains(text, want) {
			t.Errorf("the list does not say %q:\n%s", want, text)
		}
	}

	// Playing the wash and its trend go on from here: the step shown is the first one of
	// the new programme, every step of which has a line-up.
}
