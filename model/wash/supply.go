package wash

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	. "rinsewright/model/quantity"
)

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
	if t.holds[volume]-v < t.low {
		return amount{}, &failure{why: s.name(t.id) + " is down to its low level: nothing more is drawn", at: model.Place{Element: t.id, Key: "low_level_m"}}
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
		c.s.assumeOf("temperature of "+c.s.name(t.ID), Say("%v, as the air", Celsius(celsius)), practice, t.ID, "temperature_C")
	}
	m := t.Medium.Or(c.step.Medium.Or(model.Water))
	return c.s.liquid(v, m, c.chemicalFrom(m), t.Strength.Or(0), celsius)
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
	if most, told := j.terminal.Most.Get(); told {
		t.fed, t.most = j.terminal, float64(most) // from now on, see topUp
		return
	}
	a := c.supplied(j.terminal, v)
	t.holds.add(&a)
	s.entered.add(&a)
	r.Use.Fresh += Volume(v)
	s.assume("make-up of "+s.name(t.id), "from "+s.name(j.terminal.ID)+", as fast as is drawn", practice, t.id, "")
}

// topUp lets the supplies that tell what they give at most fill their tanks to the
// level at the start, for a time dt in s. It counts to the step that runs.
func (s *sim) topUp(dt float64) {
	for _, t := range s.order {
		v := min(t.most*dt, t.start-t.holds[volume])
		if t.fed == nil || v <= 1e-12 {
			continue
		}
		celsius := s.air
		if k, ok := t.fed.Temperature.Get(); ok {
			celsius = k.Celsius()
		}
		a := s.liquid(v, model.Water, -1, 0, celsius)
		t.holds.add(&a)
		s.entered.add(&a)
		s.rec.Steps[s.now()].Use.Fresh += Volume(v)
	}
}

// joined is a supply that ends in a tank.
type joined struct {
	terminal *model.Terminal
	pump     *model.Pump // of positive displacement in between, or nil
}

// joinedTo finds the supply of a medium that leads into a tank and into no other part
// first: valves may stand as they like, but no pump that circulates lies between.
func (s *sim) joinedTo(id model.ID, m model.Medium) (joined, bool) {
	key := supplied{id, m}
	j, known := s.supplies[key]
	if !known {
		j, _ = s.findSupply(id, m)
		s.supplies[key] = j
	}
	return j, j.terminal != nil
}

type supplied struct {
	vessel model.ID
	medium model.Medium
}

func (s *sim) findSupply(id model.ID, m model.Medium) (joined, bool) {
	for _, part := range s.p.Circuit.Parts() {
		t, ok := part.(*model.Terminal)
		if !ok || t.Medium.Or("") != m {
			continue
		}
		kind := s.p.Catalogue.Kind(t.Kind)
		if kind == nil || !kind.Has(catalogue.TraitSupply) {
			continue
		}
		if j, ok := s.leads(t, id); ok {
			return j, true
		}
	}
	return joined{}, false
}

func (s *sim) leads(t *model.Terminal, id model.ID) (joined, bool) {
	g := s.p.Graph()
	type at struct {
		node int
		pump *model.Pump
	}
	seen := map[int]bool{}
	var queue []at
	for _, n := range s.p.PartNodes(t.ID) {
		seen[n] = true
		queue = append(queue, at{n, nil})
	}
	for len(queue) > 0 {
		x := queue[0]
		queue = queue[1:]
		node := &s.p.Nodes[x.node]
		if node.Role == catalogue.RoleVessel {
			if node.Part == id {
				return joined{t, x.pump}, true
			}
			continue
		}
		for _, a := range g.Incident(x.node) {
			if seen[int(a.Node)] || s.p.Dry(int(a.Edge)) {
				continue
			}
			next := at{int(a.Node), x.pump}
			switch part := s.p.Circuit.Part(s.p.Edges[a.Edge].Part).(type) {
			case *model.Pump:
				if !s.p.Catalogue.Kind(part.Kind).Has(catalogue.TraitDisplacement) {
					continue
				}
				next.pump = part
			case *model.Exchanger, *model.Spray, *model.Object:
				continue
			}
			seen[next.node] = true
			queue = append(queue, next)
		}
	}
	return joined{}, false
}

// joinedTemperature is that of the water supply that fills a tank, °C.
func (s *sim) joinedTemperature(id model.ID, m model.Medium) (float64, bool) {
	if m != model.Water {
		return 0, false
	}
	j, ok := s.joinedTo(id, model.Water)
	if !ok {
		return 0, false
	}
	k, ok := j.terminal.Temperature.Get()
	return k.Celsius(), ok
}
