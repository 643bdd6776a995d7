package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"rinsewright/model/circuitfile"
)

// typed are what somebody may type as a tag, a name or a note to make a file do
// something when it is opened. Each has the mark ZQ, by which it is found again.
var typed = []string{
	`<script>alert("ZQ")</script>`, `"><img src=x onerror="ZQ">`, `]]><!-- ZQ`, `=HYPERLINK("http://x","ZQ")`, `@SUM(ZQ)`,
	`+ZQ|' /C calc'!A0`, `-2+ZQ`, "ZQ\n0\nLINE\n8\n0", `%%cZQ%%u`, `{\fArial;ZQ}\P\U+0041`, `ZQ) Tj ET (`, `ZQ>> /OpenAction << /S /JavaScript`, `&amp;ZQ&#x41;`,
}

// typedOver gives a demo in which every text that a user types freely is one of typed, or,
// to compare with, a harmless one.
func typedOver(t *testing.T, harmless bool) string {
	t.Helper()
	data, err := os.ReadFile("../../assets/demo/oat-drink-station.circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	var tree map[string]any
	if err := json.Unmarshal(data, &tree); err != nil {
		t.Fatal(err)
	}
	free := map[string]bool{"tag": true, "name": true, "note": true, "author": true, "programme": true, "description": true, "function": true, "loop": true, "reason": true, "text": true}
	n := 0
	for _, p := range leaves(tree, "", nil) {
		if s, ok := p.get().(string); ok && free[p.key] && s != "" && p.object != nil {
			n++
			p.set(fmt.Sprintf("%s %d", typed[n%len(typed)], n))
			if harmless {
				p.set(fmt.Sprintf("ZQ word %d", n))
			}
		}
	}
	if n < 50 {
		t.Fatalf("only %d texts are typed over", n)
	}
	out, err := json.Marshal(tree)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := circuitfile.Decode("typed", out); err != nil {
		t.Fatal(err)
	}
	return file(t, "typed.circuit.json", string(out))
}

// python runs a script on a file and gives what it prints.
func python(t *testing.T, script, path string) string {
	t.Helper()
	c := exec.Command("/usr/bin/python3", "-c", script, path) // another python3 may come first and lack the packages
	var errs bytes.Buffer
	c.Stderr = &errs
	out, err := c.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, errs.String())
	}
	return strings.TrimSpace(string(out))
}

// What users type is text in every file that is written, for its reader: encoding/xml
// (SVG), ezdxf (DXF), openpyxl (XLSX), qpdf and poppler (PDF), encoding/csv.
func TestWhatIsTypedStaysText(t *testing.T) {
	dir := t.TempDir()
	hostile, harmless := typedOver(t, false), typedOver(t, true)
	export := func(from, name string, more ...string) string {
		t.Helper()
		to := filepath.Join(dir, name)
		if code, _, errs := call(append([]string{"export", from, "--to", to}, more...)...); code != exitDone {
			t.Fatalf("%s: %s", name, errs)
		}
		return to
	}

	t.Run("svg", func(t *testing.T) {
		count := func(path string) (elements map[string]int, texts int) {
			elements = map[string]int{}
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			d := xml.NewDecoder(bytes.NewReader(data))
			for {
				token, err := d.Token()
				if errors.Is(err, io.EOF) {
					return elements, texts
				}
				if err != nil {
					t.Fatal(err)
				}
				switch token := token.(type) {
				case xml.StartElement:
					elements[token.Name.Local]++
					for _, a := range token.Attr {
						if strings.HasPrefix(a.Name.Local, "on") || strings.Contains(a.Value, "script") {
							t.Errorf("attribute %s=%q", a.Name.Local, a.Value)
						}
					}
				case xml.CharData:
					if strings.Contains(string(token), "ZQ") {
						texts++
					}
				}
			}
		}
		elements, texts := count(export(hostile, "a.svg"))
		for name := range elements {
			switch name {
			case "svg", "g", "path", "rect", "text", "circle", "title", "ellipse", "line", "polyline", "polygon", "defs", "use", "tspan":
			default:
				t.Errorf("the element %s came in", name)
			}
		}
		if _, want := count(export(harmless, "b.svg")); texts != want || want < 30 {
			t.Errorf("%d typed texts in the SVG, %d of the harmless circuit", texts, want)
		}
	})

	t.Run("dxf", func(t *testing.T) {
		const script = `
import sys, ezdxf, collections
doc = ezdxf.readfile(sys.argv[1])
if doc.audit().errors: sys.exit("errors: %r" % doc.audit().errors)
count = collections.Counter(e.dxftype() for e in doc.modelspace())
print(count["TEXT"] + count["MTEXT"], count["LINE"], sum("ZQ" in e.dxf.text for e in doc.modelspace() if e.dxftype() == "TEXT"))
`
		if got, want := python(t, script, export(hostile, "a.dxf")), python(t, script, export(harmless, "b.dxf")); got != want || strings.HasSuffix(want, " 0") {
			t.Errorf("texts, lines and typed texts: %s, of the harmless circuit: %s", got, want)
		}
	})

	t.Run("xlsx", func(t *testing.T) {
		const script = `
import sys, openpyxl
typed = 0
for sheet in openpyxl.load_workbook(sys.argv[1]):
    for row in sheet.iter_rows():
        for c in row:
            if c.data_type == "f" or c.hyperlink: sys.exit("%s %s: %r" % (sheet.title, c.coordinate, c.value))
            if isinstance(c.value, str) and "ZQ" in c.value:
                typed += 1
                if c.value[0] in "=+-@": sys.exit("begins as a formula: %r" % c.value)
print(typed)
`
		if got, want := python(t, script, export(hostile, "a.xlsx")), python(t, script, export(harmless, "b.xlsx")); got != want || want == "0" {
			t.Errorf("%s cells with typed texts, %s of the harmless circuit", got, want)
		}
	})

	t.Run("pdf", func(t *testing.T) {
		path := export(hostile, "a.pdf")
		if out, err := exec.Command("qpdf", "--check", path).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		plain := filepath.Join(dir, "plain.pdf")
		if out, err := exec.Command("qpdf", "--qdf", "--object-streams=disable", path, plain).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		keys := python(t, `
import sys, json, subprocess
found = set()
def walk(x):
    if isinstance(x, dict):
        for k, v in x.items():
            if k in ("/JavaScript", "/JS", "/OpenAction", "/AA", "/Launch", "/URI", "/A"): found.add(k)
            walk(v)
    elif isinstance(x, list):
        for v in x: walk(v)
walk(json.loads(subprocess.run(["qpdf", "--json", sys.argv[1]], capture_output=True, check=True).stdout))
print(sorted(found))
`, path)
		if keys != "[]" {
			t.Errorf("the PDF holds %s", keys)
		}
		words := func(path string) int {
			out, err := exec.Command("pdftotext", path, "-").Output()
			if err != nil {
				t.Fatal(err)
			}
			return strings.Count(string(out), "ZQ")
		}
		if got, want := words(path), words(export(harmless, "b.pdf")); got == 0 || want == 0 {
			t.Errorf("%d typed texts can be read in the PDF, %d of the harmless circuit", got, want)
		}
	})

	rows := func(t *testing.T, what string, data []byte) (typed int) {
		t.Helper()
		r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff"))))
		r.FieldsPerRecord = -1
		all, err := r.ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range all {
			for _, cell := range row {
				if strings.Contains(cell, "ZQ") {
					typed++
					if strings.ContainsRune("=+-@\t\r\n", rune(cell[0])) {
						t.Errorf("%s: a spreadsheet would take %q for a formula", what, cell)
					}
				}
			}
		}
		return typed
	}
	t.Run("csv", func(t *testing.T) {
		for _, list := range []string{"findings", "parts", "valves", "lines", "instruments"} {
			data, err := os.ReadFile(export(hostile, list+".csv", "--list", list))
			if err != nil {
				t.Fatal(err)
			}
			if rows(t, list, data) == 0 && list != "findings" {
				t.Errorf("%s holds no typed text", list)
			}
		}
		for _, args := range [][]string{{"solve", "--csv", hostile}, {"wash", "--csv", hostile}, {"wash", "--csv", "--show", "switching", hostile}, {"compare", "--csv", harmless, hostile}} {
			code, out, errs := call(args...)
			if code == exitBad {
				t.Fatalf("%v: %s", args, errs)
			}
			if rows(t, strings.Join(args[:2], " "), []byte(out)) == 0 {
				t.Errorf("%v writes no typed text", args)
			}
		}
	})
}
