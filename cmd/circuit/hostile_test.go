package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
	"time"

	"rinsewright/assets"
	"rinsewright/model"
	"rinsewright/model/circuitfile"
)

// The commands are run on circuits that a demo becomes by a script of blind
// changes: values to the ends of what a file may hold and past them, keys and
// records taken out, records doubled, values of one key swapped between records
// (so a valve becomes a tank, a run ends in itself, a step washes a pump). Each
// takes a few bytes of the script, so go's fuzzing steers by what it reaches:
//
//	go test -run '^$' -fuzz FuzzSolve -fuzztime 5m ./cmd/circuit
//
// Held is that a command ends in bounded time with an exit code of its own and
// without a panic, says why when it refuses, writes no NaN and no infinity, and
// writes files that are well-formed.

// seeds adds the demos and short scripts to begin with.
func seeds(f *testing.F) {
	for n := range demoNames(f) {
		f.Add(uint8(n), uint8(n*5), []byte{})
		for op := range byte(ops) {
			f.Add(uint8(n), op, bytes.Repeat([]byte{op, 7 + byte(n), 31 * op, op, op, byte(n), 201, 2 + op}, 3))
		}
	}
	for command := range uint8(16) {
		f.Add(uint8(1), command, []byte{0, 1, 77, 3, 5, 2, 40, 1})
	}
}

func demoNames(t testing.TB) []string {
	t.Helper()
	list, err := assets.Files.ReadDir("demo")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range list {
		out = append(out, "demo/"+e.Name())
	}
	return out
}

// place is where a value stands in a tree of JSON.
type place struct {
	object map[string]any // nil: in a list
	list   []any
	key    string // also of the list that it stands in
	index  int
}

func (p place) get() any {
	if p.object != nil {
		return p.object[p.key]
	}
	return p.list[p.index]
}

func (p place) set(x any) {
	if p.object != nil {
		p.object[p.key] = x
		return
	}
	p.list[p.index] = x
}

// leaves lists the places of all numbers, texts and flags in order.
func leaves(x any, key string, out []place) []place {
	switch x := x.(type) {
	case map[string]any:
		keys := make([]string, 0, len(x))
		for k := range x {
			keys = append(keys, k)
		}
		slices.Sort(keys)
		for _, k := range keys {
			switch x[k].(type) {
			case map[string]any, []any:
				out = leaves(x[k], k, out)
			default:
				out = append(out, place{object: x, key: k})
			}
		}
	case []any:
		for i := range x {
			switch x[i].(type) {
			case map[string]any, []any:
				out = leaves(x[i], key, out)
			default:
				out = append(out, place{list: x, key: key, index: i})
			}
		}
	}
	return out
}

// Sorts of change.
const (
	opNumber = iota
	opText
	opSwap
	opTake
	opRemove
	opDouble
	opScale
	ops
)

var extremes = []float64{0, -1, 1e-12, 1e-3, 1, 1e3, 1e9, 1e15, 1e300, -1e300, math.MaxFloat64, math.SmallestNonzeroFloat64, 99.999, 100, 273.15, -273.15}

var nasty = []string{"", " ", "=1+1", "<script>alert(1)</script>", "\"><x onload=y>", "x\ny", "\u202e", "%n%s", "../../x", "'; --", "]]>", "\\P{}%%c", "a\u0085b", strings.Repeat("W", 300), "漢字", "--help"}

// mutant gives the text of a demo after a script: four bytes a change. Of its
// steps at most so many in a row are kept.
func mutant(t testing.TB, demo uint8, steps int, script []byte) []byte {
	t.Helper()
	names := demoNames(t)
	data, err := assets.Files.ReadFile(names[int(demo)%len(names)])
	if err != nil {
		t.Fatal(err)
	}
	var tree map[string]any
	if err := json.Unmarshal(data, &tree); err != nil {
		t.Fatal(err)
	}
	if all, ok := tree["steps"].([]any); ok && len(all) > steps {
		from := int(demo) * 7 % (len(all) - steps)
		tree["steps"] = all[from : from+steps]
	}
	for ; len(script) >= 4; script = script[4:] {
		change(tree, script[0]%ops, int(script[1])<<8|int(script[2]), int(script[3]))
	}
	out, err := json.Marshal(tree)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

var listNamesOf = []string{"parts", "runs", "steps", "parts", "runs", "deviations", "marks", "answers"}

func change(tree map[string]any, op byte, at, with int) {
	all := leaves(tree, "", nil)
	p := all[at%len(all)]
	list := listNamesOf[with%len(listNamesOf)]
	records, _ := tree[list].([]any)
	switch op {
	case opNumber:
		if _, ok := p.get().(float64); ok {
			p.set(extremes[with%len(extremes)])
		}
	case opScale:
		if x, ok := p.get().(float64); ok && !math.IsInf(x*math.Pow(10, float64(with-128)), 0) {
			p.set(x * math.Pow(10, float64(with-128)/16))
		}
	case opText:
		if _, ok := p.get().(string); ok {
			p.set(nasty[with%len(nasty)])
		}
	case opSwap: // the value of the same key of another record
		var same []place
		for _, q := range all {
			if q.key == p.key {
				same = append(same, q)
			}
		}
		p.set(same[with%len(same)].get())
	case opTake:
		if p.object != nil {
			delete(p.object, p.key)
		}
	case opRemove:
		if len(records) > 0 {
			i := at % len(records)
			tree[list] = slices.Delete(slices.Clone(records), i, i+1)
		}
	case opDouble:
		if len(records) > 0 {
			b, err := json.Marshal(records[at%len(records)])
			if err != nil {
				panic(err) // it was read from JSON
			}
			var twin map[string]any
			if err := json.Unmarshal(b, &twin); err != nil {
				panic(err)
			}
			twin["id"] = fmt.Sprintf("twin%d", len(records))
			tree[list] = append(slices.Clone(records), twin)
		}
	}
}

// notANumber finds what a computation must not write.
var notANumber = regexp.MustCompile(`(^|[\s,;:(\["])([+-]?Inf|NaN)\b`)

// hold runs a command on a circuit and holds what is said above.
func hold(t *testing.T, args ...string) {
	t.Helper()
	done := make(chan struct{})
	defer close(done)
	go func() {
		select {
		case <-done:
		case <-time.After(2 * time.Minute): // far beyond what any of these takes
			debug.SetTraceback("all")
			panic(fmt.Sprintf("circuit %v hangs", args))
		}
	}()
	code, out, errs := call(args...)
	if code < exitDone || code > exitBad {
		t.Fatalf("%v ends with %d", args, code)
	}
	if code == exitBad && errs == "" {
		t.Fatalf("%v ends with %d and says nothing", args, code)
	}
	if strings.Contains(errs, "failed, its findings are not known") || strings.Contains(errs, "runtime error") {
		t.Fatalf("%v: %s", args, errs)
	}
	if at := notANumber.FindStringIndex(out); at != nil {
		t.Fatalf("%v writes %q", args, out[max(at[0]-80, 0):min(at[1]+80, len(out))])
	}
	for i, a := range args {
		if a == "--to" && args[0] != "trace" {
			wellFormed(t, args[i+1])
		}
	}
	if slices.Contains(args, "--json") {
		for line := range strings.SplitSeq(strings.TrimSpace(out), "\n") {
			if line != "" && !json.Valid([]byte(line)) && !json.Valid([]byte(out)) {
				t.Fatalf("%v writes no JSON: %.200s", args, line)
			}
		}
	}
}

// wellFormed reads a file that was written, by its ending; none is as good.
func wellFormed(t *testing.T, path string) {
	t.Helper()
	data, err := os.ReadFile(path)
	if errors.Is(err, os.ErrNotExist) {
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	switch {
	case strings.HasSuffix(path, ".circuit.json"):
		_, err = circuitfile.Decode(path, data)
	case strings.HasSuffix(path, ".json"):
		if !json.Valid(data) {
			err = errors.New("no JSON")
		}
	case strings.HasSuffix(path, ".svg"):
		d := xml.NewDecoder(bytes.NewReader(data))
		for {
			var tok xml.Token
			if tok, err = d.Token(); err != nil {
				break
			}
			if e, ok := tok.(xml.StartElement); ok {
				if e.Name.Local == "script" {
					t.Fatal("a script in the SVG")
				}
				for _, a := range e.Attr {
					if strings.HasPrefix(a.Name.Local, "on") {
						t.Fatalf("the attribute %s in the SVG", a.Name.Local)
					}
				}
			}
		}
		if err == io.EOF {
			err = nil
		}
		for _, bad := range []string{"NaN", "Inf"} {
			if bytes.Contains(data, []byte(`="`+bad)) || bytes.Contains(data, []byte(" "+bad+" ")) {
				t.Fatalf("%s in the SVG", bad)
			}
		}
	case strings.HasSuffix(path, ".csv"):
		r := csv.NewReader(bytes.NewReader(data))
		r.FieldsPerRecord = -1
		var rows [][]string
		rows, err = r.ReadAll()
		for _, row := range rows {
			for _, cell := range row {
				if cell != "" && strings.ContainsRune("=@\t\r", rune(cell[0])) {
					t.Fatalf("a spreadsheet would take %q for a formula", cell)
				}
			}
		}
	case strings.HasSuffix(path, ".pdf"):
		if !bytes.HasPrefix(data, []byte("%PDF-")) || !bytes.Contains(data[max(len(data)-64, 0):], []byte("%%EOF")) {
			err = errors.New("no whole PDF")
		}
		if bytes.Contains(data, []byte("NaN")) || bytes.Contains(data, []byte("+Inf")) {
			t.Fatal("a number that is none in the PDF")
		}
	case strings.HasSuffix(path, ".dxf"):
		if lines := bytes.Count(data, []byte("\n")); lines%2 != 0 || !bytes.HasSuffix(bytes.TrimRight(data, "\r\n"), []byte("EOF")) {
			err = fmt.Errorf("no whole DXF: %d lines", lines)
		}
	}
	if err != nil {
		t.Fatalf("%s: %v", filepath.Base(path), err)
	}
}

// hostile makes the fuzz target of a family of commands on circuits of so many
// steps.
func hostile(f *testing.F, steps int, commands func(dir, file string, tags []string) [][]string) {
	seeds(f)
	f.Fuzz(func(t *testing.T, demo, command uint8, script []byte) {
		if len(script) > 64 {
			t.Skip("long scripts break everything at once")
		}
		text := mutant(t, demo, steps, script)
		dir := t.TempDir()
		file := filepath.Join(dir, "in.circuit.json")
		if err := os.WriteFile(file, text, 0o644); err != nil {
			t.Fatal(err)
		}
		c, err := circuitfile.Decode("in", text)
		if err != nil {
			hold(t, "check", file) // it is refused in words
			return
		}
		all := commands(dir, file, tagsOf(c, int(command)))
		hold(t, all[int(command)%len(all)]...)
	})
}

// tagsOf gives two tags of a circuit that a number chooses.
func tagsOf(c *model.Circuit, n int) []string {
	out := []string{"none", "none"}
	if parts := c.Parts(); len(parts) > 0 {
		for i := range out {
			if tag := parts[(n*7+i*13)%len(parts)].Meta().Tag; tag != "" && tag[0] != '-' {
				out[i] = tag
			}
		}
	}
	return out
}

func FuzzCheck(f *testing.F) {
	hostile(f, 100, func(_, file string, _ []string) [][]string {
		return [][]string{{"check", file}, {"check", "--json", file}, {"check", "--units", "us", file}, {"check", "--profile", "pharma", file}}
	})
}

func FuzzSolve(f *testing.F) {
	hostile(f, 100, func(_, file string, _ []string) [][]string {
		return [][]string{{"solve", file}, {"solve", "--json", file}, {"solve", "--units", "us", file}}
	})
}

func FuzzWash(f *testing.F) {
	hostile(f, 6, func(_, file string, _ []string) [][]string {
		var out [][]string
		for _, show := range washShows {
			out = append(out, []string{"wash", "--show", show, file}, []string{"wash", "--json", "--optional", "--show", show, file})
		}
		return append(out, []string{"wash", "--csv", "--hot", file})
	})
}

func FuzzTrace(f *testing.F) {
	hostile(f, 100, func(dir, file string, tags []string) [][]string {
		return [][]string{
			{"isolate", file, tags[0]}, {"isolate", "--json", file, tags[0], tags[1]},
			{"isolate", file, tags[1], "--to", filepath.Join(dir, "plan.pdf")},
			{"trace", file, tags[0]}, {"trace", "--steps", "--json", file, tags[0]}, {"trace", file, tags[0], "--to", tags[1]},
			{"trace", "--past", "--csv", file, tags[1]},
		}
	})
}

func FuzzCompare(f *testing.F) {
	path := filepath.Join(f.TempDir(), "base.circuit.json")
	data, err := assets.Files.ReadFile("demo/oat-drink-station.circuit.json")
	if err != nil {
		f.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o644); err != nil {
		f.Fatal(err)
	}
	hostile(f, 100, func(dir, file string, _ []string) [][]string {
		return [][]string{
			{"compare", path, file}, {"compare", "--json", file, path}, {"compare", "--csv", path, file},
			{"merge", path, file, path, "--to", filepath.Join(dir, "out.circuit.json")},
			{"merge", file, path, path, "--to", filepath.Join(dir, "out.circuit.json")},
		}
	})
}

func FuzzExport(f *testing.F) {
	hostile(f, 100, func(dir, file string, _ []string) [][]string {
		var out [][]string
		for _, o := range [][]string{{".svg"}, {".svg", "--findings", "--units", "us"}, {".pdf"}, {".pdf", "--sheet", "A4", "--scale", "1:1"},
			{".dxf"}, {".pdf", "--frames"}, {".csv"}, {".xlsx"}, {".json"}, {".circuit.json"}, {".svg", "--sheet", "A3", "--dark"}, {".png", "--dpi", "30"}} {
			out = append(out, append([]string{"export", file, "--to", filepath.Join(dir, "out"+o[0])}, o[1:]...))
		}
		for _, list := range []string{"parts", "valves", "lines", "instruments", "nozzles", "pumps"} {
			out = append(out, []string{"export", file, "--to", filepath.Join(dir, "out.csv"), "--list", list})
		}
		return out
	})
}
