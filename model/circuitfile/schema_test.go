package circuitfile

import (
	"bytes"
	"flag"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"rinsewright/model"
)

var update = flag.Bool("update", false, "write the JSON Schema in assets anew")

func TestSchemaInAssets(t *testing.T) {
	path := filepath.Join("..", "..", "assets", "schema", "circuit.schema.json")
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, Schema(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, Schema()) {
		t.Errorf("%s is not what the types of the records say; run go test -update", path)
	}
}

func TestEveryKeyIsDescribed(t *testing.T) {
	used := map[string]bool{}
	var walk func(s *shape)
	walk = func(s *shape) {
		for _, f := range s.fields {
			if own := s.what + ": " + f.key; describedKeys[own] != "" {
				used[own] = true
			} else {
				used[f.key] = true
			}
			if described(s, f.key) == "" {
				t.Errorf("%s: no description of %q", s.what, f.key)
			}
			walk(f.shape)
		}
		if s.elem != nil {
			walk(s.elem)
		}
		for _, of := range s.classes {
			walk(of)
		}
	}
	walk(envelope)
	for key := range describedKeys {
		if !used[key] {
			t.Errorf("description of %q, which is no key", key)
		}
	}
	for _, c := range model.Classes() {
		if describedSorts[string(c)] == "" {
			t.Errorf("no description of class %q", c)
		}
	}
}

// compiled gives the schema as an independent validator reads it.
func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	if err := c.AddResource("circuit.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("circuit.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func valid(t *testing.T, s *jsonschema.Schema, text []byte) error {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return s.Validate(v)
}

func TestWhatIsWrittenMeetsTheSchema(t *testing.T) {
	s := compiled(t)
	for seed := range uint64(40) {
		rng := rand.New(rand.NewPCG(seed, 2))
		data, err := Encode(randomCircuit(rng, 1+rng.IntN(40), []float64{0, 0.4, 1}[seed%3]))
		if err != nil {
			t.Fatal(err)
		}
		if err := valid(t, s, data); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
	}
	empty, err := Encode(model.New(""))
	if err != nil {
		t.Fatal(err)
	}
	if err := valid(t, s, empty); err != nil {
		t.Error(err)
	}
}

// sound is a circuit that both Decode and the schema accept. The mutations
// below each make one thing wrong.
const sound = `{
  "schema": "rinsewright-circuit",
  "version": 1,
  "circuit": {"name": "Oat line 2"},
  "parts": [
    {"class": "valve", "id": "p1", "kind": "butterfly-valve", "tag": "V-12", "at_mm": [60, 40], "turn": 1, "kv_m3h": 118, "actuation": "manual"},
    {"class": "vessel", "id": "p2", "kind": "storage-tank", "bottom": "cone", "gas_bar": -0.2, "vented": true},
    {"class": "pump", "id": "p3", "kind": "centrifugal-pump", "curve": [{"flow_m3h": 10, "head_m": 30}]}
  ],
  "runs": [
    {"id": "r1", "from": {"part": "p1", "port": "a"}, "to": {"at_mm": [1, 2]}, "stretches": [{"length_m": 2, "rise_m": -1}], "elbows": 2, "bends_mm": [[1, 2]]}
  ],
  "steps": [
    {"id": "s1", "order": 1, "name": "Rinse", "temperature_C": 20, "strength_pct": 1.5, "cleans": ["p2"], "positions": {"p1": "open"}}
  ],
  "deviations": [
    {"id": "d1", "rule": "dead-leg", "finding": "dead-leg@p1", "places": [{"element": "p1"}], "gravest": "fix", "date": "2026-11-25"}
  ],
  "marks": [
    {"id": "m1", "number": 1, "class": "must", "pin": {"on": "r1", "along_pct": 40}, "attachments": ["IMG-7.jpg"], "history": [{"at": "2026-11-25T13:18:14Z", "state": "agreed"}]}
  ],
  "answers": [
    {"id": "a1", "question": "gasket", "answer": "yes"}
  ]
}`

var mutations = []struct{ desc, old, new string }{
	{"other schema name", `"rinsewright-circuit"`, `"another"`},
	{"no schema name", `"schema": "rinsewright-circuit",`, ``},
	{"newer version", `"version": 1`, `"version": 2`},
	{"version zero", `"version": 1`, `"version": 0`},
	{"version in text", `"version": 1`, `"version": "1"`},
	{"no version", `"version": 1,`, ``},
	{"no header", `"circuit": {"name": "Oat line 2"},`, ``},
	{"unknown key of the file", `"circuit":`, `"extra": 1, "circuit":`},
	{"unknown key of the header", `{"name": "Oat line 2"}`, `{"title": "Oat line 2"}`},
	{"header is text", `{"name": "Oat line 2"}`, `"Oat line 2"`},
	{"parts is an object", `"parts": [`, `"parts": {}, "runs": [`},
	{"part is a number", `"parts": [`, `"parts": [7,`},
	{"part without class", `"class": "valve", `, ``},
	{"part without id", `"id": "p1", `, ``},
	{"part without kind", `"kind": "butterfly-valve", `, ``},
	{"empty id", `"id": "p1"`, `"id": ""`},
	{"the header's id", `"id": "p1"`, `"id": "circuit"`},
	{"unknown class", `"class": "valve"`, `"class": "valv"`},
	{"class is a number", `"class": "valve"`, `"class": 4`},
	{"key of another class", `"kv_m3h": 118`, `"diameter_m": 1`},
	{"key of no class", `"kv_m3h": 118`, `"kv": 118`},
	{"key in capitals", `"kv_m3h": 118`, `"KV_M3H": 118`},
	{"number in text", `"kv_m3h": 118`, `"kv_m3h": "118"`},
	{"null for unknown", `"kv_m3h": 118`, `"kv_m3h": null`},
	{"null for text", `"tag": "V-12"`, `"tag": null`},
	{"negative Kv", `"kv_m3h": 118`, `"kv_m3h": -1`},
	{"immense Kv", `"kv_m3h": 118`, `"kv_m3h": 1e12`},
	{"turn of four", `"turn": 1`, `"turn": 4`},
	{"turn of minus one", `"turn": 1`, `"turn": -1`},
	{"half a turn", `"turn": 1`, `"turn": 0.5`},
	{"place of one number", `[60, 40]`, `[60]`},
	{"place of three numbers", `[60, 40]`, `[60, 40, 1]`},
	{"place of text", `[60, 40]`, `["60", 40]`},
	{"place as object", `[60, 40]`, `{"x": 60, "y": 40}`},
	{"choice not in the list", `"bottom": "cone"`, `"bottom": "round"`},
	{"choice in capitals", `"bottom": "cone"`, `"bottom": "Cone"`},
	{"less than no pressure", `"gas_bar": -0.2`, `"gas_bar": -1.2`},
	{"flag in text", `"vented": true`, `"vented": "yes"`},
	{"curve is a number", `[{"flow_m3h": 10, "head_m": 30}]`, `10`},
	{"curve point is a pair", `{"flow_m3h": 10, "head_m": 30}`, `[10, 30]`},
	{"curve point with an unknown key", `"head_m": 30`, `"head_bar": 30`},
	{"run without from", `"from": {"part": "p1", "port": "a"}, `, ``},
	{"run without to", `"to": {"at_mm": [1, 2]}, `, ``},
	{"end with an unknown key", `"port": "a"`, `"ports": "a"`},
	{"negative stretch", `"length_m": 2`, `"length_m": -2`},
	{"elbows in part", `"elbows": 2`, `"elbows": 2.5`},
	{"bend of one number", `[[1, 2]]`, `[[1]]`},
	{"bends in one list", `[[1, 2]]`, `[1, 2]`},
	{"step without id", `"id": "s1", `, ``},
	{"below absolute zero", `"temperature_C": 20`, `"temperature_C": -274`},
	{"more than all", `"strength_pct": 1.5`, `"strength_pct": 101`},
	{"cleans a number", `["p2"]`, `[2]`},
	{"position is a flag", `{"p1": "open"}`, `{"p1": true}`},
	{"deviation without rule", `"rule": "dead-leg", `, ``},
	{"deviation without finding", `"finding": "dead-leg@p1", `, ``},
	{"place without element", `{"element": "p1"}`, `{"port": "a"}`},
	{"grade that is none", `"gravest": "fix"`, `"gravest": "bad"`},
	{"date in another order", `"date": "2026-11-25"`, `"date": "25.11.2026"`},
	{"month thirteen", `"date": "2026-11-25"`, `"date": "2026-13-25"`},
	{"empty date", `"date": "2026-11-25"`, `"date": ""`},
	{"date is a number", `"date": "2026-11-25"`, `"date": 20261125`},
	{"mark without number", `"number": 1, `, ``},
	{"mark of no class", `"class": "must"`, `"class": "musts"`},
	{"mark without class", `"class": "must", `, ``},
	{"beyond the end of a run", `"along_pct": 40`, `"along_pct": 140`},
	{"pin with an unknown key", `"on": "r1"`, `"in": "r1"`},
	{"attachment that is a number", `["IMG-7.jpg"]`, `[7]`},
	{"state that is none", `"state": "agreed"`, `"state": "maybe"`},
	{"time in no zone", `13:18:14Z`, `13:18:14`},
	{"hour 24", `13:18:14Z`, `24:18:14Z`},
	{"answer without question", `"question": "gasket", `, ``},
	{"answer that is none", `"answer": "yes"`, `"answer": "perhaps"`},
	{"positions in a list", `{"p1": "open"}`, `["p1"]`},
}

func TestMutationsAreRefusedByBoth(t *testing.T) {
	s := compiled(t)
	good := sound
	if _, err := Decode("x", []byte(good)); err != nil {
		t.Fatal(err)
	}
	if err := valid(t, s, []byte(good)); err != nil {
		t.Fatal(err)
	}
	for _, m := range mutations {
		if !strings.Contains(good, m.old) {
			t.Errorf("%s: nothing to change", m.desc)
			continue
		}
		bad := []byte(strings.Replace(good, m.old, m.new, 1))
		if _, err := Decode("x", bad); err == nil {
			t.Errorf("%s: read without an error", m.desc)
		}
		if err := valid(t, s, bad); err == nil {
			t.Errorf("%s: the schema accepts it", m.desc)
		}
	}
}

func TestSchemaListsEveryClass(t *testing.T) {
	text := string(Schema())
	for _, c := range model.Classes() {
		if !strings.Contains(text, `"$ref": "#/$defs/`+string(c)+`"`) {
			t.Errorf("class %s is not in the schema", c)
		}
	}
	if !slices.Equal(Schema(), Schema()) {
		t.Error("the schema is not the same each time")
	}
}
