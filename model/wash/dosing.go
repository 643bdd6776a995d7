package wash

import (
	"rinsewright/model"
	. "rinsewright/model/quantity"
)

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
	chemical := chemicalIn(st)
	t := s.tank(st.Source)
	target := st.Strength.Or(0)
	if k, asked := st.EndConductivity.Get(); asked && !st.Strength.Known() && chemical >= 0 && st.Purpose == Some(model.Prepare) {
		target, _ = s.strengthAt(chemical, k)
	}
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
		} else if q, ok := j.terminal.Most.Get(); ok {
			d.rate = float64(q)
		} else {
			s.assumeOf("flow of "+s.name(d.supply), Say("%v while the tank is too weak", Flow(d.rate)), practice, d.supply, "flow_m3h")
		}
	case preparing:
		d.strength = float64(stockStrength(chemical))
		s.assumeOf("concentrate for "+s.name(t.id), Say("%v of the usual stock, by hand, %v", Strength(d.strength), Flow(d.rate)), practice, t.id, "")
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
	one := s.liquid(1, d.medium, d.chemical, Strength(d.strength), d.celsius)
	v := min(short/(d.strength-d.target)/one[mass], d.rate*dt)
	a := one.scaled(v)
	h.add(&a)
	s.entered.add(&a)
	s.spill(&s.rec.Steps[c.i], d.tank)
	s.rec.Steps[c.i].Use.dose(Dosed{d.supply, d.medium, Strength(d.strength), Mass(a[mass]), Volume(v)})
}
