package main

import (
	"encoding/json"
	"strings"
	"testing"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/circuitfile"
)

// openValve is a circuit with one fault of severity fix: an open port.
func openValve(t *testing.T, records ...model.Record) string {
	t.Helper()
	return circuitOf(t, &model.Header{Name: "one valve"}, append(records,
		&model.Vessel{Item: model.Item{ID: "p1", Kind: "water-tank", Tag: "T-1"}},
		&model.Valve{Item: model.Item{ID: "p2", Kind: "butterfly-valve", Tag: "V-1"}},
		&model.Run{ID: "r1", From: model.End{Part: "p1", Port: "outlet"}, To: model.End{Part: "p2", Port: "a"}})...)
}

func circuitOf(t *testing.T, h *model.Header, records ...model.Record) string {
	t.Helper()
	c := model.New("")
	e := model.Edit{Changes: []model.Change{model.Replacing(c.Header(), h)}}
	for _, r := range records {
		e.Changes = append(e.Changes, model.Adding(r))
	}
	c, err := c.Apply(e)
	if err != nil {
		t.Fatal(err)
	}
	text, err := circuitfile.Encode(c)
	if err != nil {
		t.Fatal(err)
	}
	return file(t, "x.circuit.json", string(text))
}

func TestAcceptedFindingsDoNotFail(t *testing.T) {
	d := &model.Deviation{ID: "d1", Rule: "open-end", Finding: "open-end@p2:b", Reason: "closed on site", By: "A. Reviewer", Date: "2026-01-31", Reference: "OD-7"}
	plain := openValve(t)
	accepted := openValve(t, d)
	late := *d
	late.Expires = "2026-02-01"
	expired := openValve(t, &late)
	check := func(file string) (int, string) {
		code, out, errs := call("check", "--rules", "open-end,deviation-expired", file)
		if errs != "" {
			t.Errorf("error output %q", errs)
		}
		return code, out
	}
	if code, out := check(plain); code != exitFindings || strings.Contains(out, "accepted") {
		t.Errorf("without a deviation: %d\n%s", code, out)
	}
	code, out := check(accepted)
	if code != exitDone || !strings.Contains(out, "0 fix") || !strings.Contains(out, ", 1 accepted") {
		t.Errorf("accepted: %d\n%s", code, out)
	}
	_, list, _ := strings.Cut(out, "accepted, not counted:")
	if !strings.Contains(list, "open-end at V-1") || !strings.Contains(list, "accepted by A. Reviewer on 2026-01-31, without expiry: closed on site [OD-7]") {
		t.Errorf("listed as\n%s", out)
	}
	if code, out := check(expired); code != exitFindings || !strings.Contains(out, "2 fix") || !strings.Contains(out, "it expired on 2026-02-01") {
		t.Errorf("expired: %d\n%s", code, out)
	}
	_, out, _ = call("check", "--json", accepted)
	var r struct {
		Counts   checks.Counts
		Accepted []struct{ ID string }
	}
	if err := json.Unmarshal([]byte(out), &r); err != nil || r.Counts.Accepted != 1 || r.Accepted[0].ID != "open-end@p2:b" {
		t.Errorf("as JSON: %v, %+v", err, r)
	}
}

func TestChangedLimitsAreTold(t *testing.T) {
	h := &model.Header{Name: "x", Limits: []model.LimitChange{{Limit: "velocity-least", Value: 1.8, Unit: "ms", Reason: "site rule 7", By: "A. Reviewer", Date: "2026-01-31"}}}
	code, out, errs := call("check", circuitOf(t, h))
	if want := "limit velocity-least changed from 1.5 m/s to 1.8 m/s: site rule 7 (A. Reviewer, 2026-01-31)"; code != exitDone || !strings.Contains(out, want) {
		t.Errorf("%d, %s\n%s", code, errs, out)
	}
	h.Limits[0].Limit = "velocity-latest"
	code, _, errs = call("check", circuitOf(t, h))
	if code != exitBad || !strings.Contains(errs, `limits: velocity-latest: limits profile food has no limit "velocity-latest"`) {
		t.Errorf("an unknown limit: %d, %s", code, errs)
	}
}
