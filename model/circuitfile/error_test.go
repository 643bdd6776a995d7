package circuitfile

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// file wraps parts, runs and steps in a file whose first part stands at 5:3.
func file(parts string) string {
	return "{\n\"schema\": \"rinsewright-circuit\", \"version\": 1,\n\"circuit\": {\"name\": \"x\"},\n\"parts\": [\n  " + parts + "\n]}"
}

// valve is a part of a file, but for its end.
const valve = `{"class": "valve", "id": "p1", "kind": "v", "tag": "V-12"`

// Lines and columns count from 1, columns in characters.
func TestErrors(t *testing.T) {
	tests := []struct{ desc, text, want string }{
		// not JSON
		{"empty", "", "f:1:1: the file is empty; expected a circuit"},
		{"only space", "\n\n  ", "f:3:3: the file is empty; expected a circuit"},
		{"not JSON at all", "hello", "f:1:1: expected a value, found hello"},
		{"comma before a bracket", file(`{},`), "f:5:5: nothing follows this comma but ]; take it out"},
		{"comma before a brace", "{\n\"schema\": 1,\n}", "f:2:12: nothing follows this comma but }; take it out"},
		{"no comma", "{\"a\": 1\n \"b\": 2}", "f:2:2: expected , or }, found text"},
		{"no colon", `{"a" 1}`, "f:1:6: expected : after the key, found 1"},
		{"no closing brace", `{"a": 1`, "f:1:8: expected , or }, found the end of the file"},
		{"no closing quote", "{\"a\": \"b\n}", "f:1:7: this text has no closing quote on its line"},
		{"key without quotes", `{a: 1}`, "f:1:2: expected a key in double quotes, found a"},
		{"single quotes", `{'a': 1}`, "f:1:2: expected a key in double quotes, found ' (text stands between double quotes)"},
		{"comment", "{\n// so\n}", "f:2:1: expected a key in double quotes, found / (comments are not possible in JSON)"},
		{"not a number", `{"a": NaN}`, "f:1:7: expected a value, found NaN"},
		{"plus sign", `{"a": +1}`, "f:1:7: expected a value, found +"},
		{"leading zero", `{"a": 01}`, "f:1:7: a number does not begin with a needless 0"},
		{"no digit after the point", `{"a": 1.}`, "f:1:7: expected a digit after the decimal point"},
		{"no digit in the exponent", `{"a": 1e}`, "f:1:7: expected a digit in the exponent"},
		{"only a minus", `{"a": -}`, "f:1:7: expected a digit after the minus sign"},
		{"unknown escape", `{"a": "x\q"}`, `f:1:9: \ begins an escape that JSON does not know; write \\ for a backslash`},
		{"tab in text", "{\"a\": \"x\ty\"}", `f:1:9: the character U+0009 must be written \u0009 in text`},
		{"text after the end", file("") + "\n{}", "f:7:1: expected nothing after the end of the circuit, found {"},
		{"not UTF-8", "{\"ü\": \"\xff\"}", "f:1:8: the text is not UTF-8"},
		{"too deep", strings.Repeat("[", 40), "f:1:33: values stand inside each other more than 32 deep"},
		{"columns are characters", `{"größe水": 1,}`, "f:1:13: nothing follows this comma but }; take it out"},

		// not a circuit
		{"a list", "[]", "f:1:1: this is not a circuit file: expected an object, found a list"},
		{"no schema", `{"version": 1}`, `f:1:1: this is not a circuit file: "schema" is missing`},
		{"other schema", `{"schema": "other", "version": 9}`, `f:1:12: schema: this is not a circuit file: expected "rinsewright-circuit", found "other"`},
		{"newer version", "{\"schema\": \"rinsewright-circuit\",\n \"version\": 3, \"new\": {}}",
			"f:2:13: version: this file was written by a newer version (format 3); this program reads up to 1"},
		{"version 0", `{"schema": "rinsewright-circuit", "version": 0, "circuit": {}}`, "f:1:46: version: expected a whole number from 1 to 1, found 0"},
		{"no version", `{"schema": "rinsewright-circuit", "circuit": {}}`, `f:1:1: "version" is missing`},

		// a record
		{"class missing", file(`{"id": "p1"}`), `f:5:3: parts[0] (p1): "class" is missing`},
		{"class unknown", file(`{"id": "p1", "class": "pmup"}`), `f:5:25: parts[0] (p1): class: expected one of vessel, pump, valve, exchanger, spray, instrument, fitting, terminal, object, frame, found "pmup"; did you mean "pump"?`},
		{"kind missing", file(`{"class": "valve", "id": "p1"}`), `f:5:3: parts[0] (p1): "kind" is missing`},
		{"id missing", file(`{"class": "valve", "kind": "v", "tag": "V-1"}`), `f:5:3: parts[0] (V-1): "id" is missing`},
		{"id empty", file(`{"class": "valve", "id": "", "kind": "v"}`), `f:5:28: parts[0]: id: expected text, found none`},
		{"id of the header", file(`{"class": "valve", "id": "circuit", "kind": "v"}`), `f:5:28: parts[0] (circuit): id: the id "circuit" is kept for the circuit itself`},
		{"id twice", file(valve + "},\n  " + valve + "}"), `f:6:28: parts[1] (V-12): id: the id "p1" is taken by the record at line 5`},
		{"id of a part for a run", strings.Replace(file(valve+"}"), `]}`, `], "runs": [{"id": "p1", "from": {}, "to": {}}]}`, 1),
			`f:6:20: runs[0] (p1): id: the id "p1" is taken by the record at line 5`},
		{"key unknown", file(valve + `, "seat_a": 1}`), `f:5:62: parts[0] (V-12): a valve has no key "seat_a"; did you mean "seat_a_mm"?`},
		{"key unknown, none near", file(valve + `, "colour": 1}`), `f:5:62: parts[0] (V-12): a valve has no key "colour"`},
		{"key in capitals", file(valve + `, "Kv_m3h": 1}`), `f:5:62: parts[0] (V-12): a valve has no key "Kv_m3h"; did you mean "kv_m3h"?`},
		{"key twice", file(valve + `, "tag": "V-13"}`), `f:5:62: parts[0] (V-12): tag: the key stands twice in this object`},
		{"key twice, once with an escape", file(valve + `, "t\u0061g": "V-13"}`), `f:5:62: parts[0] (V-12): tag: the key stands twice in this object`},
		{"number in text", file(valve + `, "kv_m3h": "12"}`), `f:5:72: parts[0] (V-12): kv_m3h: expected a number in m³/h, found "12"`},
		{"null", file(valve + `, "kv_m3h": null}`), `f:5:72: parts[0] (V-12): kv_m3h: expected a number in m³/h, found null; leave the key out where the value is not known`},
		{"negative", file(valve + `, "kv_m3h": -0.1}`), `f:5:72: parts[0] (V-12): kv_m3h: must not be below 0, found -0.1`},
		{"too great for any number", file(valve + `, "kv_m3h": 1e999}`), `f:5:72: parts[0] (V-12): kv_m3h: 1e999 is too great a number`},
		{"too great for a plant", file(valve + `, "kv_m3h": 1e10}`), `f:5:72: parts[0] (V-12): kv_m3h: must lie between 0 and 1000000000, found 1e10`},
		{"choice", file(valve + `, "fails_to": "close"}`), `f:5:74: parts[0] (V-12): fails_to: expected one of closed, open, stays, found "close"; did you mean "closed"?`},
		{"flag", file(valve + `, "position_proof": 1}`), `f:5:80: parts[0] (V-12): position_proof: expected true or false, found 1`},
		{"turn", file(valve + `, "turn": 4}`), `f:5:70: parts[0] (V-12): turn: expected a whole number from 0 to 3, found 4`},
		{"turn in part", file(valve + `, "turn": 1.5}`), `f:5:70: parts[0] (V-12): turn: expected a whole number, found 1.5`},
		{"place", file(valve + `, "at_mm": [1, "2"]}`), `f:5:75: parts[0] (V-12): at_mm: expected a number in mm, found "2"`},
		{"place of three", file(valve + `, "at_mm": [1, 2, 3]}`), `f:5:71: parts[0] (V-12): at_mm: expected two numbers [x, y], found 3`},
		{"absolute zero", file(`{"class": "terminal", "id": "p1", "kind": "t", "temperature_C": -273.2}`),
			`f:5:67: parts[0] (p1): temperature_C: must lie between -273.15 and 1000000000, found -273.2`},
		{"inside a list of a record", strings.Replace(file(""), `]}`, `], "runs": [{"id": "r1", "tag": "R-7", "from": {}, "to": {}, "stretches": [{}, {"length_m": -1}]}]}`, 1),
			`f:6:93: runs[0] (R-7): stretches[1].length_m: must not be below 0, found -1`},
		{"end of a run", strings.Replace(file(""), `]}`, `], "runs": [{"id": "r1", "from": {"part": 7}, "to": {}}]}`, 1),
			`f:6:43: runs[0] (r1): from.part: expected text, found 7`},
		{"header", strings.Replace(file(""), `"name": "x"`, `"names": "x"`, 1), `f:3:13: circuit: a header has no key "names"; did you mean "name"?`},
		{"a tag of two lines", file(`{"class": "valve", "id": "p1", "kind": "v", "tag": "V\n1", "turn": 4}`), `f:5:70: parts[0] ("V\n1"): turn: expected a whole number from 0 to 3, found 4`},
		{"a day that no month has", strings.Replace(file(""), `]}`, `], "deviations": [{"id": "d1", "rule": "r", "finding": "r@p", "date": "2026-02-30"}]}`, 1),
			`f:6:71: deviations[0] (d1): date: expected a date as 2026-11-25, found "2026-02-30"`},
		{"history of a mark", strings.Replace(file(""), `]}`, `], "marks": [{"id": "m1", "number": 1, "class": "must", "history": [{"at": "today"}]}]}`, 1),
			`f:6:76: marks[0] (m1): history[0].at: expected a time in UTC as 2026-11-25T13:18:14Z, found "today"`},
		{"position twice", strings.Replace(file(""), `]}`, `], "steps": [{"id": "s1", "name": "Rinse", "positions": {"p1": "open", "p1": "shut"}}]}`, 1),
			`f:6:72: steps[0] (Rinse): positions.p1: the key stands twice in this object`},
	}
	for _, tt := range tests {
		_, err := Decode("f", []byte(tt.text))
		var list Errors
		if !errors.As(err, &list) {
			t.Errorf("%s: error %v, want %s", tt.desc, err, tt.want)
			continue
		}
		if len(list) != 1 || list[0].Error() != tt.want {
			t.Errorf("%s:\n got %v\nwant %s", tt.desc, err, tt.want)
		}
	}
}

func TestErrorsAreSortedAndCapped(t *testing.T) {
	var parts []string
	for i := range 50 {
		parts = append(parts, fmt.Sprintf(`{"class": "valve", "id": "p%d", "kind": "v", "kv_m3h": -1}`, i))
	}
	_, err := Decode("f", []byte(file(strings.Join(parts, ",\n"))))
	var list Errors
	if !errors.As(err, &list) {
		t.Fatal(err)
	}
	if len(list) != MaxErrors+1 {
		t.Fatalf("%d errors, want %d", len(list), MaxErrors+1)
	}
	for i, e := range list {
		if e.Line != 5+i {
			t.Errorf("error %d stands at line %d, want %d", i, e.Line, 5+i)
		}
	}
	if last := list[MaxErrors].Error(); !strings.HasSuffix(last, ": and 30 more mistakes from here on") {
		t.Errorf("the last is %q", last)
	}
	var one *Error
	if !errors.As(err, &one) || one != list[0] {
		t.Error("errors.As does not find the first mistake")
	}
}

func TestManyMoreErrorsThanAreCounted(t *testing.T) {
	text := file(strings.TrimSuffix(strings.Repeat("1,", 5000), ","))
	_, err := Decode("f", []byte(text))
	var list Errors
	if !errors.As(err, &list) || len(list) != MaxErrors+1 {
		t.Fatalf("got %v", err)
	}
	if last := list[MaxErrors].Message; last != "and more than 979 further mistakes from here on" {
		t.Errorf("the last is %q", last)
	}
}

func TestByteOrderMark(t *testing.T) {
	if _, err := Decode("f", []byte("\ufeff"+file(""))); err != nil {
		t.Error(err)
	}
	_, err := Decode("f", []byte("\ufeff{,}"))
	if err == nil || !strings.HasPrefix(err.Error(), "f:1:2: ") {
		t.Errorf("error %v, want one at 1:2: editors do not show the mark", err)
	}
}

func TestLinesEndInCarriageReturn(t *testing.T) {
	_, err := Decode("f", []byte("{\r\n  \"a\": 1,\r\n}"))
	if err == nil || !strings.HasPrefix(err.Error(), "f:2:9: ") {
		t.Errorf("error %v, want one at 2:9", err)
	}
}

func TestWhatIsNoError(t *testing.T) {
	tests := []struct{ desc, text string }{
		{"a kind that no catalogue has", file(`{"class": "valve", "id": "p1", "kind": "from-tomorrow"}`)},
		{"a run to a part that is not there", strings.Replace(file(""), `]}`, `], "runs": [{"id": "r1", "from": {"part": "gone", "port": "x"}, "to": {}}]}`, 1)},
		{"a step that names what is not there", strings.Replace(file(""), `]}`, `], "steps": [{"id": "s1", "source": "gone", "positions": {"p": "?"}}]}`, 1)},
		{"a part below the plant's zero", file(`{"class": "vessel", "id": "p1", "kind": "t", "elevation_m": -3, "gas_bar": -0.5}`)},
		{"no parts, runs or steps", `{"schema": "rinsewright-circuit", "version": 1, "circuit": {}}`},
		{"text and escapes", file(`{"class": "valve", "id": "p1", "kind": "v", "note": "\"\\\/\b\f\n\r\t\u00e4\ud83e\udd5b"}`)},
	}
	for _, tt := range tests {
		if _, err := Decode("f", []byte(tt.text)); err != nil {
			t.Errorf("%s: %v", tt.desc, err)
		}
	}
}

func TestLimits(t *testing.T) {
	long := bytes.Repeat([]byte(" "), MaxBytes+1)
	if _, err := Decode("f", long); err == nil || err.Error() != "f: the file is longer than 128 MiB" {
		t.Errorf("too long a file: %v", err)
	}
	half := strings.Repeat(`{},`, MaxRecords/2)
	text := `{"schema": "rinsewright-circuit", "version": 1, "circuit": {}, "parts": [` + half + `{}], "runs": [` + half + `{}]}`
	if _, err := Decode("f", []byte(text)); err == nil || !strings.HasSuffix(err.Error(), "runs: the circuit has more than 500000 records") {
		t.Errorf("too many records: %v", err)
	}
	values := "[" + strings.Repeat("1,", maxValues) + "1]"
	if _, err := Decode("f", []byte(values)); err == nil || !strings.HasSuffix(err.Error(), "the file has more than 10000000 values") {
		t.Errorf("too many values: %v", err)
	}
}

func TestReadFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.circuit.json")
	if _, err := ReadFile(path); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a file that is not there: %v", err)
	}
	if err := os.WriteFile(path, []byte(file(`{"class": "valve", "id": "p1", "kind": "v"}`)), 0o644); err != nil {
		t.Fatal(err)
	}
	c, err := ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if c.Part("p1") == nil || c.Header().Name != "x" {
		t.Error("the circuit was not read as it stands in the file")
	}
	if err := os.WriteFile(path, []byte("{"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadFile(path); err == nil || !strings.HasPrefix(err.Error(), path+":1:2: ") {
		t.Errorf("a broken file: %v", err)
	}
}

func TestDistance(t *testing.T) {
	// The first is the textbook example of the measure.
	tests := []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3}, {"", "abc", 3}, {"abc", "abc", 0}, {"flaw", "lawn", 2},
	}
	for _, tt := range tests {
		if got := distance(tt.a, tt.b, 100); got != tt.want {
			t.Errorf("distance(%q, %q) = %d, want %d", tt.a, tt.b, got, tt.want)
		}
	}
}
