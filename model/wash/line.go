package wash

import (
	"math"
)

// line is liquid in tubes that follow one another and carry the same flow. What
// flows in pushes out as much at the other end, so plug flow is exact; only
// dispersion mixes neighbours.
type line struct {
	pieces   []piece // from the outlet to the inlet
	capacity float64 // m³
	flow     float64 // m³/s
	grain    float64 // m³ that flow in during one step of time

	slugs []amount // from first on: from the outlet to the inlet
	first int
	last  amount // that came out last, a unit of it
	work  []row
}

// piece is an edge in a line.
type piece struct {
	edge    int
	forward bool    // flows from its From to its To
	start   float64 // m³ from the outlet of the line
	end     float64
	spread  float64 // K·A², m⁶/s
	walls   []wall  // of the edge, from its From to its To
}

// fill takes what the edges hold, given from the outlet to the inlet, in slugs of a
// grain at most, so that a front meets neighbours of its own size.
func (l *line) fill(slugs []amount) {
	l.slugs, l.first = l.slugs[:0], 0
	for i := range slugs {
		n := 1.0
		if l.grain > 0 {
			n = max(1, math.Ceil(slugs[i][volume]/l.grain))
		}
		for part, k := slugs[i].scaled(1/n), 0.0; k < n; k++ {
			l.push(&part)
		}
	}
	if n := len(slugs); n > 0 && slugs[0][volume] > 0 {
		l.last = slugs[0].scaled(1 / slugs[0][volume])
	}
}

// push lets an amount in. Small neighbours, and alike ones, become one.
func (l *line) push(a *amount) {
	if a[volume] <= 0 {
		return
	}
	a.settle()
	if n := len(l.slugs); n > l.first {
		tail := &l.slugs[n-1]
		if v := tail[volume] + a[volume]; v <= 0.5*l.grain || v <= 1.05*l.grain && alike(tail, a) {
			tail.add(a)
			return
		}
	}
	l.slugs = append(l.slugs, *a)
}

// pull takes out as much as came in, piece by piece.
func (l *line) pull(v float64, out []amount) []amount {
	for v > 0 && l.first < len(l.slugs) {
		head := &l.slugs[l.first]
		if head[volume] <= v*(1+1e-12) {
			v -= head[volume]
			out = append(out, *head)
			l.first++
			continue
		}
		out = append(out, head.take(v))
		v = 0
	}
	if l.first > 64 && l.first > len(l.slugs)/2 {
		n := copy(l.slugs, l.slugs[l.first:])
		l.slugs, l.first = l.slugs[:n], 0
	}
	return out
}

// move lets amounts in and appends what they push out.
func (l *line) move(in, out []amount) []amount {
	v := 0.0
	for i := range in {
		v += in[i][volume]
		l.push(&in[i])
	}
	from := len(out)
	out = l.pull(v, out)
	var sum amount
	for i := from; i < len(out); i++ {
		sum.add(&out[i])
	}
	if sum[volume] > 0 {
		l.last = sum.scaled(1 / sum[volume])
	}
	return out
}

// disperse mixes neighbours for a time dt in s. Between two slugs of volumes v in tube
// of area A pass K·A²·dt/((v₁+v₂)/2) of each; all exchanges together are solved
// implicitly, so that any step of time is stable and no value leaves the range of
// those before.
func (l *line) disperse(dt float64) {
	slugs := l.slugs[l.first:]
	n := len(slugs)
	if n < 2 {
		return
	}
	if len(l.work) < n {
		l.work = make([]row, n+n/4)
	}
	at, k, before := 0.0, 0, 0.0
	for i := range slugs {
		a, r := &slugs[i], &l.work[i]
		v := a[volume]
		r.volume = v
		at += v
		for k < len(l.pieces)-1 && l.pieces[k].end <= at {
			k++
		}
		after, pivot := 0.0, v+before
		if i+1 < n {
			after = l.pieces[k].spread * dt * 2 / (v + slugs[i+1][volume])
		}
		if i == 0 {
			pivot = 1 / (pivot + after)
			for j := range a {
				a[j] *= pivot
			}
		} else {
			pivot = 1 / (pivot + after - before*l.work[i-1].ahead)
			c := &slugs[i-1]
			for j := range a {
				a[j] = (a[j] + before*c[j]) * pivot
			}
		}
		r.ahead = after * pivot
		before = after
	}
	for i := n - 2; i >= 0; i-- {
		a, b, e := &slugs[i], &slugs[i+1], l.work[i].ahead
		for j := range a {
			a[j] += e * b[j]
		}
		v := l.work[i+1].volume
		for j := range b {
			b[j] *= v
		}
	}
	v := l.work[0].volume
	for j := range slugs[0] {
		slugs[0][j] *= v
	}
}

// row is what the elimination keeps of a slug.
type row struct{ volume, ahead float64 }

// exchange passes heat between liquid and steel, and from steel to air, for a time dt
// in s, and gives the heat that went to the air, J. flows says whether the liquid
// moves; standing liquid passes a tenth.
func (l *line) exchange(dt, ambient float64, flows bool) float64 {
	film := dt
	if !flows {
		film = dt / 10
	}
	lost := 0.0
	i, left := l.first, 0.0 // m³ of slug i that lie beyond the last wall
	if i < len(l.slugs) {
		left = l.slugs[i][volume]
	}
	c, t := 0.0, 0.0
	fresh := true
	for k := range l.pieces {
		p := &l.pieces[k]
		if len(p.walls) == 0 {
			// Pass by the liquid of a part without steel of its own.
			for v := p.end - p.start; v > 0 && i < len(l.slugs); {
				if left > v {
					left -= v
					break
				}
				v -= left
				i, fresh = i+1, true
				if i < len(l.slugs) {
					left = l.slugs[i][volume]
				}
			}
			continue
		}
		for n := range p.walls {
			w := &p.walls[n]
			if p.forward {
				w = &p.walls[len(p.walls)-1-n]
			}
			perVolume := film * w.film / w.volume
			for v := w.volume; v > 1e-12 && i < len(l.slugs); {
				s := &l.slugs[i]
				if fresh {
					c, fresh = s.capacity(), false
					if c > 1e-9 {
						t = s[heat] / c
					}
				}
				x := min(left, v)
				if c > 1e-9 {
					beside := c * x / s[volume]
					k := perVolume * x
					q := k * (t - w.celsius) / (1 + k*(1/beside+1/w.capacity))
					s[heat] -= q
					t -= q / c
					w.celsius += q / w.capacity
				}
				v -= x
				if left -= x; left <= 1e-12 {
					i, fresh = i+1, true
					if i < len(l.slugs) {
						left = l.slugs[i][volume]
					}
				}
			}
			q := dt * w.loss * (w.celsius - ambient) / (1 + dt*w.loss/w.capacity)
			w.celsius -= q / w.capacity
			lost += q
		}
	}
	return lost
}

// at gives what is at a place, in m³ from the outlet.
func (l *line) at(x float64) *amount {
	if x <= 1e-9 {
		return &l.last
	}
	for i := l.first; i < len(l.slugs); i++ {
		if x -= l.slugs[i][volume]; x < 0 {
			return &l.slugs[i]
		}
	}
	if n := len(l.slugs); n > l.first {
		return &l.slugs[n-1]
	}
	return &l.last
}

// cut gives what each piece holds, from its inlet end to its outlet end, and leaves
// the line empty.
func (l *line) cut(hold func(p *piece, slugs []amount)) {
	for k := range l.pieces {
		p := &l.pieces[k]
		v := p.end - p.start
		if v <= 0 {
			continue
		}
		var in []amount
		if k == len(l.pieces)-1 {
			v = math.Inf(1) // what rounding left over stays in the last piece
		}
		in = l.pull(v, in)
		hold(p, in)
	}
}
