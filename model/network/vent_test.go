package network

import (
	"fmt"
	"math/rand"
	"slices"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Up and over, with the open mouth of a sewer drain at the end: 0 ╵ 1 ─ 1 ╷ 0.4 ╵ 0.6.
// Air above 0.4 m is trapped: it would have to dip under the low point. 0.6 of the
// 1 m that rises, 4 m level, 0.6 m that falls: 5.2 m of DN50 = 10.210 L. Behind the
// low point it rises to the mouth.
func TestVenting_UpAndOver(t *testing.T) {
	p, run := line(t, "0", "0.6", stretch{1, 1}, stretch{4, 0}, stretch{0.6, -0.6}, stretch{0.2, 0.2})
	v := p.Venting(p.Heights(), allWet(p), []*LineUp{p.LineUp(step("W", "D", nil))})
	if len(v.Pockets) != 1 || len(v.Vague) != 0 {
		t.Fatalf("%+v", v)
	}
	k := v.Pockets[0]
	near(t, "volume", k.Volume, 5.2*perMetre)
	near(t, "level", k.Level, 0.4)
	if called(p, k.Under) != string(run)+"/3" || called(p, k.Highest) != string(run)+"/1" || k.NoVent || !slices.Equal(k.Edges, p.RunEdges(run)[:3]) {
		t.Errorf("under %s, highest %s, %+v", called(p, k.Under), called(p, k.Highest), k)
	}
}

// The same with a vent valve on the high point: shut it traps, open it does not.
// A shut riser to a cap traps its air without any way out: 0.5 m.
func TestVenting_Vent(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", `"elevation_m":0`)
	s.part("T", "tee", `"size":"`+dn50+`","second_size":"`+dn50+`","stub_mm":0,"run_mm":0`)
	s.part("V", "sampling-valve", `"size":"`+dn50+`","seat_a_mm":0`)
	s.part("D", "sewer-drain", `"elevation_m":0`)
	s.run("W.a", "T.a", dn50, stretch{1, 1})
	s.run("T.b", "D.a", dn50, stretch{1, -1})
	s.run("T.branch", "V.a", dn50, stretch{0.5, 0.5})
	p := s.plant()
	for position, want := range map[string]float64{"closed": 2.5 * perMetre, "open": 0} {
		l := p.LineUp(step("W", "D", map[model.ID]string{"V": position}))
		v := p.Venting(p.Heights(), allWet(p), []*LineUp{l})
		sum := 0.0
		for _, k := range v.Pockets {
			sum += float64(k.Volume.Or(0))
		}
		if sum < want-1e-9 || sum > want+1e-9 {
			t.Errorf("%s: %v, want %v: %+v", position, sum, want, v.Pockets)
		}
	}
}

// Into a vented vessel air escapes at the top, though its outlet lies at the
// bottom: 0 ╵ 2 with the inlet at 0.9 of 2 m above an elevation of 0.2 m.
func TestVenting_Vessel(t *testing.T) {
	for vented, pockets := range map[string]int{`,"vented":true`: 0, "": 1} {
		s := newSketch(t)
		s.part("W", "water-supply", `"elevation_m":0`)
		s.part("B", "alkali-tank", `"height_m":2,"elevation_m":0.2`+vented)
		s.run("W.a", "B.return", dn50, stretch{2, 2})
		p := s.plant()
		v := p.Venting(p.Heights(), allWet(p), []*LineUp{p.LineUp(step("W", "", nil))})
		if len(v.Pockets) != pockets || v.Vented[at(t, p, "W.a")] != (pockets == 0) {
			t.Errorf("vented %q: %+v", vented, v.Pockets)
		}
		if pockets == 1 && !v.Pockets[0].NoVent {
			t.Errorf("%+v", v.Pockets)
		}
	}
}

// A circuit upside down traps as air what it held as liquid: the same edges, the
// same litres, the levels with their sign changed.
func TestVenting_UpsideDown(t *testing.T) {
	r := rand.New(rand.NewSource(13))
	pools := 0
	for i := range 300 {
		d := drawRandom(t, r, 3+r.Intn(9), i%2 == 0)
		if len(d.vessels()) > 0 {
			continue
		}
		p := d.plant()
		q := Build(upsideDown(t, d.circuit()), catalogue.Builtin())
		st := step("", "", d.positions())
		drained := p.Draining(p.Heights(), allWet(p), []*LineUp{p.LineUp(st)})
		vented := q.Venting(q.Heights(), allWet(q), []*LineUp{q.LineUp(st)})
		if !slices.Equal(drained.Drained, vented.Vented) || !slices.Equal(drained.Vague, vented.Vague) || len(drained.Pools) != len(vented.Pockets) {
			t.Fatalf("circuit %d: %+v, %+v", i, drained, vented)
		}
		for k, pool := range drained.Pools {
			air := vented.Pockets[k]
			pools++
			same := slices.Equal(pool.Edges, air.Edges) && pool.Lowest == air.Highest && pool.Over == air.Under && pool.NoDrain == air.NoVent
			if !same || pool.Level.Or(0) != -air.Level.Or(0) || fmt.Sprintf("%.9f", pool.Volume.Or(-1)) != fmt.Sprintf("%.9f", air.Volume.Or(-1)) {
				t.Errorf("circuit %d: %+v, %+v", i, pool, air)
			}
		}
	}
	if pools < 100 {
		t.Errorf("samples too poor: %d pools", pools)
	}
}

func upsideDown(t *testing.T, c *model.Circuit) *model.Circuit {
	t.Helper()
	var edit model.Edit
	for _, p := range c.Parts() {
		turned := model.Clone(p)
		if z, ok := p.Meta().Elevation.Get(); ok {
			turned.Meta().Elevation = some(-z)
		}
		edit.Changes = append(edit.Changes, model.Replacing(p, turned))
	}
	for _, r := range c.Runs() {
		turned := model.Clone(r)
		for k, s := range r.Stretches {
			if z, ok := s.Rise.Get(); ok {
				turned.Stretches[k].Rise = some(-z)
			}
		}
		edit.Changes = append(edit.Changes, model.Replacing(r, turned))
	}
	out, err := c.Apply(edit)
	if err != nil {
		t.Fatal(err)
	}
	return out
}
