package checklist

import (
	"strings"
	"testing"

	"rinsewright/model"
)

func TestListsThatTheProgramCarries(t *testing.T) {
	lists := Builtin() // panics on a bad one
	if len(lists) < 3 || len(For("")) != 1 || len(For("my own limits")) != 1 || len(For("Pharma")) != 2 || For("dairy")[1].Name != "dairy" {
		t.Fatalf("%d lists", len(lists))
	}
	n := 0
	for _, q := range For("food")[0].Questions {
		for _, must := range []string{"surface-finish", "weld-record", "gasket", "access", "drain-visible"} {
			if q.ID == must {
				n++
			}
		}
		if strings.Count(q.Text, "?") != 1 || !strings.HasSuffix(q.Text, "?") {
			t.Errorf("%s is not one question: %q", q.ID, q.Text)
		}
	}
	if n != 5 {
		t.Errorf("%d of five questions that an audit always asks", n)
	}
}

const whole = `{"name": "n", "title": "t", "about": "", "questions": [{"id": "a-b", "group": "g", "per": "part", "classes": ["vessel"], "text": "x?", "evidence": "e", "source": "S", "standing": "read"}]}`

func TestLoadRefuses(t *testing.T) {
	if _, err := Load(strings.NewReader(whole)); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ old, new, want string }{
		{`"n"`, `""`, "must be given"},
		{`"t"`, `""`, "must be given"},
		{`"a-b"`, `"A b"`, "lower case"},
		{`"g"`, `""`, "no group"},
		{`"x?"`, `""`, "no text"},
		{`"e"`, `""`, "no evidence"},
		{`"part"`, `"valve"`, "per circuit, part or run"},
		{`"part"`, `"circuit"`, "classes"},
		{`["vessel"]`, `[]`, "classes"},
		{`["vessel"]`, `["vat"]`, `no class of parts "vat"`},
		{`"read"`, `"sure"`, "standing"},
		{`"source": "S", `, ``, "does not go with source"},
		{`"read"`, `"common practice, no source"`, "does not go with source"},
		{`"about": ""`, `"abuot": ""`, "unknown field"},
		{`]}`, `]} {}`, "follows its end"},
		{`{"id"`, `{"id": "a-b", "group": "g", "per": "circuit", "text": "x?", "evidence": "e", "standing": "computed"}, {"id"`, "stands twice"},
	} {
		if !strings.Contains(whole, tt.old) {
			t.Fatalf("nothing to change: %s", tt.old)
		}
		_, err := Load(strings.NewReader(strings.Replace(whole, tt.old, tt.new, 1)))
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s for %s: %v, want %q", tt.new, tt.old, err, tt.want)
		}
	}
}

func TestCites(t *testing.T) {
	for want, q := range map[string]Question{
		"common practice, no source":                 {Standing: standings[2]},
		"read: S, 3":                                 {Source: "S", Clause: "3", Standing: standings[0]},
		"from memory of S; verify against your copy": {Source: "S", Standing: standings[1]},
	} {
		if got := q.Cites(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestItems(t *testing.T) {
	list := &List{Questions: []Question{{ID: "q1", Per: PerCircuit}, {ID: "q2", Per: PerPart, Classes: []model.Class{model.ClassVessel}}, {ID: "q3", Per: PerRun}}}
	tank := func(id model.ID) model.Part {
		return &model.Vessel{Item: model.Item{ID: id, Kind: "water-tank"}}
	}
	c, err := model.Records{
		Parts: []model.Part{tank("p2"), tank("p1"), &model.Pump{Item: model.Item{ID: "p3"}}},
		Runs:  []*model.Run{{ID: "r1"}},
		Answers: []*model.Answer{
			{ID: "a1", Question: "q2", Reply: model.ReplyYes},
			{ID: "a2", Question: "q2", On: "p2", Reply: model.ReplyNo},
			{ID: "a3", Question: "q3", On: "r1", Reply: model.ReplyYes, Date: "2026-02-01"},
			{ID: "a4", Question: "q3", On: "r1", Reply: model.ReplyNone, Date: "2026-01-01"},
			{ID: "a5", Question: "q2", On: "p9", Reply: model.ReplyYes},
			{ID: "a6", Question: "q9", Reply: model.ReplyYes},
			{ID: "a7", Question: "q1", On: "p1", Reply: model.ReplyYes},
		},
	}.Circuit()
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	items := Items(c, []*List{list})
	for i := range items {
		got = append(got, items[i].Question.ID+" "+string(items[i].On)+" "+string(items[i].Reply()))
	}
	if strings.Join(got, ", ") != "q1  open, q2 p1 yes, q2 p2 no, q3 r1 yes" {
		t.Errorf("items %q", got)
	}
	if !items[1].Whole || items[2].Whole {
		t.Error("an answer for all counts for a part without its own, and only there")
	}
	if n := Counts(items); n[model.ReplyOpen] != 1 || n[model.ReplyYes] != 2 || n[model.ReplyNo] != 1 {
		t.Errorf("counts %v", n)
	}
	var unasked []string
	for _, a := range Unasked(c, []*List{list}) {
		unasked = append(unasked, string(a.ID))
	}
	if strings.Join(unasked, " ") != "a7 a5 a6" {
		t.Errorf("unasked %v", unasked)
	}
}
