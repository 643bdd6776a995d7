package wash

import (
	"math"
)

// mixer is a hold-up in which liquid mixes at once: a pump's casing, a strainer, the
// plates of a heater.
type mixer struct {
	edge   int
	holds  amount
	volume float64
	heater *heater // nil for another part
}

// move lets amounts in and appends what they push out. For each of them the content
// follows c = c_in + (c₀ − c_in)·exp(−v/V), and what goes out is the mean over it,
// by the balance.
func (m *mixer) move(in, out []amount) []amount {
	for i := range in {
		a := in[i]
		if m.volume <= 0 {
			out = append(out, a)
			m.holds = a
			continue
		}
		n := a[volume] / m.volume
		if n <= 0 {
			continue
		}
		stays := math.Exp(-n)
		enters := -math.Expm1(-n) / n
		for j := range a {
			now := stays*m.holds[j] + enters*a[j]
			a[j], m.holds[j] = m.holds[j]+a[j]-now, now
		}
		m.holds.settle()
		out = append(out, a)
	}
	return out
}

// now gives what comes out.
func (m *mixer) now() *amount { return &m.holds }
