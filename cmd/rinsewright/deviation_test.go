//go:build window

package main_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// A finding is accepted by real keys: the count changes, the saved file holds the
// acceptance, and opened again it is shown with its reason.
func TestDeviationIsKept(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "assets", "demo", "oat-drink-station-faults.circuit.json"))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "faults.circuit.json")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	const reason = "Swabbed by hand after each batch"

	s := start(t, path)
	_, n := s.wait(0, "window", named("ready"))
	before, n := s.wait(0, "checks", func(e event) bool { return e.text("event") == "checks" && e.number("stop") > 0 })
	s.do("key", "F8")
	picked, n := s.wait(n, "a finding", named("finding"))
	s.do("key", "ctrl+shift+a")
	_, n = s.wait(n, "the question", func(e event) bool { return e.text("title") == "Accept this finding" })
	s.do("type", reason)
	s.do("key", "Tab", "ctrl+a")
	s.do("type", "A. Reviewer")
	s.do("key", "Return")
	accepted, n := s.wait(n, "acceptance", named("accepted"))
	if accepted.text("finding") != picked.text("id") {
		t.Errorf("accepted %v, picked was %v", accepted, picked)
	}
	after, n := s.wait(n, "checks", named("checks"))
	if after.number("accepted") != before.number("accepted")+1 {
		t.Errorf("%v are accepted, were %v", after.number("accepted"), before.number("accepted"))
	}
	counting := func(e event) float64 { return e.number("stop") + e.number("fix") + e.number("note") }
	if counting(after) != counting(before)-1 {
		t.Errorf("%v findings count, were %v", counting(after), counting(before))
	}
	s.do("key", "ctrl+s")
	s.wait(n, "save", named("saved"))
	saved, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{reason, "A. Reviewer", picked.text("id")} {
		if !strings.Contains(string(saved), want) {
			t.Errorf("the file has no %q", want)
		}
	}
	s.do("key", "ctrl+q")
	s.wait(n, "end", named("quit"))

	s = start(t, path)
	s.wait(0, "window", named("ready"))
	again, n := s.wait(0, "checks", func(e event) bool { return e.text("event") == "checks" && e.number("stop") > 0 })
	if again.number("accepted") != after.number("accepted") {
		t.Errorf("opened again %v are accepted, want %v", again.number("accepted"), after.number("accepted"))
	}
	s.do("key", "ctrl+shift+c")
	shown, _ := s.wait(n, "the accepted findings", named("register"))
	if reasons, _ := shown["reasons"].([]any); !slices.Contains(reasons, any(reason)) {
		t.Errorf("shown are %v", shown)
	}
}
