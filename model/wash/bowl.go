package wash

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/network"
)

// bowl is a vessel that the route leads through: a film on its wall and a puddle.
type bowl struct {
	id       model.ID
	holds    *amount
	target   float64 // m³ of film and puddle
	passes   float64 // m³/s that the return takes; what comes in where it takes all
	fills    bool    // the return takes less than comes in
	total    float64 // m³ it holds; +Inf unknown
	shell    *wall   // nil unknown
	overflow bool    // it has been full
}

// move lets amounts in for a time dt in s and appends what leaves.
func (b *bowl) move(in, out []amount, dt float64) []amount {
	for i := range in {
		a := in[i]
		vent(&a)
		if a[volume] <= 0 {
			continue
		}
		have := b.holds[volume]
		if !b.fills && math.Abs(have-b.target) <= 1e-9*b.target {
			m := mixer{holds: *b.holds, volume: have}
			out = m.move([]amount{a}, out)
			*b.holds = m.holds
			continue
		}
		b.holds.add(&a)
		share := 1 / float64(len(in))
		leaves := max(0, b.holds[volume]-b.target)
		switch {
		case b.fills:
			leaves = min(b.holds[volume], b.passes*dt*share)
			if over := b.holds[volume] - leaves - b.total; over > 0 {
				b.overflow = true
				leaves += over
			}
		case leaves > a[volume]:
			leaves = min(leaves, max(a[volume]*1.1, b.passes*dt*share))
		}
		if leaves > 0 {
			out = append(out, b.holds.take(leaves))
		}
	}
	if w := b.shell; w != nil {
		w.meets(b.holds, w.film*dt)
	}
	return out
}

// vent lets the air out of an amount.
func vent(a *amount) {
	a[volume] -= a[air]
	a[air] = 0
	if a[volume] < 1e-15 {
		a[volume] = 0
	}
}

// bowl makes a vessel on the way.
func (c *circulation) bowl(t *tank, q float64) *bowl {
	s := c.s
	b := &bowl{id: t.id, holds: &t.holds, passes: q, total: t.total(), shell: s.shell(t)}
	d, known := t.vessel.Diameter.Get()
	h, knownH := t.vessel.Height.Get()
	if known && knownH {
		b.target = filmVolume(float64(d), float64(h), q, c.viscosity())
		s.assume("film on the wall of "+s.name(t.id), "over all of it, of a falling film", "Nusselt; above Re 400 Brauer 1956, from memory", t.id, "")
	}
	if c.sol == nil {
		return b
	}
	for _, v := range c.sol.Vessels {
		if v.Vessel != t.id {
			continue
		}
		if l, ok := v.Level.Get(); ok && t.shaped && v.Balance != flow.BowlFills {
			b.target += float64(t.body.At(l))
		}
		if out, ok := v.Outflow.Get(); ok && v.Balance == flow.BowlFills && float64(out) < q {
			b.fills, b.passes = true, float64(out)
		}
		if x, ok := v.Capacity.Get(); ok && !b.fills {
			b.passes = max(b.passes, float64(x))
		}
	}
	return b
}

// filmVolume is what runs down the wall of an upright vessel of diameter d and height
// h, m³. Per width flows Γ = q/(πd); with Re = Γ/ν the film is
//
//	δ = (3 ν Γ/g)^⅓                         below Re 400 (Nusselt)
//	δ = 0.302 (3 ν²/g)^⅓ Re^(8/15)          above (Brauer 1956, from memory)
func filmVolume(d, h, q, nu float64) float64 {
	const g = 9.80665
	gamma := q / (math.Pi * d)
	re := gamma / nu
	thick := math.Cbrt(3 * nu * gamma / g)
	if re > 400 {
		thick = 0.302 * math.Cbrt(3*nu*nu/g) * math.Pow(re, 8.0/15)
	}
	return thick * (math.Pi*d*h + math.Pi/4*d*d)
}

// unknownBowl holds back a step through a vessel of which nothing is known.
func (c *circulation) unknownBowl() *failure {
	for i := range c.elements {
		b := c.elements[i].bowl
		if b == nil || b.target > 0 {
			continue
		}
		t := c.s.tank(b.id)
		f := &failure{why: "what stands in " + c.s.name(t.id) + " is not known", at: model.PlaceOf(t.id)}
		for _, key := range t.missing {
			f.missing = append(f.missing, network.Missing{Record: t.id, Key: key})
		}
		return f
	}
	return nil
}
