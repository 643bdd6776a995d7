package circuitfile

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

func TestRoundTrip(t *testing.T) {
	seen := map[string]bool{}
	for seed := range uint64(60) {
		rng := rand.New(rand.NewPCG(seed, 1))
		c := randomCircuit(rng, 1+rng.IntN(60), []float64{0, 0.3, 1}[seed%3])
		data, err := Encode(c)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		back, err := Decode("x.circuit.json", data)
		if err != nil {
			t.Fatalf("seed %d: %v\n%s", seed, err, data)
		}
		if d := difference(c, back); d != "" {
			t.Fatalf("seed %d: after a round trip %s", seed, d)
		}
		again, err := Encode(back)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(data, again) {
			t.Fatalf("seed %d: the second writing differs from the first", seed)
		}
		noteKeys(t, data, seen)
	}
	for _, class := range envelope.fields[envelope.byKey["parts"]].shape.elem.classes {
		for _, key := range class.keys() {
			if !seen[class.what+" "+key] {
				t.Errorf("no random circuit had %s with %s", class.what, key)
			}
		}
	}
}

// noteKeys notes which keys of which class stand in a text.
func noteKeys(t *testing.T, data []byte, seen map[string]bool) {
	var f struct{ Parts []map[string]any }
	if err := json.Unmarshal(data, &f); err != nil {
		t.Fatal(err)
	}
	for _, p := range f.Parts {
		for key := range p {
			seen[withArticle(p["class"].(string))+" "+key] = true
		}
	}
}

// difference tells the first record that is not the same in both; empty if none.
func difference(a, b *model.Circuit) string {
	if !reflect.DeepEqual(a.Header(), b.Header()) {
		return "the header differs"
	}
	if len(a.Parts()) != len(b.Parts()) || len(a.Runs()) != len(b.Runs()) || len(a.Steps()) != len(b.Steps()) {
		return "the number of records differs"
	}
	for i, p := range a.Parts() {
		if !reflect.DeepEqual(p, b.Parts()[i]) {
			return "part " + string(p.RecordID()) + " differs"
		}
	}
	for i, r := range a.Runs() {
		if !reflect.DeepEqual(r, b.Runs()[i]) {
			return "run " + string(r.ID) + " differs"
		}
	}
	for i, s := range a.Steps() {
		if !reflect.DeepEqual(s, b.Steps()[i]) {
			return "step " + string(s.ID) + " differs"
		}
	}
	return ""
}

// What encoding/json itself reads from the file is what was meant: the layout
// adds nothing and loses nothing.
func TestLayoutKeepsTheValues(t *testing.T) {
	c := randomCircuit(rand.New(rand.NewPCG(4, 4)), 40, 0.8)
	data, err := Encode(c)
	if err != nil {
		t.Fatal(err)
	}
	compact, err := marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	var squeezed bytes.Buffer
	if err := json.Compact(&squeezed, data); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(squeezed.Bytes(), compact) {
		t.Error("laid out and squeezed again, the text is not what encoding/json wrote")
	}
}

func TestLayout(t *testing.T) {
	step := &model.Step{ID: "s1", Order: 1, Name: "Rinse",
		Cleans:    []model.ID{"p1", "p2"},
		Positions: map[model.ID]string{"p9": "open", "p3": "left"},
	}
	c, err := model.FromRecords(&model.Header{Name: "<Oat & rye>"}, nil, nil, []*model.Step{step})
	if err != nil {
		t.Fatal(err)
	}
	got, err := Encode(c)
	if err != nil {
		t.Fatal(err)
	}
	const want = `{
  "schema": "rinsewright-circuit",
  "version": 1,
  "circuit": {
    "name": "<Oat & rye>"
  },
  "parts": [],
  "runs": [],
  "steps": [
    {
      "id": "s1",
      "order": 1,
      "name": "Rinse",
      "cleans": ["p1", "p2"],
      "positions": {
        "p3": "left",
        "p9": "open"
      }
    }
  ]
}
`
	if string(got) != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// A change of one property changes one line.
func TestOnePropertyALine(t *testing.T) {
	c := randomCircuit(rand.New(rand.NewPCG(7, 7)), 30, 1)
	old, err := Encode(c)
	if err != nil {
		t.Fatal(err)
	}
	p := model.Clone(c.Parts()[3])
	p.Meta().Tag = "moved"
	next, err := c.Apply(model.Edit{Changes: []model.Change{model.Replacing(c.Parts()[3], p)}})
	if err != nil {
		t.Fatal(err)
	}
	edited, err := Encode(next)
	if err != nil {
		t.Fatal(err)
	}
	a, b := strings.Split(string(old), "\n"), strings.Split(string(edited), "\n")
	if len(a) != len(b) {
		t.Fatalf("%d lines became %d", len(a), len(b))
	}
	changed := 0
	for i := range a {
		if a[i] != b[i] {
			changed++
		}
	}
	if changed != 1 {
		t.Errorf("%d lines changed, want 1", changed)
	}
}

func TestEncodeRefusesWhatDecodeWould(t *testing.T) {
	tests := []struct {
		desc string
		part model.Part
		want string
	}{
		{"a choice that is none", &model.Vessel{Item: model.Item{ID: "p1", Kind: "tank", Tag: "T-1"}, Bottom: quantity.Some(model.Shape("round"))},
			`parts[0] (T-1): bottom: expected one of flat, cone`},
		{"a negative length", &model.Vessel{Item: model.Item{ID: "p1", Kind: "tank"}, Height: quantity.Some(quantity.Length(-1))},
			"parts[0] (p1): height_m: must not be below 0, found -1"},
		{"a turn of five quarters", &model.Vessel{Item: model.Item{ID: "p1", Kind: "tank", Turn: 5}},
			"turn: expected a whole number from 0 to 3, found 5"},
		{"not a number", &model.Vessel{Item: model.Item{ID: "p1", Kind: "tank"}, Height: quantity.Some(quantity.Length(nan()))},
			"record p1"},
	}
	for _, tt := range tests {
		c, err := model.FromRecords(nil, []model.Part{tt.part}, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := Encode(c); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: error %v, want one with %q", tt.desc, err, tt.want)
		}
	}
}

func nan() float64 { var zero float64; return zero / zero }
