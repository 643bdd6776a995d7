package network

import (
	"fmt"
	"math/rand"
	"reflect"
	"testing"

	"rinsewright/model"
)

// A line-up that follows from the one at rest is that which is made from nothing, also
// where the step tells positions that are not of the kind, or of what is no valve, and
// where normal positions are not told.
func TestLineUp_FromTheOneAtRest(t *testing.T) {
	r := rand.New(rand.NewSource(31))
	unknown := 0
	for i := range 300 {
		d := drawRandom(t, r, 3+r.Intn(12), i%2 == 0)
		p := d.plant()
		for range 4 {
			st := step("W", "D", map[model.ID]string{})
			if v := d.vessels(); len(v) > 0 && r.Intn(2) == 0 {
				st.Source = model.ID(v[0])
			}
			for k := range len(d.kinds) {
				if r.Intn(2) == 0 {
					st.Positions[model.ID(fmt.Sprintf("X%d", k))] = []string{"open", "closed", "nowhere"}[r.Intn(3)]
				}
			}
			st.Positions[model.ID(fmt.Sprint("nobody", i))] = "open"
			got, want := p.LineUp(st), p.lineUp(st, asTaken)
			unknown += len(want.Unknown)
			if len(got.Unknown) == 0 && len(want.Unknown) == 0 {
				got.Unknown, want.Unknown = nil, nil
			}
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("circuit %d, positions %v:\n%+v\n%+v", i, st.Positions, got, want)
			}
		}
	}
	if unknown < 100 {
		t.Errorf("only %d positions unknown", unknown)
	}
}
