package checks_test

import (
	"context"
	"slices"
	"testing"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/group"
)

// TestReadyGroupsAreCleanButForTheirEnds places each ready group alone. A free end is
// told as an open end, and the tank for recovered water as never washed as long as
// there is no step: nothing else above a note.
func TestReadyGroupsAreCleanButForTheirEnds(t *testing.T) {
	for _, profile := range []string{"food", "dairy"} {
		limits := checks.Builtin(profile)
		for _, g := range group.Builtin() {
			res, err := checks.Run(context.Background(), g.Circuit, catalogue.Builtin(), limits, checks.Rules())
			if err != nil {
				t.Fatal(err)
			}
			ends := 0
			for _, f := range res.Findings {
				if f.Severity < checks.Fix {
					continue
				}
				free := slices.ContainsFunc(g.Free, func(e group.End) bool { return f.At == model.PlaceOfPort(e.Part, e.Port) })
				switch {
				case f.Rule == "open-end" && free:
					ends++
				case f.Rule == "recovery-never-washed" && g.Name == "station-four-tanks":
				default:
					t.Errorf("%s, %s: %s: %v", profile, g.Name, f.Rule, f.Message.In(0))
				}
			}
			if ends == 0 {
				t.Errorf("%s, %s: no free end was found open: nothing was judged", profile, g.Name)
			}
			if len(res.NotAssessed) > 0 {
				t.Errorf("%s, %s: not assessed: %v", profile, g.Name, res.NotAssessed[0])
			}
		}
	}
}
