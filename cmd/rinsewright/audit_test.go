//go:build window

package main_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// A reviewer opens a circuit, marks a finding, answers a question and writes the
// report, all by real keys; the report holds all three.
func TestAuditFromMarkToReport(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "assets", "demo", "oat-drink-station-faults.circuit.json"))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "faults.circuit.json")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	s := start(t, path)
	_, n := s.wait(0, "window", named("ready"))
	_, n = s.wait(n, "checks", func(e event) bool { return e.text("event") == "checks" && e.number("stop") > 0 })
	s.do("key", "F8")
	finding, n := s.wait(n, "a finding", named("finding"))

	s.do("key", "ctrl+F7")
	_, n = s.wait(n, "the question for the name", func(e event) bool { return e.text("title") == "Who are you?" })
	s.do("type", "A. Reviewer")
	s.do("key", "Return")
	_, n = s.wait(n, "the new mark", func(e event) bool { return e.text("title") == "New mark" })
	s.do("type", "Show me this on site")
	s.do("key", "Tab", "Return")
	mark, n := s.wait(n, "mark", named("mark"))
	if mark.text("finding") != finding.text("id") {
		t.Errorf("the mark is about %q, picked was %q", mark.text("finding"), finding.text("id"))
	}
	_, n = s.wait(n, "checks", named("checks"))

	s.do("key", "F9")
	question, n := s.wait(n, "a question", named("question"))
	s.do("key", "ctrl+1")
	answered, n := s.wait(n, "answer", named("answered"))
	if answered.text("question") != question.text("question") || answered.text("answer") != "yes" {
		t.Errorf("answered %v, asked was %v", answered, question)
	}
	_, n = s.wait(n, "checks", named("checks"))

	s.do("key", "F11")
	_, n = s.wait(n, "the report", func(e event) bool { return e.text("title") == "Report of the audit" })
	s.do("key", "Return")
	_, n = s.wait(n, "the file", func(e event) bool { return e.text("title") == "Write the report" })
	out := filepath.Join(dir, "audit.pdf")
	s.do("key", "ctrl+a")
	s.do("type", out)
	s.do("key", "Return")
	s.wait(n, "the report written", named("report"))
	text, err := exec.Command("pdftotext", "-raw", out, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	plain := strings.Join(strings.Fields(string(text)), "")
	for _, want := range []string{finding.text("id"), mark.text("id"), "Show me this on site", question.text("question"), "A. Reviewer"} {
		if !strings.Contains(plain, strings.Join(strings.Fields(want), "")) {
			t.Errorf("the report does not tell %q", want)
		}
	}
	if !strings.Contains(plain, "44of45questionsopen") {
		t.Error("the report does not count the open questions")
	}
}
