package circuitfile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
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
	wanted := maps.Clone(envelope.fields[envelope.byKey["parts"]].shape.elem.classes)
	for _, l := range recordLists {
		wanted[l.name] = envelope.fields[envelope.byKey[l.key]].shape.elem
	}
	for _, class := range wanted {
		for _, key := range class.keys() {
			if !seen[class.what+" "+key] {
				t.Errorf("no random circuit had %s with %s", class.what, key)
			}
		}
	}
}

// noteKeys notes which keys of which class or sort stand in a text.
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
	var lists map[string]json.RawMessage
	if err := json.Unmarshal(data, &lists); err != nil {
		t.Fatal(err)
	}
	for _, l := range recordLists {
		var records []map[string]any
		if raw := lists[l.key]; raw != nil {
			if err := json.Unmarshal(raw, &records); err != nil {
				t.Fatal(err)
			}
		}
		for _, r := range records {
			for key := range r {
				seen[withArticle(l.name)+" "+key] = true
			}
		}
	}
}

// difference tells the first record that is not the same in both; empty if none.
func difference(a, b *model.Circuit) string {
	all, back := a.All(), b.All()
	if len(all) != len(back) {
		return "the number of records differs"
	}
	for i, r := range all {
		if !reflect.DeepEqual(r, back[i]) {
			return fmt.Sprintf("%T %s differs", r, r.RecordID())
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

// A circuit without an audit has the text that it had before there were any: the
// keys of the audit do not stand in it.
func TestWithoutAnAuditNothingIsAdded(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "..", "assets", "demo", "*.circuit.json"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no demo circuits: %v", err)
	}
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		c, err := Decode(name, data)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Encode(c)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(data, again) {
			t.Errorf("%s is not the same when written again", name)
		}
	}
	for _, key := range []string{"deviations", "marks", "answers", "revisions", "limits", "programmes", "service"} {
		text, err := Encode(model.New("x"))
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(text, []byte(key)) {
			t.Errorf("%q stands in a circuit without any", key)
		}
	}
}

func TestLayoutOfAnAudit(t *testing.T) {
	c, err := model.Records{
		Header: &model.Header{Name: "Oat line 2",
			Revisions:  []model.Revision{{Mark: "B", Date: "2026-11-25", By: "A. Reviewer", What: "drain added"}},
			Limits:     []model.LimitChange{{Limit: "dead-leg-ratio", Value: 1.25, Unit: "D", Reason: "site rule", By: "A. Reviewer", Date: "2026-11-25"}},
			Programmes: []model.Frequency{{Name: "Vessel T-201", PerWeek: quantity.Some(model.Plain(3.5))}},
			Service:    []model.Interval{{Kind: "centrifugal-pump", Hours: quantity.Some(model.Plain(4000)), Months: quantity.Some(model.Plain(12))}},
		},
		Deviations: []*model.Deviation{{ID: "d1", Rule: "dead-leg", Finding: "dead-leg@p1:b",
			Places: []model.Place{model.PlaceOfPort("p1", "b")}, Gravest: quantity.Some(model.GradeFix),
			Reason: "flushed by hand", By: "A. Reviewer", Date: "2026-11-25", Expires: "2027-11-25"}},
		Marks: []*model.Mark{{ID: "m1", Number: 1, Class: model.MarkMust, Text: "no slope shown",
			Pin:     model.Pin{On: "r1", Along: quantity.Some(quantity.Strength(0.25))},
			History: []model.Entry{{At: "2026-11-25T13:18:14Z", By: "A. Reviewer", State: quantity.Some(model.MarkOpen)}}}},
		Answers: []*model.Answer{{ID: "a1", Question: "gasket", On: "p1", Reply: model.ReplyYes}},
	}.Circuit()
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
    "name": "Oat line 2",
    "revisions": [
      {"mark": "B", "date": "2026-11-25", "by": "A. Reviewer", "what": "drain added"}
    ],
    "limits": [
      {"limit": "dead-leg-ratio", "value": 1.25, "unit": "D", "reason": "site rule", "by": "A. Reviewer", "date": "2026-11-25"}
    ],
    "programmes": [
      {"name": "Vessel T-201", "per_week": 3.5}
    ],
    "service": [
      {"kind": "centrifugal-pump", "hours": 4000, "months": 12}
    ]
  },
  "parts": [],
  "runs": [],
  "steps": [],
  "deviations": [
    {
      "id": "d1",
      "rule": "dead-leg",
      "finding": "dead-leg@p1:b",
      "places": [
        {"element": "p1", "port": "b"}
      ],
      "gravest": "fix",
      "reason": "flushed by hand",
      "by": "A. Reviewer",
      "date": "2026-11-25",
      "expires": "2027-11-25"
    }
  ],
  "marks": [
    {
      "id": "m1",
      "number": 1,
      "class": "must",
      "text": "no slope shown",
      "pin": {"on": "r1", "along_pct": 25},
      "history": [
        {"at": "2026-11-25T13:18:14Z", "by": "A. Reviewer", "state": "open"}
      ]
    }
  ],
  "answers": [
    {
      "id": "a1",
      "question": "gasket",
      "on": "p1",
      "answer": "yes"
    }
  ]
}
`
	if string(got) != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// The set of fields of an object is held in bits; one that did not fit would make
// a key that stands twice go unseen.
func TestEveryFieldHasItsBit(t *testing.T) {
	most := 0
	var walk func(s *shape)
	walk = func(s *shape) {
		most = max(most, len(s.fields))
		for _, f := range s.fields {
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
	if most > maxFields {
		t.Errorf("an object has %d fields, the set holds %d", most, maxFields)
	}
	var set fieldSet
	for i := range maxFields {
		if set.has(i) {
			t.Fatalf("field %d shares its bit with one before it", i)
		}
		set.add(i)
		if !set.has(i) {
			t.Fatalf("field %d has no bit", i)
		}
	}
	wide := &shape{form: formObject, what: "a wide object"}
	for i := range maxFields {
		wide.add(fmt.Sprintf("k%d", i), &shape{form: formFlag})
	}
	twice := `{"k127": true, "k127": true}`
	doc, broken := scan([]byte(twice))
	if broken != nil {
		t.Fatal(broken)
	}
	c := checker{document: doc}
	c.object(0, wide)
	if len(c.flaws) != 1 || c.flaws[0].message != "the key stands twice in this object" {
		t.Errorf("the last field twice: %v", c.flaws)
	}
	defer func() {
		if recover() == nil {
			t.Error("an object with too many fields is not refused")
		}
	}()
	wide.add("one more", &shape{form: formFlag})
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
