package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestReportCommand(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join("..", "..", "assets", "demo", "oat-drink-station-faults.circuit.json")
	for _, ending := range []string{".pdf", ".html", ".json"} {
		to := filepath.Join(dir, "r"+ending)
		var out, errs bytes.Buffer
		if code := run(context.Background(), []string{"report", file, "--to", to, "--by", "A. Reviewer", "--day", "2026-11-25", "--progress"}, &out, &errs); code != exitDone {
			t.Fatalf("%s: code %d: %s", ending, code, errs.String())
		}
		data, err := os.ReadFile(to)
		if err != nil || len(data) < 10_000 {
			t.Fatalf("%s: %d bytes, %v", ending, len(data), err)
		}
		if !strings.Contains(errs.String(), "100 %") {
			t.Errorf("%s: the progress does not come to its end: %s", ending, errs.String())
		}
		begin := map[string]string{".pdf": "%PDF-", ".html": "<!DOCTYPE html>", ".json": "{"}[ending]
		if !strings.HasPrefix(string(data), begin) {
			t.Errorf("%s begins with %.20q", ending, data)
		}
		if ending == ".json" && !json.Valid(data) {
			t.Error("the JSON is none")
		}
	}
	for _, bad := range [][]string{
		{"report", file},
		{"report", "--to", filepath.Join(dir, "x.pdf")},
		{"report", file, "--to", filepath.Join(dir, "x.docx")},
		{"report", file, "--to", filepath.Join(dir, "x.circuit.json")},
		{"report", file, "--to", filepath.Join(dir, "x.pdf"), "--chapters", "none"},
		{"report", file, "--to", filepath.Join(dir, "x.pdf"), "--day", "2026-02-30"},
		{"report", filepath.Join(dir, "absent"), "--to", filepath.Join(dir, "x.pdf")},
	} {
		var out, errs bytes.Buffer
		if code := run(context.Background(), bad, &out, &errs); code != exitBad || errs.Len() == 0 {
			t.Errorf("%v: code %d, %q", bad, code, errs.String())
		}
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "x*")); len(left) > 0 {
		t.Errorf("a bad call left %v", left)
	}
}
