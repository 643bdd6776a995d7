package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"
)

const sizeDemo = "../../assets/demo/oat-drink-station.circuit.json"

func callSize(t *testing.T, args ...string) (out, errs string, code int) {
	t.Helper()
	var o, e bytes.Buffer
	code = run(context.Background(), append([]string{"size"}, args...), &o, &e)
	return o.String(), e.String(), code
}

// FL-301 needs 11 m³/h and the spray devices of the vessels 12 m³/h, by the file.
func TestSizeOfTheDemo(t *testing.T) {
	out, errs, code := callSize(t, sizeDemo)
	if code != exitFindings || errs != "" {
		t.Fatalf("%d %s", code, errs)
	}
	for _, want := range []string{"Flow of the station                                  12 m³/h", "not known: washes a day of FL-301", "EN 10357-A DN50", "An aid for qualified people"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not in the sheet", want)
		}
	}
	out, _, code = callSize(t, "--washes", "2", "--json", sizeDemo)
	if code != exitDone {
		t.Fatalf("with washes: %d", code)
	}
	var got jsonSheet
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	found := false
	for _, l := range got.Lines {
		if l.Key == "station-flow" {
			found = l.Value != nil && *l.Value > 11.99 && *l.Value < 12.01 && l.Unit == "m³/h" && len(l.Inputs) == 3
		}
		if !l.Known {
			t.Errorf("%s of %q is not known", l.Key, l.Object)
		}
	}
	if !found {
		t.Error("the flow of the station is not as it should be")
	}
	// 12 m³/h are 52.8 gpm: NIST SP 811.
	out, _, _ = callSize(t, "--csv", "--units", "us", sizeDemo)
	rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	found = false
	for _, r := range rows {
		if r[2] == "Flow of the station" {
			found = strings.HasPrefix(r[3], "52.8") && r[4] == "gpm"
		}
	}
	if !found {
		t.Error("the flow of the station is not in gpm")
	}
}

func TestSizeAssumptions(t *testing.T) {
	out, _, code := callSize(t, "--assumptions", "--set", "cold=50 °F")
	if code != exitDone || !strings.Contains(out, "Temperature of the water supply") || !strings.Contains(out, "told by the user") {
		t.Errorf("%d %s", code, out)
	}
	for _, bad := range [][]string{{}, {"a", "b"}, {"--set", "cold", sizeDemo}, {"--set", "warm=1", sizeDemo}, {"--set", "cold=soup", sizeDemo},
		{"--json", "--csv", sizeDemo}, {"--programme", "soap", sizeDemo}, {"--tanks", "9", sizeDemo}, {"--units", "imperial", sizeDemo}, {"nothing.json"}} {
		if _, errs, code := callSize(t, bad...); code != exitBad || errs == "" {
			t.Errorf("%v: %d %q", bad, code, errs)
		}
	}
}
