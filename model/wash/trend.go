package wash

import (
	"math"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	. "rinsewright/model/quantity"
)

// place is a point of a circulation at which a trend is kept.
type place struct {
	at    model.Place
	what  string
	spot  spot
	trend int
}

// before orders spots along the flow.
func (c *circulation) before(a, b spot) int {
	fa, fb := c.elements[a.element].from, c.elements[b.element].from
	switch {
	case fa != fb:
		return fa - fb
	case a.element != b.element:
		return a.element - b.element
	case a.start > b.start:
		return -1
	case a.start < b.start:
		return 1
	}
	return 0
}

// lastOf gives the spot where the flow leaves a part or run.
func (c *circulation) lastOf(id model.ID) (spot, bool) {
	edges := c.s.p.PartEdges(id)
	if edges == nil {
		edges = c.s.p.RunEdges(id)
	}
	var best spot
	found := false
	for _, e := range edges {
		if p, ok := c.of[e]; ok && (!found || c.before(p, best) >= 0) {
			best, found = p, true
		}
	}
	return best, found
}

// places lists the points of this step in the order of the flow.
func (c *circulation) places() []place {
	var out []place
	add := func(id model.ID, what string) {
		if p, ok := c.lastOf(id); ok {
			out = append(out, place{at: model.PlaceOf(id), what: what, spot: p})
		}
	}
	for _, part := range c.s.p.Circuit.Parts() {
		kind := c.s.p.Catalogue.Kind(part.Meta().Kind)
		if kind != nil && (kind.Has(catalogue.TraitTemperature) || kind.Has(catalogue.TraitConductivity)) {
			add(part.RecordID(), c.s.name(part.RecordID()))
		}
	}
	for _, p := range c.s.opt.Places {
		add(p.Element, c.s.name(p.Element))
	}
	slices.SortStableFunc(out, func(a, b place) int { return c.before(a.spot, b.spot) })
	if id := c.supplyPart(); id != "" {
		p, _ := c.lastOf(id)
		out = append([]place{{at: model.PlaceOf(id), what: "supply", spot: p}}, out...)
	}
	if p, ok := c.inlet(); ok {
		out = append(out, place{at: model.PlaceOf(c.step.Destination), what: "return", spot: p})
	}
	for i := range out {
		out[i].trend = c.s.trend(out[i].at, out[i].what)
	}
	return out
}

// supplyPart is the heater in the way, else the first pump.
func (c *circulation) supplyPart() model.ID {
	var best spot
	id := model.ID("")
	rank := 0
	for i := range c.elements {
		m := c.elements[i].mixer
		if m == nil {
			continue
		}
		part := c.s.p.Circuit.Part(c.s.p.Edges[m.edge].Part)
		r := 0
		switch part.(type) {
		case *model.Exchanger:
			r = 2
		case *model.Pump:
			r = 1
		}
		p := spot{element: i}
		if r > rank || r == rank && r > 0 && c.before(p, best) < 0 {
			best, id, rank = p, part.RecordID(), r
		}
	}
	return id
}

// inlet is where the flow ends at the destination.
func (c *circulation) inlet() (spot, bool) {
	for k := range c.nodes {
		n := &c.nodes[k]
		if n.sink == c.step.Destination && n.sink != "" && len(n.in) > 0 {
			return spot{element: n.in[0]}, true
		}
	}
	return spot{}, false
}

// cleaned is the spot behind all that the step cleans; false where it cleans nothing
// on the way.
func (c *circulation) cleaned() (spot, bool) {
	var last spot
	any := false
	mark := func(p spot) {
		if !any || c.before(p, last) > 0 {
			last, any = p, true
		}
	}
	for _, id := range c.step.Cleans {
		if p, ok := c.lastOf(id); ok {
			mark(p)
		}
	}
	for i := range c.elements {
		if c.elements[i].bowl != nil {
			mark(spot{element: i})
		}
	}
	return last, any
}

// sensor is the last instrument of a trait behind all that is cleaned; of a step that
// cleans nothing the last one on the way.
func (c *circulation) sensor(list []place, trait string) (place, bool) {
	cleaned, any := c.cleaned()
	var best place
	found := false
	for _, p := range list {
		part := c.s.p.Circuit.Part(p.at.Element)
		if part == nil || part.Class() != model.ClassInstrument || any && c.before(p.spot, cleaned) <= 0 {
			continue
		}
		if c.s.p.Catalogue.Kind(part.Meta().Kind).Has(trait) {
			best, found = p, true
		}
	}
	return best, found
}

// lastPoint is the return sensor: the last one for conductivity, else for
// temperature, behind all that is cleaned; else the inlet of the destination.
func (c *circulation) lastPoint(list []place) place {
	if _, any := c.cleaned(); any {
		for _, trait := range [...]string{catalogue.TraitConductivity, catalogue.TraitTemperature} {
			if p, ok := c.sensor(list, trait); ok {
				return p
			}
		}
	}
	return list[len(list)-1]
}

// trend gives the index of the trend of a place, made where needed.
func (s *sim) trend(at model.Place, what string) int {
	k := trendKey{at, what}
	if i, ok := s.trends[k]; ok {
		return i
	}
	i := len(s.rec.Trends)
	s.trends[k] = i
	s.rec.Trends = append(s.rec.Trends, Trend{Place: at, What: what})
	return i
}

// sample notes what passes the places now.
func (c *circulation) sample(list []place) {
	for _, p := range list {
		a, q := c.at(p.spot)
		t := &c.s.rec.Trends[p.trend]
		t.Points = append(t.Points, c.s.sample(a, q, c.i))
	}
}

func (s *sim) sample(a *amount, q float64, step int) Sample {
	m, strength := s.classify(a)
	x := Sample{Time: Duration(s.clock), Step: step, Flow: Flow(q), Medium: m, Strength: Strength(strength)}
	x.Share = Ratio(1 - a.share(product) - a.share(air))
	if t := a.celsius(); !math.IsNaN(t) {
		x.Temperature = Some(Celsius(t))
		x.Conductivity = s.conductivity(a, t)
		x.At25 = s.conductivity(a, 25)
	}
	return x
}

func (s *sim) tankSample(t *tank) TankSample {
	m, strength := s.classify(&t.holds)
	x := TankSample{Time: Duration(s.clock), Volume: Volume(t.holds[volume]), Level: t.level(), Medium: m, Strength: Strength(strength)}
	if k := t.holds.celsius(); !math.IsNaN(k) {
		x.Temperature = Some(Celsius(k))
	}
	return x
}

// sampleTanks notes what every vessel holds now.
func (s *sim) sampleTanks() {
	for _, t := range s.order {
		i, ok := s.tankAt[t.id]
		if !ok {
			i = len(s.rec.Tanks)
			s.tankAt[t.id] = i
			s.rec.Tanks = append(s.rec.Tanks, TankTrend{Vessel: t.id})
		}
		s.rec.Tanks[i].Points = append(s.rec.Tanks[i].Points, s.tankSample(t))
	}
}
