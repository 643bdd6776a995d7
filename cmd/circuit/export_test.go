package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

func TestExportSheets(t *testing.T) {
	src, dir := demo(t, "oat-drink-station"), t.TempDir()
	for _, c := range []struct {
		args  []string
		to    string
		files []string // as the ending and number tell
		page  string   // of the PDF, as pdfinfo names it
	}{
		{nil, "default.pdf", []string{"default.pdf"}, "(A3)"},
		{[]string{"--sheet", "A1", "--lie", "portrait"}, "a1.pdf", []string{"a1.pdf"}, "(A1)"},
		{[]string{"--sheet", "none"}, "plain.pdf", []string{"plain.pdf"}, "Pages:           1"},
		{[]string{"--sheet", "ANSI B", "--units", "us"}, "b.pdf", []string{"b.pdf"}, "1224 x 792"}, // 17 by 11 in
		{[]string{"--sheet", "A3", "--scale", "4:5", "--lie", "landscape"}, "parts.pdf", []string{"parts.pdf"}, "Pages:           4"},
		{[]string{"--frames", "--findings"}, "frames.pdf", []string{"frames.pdf"}, "Pages:           3"},
		{[]string{"--sheet", "A3", "--scale", "80%", "--lie", "landscape"}, "parts.svg", []string{"parts-1.svg", "parts-4.svg"}, ""},
		{[]string{"--sheet", "A3"}, "one.dxf", []string{"one.dxf"}, ""},
		{[]string{"--dpi", "50", "--sheet", "A4"}, "paper.png", []string{"paper-1.png", "paper-2.png"}, ""},
	} {
		to := filepath.Join(dir, c.to)
		code, out, errs := call(append([]string{"export", src, "--to", to}, c.args...)...)
		if code != exitDone {
			t.Errorf("%s: code %d: %s", c.to, code, errs)
			continue
		}
		for _, f := range c.files {
			path := filepath.Join(dir, f)
			if info, err := os.Stat(path); err != nil || info.Size() < 1000 {
				t.Errorf("%s: %v", f, err)
			}
			if !strings.Contains(out, path) {
				t.Errorf("%s is not named:\n%s", f, out)
			}
		}
		if c.page == "" {
			continue
		}
		info, err := exec.Command("pdfinfo", to).Output()
		if err != nil {
			t.Fatalf("pdfinfo is needed (Debian package poppler-utils): %v", err)
		}
		if !strings.Contains(string(info), c.page) {
			t.Errorf("%s: not %q:\n%s", c.to, c.page, info)
		}
	}
}

// Small lettering is said, as the paper cannot.
func TestExportTellsSmallLetters(t *testing.T) {
	_, _, errs := call("export", demo(t, "oat-drink-station"), "--to", filepath.Join(t.TempDir(), "x.pdf"), "--sheet", "A4")
	if !strings.Contains(errs, "ISO 3098") {
		t.Errorf("nothing is said of small letters: %q", errs)
	}
}

func TestExportLists(t *testing.T) {
	src, dir := demo(t, "oat-drink-station"), t.TempDir()
	for _, name := range strings.Split(listNames(), ", ") {
		to := filepath.Join(dir, name+".csv")
		if code, _, errs := call("export", src, "--to", to, "--list", name); code != exitDone {
			t.Fatalf("%s: %s", name, errs)
		}
		b, err := os.ReadFile(to)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
		if err != nil || name != findingList && len(rows) < 2 {
			t.Errorf("%s: %d rows, %v", name, len(rows), err)
		}
	}
	to := filepath.Join(dir, "lines.json")
	if code, _, errs := call("export", src, "--to", to, "--list", "lines"); code != exitDone {
		t.Fatal(errs)
	}
	b, err := os.ReadFile(to)
	if err != nil {
		t.Fatal(err)
	}
	var list struct{ List string }
	if err := json.Unmarshal(b, &list); err != nil || list.List != "lines" {
		t.Errorf("%+v, %v", list, err)
	}
	all := filepath.Join(dir, "all.xlsx")
	if code, _, errs := call("export", src, "--to", all); code != exitDone {
		t.Fatal(errs)
	}
	if b, err := os.ReadFile(all); err != nil || !bytes.HasPrefix(b, []byte("PK")) {
		t.Errorf("no workbook: %v", err)
	}
}

func TestExportErrors(t *testing.T) {
	src, dir := demo(t, "oat-drink-station"), t.TempDir()
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--to", "x.pdf", "--sheet", "A7"}, "A4, A3"},
		{[]string{"--to", "x.pdf", "--scale", "big"}, "1:2"},
		{[]string{"--to", "x.pdf", "--scale", "9"}, "0.1 to 4"},
		{[]string{"--to", "x.pdf", "--sheet", "none", "--scale", "1"}, "--sheet"},
		{[]string{"--to", "x.pdf", "--lie", "flat"}, "landscape"},
		{[]string{"--to", "x.csv", "--sheet", "A3"}, "of drawings"},
		{[]string{"--to", "x.csv", "--list", "cables"}, "valves"},
		{[]string{"--to", "x.png", "--list", "valves"}, ".xlsx"},
		{[]string{"--to", "x.csv", "--list", "valves", "--step", "Drain"}, "all steps"},
	} {
		c.args[1] = filepath.Join(dir, c.args[1])
		code, _, errs := call(append([]string{"export", src}, c.args...)...)
		if code != exitBad || !strings.Contains(errs, c.want) {
			t.Errorf("%v: code %d, %q; want %q", c.args[1:], code, errs, c.want)
		}
		if _, err := os.Stat(c.args[1]); err == nil {
			t.Errorf("%v: something was written", c.args)
		}
	}
}

func TestScale(t *testing.T) {
	for text, want := range map[string]float64{"": 0, "fit": 0, "0.5": 0.5, "50%": 0.5, "1:2": 0.5, "50 %": 0.5, "0,5": 0.5, "2:1": 2} {
		if got, err := scaleOf(text); err != nil || got != want {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"0", "-1", "1:0", "NaN", "Inf", "5", "a:b", "0.01"} {
		if got, err := scaleOf(text); err == nil {
			t.Errorf("%q gives %v", text, got)
		}
	}
}
