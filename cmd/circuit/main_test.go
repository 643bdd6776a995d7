package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/checks"
	"rinsewright/model/circuitfile"
)

// demo writes a demo circuit that the program carries to a folder of the test.
func demo(t *testing.T, name string) string {
	t.Helper()
	b, err := assets.Files.ReadFile("demo/" + name + ".circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	return file(t, name+".circuit.json", string(b))
}

func file(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// call runs the command as a user would and gives what it wrote.
func call(args ...string) (code int, out, errs string) {
	var o, e bytes.Buffer
	code = run(context.Background(), args, &o, &e)
	return code, o.String(), e.String()
}

func TestExitCodes(t *testing.T) {
	clean, faulty := demo(t, "oat-drink-station"), demo(t, "oat-drink-station-faults")
	bad := file(t, "bad.circuit.json", "{\n  \"schema\": 3\n}")
	tests := []struct {
		name string
		args []string
		code int
		errs string // what the error output must contain
	}{
		{"only notes", []string{"check", clean}, exitDone, ""},
		{"findings", []string{"check", faulty}, exitFindings, ""},
		{"bad file among good", []string{"check", clean, bad}, exitBad, "bad.circuit.json:2:"},
		{"no such file", []string{"check", "nowhere.circuit.json"}, exitBad, "nowhere.circuit.json"},
		{"no file named", []string{"check"}, exitBad, "name at least one"},
		{"unknown command", []string{"chekc"}, exitBad, `no command "chekc"`},
		{"nothing", nil, exitBad, "circuit COMMAND --help"},
		{"unknown option", []string{"check", clean, "--loud"}, exitBad, "loud"},
		{"unknown rule", []string{"check", clean, "--rules", "no-such"}, exitBad, "no-such"},
		{"unknown units", []string{"check", clean, "--units", "furlongs"}, exitBad, "furlongs"},
		{"unknown profile", []string{"check", clean, "--profile", "none.json"}, exitBad, "none.json"},
		{"bad file with --json", []string{"check", "--json", bad}, exitBad, "bad.circuit.json:2:"},
		{"option before file", []string{"check", "--units", "us", clean}, exitDone, ""},
		{"help", []string{"check", "--help"}, exitDone, ""},
		{"rules", []string{"rules"}, exitDone, ""},
		{"one rule", []string{"rules", "dead-leg"}, exitDone, ""},
		{"no such rule", []string{"rules", "dead-legs"}, exitBad, "dead-legs"},
		{"schema", []string{"schema"}, exitDone, ""},
		{"version", []string{"--version"}, exitDone, ""},
		{"export without --to", []string{"export", clean}, exitBad, "--to"},
		{"export of an unknown sort", []string{"export", clean, "--to", "x.bmp"}, exitBad, ".bmp"},
		{"values without a step", []string{"export", clean, "--to", "x.svg", "--values", "velocity"}, exitBad, "--step"},
		{"unknown values", []string{"export", clean, "--to", "x.svg", "--step", "Vessel T-201/Alkali wash", "--values", "mood"}, exitBad, "mood"},
		{"export of an unknown step", []string{"export", clean, "--to", filepath.Join(t.TempDir(), "x.svg"), "--step", "Dance"}, exitBad, "Dance"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			code, out, errs := call(tt.args...)
			if code != tt.code {
				t.Errorf("ends with %d, want %d\n%s%s", code, tt.code, out, errs)
			}
			if !strings.Contains(errs, tt.errs) {
				t.Errorf("error output %q does not contain %q", errs, tt.errs)
			}
			if (code == exitBad) != (errs != "") {
				t.Errorf("ends with %d and says on the error output %q", code, errs)
			}
		})
	}
}

func TestCheckJSONIsOneLineAFileInOrder(t *testing.T) {
	files := []string{demo(t, "oat-drink-station-faults"), demo(t, "oat-drink-station"), demo(t, "pharma-loop")}
	_, out, _ := call(append([]string{"check", "--json"}, files...)...)
	lines := strings.Split(strings.TrimSpace(out), "\n")
	if len(lines) != len(files) {
		t.Fatalf("%d lines for %d files", len(lines), len(files))
	}
	for i, line := range lines {
		var got struct {
			File, Circuit, Profile string
			Counts                 checks.Counts
			Findings               []struct{ Rule, Message, Severity string }
		}
		if err := json.Unmarshal([]byte(line), &got); err != nil {
			t.Fatal(err)
		}
		c := got.Counts
		if got.File != files[i] || got.Circuit == "" || got.Profile == "" || len(got.Findings) != c.Stop+c.Fix+c.Note {
			t.Errorf("line %d: %+v", i, got)
		}
	}
}

func TestCheckTellsUnitsAsAsked(t *testing.T) {
	f := demo(t, "oat-drink-station-faults")
	_, metric, _ := call("check", f, "--rules", "slow-run")
	_, us, _ := call("check", f, "--rules", "slow-run", "--units", "us")
	if !strings.Contains(metric, "m/s") || !strings.Contains(us, "ft/s") {
		t.Errorf("metric:\n%s\nUS:\n%s", metric, us)
	}
}

func TestBriefIsOneLineAFinding(t *testing.T) {
	_, out, _ := call("check", "--brief", demo(t, "oat-drink-station-faults"))
	for _, line := range strings.Split(strings.TrimSpace(out), "\n") {
		if strings.HasPrefix(line, "        ") {
			t.Errorf("a second line: %q", line)
		}
	}
}

func TestJSONTellsAFileThatIsBad(t *testing.T) {
	_, out, _ := call("check", "--json", file(t, "bad.circuit.json", "{"))
	var got struct{ File, Error string }
	if err := json.Unmarshal([]byte(out), &got); err != nil || got.File == "" || got.Error == "" {
		t.Errorf("%q: %+v, %v", out, got, err)
	}
}

func TestExport(t *testing.T) {
	src := demo(t, "oat-drink-station")
	folder := t.TempDir()
	write := func(name string, args ...string) []byte {
		t.Helper()
		to := filepath.Join(folder, name)
		if code, _, errs := call(append([]string{"export", src, "--to", to}, args...)...); code != exitDone {
			t.Fatalf("%s: ends with %d: %s", name, code, errs)
		}
		b, err := os.ReadFile(to)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	if img, err := png.Decode(bytes.NewReader(write("d.png", "--dpi", "60"))); err != nil {
		t.Error(err)
	} else if img.Bounds().Dx() < 400 {
		t.Errorf("PNG is %v", img.Bounds())
	}
	svg := write("d.svg", "--step", "Vessel T-201/Alkali wash", "--dark")
	if valued := write("v.svg", "--step", "Vessel T-201/Alkali wash", "--values", "velocity"); !bytes.Contains(valued, []byte("1.7 m/s")) {
		t.Error("12 m³/h in DN50 is 1.7 m/s, which does not stand on the drawing") // arithmetic: 12/3600 / (π/4 · 0.05²)
	}
	for d := xml.NewDecoder(bytes.NewReader(svg)); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	if rows, err := csv.NewReader(bytes.NewReader(write("f.csv"))).ReadAll(); err != nil || rows[0][0] != "severity" {
		t.Errorf("CSV: %v, %v", rows, err)
	}
	if b := write("f.json"); !json.Valid(b) {
		t.Error("findings are not JSON")
	}
	again, err := circuitfile.Decode("again", write("c.circuit.json"))
	if err != nil {
		t.Fatal(err)
	}
	first, err := circuitfile.ReadFile(src)
	if err != nil {
		t.Fatal(err)
	}
	a, errA := circuitfile.Encode(first)
	b, errB := circuitfile.Encode(again)
	if errA != nil || errB != nil || !bytes.Equal(a, b) {
		t.Error("the circuit is not the same after an export")
	}
}

// A drawing can be made again: no backup of the last one is left beside it. What
// was written is told as sound JSON whatever the name.
func TestExportLeavesNoBackup(t *testing.T) {
	to := filepath.Join(t.TempDir(), "a\x01b.svg")
	for _, step := range []string{"Vessel T-201/Alkali wash", "Vessel T-201/First rinse"} {
		code, out, errs := call("export", demo(t, "oat-drink-station"), "--to", to, "--step", step, "--json")
		if code != exitDone {
			t.Fatalf("ends with %d: %s", code, errs)
		}
		var told struct{ Written string }
		if err := json.Unmarshal([]byte(out), &told); err != nil || told.Written != to {
			t.Errorf("%q: %+v, %v", out, told, err)
		}
	}
	if files, err := os.ReadDir(filepath.Dir(to)); err != nil || len(files) != 1 {
		t.Errorf("%v, %v", files, err)
	}
}

func TestStopsWhenAsked(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var out, errs bytes.Buffer
	if code := run(ctx, []string{"check", demo(t, "oat-drink-station")}, &out, &errs); code != exitBad || errs.Len() == 0 {
		t.Errorf("ends with %d and says %q", code, errs.String())
	}
}

func TestSchemaIsTheOneEmbedded(t *testing.T) {
	_, out, _ := call("schema")
	want, err := assets.Files.ReadFile("schema/circuit.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	if out != string(want) {
		t.Error("circuit schema prints another schema than the embedded one")
	}
}

// A drawing has its title strip, and with --findings their marks and a list of
// them; --plain is the drawing alone.
func TestExportOfASheet(t *testing.T) {
	src := demo(t, "oat-drink-station-faults")
	svg := func(args ...string) string {
		t.Helper()
		to := filepath.Join(t.TempDir(), "d.svg")
		if code, _, errs := call(append([]string{"export", src, "--to", to}, args...)...); code != exitDone {
			t.Fatalf("%v: ends with %d: %s", args, code, errs)
		}
		b, err := os.ReadFile(to)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	tests := []struct {
		args          []string
		sheet, marked bool
	}{
		{nil, true, false},
		{[]string{"--plain"}, false, false},
		{[]string{"--findings"}, true, true},
	}
	for _, tt := range tests {
		s := svg(tt.args...)
		if got := strings.Contains(s, "verify on site"); got != tt.sheet {
			t.Errorf("%v: title strip %v, want %v", tt.args, got, tt.sheet)
		}
		if got := strings.Contains(s, `<g id="finding">`); got != tt.marked {
			t.Errorf("%v: marks %v, want %v", tt.args, got, tt.marked)
		}
	}
	// The list names the rule by its title and the place by its tag.
	if s := svg("--findings"); !strings.Contains(s, "One-way part against the flow – CV-103") {
		t.Error("the list does not name the check valve that stands against the flow")
	}
	// Nothing leads from source to destination in the first rinse of the filler line,
	// and in no other step: the sheet of that step alone says so.
	for step, want := range map[string]bool{"Filler line/First rinse": true, "Filler line/Alkali wash": false} {
		if got := strings.Contains(svg("--findings", "--step", step), "No way from source to destination"); got != want {
			t.Errorf("%s: the list tells of the missing way: %v, want %v", step, got, want)
		}
	}
}
