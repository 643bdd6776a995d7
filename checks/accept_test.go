package checks_test

import (
	"context"
	"encoding/json"
	"strings"
	"testing"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// slowIn reports r1 in the steps named, as fix.
func slowIn(steps ...model.ID) *checks.Rule {
	return made("slow", checks.AnyStep, func(p *checks.Pass) {
		for _, id := range steps {
			if p.Step.ID == id {
				p.Report(checks.Finding{At: model.PlaceOf("r1"), Message: checks.Say("slow")})
			}
		}
	})
}

func TestAcceptedFindingsStandApart(t *testing.T) {
	other := made("other", checks.Once, func(p *checks.Pass) {
		p.ReportAs(checks.Stop, checks.Finding{At: model.PlaceOf("p1"), Message: checks.Say("x")})
	})
	plain := circuitOf(t, threeSteps...)
	before := run(t, plain, slowIn("s1", "s2"), other)
	if len(before.Findings) != 2 || before.Counts.Accepted != 0 || before.Deviations != nil || before.Day != "" {
		t.Fatalf("without deviations: %+v", before)
	}
	d := before.Findings[1].Accept("d1", "2026-01-31")
	d.Reason, d.By = "flushed", "A. Reviewer"
	if d.Finding != "slow@r1" || d.Gravest != quantity.Some(model.GradeFix) || len(d.Steps) != 2 || d.Was != "r1" {
		t.Errorf("accepted as %+v", d)
	}
	accepted, err := plain.Apply(model.Edit{Changes: []model.Change{model.Adding(d)}})
	if err != nil {
		t.Fatal(err)
	}
	r := run(t, accepted, slowIn("s1", "s2"), other)
	if len(r.Findings) != 1 || r.Findings[0].Rule != "other" || len(r.Accepted) != 1 {
		t.Fatalf("findings %v, accepted %v", r.Findings, r.Accepted)
	}
	if r.Counts != (checks.Counts{Stop: 1, Accepted: 1}) {
		t.Errorf("counts %+v", r.Counts)
	}
	if a := r.Accepted[0].Accepted; a == nil || a.Deviation != "d1" || a.By != "A. Reviewer" || a.Reason != "flushed" || a.Date != "2026-01-31" {
		t.Errorf("accepted by %+v", a)
	}
	if len(r.Deviations) != 1 || r.Deviations[0].State != checks.DeviationHolds || r.Deviations[0].Why != "" {
		t.Errorf("deviations %+v", r.Deviations)
	}
	// The same finding in one more step is more than was accepted.
	more := run(t, accepted, slowIn("s1", "s2", "s3"), other)
	if len(more.Findings) != 2 || more.Deviations[0].State != checks.DeviationOutgrown {
		t.Errorf("in a third step: findings %v, deviations %+v", more.Findings, more.Deviations)
	}
	// In fewer steps it is less.
	if fewer := run(t, accepted, slowIn("s2"), other); len(fewer.Findings) != 1 || fewer.Counts.Accepted != 1 {
		t.Errorf("in one step: findings %v", fewer.Findings)
	}
	// The program has no rule of this name; one that failed says nothing.
	if r := run(t, accepted, other); r.Deviations[0].State != checks.DeviationUnmatched {
		t.Errorf("no such rule: %+v", r.Deviations)
	}
	failing := made("slow", checks.Once, func(*checks.Pass) { panic("no") })
	if r := run(t, accepted, failing); r.Deviations[0].State != checks.DeviationUnjudged {
		t.Errorf("the rule failed: %+v", r.Deviations)
	}
	out, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"accepted":1`, `"accepted":{"deviation":"d1","reason":"flushed","by":"A. Reviewer","date":"2026-01-31"}`, `"state":"holds"`} {
		if !strings.Contains(string(out), want) {
			t.Errorf("%s is not in %s", want, out)
		}
	}
}

// A deviation holds on the day on which it expires and not on the next.
func TestDeviationsAreJudgedOnADay(t *testing.T) {
	c := circuitOf(t, append(threeSteps, &model.Deviation{ID: "d1", Rule: "slow", Finding: "slow@r1", Reason: "r", By: "n", Date: "2026-01-31", Expires: "2026-06-30"})...)
	for day, holds := range map[model.Date]bool{"2026-06-30": true, "2026-07-01": false} {
		r, err := checks.RunOn(context.Background(), day, c, catalogue.Builtin(), checks.Builtin("food"), []*checks.Rule{slowIn("s1")})
		if err != nil {
			t.Fatal(err)
		}
		if (r.Counts.Accepted == 1) != holds || (r.Counts.Fix == 0) != holds || r.Day != day {
			t.Errorf("on %s: %+v", day, r.Counts)
		}
	}
}

// An unasked rule among the program's own is not judged: its deviations are not
// called unmatched.
func TestDeviationsOfRulesNotAskedFor(t *testing.T) {
	c := circuitOf(t, &model.Deviation{ID: "d1", Rule: "dead-leg", Finding: "dead-leg@p1"})
	r := run(t, c, checks.Find(checks.Rules(), "tag-twice"), checks.Find(checks.Rules(), "deviation-unmatched"))
	if len(r.Findings) != 0 || r.Deviations[0].State != checks.DeviationUnjudged {
		t.Errorf("findings %v, deviations %+v", r.Findings, r.Deviations)
	}
}

// The id of a finding does not depend on the order of what is found nor on the
// numbers.
func TestFindingIDsOutliveNumbersAndOrder(t *testing.T) {
	ids := func(v float64, places ...model.ID) string {
		rule := made("a", checks.Once, func(p *checks.Pass) {
			for _, id := range places {
				p.Report(checks.Finding{At: model.PlaceOfPort(id, "b"), Measured: checks.Number(v), Message: checks.Say("%v", checks.Number(v))})
			}
		})
		var out []string
		for _, f := range run(t, circuitOf(t), rule).Findings {
			out = append(out, f.ID)
		}
		return strings.Join(out, " ")
	}
	if a, b := ids(1, "p1", "p2"), ids(7, "p2", "p1"); a != b || a != "a@p1:b a@p2:b" {
		t.Errorf("%s and %s", a, b)
	}
}

func TestChangedLimits(t *testing.T) {
	food := checks.Builtin("food")
	was, _ := food.Limit("velocity-least")
	change := func(limit string, value float64, unit string) model.LimitChange {
		return model.LimitChange{Limit: limit, Value: model.Plain(value), Unit: unit, Reason: "site rule 7", By: "A. Reviewer", Date: "2026-01-31"}
	}
	next, told := food.With([]model.LimitChange{
		change("velocity-least", 1.8, "ms"),
		change("velocity-least", 0.1, "ms"),
		change("velocity-latest", 1.8, "ms"),
		change("velocity-most", 1.8, "mm"),
		change("velocity-most", -1, "ms"),
		change("velocity-most", 1e12, "ms"),
		change("velocity-most", 3, "knots"),
		{Limit: "velocity-most", Value: 9, Unit: "ms", By: "n", Date: "2026-01-31"},
		{Limit: "velocity-most", Value: 9, Unit: "ms", Reason: "r", Date: "2026-01-31"},
		{Limit: "velocity-most", Value: 9, Unit: "ms", Reason: "r", By: "n"},
	})
	is, _ := next.Limit("velocity-least")
	if is.Is() != 1.8 || is.Source.String() != "changed for this circuit: site rule 7 (A. Reviewer, 2026-01-31)" {
		t.Errorf("changed to %v, source %s", is.Value, is.Source)
	}
	if again, _ := checks.Builtin("food").Limit("velocity-least"); again != was {
		t.Error("the profile itself has changed")
	}
	most, _ := next.Limit("velocity-most")
	if own, _ := food.Limit("velocity-most"); most != own {
		t.Errorf("a refused change counts: %v", most)
	}
	refused := []string{"", "changed twice", `no limit "velocity-latest"`, "of a bore, expected a velocity", "below zero",
		"out of all reason", `unit "knots" is not known`, "no reason is told", "no name is told", "no date is told"}
	if len(told) != len(refused) {
		t.Fatalf("%d changes told, want %d", len(told), len(refused))
	}
	for i, want := range refused {
		if got := told[i].Refused; (want == "") != (got == "") || !strings.Contains(got, want) {
			t.Errorf("change %d: refused %q, want %q", i, got, want)
		}
	}
	if told[0].Was != was.Value || told[0].Is.SI() != 1.8 || told[0].Label != was.Label || told[4].Is != told[4].Was {
		t.Errorf("told %+v", told)
	}
	if same, told := food.With(nil); same != food || told != nil {
		t.Error("without changes the profile is another")
	}
	ch, ok := food.Change("dead-leg-ratio", 1.25, "r", "n", "2026-01-31")
	if next, told := food.With([]model.LimitChange{ch}); !ok || ch.Unit != "D" || told[0].Refused != "" || next.Limits()[0].Is() != 1.25 {
		t.Errorf("made %+v, told %+v", ch, told)
	}
	if _, ok := food.Change("none", 1, "r", "n", "2026-01-31"); ok {
		t.Error("a change of a limit that is not there")
	}
}

// What a circuit changes of its limits is what its rules read, and is told.
func TestRulesReadChangedLimits(t *testing.T) {
	var seen checks.Limit
	rule := made("reads", checks.Once, func(p *checks.Pass) {
		seen = p.Limit("velocity-least")
		p.Report(checks.Finding{At: model.PlaceOf("r1"), LimitName: "velocity-least", Message: checks.Say("x")})
	})
	rule.Doc.Limits = []string{"velocity-least"}
	ch, _ := checks.Builtin("food").Change("velocity-least", 1.8, "site rule 7", "A. Reviewer", "2026-01-31")
	c, err := model.FromRecords(&model.Header{Limits: []model.LimitChange{ch}}, nil, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	r := run(t, c, rule)
	if seen.Is() != 1.8 || r.Findings[0].Limit.SI() != 1.8 || r.Findings[0].Source.Standing != checks.StandingChanged {
		t.Errorf("read %v; finding %+v", seen.Value, r.Findings[0])
	}
	if len(r.Limits) != 1 || r.Limits[0].Name != "velocity-least" || r.Limits[0].Reason != "site rule 7" {
		t.Errorf("told %+v", r.Limits)
	}
}
