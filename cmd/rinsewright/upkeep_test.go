//go:build window

package main_test

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// A pump is found, its isolation planned, the second plan chosen, and the plan sheet
// written as a PDF whose text names every valve to be shut and the caution, as
// pdftotext of Poppler reads it.
func TestIsolationFromPickToPDF(t *testing.T) {
	s := start(t, "../../assets/demo/oat-drink-station.circuit.json")
	_, n := s.wait(0, "checks", named("checks"))
	s.do("key", "ctrl+f")
	_, n = s.wait(n, "search", named("dialog"))
	s.do("type", "--delay", "5", "P-201")
	s.do("key", "Return")
	_, n = s.wait(n, "selection", named("selection"))
	s.do("key", "ctrl+shift+i")
	plan, n := s.wait(n, "plan", named("isolation"))
	if plan["found"] != true || plan.number("plans") < 2 {
		t.Fatalf("planned: %v", plan)
	}
	s.do("key", "ctrl+shift+x")
	second, n := s.wait(n, "second plan", named("isolation"))
	if second.number("at") != 1 {
		t.Fatalf("chosen: %v", second)
	}
	path := filepath.Join(t.TempDir(), "plan.pdf")
	s.do("key", "ctrl+shift+o")
	_, n = s.wait(n, "dialog for the name", named("dialog"))
	s.do("key", "ctrl+a")
	s.do("type", "--delay", "5", path)
	s.do("key", "Return")
	s.wait(n, "plan on the disk", named("exported"))
	out, err := exec.Command("pdftotext", "-layout", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(string(out)), " ")
	barriers, _ := second["barriers"].([]any)
	if len(barriers) == 0 {
		t.Fatalf("no barriers told: %v", second)
	}
	wanted := []string{"Isolation of P-201, plan 2", "Order of work", "To put back", "Done by, time", "Checked by, time", "not a permit"}
	for _, b := range barriers {
		wanted = append(wanted, b.(string))
	}
	for _, want := range wanted {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet does not say %q:\n%s", want, out)
		}
	}
}
