package checks_test

import (
	"slices"
	"testing"

	"rinsewright/checks"
	"rinsewright/checks/checktest"
	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// A property that was entered but cannot be is told with the reason, apart from
// one that was never entered.
func TestWhatCannotBeIsNotCalledUnknown(t *testing.T) {
	c, err := checktest.Sketch(`
part T-1 water-tank
part T-2 water-tank`)
	if err != nil {
		t.Fatal(err)
	}
	asks := made("open-end", checks.Once, func(p *checks.Pass) {
		p.NotAssessed(model.PlaceOf("t-1"),
			network.Missing{Record: "t-1", Key: "height_m", Why: "the two ends do not fit"},
			network.Missing{Record: "t-2", Key: "height_m"})
	})
	var got []string
	r := run(t, c, asks, checks.Find(checks.Rules(), "needs-data"))
	for _, f := range slices.Concat(r.Findings, r.NotAssessed) {
		got = append(got, f.Text(quantity.Metric))
	}
	for _, want := range []string{
		"not assessed: inside height of T-2 unknown; inside height of T-1 (as entered it cannot be: the two ends do not fit)",
		"unknown: inside height of T-2; without it cannot be assessed: open-end",
		"cannot be as entered: inside height of T-1 (the two ends do not fit); without it cannot be assessed: open-end",
	} {
		if !slices.Contains(got, want) {
			t.Errorf("no finding %q among %q", want, got)
		}
	}
}
