package wash

import (
	"cmp"
	"slices"

	"rinsewright/model"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// miss notes what is missing; the same stands once.
func (u *Use) miss(record model.ID, key string) {
	m := network.Missing{Record: record, Key: key}
	if !slices.Contains(u.Missing, m) {
		u.Missing = append(u.Missing, m)
		sortMissing(u.Missing)
	}
}

// plus adds the use of a step.
func (u *Use) plus(v *Use) {
	u.Fresh += v.Fresh
	u.Drawn += v.Drawn
	u.Water += v.Water
	u.Returned += v.Returned
	u.Recovered += v.Recovered
	u.Filled += v.Filled
	u.Sewer += v.Sewer
	u.Elsewhere += v.Elsewhere
	u.Heat += v.Heat
	u.Lost += v.Lost
	u.Electric += v.Electric
	u.Steam = sum(u.Steam, v.Steam)
	u.Electricity = sum(u.Electricity, v.Electricity)
	for _, m := range v.Missing {
		if !slices.Contains(u.Missing, m) {
			u.Missing = append(u.Missing, m)
		}
	}
	sortMissing(u.Missing)
	for _, d := range v.Concentrate {
		u.dose(d)
	}
}

// sum is unknown where one of the two is.
func sum[T ~float64](a, b Opt[T]) Opt[T] {
	x, okX := a.Get()
	y, okY := b.Get()
	if okX && okY {
		return Some(x + y)
	}
	return Opt[T]{}
}

// dose adds to the concentrate of one supply.
func (u *Use) dose(d Dosed) {
	for i := range u.Concentrate {
		if c := &u.Concentrate[i]; c.Supply == d.Supply && c.Medium == d.Medium {
			c.Mass += d.Mass
			c.Volume += d.Volume
			return
		}
	}
	u.Concentrate = append(u.Concentrate, d)
	slices.SortFunc(u.Concentrate, func(a, b Dosed) int {
		return cmp.Or(cmp.Compare(a.Supply, b.Supply), cmp.Compare(a.Medium, b.Medium))
	})
}

// motor is the efficiency of a pump's motor with its converter.
func (s *sim) motor(id model.ID) float64 {
	if p, ok := s.p.Circuit.Part(id).(*model.Pump); ok {
		if x, told := p.MotorYield.Get(); told && x > 0 {
			return float64(x)
		}
	}
	s.assume("efficiency of the motor of "+s.name(id)+" with its converter", percent(Strength(s.opt.Motor)), practice, id, "motor_efficiency_pct")
	return float64(s.opt.Motor)
}

// bill adds up electricity and steam of a step.
func (s *sim) bill(c *circulation, r *Step) {
	u := &r.Use
	seconds := float64(r.Time)
	for _, h := range c.heaters {
		u.Heat += Energy(h.given)
		s.heated += h.given
		switch {
		case h.electric:
			u.Electric += Energy(h.given)
		case h.latent > 0:
			u.Steam = sum(u.Steam, Some(Mass(h.given/h.latent)))
		case h.given > 0:
			u.Steam = Opt[Mass]{}
		}
	}
	for _, p := range r.Flow.Pumps {
		if !p.Running {
			continue
		}
		if w, ok := p.Power.Get(); ok {
			u.Electricity = sum(u.Electricity, Some(Energy(max(0, float64(w))/s.motor(p.Pump)*seconds)))
			continue
		}
		u.Electricity = Opt[Energy]{}
		for _, m := range r.Flow.Missing {
			u.miss(m.Record, m.Key) // what keeps the network from being solved
		}
		for _, m := range p.Missing {
			if m.Key == "efficiency_pct" {
				u.miss(m.Record, m.Key)
			}
		}
	}
}
