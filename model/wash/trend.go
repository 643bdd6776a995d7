package wash

import (
	"math"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/fluid"
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

// lastPoint is the return sensor: the last one for conductivity, else for
// temperature, behind all that is cleaned; else the inlet of the destination.
func (c *circulation) lastPoint(list []place) place {
	var cleaned spot
	any := false
	mark := func(p spot) {
		if !any || c.before(p, cleaned) > 0 {
			cleaned, any = p, true
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
	best := list[len(list)-1]
	rank := 0
	for _, p := range list {
		part := c.s.p.Circuit.Part(p.at.Element)
		if part == nil || part.Class() != model.ClassInstrument || !any || c.before(p.spot, cleaned) <= 0 {
			continue
		}
		r := 1
		if c.s.p.Catalogue.Kind(part.Meta().Kind).Has(catalogue.TraitConductivity) {
			r = 2
		}
		if r >= rank {
			best, rank = p, r
		}
	}
	return best
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
	}
	return x
}

// conductivity is that of the chemical of which there is most; unknown beside more
// than a hundredth of another one, for peracetic acid, and where product or air
// disturb it. Of nearly pure water it is that of the supply, if told.
func (s *sim) conductivity(a *amount, celsius float64) Opt[Conductivity] {
	if a.share(air) > 0.01 || a.share(product) > 0.01 || a.solute(disinfect) > 1e-5 {
		return Opt[Conductivity]{}
	}
	x, i, other := a.solute(alkali), 0, a.solute(acid)
	if other > x {
		x, other, i = other, x, 1
	}
	if other > 0.01*x && other > 1e-7 {
		return Opt[Conductivity]{}
	}
	if x < 1e-7 {
		if s.opt.WaterSupply > 0 {
			return Some(s.opt.WaterSupply)
		}
		return Opt[Conductivity]{}
	}
	k, ok := s.conducts(chemicals[i], x, celsius)
	if !ok {
		return Opt[Conductivity]{}
	}
	return Some(k + s.opt.WaterSupply)
}

// conducts is the conductivity of one chemical in water. From 5 °C up to where its
// table begins it follows the linear coefficient of temperature, as meters do.
func (s *sim) conducts(m fluid.Medium, strength, celsius float64) (Conductivity, bool) {
	at := max(celsius, conductsFrom)
	k, err := fluid.Liquid{Medium: m, Strength: Strength(strength), Temperature: Celsius(at)}.Conductivity()
	if err != nil || celsius < 5 {
		return 0, false
	}
	if at == celsius {
		return k, true
	}
	a, err := fluid.Compensation(m)
	if err != nil {
		return 0, false
	}
	s.assume("conductivity below 20 °C", "by the linear coefficient of temperature", "from memory of Kohlrausch, see the fluid's basis", "", "")
	return k * Conductivity((1+a*(celsius-25))/(1+a*(at-25))), true
}

const conductsFrom = 20 // °C, where the tables of conductivity begin

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
