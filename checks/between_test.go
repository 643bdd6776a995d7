package checks_test

import (
	"strings"
	"testing"

	"rinsewright/checks"
	"rinsewright/model"
)

func TestFindingsThatCameAndWent(t *testing.T) {
	result := func(deviation *model.Deviation, at ...model.ID) *checks.Result {
		rule := made("a", checks.Once, func(p *checks.Pass) {
			for _, id := range at {
				if id == "open" {
					p.NotAssessed(model.PlaceOf(id), checks.Missing(id, "size"))
					continue
				}
				p.Report(checks.Finding{At: model.PlaceOf(id), Message: checks.Say("x")})
			}
		})
		var records []model.Record
		if deviation != nil {
			records = append(records, deviation)
		}
		return run(t, circuitOf(t, records...), rule)
	}
	accept := func(id model.ID) *model.Deviation {
		return &model.Deviation{ID: "d1", Rule: "a", Finding: "a@" + string(id), Reason: "r", By: "n", Date: "2026-01-01"}
	}
	ids := func(list []checks.Finding) string {
		var out []string
		for _, f := range list {
			out = append(out, f.ID)
		}
		return strings.Join(out, " ")
	}
	b := checks.Compare(result(accept("p4"), "p1", "p2", "p3", "p4", "open"), result(accept("p3"), "p2", "p3", "p4", "p5"))
	if ids(b.Came) != "a@p5" || ids(b.Went) != "a@p1" || ids(b.Accepted) != "a@p3" || ids(b.Counts) != "a@p4" {
		t.Errorf("came %s, went %s, accepted %s, counts %s", ids(b.Came), ids(b.Went), ids(b.Accepted), ids(b.Counts))
	}
	if strings.Join(b.Assessed, " ") != "a@open?" || b.Unknown != nil {
		t.Errorf("assessed %v, unknown %v", b.Assessed, b.Unknown)
	}
}
