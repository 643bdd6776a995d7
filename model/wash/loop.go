package wash

import (
	"fmt"
	"math"

	"rinsewright/model"
	. "rinsewright/model/quantity"
)

const (
	reachedShare  = 0.95  // of the strength that counts as reached; common practice, no source
	preparedShare = 0.999 // of the strength of a tank that counts as prepared
	preparedShort = 0.5   // K by which a prepared tank may fall short
	heatedFrom    = 10    // K above the air from which a step counts as heated
)

// run lets the circulation run for the step's time, or until it has done what it waits
// for.
func (c *circulation) run(r *Step, length float64, timed bool) *failure {
	s := c.s
	start := s.clock
	list := c.places()
	w := c.watch(r, list)
	prepare := c.preparing(length, timed)
	holding := s.opt.Hold && prepare == nil && c.heated()
	end := length
	switch {
	case prepare != nil:
		end = prepare.limit
	case holding:
		end = float64(s.opt.Longest)
	default:
		r.Hold = Some(Duration(0))
	}
	d := c.dosing()
	next := start
	var f *failure
	t := 0.0
	for t < end-1e-9 {
		if s.clock >= next-1e-9 {
			c.sample(list)
			s.sampleTanks()
			s.rec.film.shoot(s, c)
			next = s.clock + s.every
		}
		dt := min(c.dt, end-t)
		d.add(c, dt)
		if f = c.advance(r, dt); f != nil {
			break
		}
		t += dt
		s.clock = start + t
		w.look(t)
		if prepare != nil && prepare.ready() {
			prepare.done = true
			break
		}
		if holding && r.ReachedHeat.Known() {
			holding = false
			r.Hold = Some(Duration(t))
			end = t + length
		}
	}
	c.sample(list)
	s.sampleTanks()
	s.rec.film.shoot(s, c)
	r.Time = Duration(t)
	s.clock = start // the caller moves it on
	w.finish()
	switch {
	case f != nil:
	case holding:
		f = &failure{why: fmt.Sprintf("the return did not come within %.3g K of %.3g °C in %.3g min", float64(s.opt.Margin), w.set, t/60), at: r.Return}
	case prepare != nil && !prepare.done && prepare.judges():
		f = &failure{why: prepare.short(t), at: model.PlaceOf(prepare.tank.id)}
	}
	for i := range c.elements {
		if b := c.elements[i].bowl; b != nil && b.overflow {
			r.Notes = append(r.Notes, s.name(b.id)+" fills to its top: the return takes less than comes in")
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
	for _, l := range c.lines {
		l.disperse(dt)
		s.lostNow(l.exchange(dt, s.air, true))
	}
	return nil
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

// draw takes what leaves a source in a time dt.
func (c *circulation) draw(r *Step, n *node, dt float64) (amount, *failure) {
	s := c.s
	v := n.source * dt
	u := &r.Use
	if n.supply != nil {
		a := c.supplied(n.supply, v)
		s.entered.add(&a)
		u.Drawn += Volume(v)
		if n.supply.Medium.Or("") == model.Water {
			u.Fresh += Volume(v)
			u.Water += Volume(v)
		}
		if chemicalOf(n.supply.Medium.Or("")) >= 0 {
			u.dose(Dosed{n.supply.ID, n.supply.Medium.Or(""), n.supply.Strength.Or(0), Mass(a[mass]), Volume(v)})
		}
		return a, nil
	}
	t := n.drawn
	if t.holds[volume] < v {
		return amount{}, &failure{why: s.name(t.id) + " runs empty", at: model.PlaceOf(t.id)}
	}
	a := t.holds.take(v)
	u.Drawn += Volume(v)
	if m := c.step.Medium.Or(""); m == model.Water || m == model.Recovered {
		u.Water += Volume(v)
		c.makeUp(r, t, v)
	}
	return a, nil
}

// supplied is what a terminal gives.
func (c *circulation) supplied(t *model.Terminal, v float64) amount {
	celsius := c.s.air
	if k, ok := t.Temperature.Get(); ok {
		celsius = k.Celsius()
	} else {
		c.s.assume("temperature of "+c.s.name(t.ID), c.s.degrees(celsius)+", as the air", practice, t.ID, "temperature_C")
	}
	return c.s.liquid(v, t.Medium.Or(c.step.Medium.Or(model.Water)), t.Strength.Or(0), celsius)
}

// makeUp fills a water tank as fast as it is drawn from.
func (c *circulation) makeUp(r *Step, t *tank, v float64) {
	s := c.s
	if s.opt.NoMakeUp || c.step.Destination == t.id || s.refilled(t.id) {
		return
	}
	j, ok := s.joinedTo(t.id, model.Water)
	if !ok {
		return
	}
	a := c.supplied(j.terminal, v)
	t.holds.add(&a)
	s.entered.add(&a)
	r.Use.Fresh += Volume(v)
	s.assume("make-up of "+s.name(t.id), "from "+s.name(j.terminal.ID)+", as fast as is drawn", practice, t.id, "")
}

// dosing brings concentrate into the tank that is drawn from.
type dosing struct {
	tank     *tank
	chemical int
	target   float64
	strength float64
	celsius  float64
	rate     float64 // m³/s
	supply   model.ID
	medium   model.Medium
}

// dosing says what is dosed in this step; nil where nothing is.
func (c *circulation) dosing() *dosing {
	s, st := c.s, c.step
	medium := st.Medium.Or("")
	chemical := chemicalOf(medium)
	t := s.tank(st.Source)
	target := st.Strength.Or(0)
	if chemical < 0 || t == nil || target <= 0 {
		return nil
	}
	d := &dosing{tank: t, chemical: chemical, target: float64(target), rate: float64(s.opt.Dosing), medium: medium, celsius: s.air}
	j, ok := s.joinedTo(t.id, medium)
	preparing := st.Purpose == Some(model.Prepare)
	switch {
	case ok:
		if j.pump != nil && !runs(st, j.pump.ID) {
			return nil
		}
		d.supply = j.terminal.ID
		d.strength = float64(j.terminal.Strength.Or(stockStrength(chemical)))
		if !j.terminal.Strength.Known() {
			s.assume("strength of "+s.name(d.supply), percent(Strength(d.strength)), practice, d.supply, "strength_pct")
		}
		if k, ok := j.terminal.Temperature.Get(); ok {
			d.celsius = k.Celsius()
		}
		if q, ok := pumpFlow(j.pump); ok {
			d.rate = q
		} else {
			s.assume("flow of "+s.name(d.supply), fmt.Sprintf("%.3g m³/h while the tank is too weak", 3600*d.rate), practice, d.supply, "")
		}
	case preparing:
		d.strength = float64(stockStrength(chemical))
		s.assume("concentrate for "+s.name(t.id), fmt.Sprintf("%s of the usual stock, by hand, %.3g m³/h", percent(Strength(d.strength)), 3600*d.rate), practice, t.id, "")
	default:
		return nil
	}
	if d.strength <= d.target {
		return nil
	}
	return d
}

func runs(st *model.Step, id model.ID) bool {
	for _, r := range st.Running {
		if r == id {
			return true
		}
	}
	return false
}

func pumpFlow(p *model.Pump) (float64, bool) {
	if p == nil {
		return 0, false
	}
	q, ok := p.RatedFlow.Get()
	return float64(q), ok
}

// add doses for a time dt.
func (d *dosing) add(c *circulation, dt float64) {
	if d == nil {
		return
	}
	h := &d.tank.holds
	short := d.target*h[mass] - h[d.chemical]
	if short <= 1e-9*h[mass] {
		return
	}
	s := c.s
	one := s.liquid(1, d.medium, Strength(d.strength), d.celsius)
	v := min(short/(d.strength-d.target)/one[mass], d.rate*dt)
	a := one.scaled(v)
	h.add(&a)
	s.entered.add(&a)
	s.rec.Steps[c.i].Use.dose(Dosed{d.supply, d.medium, Strength(d.strength), Mass(a[mass]), Volume(v)})
}

// preparation is a step that makes a tank ready.
type preparation struct {
	s        *sim
	tank     *tank
	chemical int     // -1: not dosed
	strength float64 // 0: not judged
	celsius  float64 // NaN: not judged
	full     float64 // m³; 0: not judged
	limit    float64 // s
	done     bool
}

// preparing says what a preparing step waits for; nil for another step.
func (c *circulation) preparing(length float64, timed bool) *preparation {
	s, st := c.s, c.step
	t := s.tank(st.Destination)
	if st.Purpose != Some(model.Prepare) || t == nil {
		return nil
	}
	p := &preparation{s: s, tank: t, chemical: chemicalOf(st.Medium.Or("")), celsius: math.NaN(), limit: float64(s.opt.Longest)}
	if timed {
		p.limit = length
	}
	if p.chemical >= 0 {
		p.strength = float64(st.Strength.Or(s.strengthAfter(c.i, t.id, p.chemical)))
	}
	if k, ok := stepTemperature(st); ok && len(c.heaters) > 0 {
		p.celsius = k
	}
	if st.Source != st.Destination && p.chemical < 0 {
		p.full = t.start
		if p.full <= 0 {
			p.full = float64(t.vessel.Working.Or(Volume(0.95 * t.total())))
		}
		s.assume("filling of "+s.name(t.id), "ends at its content at the start, else its working volume", practice, t.id, "")
	}
	return p
}

// strengthAfter is what the next step that draws a chemical from a tank asks for.
func (s *sim) strengthAfter(i int, id model.ID, chemical int) Strength {
	for _, st := range s.steps[i+1:] {
		if st.Source == id && chemicalOf(st.Medium.Or("")) == chemical {
			return st.Strength.Or(0)
		}
	}
	return 0
}

func (p *preparation) judges() bool {
	return p.strength > 0 || !math.IsNaN(p.celsius) || p.full > 0
}

func (p *preparation) ready() bool {
	h := &p.tank.holds
	return p.judges() &&
		(p.strength <= 0 || h.solute(p.chemical) >= preparedShare*p.strength) &&
		(math.IsNaN(p.celsius) || h.celsius() >= p.celsius-preparedShort) &&
		(p.full <= 0 || h[volume] >= p.full)
}

// short says by how much a tank is not ready after t seconds.
func (p *preparation) short(t float64) string {
	h := &p.tank.holds
	text := fmt.Sprintf("%s is not ready after %.3g min:", p.s.name(p.tank.id), t/60)
	if p.strength > 0 {
		text += fmt.Sprintf(" %s of %s", percent(Strength(h.solute(p.chemical))), percent(Strength(p.strength)))
	}
	if !math.IsNaN(p.celsius) {
		text += fmt.Sprintf(" %.3g of %.3g °C", h.celsius(), p.celsius)
	}
	if p.full > 0 {
		text += fmt.Sprintf(" %.4g of %.4g L", 1000*h[volume], 1000*p.full)
	}
	return text
}
