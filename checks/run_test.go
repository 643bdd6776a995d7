package checks_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"runtime"
	"strings"
	"testing"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var practice = []checks.Citation{{Standing: checks.StandingPractice}}

// made gives a documented rule for tests of the engine.
func made(name string, merge checks.Merge, run func(*checks.Pass)) *checks.Rule {
	return &checks.Rule{Name: name, Run: run,
		Doc: checks.Doc{Title: "t", Why: "w", How: "h", Blind: "b", Remedy: "r", Cites: practice, Severity: checks.Fix, Merge: merge}}
}

func circuitOf(t *testing.T, records ...model.Record) *model.Circuit {
	t.Helper()
	var e model.Edit
	for _, r := range records {
		e.Changes = append(e.Changes, model.Adding(r))
	}
	c, err := model.New("test").Apply(e)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func run(t *testing.T, c *model.Circuit, rules ...*checks.Rule) *checks.Result {
	t.Helper()
	r, err := checks.Run(context.Background(), c, catalogue.Builtin(), checks.Builtin("food"), rules)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

var threeSteps = []model.Record{
	&model.Step{ID: "s1", Order: 1, Name: "one"},
	&model.Step{ID: "s2", Order: 2, Name: "two"},
	&model.Step{ID: "s3", Order: 3, Name: "three"},
}

func TestAnyStepMergesToTheWorst(t *testing.T) {
	speeds := map[model.ID]float64{"s1": 1.4, "s2": 0.6, "s3": 2.0}
	rule := made("slow", checks.AnyStep, func(p *checks.Pass) {
		v := quantity.Velocity(speeds[p.Step.ID])
		if v < quantity.Velocity(1.5) {
			p.Report(checks.Finding{At: model.PlaceOf("r1"), Measured: checks.Of(v), Message: checks.Say("%v", checks.Of(v)),
				Limit: checks.Of(quantity.Velocity(1.5))})
		}
	})
	got := run(t, circuitOf(t, threeSteps...), rule).Findings
	if len(got) != 1 || got[0].Measured.SI() != 0.6 || len(got[0].Steps) != 2 || got[0].Steps[0] != "s1" || got[0].Steps[1] != "s2" {
		t.Fatalf("got %+v, want one finding with 0.6 m/s in steps s1 and s2", got)
	}
	if got[0].ID != "slow@r1" {
		t.Errorf("id is %q", got[0].ID)
	}
}

func TestEveryStepCountsOnlyStepsThatUseThePlace(t *testing.T) {
	// r1 is used in s1 and s2 and bad in both; r2 is used in all and bad in two.
	rule := made("never", checks.EveryStep, func(p *checks.Pass) {
		if p.Step.ID != "s3" {
			p.Judged(model.PlaceOf("r1"))
			p.Report(checks.Finding{At: model.PlaceOf("r1"), Message: checks.Say("x")})
			p.Report(checks.Finding{At: model.PlaceOf("r2"), Message: checks.Say("x")})
		}
		p.Judged(model.PlaceOf("r2"))
	})
	got := run(t, circuitOf(t, threeSteps...), rule).Findings
	if len(got) != 1 || got[0].At.Element != "r1" {
		t.Fatalf("got %+v, want r1 alone", got)
	}
}

func TestResultIsSortedAndTheSameEachTime(t *testing.T) {
	at := func(id model.ID) checks.Finding {
		return checks.Finding{At: model.PlaceOf(id), Message: checks.Say("x")}
	}
	b := made("b", checks.Once, func(p *checks.Pass) { p.Report(at("p2")); p.Report(at("p1")); p.ReportAs(checks.Stop, at("p9")) })
	a := made("a", checks.Once, func(p *checks.Pass) { p.Report(at("p3")); p.ReportAs(checks.Note, at("p1")) })
	c := circuitOf(t)
	var ids []string
	var first []byte
	for i := range 20 {
		r := run(t, c, b, a)
		out, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			first = out
			for _, f := range r.Findings {
				ids = append(ids, f.ID)
			}
		}
		if !bytes.Equal(out, first) {
			t.Fatalf("run %d differs:\n%s\n%s", i, first, out)
		}
	}
	if got, want := strings.Join(ids, " "), "b@p9 a@p3 b@p1 b@p2 a@p1"; got != want {
		t.Errorf("order %s, want %s", got, want)
	}
}

// The result must not depend on how many processors share the work.
func TestResultIsTheSameOnOneProcessor(t *testing.T) {
	c := plantOf(t, 200)
	many, err := json.Marshal(run(t, c, checks.Rules()...))
	if err != nil {
		t.Fatal(err)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	one, err := json.Marshal(run(t, c, checks.Rules()...))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(many, one) {
		t.Error("the results differ")
	}
}

func TestRuleJSON(t *testing.T) {
	out, err := json.Marshal(checks.Find(checks.Rules(), "slow-run"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"rule":"slow-run"`, `"severity":"fix"`, `"limits":["velocity-least","velocity-most"]`, `"steps":"a fault in any step counts"`, `"standing":"read"`} {
		if !bytes.Contains(out, []byte(want)) {
			t.Errorf("%s is not in %s", want, out)
		}
	}
}

func TestRemedyInTheReadersUnits(t *testing.T) {
	r := run(t, circuitOf(t, &model.Terminal{Item: model.Item{ID: "x1", Kind: "sewer-drain"}, Size: quantity.Some(model.TubeSize("EN 10357-A DN50")),
		AirGap: quantity.Some(quantity.Millimetres(10))}), checks.Find(checks.Rules(), "sewer-joined"))
	if len(r.Findings) != 1 || len(r.Findings[0].Fixes) != 1 {
		t.Fatalf("%+v", r.Findings)
	}
	fix := r.Findings[0].Fixes[0] // twice 50 mm is 100 mm or 3.94 in
	if m, us := fix.Text(quantity.Metric), fix.Text(quantity.US); fix.Message != m || m != "raise it to an air gap of 100 mm" || us != "raise it to an air gap of 3.94 in" {
		t.Errorf("%q, %q", m, us)
	}
}

func TestARuleThatFailsIsTold(t *testing.T) {
	bad := made("bad", checks.Once, func(p *checks.Pass) { panic("no such thing") })
	good := made("good", checks.Once, func(p *checks.Pass) { p.Report(checks.Finding{At: model.PlaceOf("p1"), Message: checks.Say("x")}) })
	r := run(t, circuitOf(t), bad, good)
	if len(r.Findings) != 1 || len(r.Errors) != 1 || r.Errors[0].Rule != "bad" || !strings.Contains(r.Errors[0].Error, "no such thing") {
		t.Errorf("findings %v, errors %v", r.Findings, r.Errors)
	}
}

func TestAFactIsWorkedOutOnce(t *testing.T) {
	count := 0 // written under the fact's own lock
	fact := checks.NewFact("answer", func(*checks.Snapshot) int { count++; return 42 })
	var rules []*checks.Rule
	for _, name := range []string{"a", "b", "c", "d"} {
		rules = append(rules, made(name, checks.AnyStep, func(p *checks.Pass) {
			if fact.Of(p.Snapshot) != 42 {
				t.Error("wrong fact")
			}
		}))
	}
	run(t, circuitOf(t, threeSteps...), rules...)
	if count != 1 {
		t.Errorf("worked out %d times", count)
	}
}

func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	rule := made("slow", checks.AnyStep, func(p *checks.Pass) { cancel(); <-p.Context.Done() })
	_, err := checks.Run(ctx, circuitOf(t, threeSteps...), catalogue.Builtin(), checks.Builtin("food"), []*checks.Rule{rule})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
}

func TestUnassessedIsNotAFinding(t *testing.T) {
	rule := made("needs", checks.Once, func(p *checks.Pass) {
		p.NotAssessed(model.PlaceOf("p1"), network.Missing{Record: "p1", Key: "stub_mm"}, network.Missing{Record: "p1", Key: "size"})
		p.NotAssessed(model.PlaceOf("p2"), network.Missing{Record: "p2", Key: "size"})
		p.NotAssessed(model.PlaceOf("p3")) // nothing missing: nothing said
	})
	r := run(t, circuitOf(t, &model.Fitting{Item: model.Item{ID: "p1", Tag: "T-1"}}, &model.Fitting{Item: model.Item{ID: "p2"}}, threeSteps[0]),
		rule, checks.Find(checks.Rules(), "needs-data"))
	if len(r.NotAssessed) != 2 || r.Counts.NotAssessed != 2 {
		t.Fatalf("not assessed: %+v", r.NotAssessed)
	}
	if got := r.NotAssessed[0].Text(quantity.Metric); !strings.Contains(got, "tube size of T-1") || !strings.Contains(got, "branch length of T-1") {
		t.Errorf("message %q", got)
	}
	if len(r.Findings) != 2 { // one a property, by needs-data
		t.Fatalf("findings: %+v", r.Findings)
	}
	if got := r.Findings[0].Text(quantity.Metric); r.Findings[0].At.Key != "size" || !strings.Contains(got, "unknown: tube size of T-1 and one more") {
		t.Errorf("message %q", got)
	}
}

// A difference says so, in both systems; its number stays a number.
func TestDifference(t *testing.T) {
	v := checks.Of(quantity.Millimetres(12.7)).Difference()
	if m, us := v.Text(quantity.Metric), v.Text(quantity.US); m != "12.7 mm difference" || us != "0.5 in difference" {
		t.Errorf("%q, %q", m, us)
	}
	out, err := json.Marshal(v)
	if err != nil || !bytes.Contains(out, []byte(`"value":12.7,"unit":"mm"`)) {
		t.Errorf("%s, %v", out, err)
	}
}

func TestJSONShape(t *testing.T) {
	rule := made("slow", checks.AnyStep, func(p *checks.Pass) {
		p.Report(checks.Finding{At: model.PlaceOfStretch("r1", 1), Measured: checks.Of(quantity.Velocity(0.9)),
			Limit: checks.Of(quantity.Velocity(1.5)), Message: checks.Say("%v is below %v", checks.Of(quantity.Velocity(0.9)), checks.Of(quantity.Velocity(1.5)))})
	})
	out, err := json.MarshalIndent(run(t, circuitOf(t, &model.Step{ID: "s1", Order: 1, Programme: "Filler line", Name: "one"}), rule), "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	const want = `{
  "profile": "food",
  "counts": {
    "stop": 0,
    "fix": 1,
    "note": 0,
    "not_assessed": 0,
    "accepted": 0
  },
  "findings": [
    {
      "id": "slow@r1[2]",
      "rule": "slow",
      "severity": "fix",
      "at": {
        "element": "r1",
        "first": 2,
        "last": 2
      },
      "where": "r1",
      "places": [
        {
          "element": "r1",
          "first": 2,
          "last": 2
        }
      ],
      "steps": [
        "s1"
      ],
      "measured": {
        "value": 0.9,
        "unit": "ms",
        "si": 0.9,
        "text": "0.9 m/s",
        "text_us": "2.95 ft/s"
      },
      "limit": {
        "value": 1.5,
        "unit": "ms",
        "si": 1.5,
        "text": "1.5 m/s",
        "text_us": "4.92 ft/s"
      },
      "source": {
        "standing": "common practice, no source"
      },
      "message": "0.9 m/s is below 1.5 m/s",
      "message_us": "2.95 ft/s is below 4.92 ft/s",
      "title": "t",
      "remedy": "r",
      "in_steps": [
        {
          "id": "s1",
          "programme": "Filler line",
          "name": "one"
        }
      ]
    }
  ],
  "not_assessed": []
}`
	if string(out) != want {
		t.Errorf("JSON is\n%s", out)
	}
}
