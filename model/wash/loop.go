package wash

import (
	"rinsewright/model"
	. "rinsewright/model/quantity"
)

const (
	reachedShare  = 0.95  // of the strength that counts as reached; common practice, no source
	preparedShare = 0.999 // of the strength of a tank that counts as prepared
	preparedShort = 0.5   // K by which a prepared tank may fall short
	heatedFrom    = 10    // K above the air from which a step counts as heated
)

// run lets the circulation run until all that the step waits for is met.
func (c *circulation) run(r *Step) *failure {
	s := c.s
	start := s.clock
	list := c.places()
	w := c.watch(r, list)
	prepare := c.preparing()
	e, f := c.endings(r, list, w, prepare)
	if f != nil {
		r.Simulated = false
		return f
	}
	d := c.dosing()
	next := start
	t, done := 0.0, false
	for turn := 0; t < e.limit-1e-9; turn++ {
		if turn%1024 == 1023 && s.stopped() {
			break
		}
		if s.clock >= next-1e-9 {
			c.sample(list)
			s.sampleTanks()
			s.rec.film.shoot(s, c)
			next = s.clock + s.every
		}
		dt := e.next(t)
		d.add(c, dt)
		if f = c.advance(r, dt); f != nil {
			break
		}
		t += dt
		s.clock = start + t
		w.look(t)
		if done = e.look(t) && (prepare == nil && len(e.list) > 0 || prepare != nil && prepare.over(len(e.list) > 0)); done {
			break
		}
	}
	c.mix()
	s.tellSpills(r)
	s.tellBoiling(c, r)
	c.sample(list)
	s.sampleTanks()
	s.rec.film.shoot(s, c)
	r.Time = Duration(t)
	s.clock = start // the caller moves it on
	w.finish()
	short := e.finish()
	if prepare != nil && !done && f == nil && prepare.judges() && !prepare.ready() {
		f = &failure{words: prepare.short(t), at: model.PlaceOf(prepare.tank.id)}
	}
	if f == nil && !done && !short.Empty() {
		f = &failure{words: Say("ended after %v, the longest that it may take: %v", Duration(t), short), at: r.Return}
	}
	for i := range c.elements {
		if b := c.elements[i].bowl; b != nil && b.overflow {
			r.note(Say("%s fills to its top: the return takes less than comes in", s.name(b.id)))
		}
	}
	return f
}

// heated says whether the step waits for the return to become hot.
func (c *circulation) heated() bool {
	k, ok := stepTemperature(c.step)
	return ok && k >= c.s.air+heatedFrom
}

// advance lets everything move for a time dt in s.
func (c *circulation) advance(r *Step, dt float64) *failure {
	s := c.s
	for k := range c.nodes {
		n := &c.nodes[k]
		n.passed = n.passed[:0]
		switch len(n.in) {
		case 0:
			a, f := c.draw(r, n, dt)
			if f != nil {
				return f
			}
			n.passed = append(n.passed, a)
		case 1:
			n.passed = append(n.passed, c.elements[n.in[0]].out...)
		default:
			var sum amount
			for _, e := range n.in {
				for i := range c.elements[e].out {
					sum.add(&c.elements[e].out[i])
				}
			}
			n.passed = append(n.passed, sum)
		}
		switch len(n.out) {
		case 0:
			for _, a := range n.passed {
				s.ends(r, n.sink, a)
			}
		case 1:
			c.elements[n.out[0]].move(n.passed, dt)
		default:
			c.divide(n, dt)
		}
	}
	s.topUp(dt)
	if c.unmixed += dt; c.unmixed > 1.5*c.dt {
		c.mix()
	}
	return nil
}

// mix lets neighbours mix and steel exchange heat for the time since the last call.
// Every other step of time is often enough: both are slower than the flow.
func (c *circulation) mix() {
	for _, l := range c.lines {
		l.disperse(c.unmixed)
		c.s.lostNow(l.exchange(c.unmixed, c.s.air, true))
	}
	c.s.stands(c, c.unmixed)
	c.unmixed = 0
}

// divide sends the shares of what comes to a node into its ways. The last way gets
// what is left, so that nothing is lost.
func (c *circulation) divide(n *node, dt float64) {
	rest := append([]amount(nil), n.passed...)
	for k, e := range n.out {
		if k == len(n.out)-1 {
			c.elements[e].move(rest, dt)
			return
		}
		part := make([]amount, len(n.passed))
		for i := range part {
			part[i] = n.passed[i].scaled(n.shares[k])
			for j := range part[i] {
				rest[i][j] -= part[i][j]
			}
		}
		c.elements[e].move(part, dt)
	}
}

func (x *element) move(in []amount, dt float64) {
	switch {
	case x.line != nil:
		x.out = x.line.move(in, x.out[:0])
	case x.mixer != nil:
		if x.mixer.heater != nil {
			x.mixer.heater.warm(in, dt)
		}
		x.out = x.mixer.move(in, x.out[:0])
	default:
		x.out = x.bowl.move(in, x.out[:0], dt)
	}
}
