package wash

import (
	"math"

	"rinsewright/model"
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
		if c := b.holds.capacity(); c > 1e-9 {
			k := w.film * dt
			q := k * (b.holds[heat]/c - w.celsius) / (1 + k*(1/c+1/w.capacity))
			b.holds[heat] -= q
			w.celsius += q / w.capacity
		}
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
