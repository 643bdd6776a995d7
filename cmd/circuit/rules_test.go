package main

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rinsewright/checks"
	"rinsewright/model/quantity"
)

func rulesCall(args ...string) (code int, out, errs string) {
	var o, e bytes.Buffer
	code = runRules(context.Background(), args, &o, &e)
	return code, o.String(), e.String()
}

// The terminal says all that the page of a rule holds.
func TestRulePageInTheTerminal(t *testing.T) {
	for _, r := range checks.Rules() {
		code, out, errs := rulesCall(r.Name, "--units", "us")
		if code != exitDone {
			t.Fatalf("%s: code %d, %s", r.Name, code, errs)
		}
		page := checks.PageOf(r, checks.Builtin("food"), quantity.US)
		want := []string{page.Name, page.Title, page.Severity.String()}
		for _, s := range page.Sections {
			want = append(want, s.Head+": "+s.Text)
		}
		for _, l := range page.Limits {
			want = append(want, l.Label+": "+l.Value)
		}
		for _, s := range append(want, page.Sources...) {
			if !strings.Contains(out, s) {
				t.Errorf("%s: no %q in\n%s", r.Name, s, out)
			}
		}
	}
}

func TestRuleExampleIsWritten(t *testing.T) {
	dir := t.TempDir()
	svg, image := filepath.Join(dir, "x.svg"), filepath.Join(dir, "x.png")
	for _, path := range []string{svg, image} {
		if code, _, errs := rulesCall("dead-leg", "--to", path); code != exitDone {
			t.Fatalf("%s: code %d, %s", path, code, errs)
		}
	}
	data, err := os.ReadFile(svg)
	if err != nil {
		t.Fatal(err)
	}
	for d := xml.NewDecoder(bytes.NewReader(data)); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatalf("the drawing is no XML: %v", err)
		}
	}
	data, err = os.ReadFile(image)
	if err != nil {
		t.Fatal(err)
	}
	if c, err := png.DecodeConfig(bytes.NewReader(data)); err != nil || c.Width < 400 || c.Height < 400 {
		t.Errorf("the image is %v (%v)", c, err)
	}
	for _, args := range [][]string{
		{"--to", svg}, {"dead-leg", "slow-run", "--to", svg}, {"dead-leg", "--to", filepath.Join(dir, "x.bmp")}, {"no-such", "--to", svg},
	} {
		if code, _, errs := rulesCall(args...); code != exitBad || errs == "" {
			t.Errorf("%q: code %d, %q", args, code, errs)
		}
	}
}
