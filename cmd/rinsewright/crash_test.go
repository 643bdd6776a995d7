//go:build window

package main_test

import (
	"os"
	"path/filepath"
	"testing"

	"rinsewright/model/circuitfile"
)

// The program is killed with work that is not saved; at the next start the work
// is offered, taken up and saved.
func TestWorkOutlivesACrash(t *testing.T) {
	const demo = "../../assets/demo/oat-drink-station.circuit.json"
	data, err := os.ReadFile(demo)
	if err != nil {
		t.Fatal(err)
	}
	before, err := circuitfile.Decode(demo, data)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "plant.circuit.json")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	home := t.TempDir()

	s := startIn(t, home, "1280x800", path)
	_, n := s.wait(0, "window", named("ready"))
	s.wait(n, "checks", named("checks"))
	s.do("key", "n") // selects a part
	s.wait(n, "selection", named("selection"))
	s.do("key", "Delete")
	edit, _ := s.wait(n, "edit", named("edit"))
	s.wait(n, "copy against a crash", named("autosaved"))
	if err := s.program.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	s.ended <- <-s.ended
	if now, err := os.ReadFile(path); err != nil || string(now) != string(data) {
		t.Fatalf("the file itself was changed by the crash: %v", err)
	}

	s = startIn(t, home, "1280x800", path)
	_, n = s.wait(0, "question", func(e event) bool {
		return e.text("event") == "dialog" && e.text("title") == "Take up unsaved work?"
	})
	s.do("search", "--sync", "--onlyvisible", "--name", "Rinsewright", "windowfocus")
	s.do("key", "Return")
	opened, n := s.wait(n, "work taken up", named("opened"))
	if opened.number("parts") != edit.number("parts") || opened.number("runs") != edit.number("runs") {
		t.Errorf("taken up: %v parts and %v runs, were %v and %v", opened.number("parts"), opened.number("runs"), edit.number("parts"), edit.number("runs"))
	}
	s.do("key", "ctrl+s")
	s.wait(n, "saved", named("saved"))
	now, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	after, err := circuitfile.Decode(path, now)
	if err != nil {
		t.Fatal(err)
	}
	if len(after.Parts()) != len(before.Parts())-1 {
		t.Errorf("the file holds %d parts, held %d before one was deleted", len(after.Parts()), len(before.Parts()))
	}
}
