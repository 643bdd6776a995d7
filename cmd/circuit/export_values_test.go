package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// 12 m³/h in DN50, 50 mm inside (EN 10357 series A), is 1.70 m/s by arithmetic.
func TestExportWithValues(t *testing.T) {
	to := filepath.Join(t.TempDir(), "step.svg")
	code, _, errs := call("export", demo(t, "oat-drink-station"), "--step", "Vessel T-201/Alkali wash", "--values", "velocity", "--to", to)
	if code != exitDone {
		t.Fatalf("ends with %d: %s", code, errs)
	}
	b, err := os.ReadFile(to)
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(b), "1.7 m/s"); n < 5 {
		t.Errorf("the velocity stands %d times in the drawing", n)
	}
	if !strings.Contains(string(b), "mean velocity; computed, not measured") {
		t.Error("the drawing does not tell what its values are")
	}
}

func TestExportWithValuesRefused(t *testing.T) {
	to := filepath.Join(t.TempDir(), "step.svg")
	for _, args := range [][]string{
		{"export", demo(t, "oat-drink-station"), "--values", "velocity", "--to", to},
		{"export", demo(t, "oat-drink-station"), "--step", "Vessel T-201/Alkali wash", "--values", "colour", "--to", to},
	} {
		if code, _, errs := call(args...); code != exitBad || !strings.Contains(errs, "--values") {
			t.Errorf("%v: ends with %d and says %q", args, code, errs)
		}
	}
}
