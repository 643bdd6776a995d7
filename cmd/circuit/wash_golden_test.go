package main

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var updateWash = flag.Bool("update", false, "write what the demos' programmes use anew")

// What the programmes of the demos use, step by step, in metric units to three digits.
// Whether it is plausible is held by the tests of model/wash against figures of the
// trade; this holds that it does not change unseen. "go test ./cmd/circuit -update"
// writes it anew.
func TestWashOfTheDemosStays(t *testing.T) {
	for _, name := range []string{"oat-drink-station", "pharma-loop"} {
		file := demo(t, name)
		code, out, errs := call("wash", "--csv", file)
		if code != exitDone {
			t.Fatalf("%s: ends with %d: %s", name, code, errs)
		}
		got := strings.ReplaceAll(strings.ReplaceAll(out, "\r\n", "\n"), file, name)
		golden := filepath.Join("testdata", "wash-"+name+".csv")
		if *updateWash {
			if err := os.MkdirAll("testdata", 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		a, b := strings.Split(string(want), "\n"), strings.Split(got, "\n")
		for i := range max(len(a), len(b)) {
			switch {
			case i >= len(a):
				t.Fatalf("%s: new line %s", golden, b[i])
			case i >= len(b):
				t.Fatalf("%s: line gone: %s", golden, a[i])
			case a[i] != b[i]:
				t.Errorf("%s line %d:\n got %s\nwant %s", golden, i+1, b[i], a[i])
			}
		}
	}
}
