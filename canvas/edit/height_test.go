package edit

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// Two pumps at 0 and 1 m; the run between them lies level for 4 m, stands up 1 m
// and lies level for 5 m.
func riser(t *testing.T) *sheet {
	s := newSheet(t)
	s.part("p1", "pump", 0, 0, at(0))
	s.part("p2", "pump", 110, 0, at(1))
	s.run("r1", "p1", "b", "p2", "a", stretched([2]float64{4, 0}, [2]float64{1, 1}, [2]float64{5, 0}))
	return s
}

func TestRaiseParts(t *testing.T) {
	s := riser(t)
	s.apply(s.doc.Drawing().RaiseParts([]model.ID{"p2"}, 0.5, nil))
	c := s.doc.Circuit()
	if z := c.Part("p2").Meta().Elevation.Or(0); math.Abs(float64(z)-1.5) > tolerance {
		t.Errorf("p2 at %v", z)
	}
	if got := c.Run("r1").Stretches; !sameStretches(got, []model.Stretch{stretch(4, 0), stretch(1.5, 1.5), stretch(5, 0)}) {
		t.Errorf("the upright stretch did not take it up: %v", got)
	}
	// Both together: nothing between them changes.
	s.apply(s.doc.Drawing().RaiseParts([]model.ID{"p1", "p2"}, -2, nil))
	if got := s.doc.Circuit().Run("r1").Stretches; !sameStretches(got, []model.Stretch{stretch(4, 0), stretch(1.5, 1.5), stretch(5, 0)}) {
		t.Errorf("stretches %v", got)
	}
	if _, err := s.doc.Drawing().RaiseParts(nil, 1, nil); err == nil {
		t.Error("nothing was raised")
	}
	s.part("v", "valve", 300, 0)
	if _, err := s.doc.Drawing().RaiseParts([]model.ID{"v"}, 1, nil); err == nil {
		t.Error("a valve of no height was raised")
	}
	s.apply(s.doc.Drawing().RaiseParts([]model.ID{"v"}, 1, func(model.ID) quantity.Opt[quantity.Length] { return quantity.Some[quantity.Length](2) }))
	if z := s.doc.Circuit().Part("v").Meta().Elevation.Or(0); z != 3 {
		t.Errorf("valve of derived height 2 m at %v", z)
	}
}

func TestRaiseJoint(t *testing.T) {
	s := riser(t)
	s.apply(s.doc.Drawing().RaiseJoint("r1", 1, 0.2))
	// The riser becomes longer, the level piece falls by as much.
	if got := s.doc.Circuit().Run("r1").Stretches; !sameStretches(got, []model.Stretch{stretch(4, 0), stretch(1.2, 1.2), stretch(5, -0.2)}) {
		t.Errorf("stretches %v", got)
	}
	if rise := s.doc.Circuit().Run("r1").Rise().Or(0); math.Abs(float64(rise)-1) > tolerance {
		t.Errorf("the ends moved: %v", rise)
	}
	for _, stretch := range []int{-1, 2, 7} {
		if _, err := s.doc.Drawing().RaiseJoint("r1", stretch, 1); err == nil {
			t.Errorf("a point behind stretch %d was raised", stretch)
		}
	}
}

func TestFallEvenly(t *testing.T) {
	s := newSheet(t)
	s.part("p1", "pump", 0, 0, at(1))
	s.part("p2", "pump", 110, 0, at(0))
	s.run("r1", "p1", "b", "p2", "a", stretched([2]float64{6, 0.1}, [2]float64{0.9, -0.9}, [2]float64{4, -0.2}))
	s.apply(s.doc.Drawing().FallEvenly([]model.ID{"r1"}), nil)
	if got := s.doc.Circuit().Run("r1").Stretches; !sameStretches(got, []model.Stretch{stretch(6, -0.06), stretch(0.9, -0.9), stretch(4, -0.04)}) {
		t.Errorf("stretches %v: 0.1 m of fall over 10 m are 1 %%", got)
	}
}

// On whole circuits: what is raised goes up by as much, all that it is not joined
// to face to face stays, and no run's rises begin to disagree with its ends.
func TestRaiseKeepsHeights(t *testing.T) {
	cat := catalogue.Builtin()
	files, err := filepath.Glob("../../assets/demo/*.circuit.json")
	if err != nil || len(files) == 0 {
		t.Fatal("no demos", err)
	}
	const by = 0.3
	raised := 0
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		c, err := circuitfile.Decode(file, data)
		if err != nil {
			t.Fatal(err)
		}
		d := NewDrawing(c, cat)
		plant := network.Build(c, cat)
		before := plant.Heights()
		at := func(id model.ID) quantity.Opt[quantity.Length] { return quantity.Opt[quantity.Length]{} }
		for i, p := range c.Parts() {
			if i%5 != 0 || !p.Meta().Elevation.Known() {
				continue
			}
			group := map[model.ID]bool{}
			for _, id := range d.rigid([]model.ID{p.RecordID()}) {
				group[id] = true
			}
			e, err := d.RaiseParts([]model.ID{p.RecordID()}, by, at)
			if err != nil {
				t.Errorf("%s: %v", p.Meta().Tag, err)
				continue
			}
			next, err := c.Apply(e)
			if err != nil {
				t.Fatal(err)
			}
			raised++
			after := network.Build(next, cat).Heights()
			if len(after.Disagree) > len(before.Disagree) {
				t.Errorf("%s raised: %d runs disagree, %d before", p.Meta().Tag, len(after.Disagree), len(before.Disagree))
			}
			for _, q := range c.Parts() {
				want := 0.0
				if group[q.RecordID()] {
					want = by
				}
				for _, n := range plant.PartNodes(q.RecordID()) {
					a, ok1 := before.Of[n].Get()
					b, ok2 := after.Of[n].Get()
					if ok1 && ok2 && math.Abs(float64(b-a)-want) > 1e-6 && q.Meta().Elevation.Known() {
						t.Errorf("%s raised: %s went by %v", p.Meta().Tag, q.Meta().Tag, b-a)
						break
					}
				}
			}
		}
	}
	if raised < 20 {
		t.Errorf("only %d parts were raised", raised)
	}
}
