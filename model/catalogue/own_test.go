package catalogue

import (
	"strings"
	"testing"
	"testing/fstest"

	"rinsewright/assets"
)

const ownValve = `[
  {"kind": "own-valve", "title": "Pinch valve", "class": "valve", "help": "Squeezes a hose.",
   "positions": ["closed", "open"],
   "ports": [{"name": "a", "at": [-5, 0], "way": "left", "role": "any", "service": "process", "size": "size"},
             {"name": "b", "at": [5, 0], "way": "right", "role": "any", "service": "process", "size": "size"}],
   "paths": [{"from": "a", "to": "b", "open_in": ["open"]}],
   "symbol": {"box": [-5, -3, 5, 3], "draw": [{"path": "M -5 -3 L 5 3 V -3 L -5 3 Z"}], "tag": [0, 6]}}
]`

func TestOwnKinds(t *testing.T) {
	base := Builtin()
	n := len(base.Kinds())
	c, wrong := base.WithOwn(fstest.MapFS{"mine.json": {Data: []byte(ownValve)}, "notes.txt": {Data: []byte("no kinds")}})
	if len(wrong) != 0 {
		t.Fatal(wrong)
	}
	k := c.Kind("own-valve")
	if k == nil || k.Group != OwnGroup || len(c.Kinds()) != n+1 || c.Kinds()[n] != k {
		t.Fatalf("kind %+v", k)
	}
	if len(base.Kinds()) != n || base.Kind("own-valve") != nil {
		t.Error("the catalogue itself was changed")
	}
	if _, ok := c.Tube("EN 10357-A DN50"); !ok {
		t.Error("the tubes are lost")
	}
	if same, wrong := base.WithOwn(fstest.MapFS{}); same != base || wrong != nil {
		t.Error("an empty folder adds nothing")
	}
}

// Each fault is told with the line and the column at which it stands, counted by
// another program, and the other kinds of the file are taken.
func TestOwnKindsFaults(t *testing.T) {
	tests := []struct {
		name, from, to string // what is replaced in the file
		want           string
	}{
		{"syntax", `"closed", "open"],`, `"closed" "open"],`, "f.json:3:27: invalid character '\"' after array element"},
		{"unknown key", `"help":`, `"halp":`, `f.json:2:67: kind "own-valve": unknown field "halp"`},
		{"wrong type", `"at": [5, 0]`, `"at": "right"`, `f.json:5:40: kind "own-valve": key ports.at: a string does not fit here`},
		{"off the grid", `"at": [5, 0]`, `"at": [5.5, 0]`, `f.json:5:23: kind "own-valve": port "b" is not on the 2.5 mm grid`},
		{"position", `"open_in": ["open"]`, `"open_in": ["ajar"]`, `f.json:6:51: kind "own-valve": path a to b: "ajar" is not a position of the valve`},
		{"taken", `"own-valve"`, `"ball-valve"`, `f.json:2:3: kind "ball-valve": the name is taken: give it one that no other kind has`},
		{"no help", `"Squeezes a hose."`, `""`, `f.json:2:3: kind "own-valve": name, title, group and help must be given`},
		{"no list", ownValve, `{"kind": "x"}`, `f.json:1:1: expected a list of kinds: [ { … } ]`},
		{"cut off", "}}\n]", "}}", `f.json:7:104: the file ends in the middle`},
		{"after the end", "}}\n]", "}}\n] 5", "f.json:8:3: invalid character '5' after top-level value"},
		{"empty", ownValve, "", `f.json:1:1: the file ends in the middle`},
	}
	good := strings.ReplaceAll(ownValve, "own-valve", "second-valve")
	for _, tt := range tests {
		if !strings.Contains(ownValve, tt.from) {
			t.Fatalf("%s: nothing to replace", tt.name)
		}
		c, wrong := Builtin().WithOwn(fstest.MapFS{"f.json": {Data: []byte(strings.Replace(ownValve, tt.from, tt.to, 1))}, "g.json": {Data: []byte(good)}})
		if len(wrong) != 1 || wrong[0].Error() != tt.want {
			t.Errorf("%s: %v\nwant %s", tt.name, wrong, tt.want)
		}
		if c.Kind("second-valve") == nil {
			t.Errorf("%s: a sound file beside it was not taken", tt.name)
		}
	}
	big := []byte("[" + strings.Repeat(" ", mostOwnBytes) + "]")
	if _, wrong := Builtin().WithOwn(fstest.MapFS{"f.json": {Data: big}}); len(wrong) != 1 || !strings.Contains(wrong[0].Error(), "1 MiB") {
		t.Errorf("a large file: %v", wrong)
	}
}

func FuzzOwnKinds(f *testing.F) {
	f.Add([]byte(ownValve))
	f.Add([]byte(`[{"kind":"x","symbol":{"draw":[{"path":"M"}]}}]`))
	f.Fuzz(func(t *testing.T, data []byte) {
		c, wrong := Builtin().WithOwn(fstest.MapFS{"f.json": {Data: data}})
		for _, e := range wrong {
			if e.Line < 0 || e.Column < 0 || e.Message == "" {
				t.Fatalf("%+v", e)
			}
		}
		for _, k := range c.Kinds() {
			if k.Group == OwnGroup && k.validate() != nil {
				t.Fatalf("kind %s was taken and is not sound", k.Name)
			}
		}
	})
}

// The example that the program writes is read as it is.
func TestExampleOfOwnKinds(t *testing.T) {
	data, err := assets.Files.ReadFile("example/own-kinds.json")
	if err != nil {
		t.Fatal(err)
	}
	c, wrong := Builtin().WithOwn(fstest.MapFS{"example.json": {Data: data}})
	if len(wrong) != 0 || c.Kind("own-pinch-valve") == nil {
		t.Errorf("the example: %v", wrong)
	}
}
