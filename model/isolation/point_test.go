package isolation_test

import (
	"os"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/isolation"
	"rinsewright/model/network"
)

// Every valve that is shut, every drive, drain, vent and proof of a plan is one of its
// points, and each sort is numbered without a gap.
func TestPointsAreComplete(t *testing.T) {
	path := "../../assets/demo/oat-drink-station.circuit.json"
	if _, err := os.Stat(path); err != nil {
		t.Fatal(err)
	}
	c, err := circuitfile.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	p := network.Build(c, catalogue.Builtin())
	h := p.Heights()
	for _, tag := range []string{"P-101", "P-201", "E-101", "V-231"} {
		plans, err := isolation.Find(p, h, isolation.Ask{Work: []model.ID{c.Tagged(tag)[0].RecordID()}, Policy: isolation.Policy{Automatic: true, Single: true}})
		if err != nil {
			t.Fatal(err)
		}
		for i := range plans {
			pl := &plans[i]
			if !pl.Found {
				continue
			}
			have := map[isolation.Sort]map[model.ID]bool{}
			next := map[isolation.Sort]int{}
			for _, pt := range pl.Points(p) {
				if next[pt.Sort]++; pt.Number != next[pt.Sort] {
					t.Errorf("%s: %s %d comes as number %d", tag, pt.Sort, pt.Number, next[pt.Sort])
				}
				if have[pt.Sort] == nil {
					have[pt.Sort] = map[model.ID]bool{}
				}
				have[pt.Sort][pt.Part] = true
			}
			want := func(sort isolation.Sort, id model.ID) {
				if !have[sort][id] {
					t.Errorf("%s: %s of %s is no point", tag, sort, id)
				}
			}
			for _, b := range append(append([]isolation.Barrier{}, pl.Barriers...), pl.Second...) {
				want(isolation.PointLock, b.Valve)
			}
			for _, d := range pl.Drives {
				want(isolation.PointLock, d.Part)
			}
			for _, id := range pl.Drains {
				want(isolation.PointDrain, id)
			}
			for _, id := range pl.Vents {
				want(isolation.PointVent, id)
			}
			for _, x := range pl.Proofs {
				want(isolation.PointZero, x.Part)
			}
		}
	}
}
