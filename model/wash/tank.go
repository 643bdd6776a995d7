package wash

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/fluid"
	. "rinsewright/model/quantity"
	"rinsewright/model/vessel"
)

// tank is what a vessel holds: a tank that a step draws from or returns to, or a
// vessel on the way.
type tank struct {
	id      model.ID
	vessel  *model.Vessel
	body    vessel.Body
	shaped  bool // body is known
	holds   amount
	known   bool    // its volume at the start was told
	start   float64 // m³ at the start of the programme
	touched bool    // some step draws from it or returns to it
	missing []string
}

// total is what the tank holds when full, m³; +Inf unknown.
func (t *tank) total() float64 {
	if t.shaped {
		return float64(t.body.Total())
	}
	return math.Inf(1)
}

// level is above the outlet in m.
func (t *tank) level() Opt[Length] {
	if !t.shaped {
		return Opt[Length]{}
	}
	l, err := t.body.LevelFor(Volume(min(max(t.holds[volume], 0), t.total())))
	if err != nil {
		return Opt[Length]{}
	}
	return Some(l)
}

// tank gives the state of a vessel, made where needed; nil for another part.
func (s *sim) tank(id model.ID) *tank {
	if t, ok := s.tanks[id]; ok {
		return t
	}
	v, ok := s.p.Circuit.Part(id).(*model.Vessel)
	if !ok {
		return nil
	}
	t := &tank{id: id, vessel: v}
	body, missing, err := vessel.Of(v)
	if err != nil {
		missing = []string{"height_m"}
	}
	t.body, t.shaped, t.missing = body, missing == nil, missing
	s.tanks[id] = t
	s.order = append(s.order, t)
	return t
}

// stocked fills the tanks as they stand before the programme.
func (s *sim) stocked() {
	for i, st := range s.steps {
		for _, id := range [2]model.ID{st.Source, st.Destination} {
			t := s.tank(id)
			if t == nil || t.touched {
				continue
			}
			t.touched = true
			first := s.firstDraw(i, id)
			s.fill(t, first)
			t.start = t.holds[volume]
		}
	}
}

// firstDraw gives the first step that draws from a tank, or nil.
func (s *sim) firstDraw(from int, id model.ID) *model.Step {
	for _, st := range s.steps[from:] {
		if st.Source == id && st.Purpose != Some(model.Drain) {
			return st
		}
	}
	return nil
}

// fill sets what a tank holds before the programme; first is the step that first
// draws from it, or nil.
func (s *sim) fill(t *tank, first *model.Step) {
	told := s.opt.Tanks[t.id]
	v, known := told.Volume.Get()
	if !known {
		v, known = s.levelVolume(t, first != nil)
	}
	t.known = known
	if !known {
		return
	}
	medium := t.vessel.Holds.Or(model.Water)
	if first != nil {
		medium = first.Medium.Or(medium)
	}
	celsius, warm := s.joinedTemperature(t.id, medium)
	if !warm {
		celsius = s.air
		s.assume("temperature of "+s.name(t.id), s.degrees(celsius)+", as the air", practice, t.id, "")
	}
	if k, ok := told.Temperature.Get(); ok {
		celsius = k.Celsius()
	} else if k, ok := stepTemperature(first); ok && s.opt.Hot {
		celsius = k
		s.assume("temperature of "+s.name(t.id), s.degrees(k)+", that of its first step", "as asked for", t.id, "")
	}
	chemical := chemicalOf(medium)
	strength := Strength(0)
	if first != nil && chemical >= 0 && !s.prepares(t.id, chemical) {
		strength = first.Strength.Or(0)
		if !told.Strength.Known() {
			s.assume("strength in "+s.name(t.id)+" at the start", percent(strength)+", that of its first step", "no step prepares it", t.id, "")
		}
	}
	strength = told.Strength.Or(strength)
	t.holds = s.liquid(float64(v), medium, strength, celsius)
}

// levelVolume is what a tank holds by its level, else by its working volume; a tank
// that nothing is drawn from may be empty.
func (s *sim) levelVolume(t *tank, drawn bool) (Volume, bool) {
	if l, ok := t.vessel.Level.Get(); ok && t.shaped {
		return t.body.At(l), true
	}
	if v, ok := t.vessel.Working.Get(); ok && drawn {
		s.assume("content of "+s.name(t.id)+" at the start", "its working volume", practice, t.id, "level_m")
		return min(v, Volume(t.total())), true
	}
	if !drawn {
		s.assume("content of "+s.name(t.id)+" at the start", "nothing", practice, t.id, "level_m")
		return 0, true
	}
	return 0, false
}

func stepTemperature(st *model.Step) (float64, bool) {
	if st == nil {
		return 0, false
	}
	k, ok := st.Temperature.Get()
	return k.Celsius(), ok
}

// prepares says whether a step of the programme brings a chemical into a tank.
func (s *sim) prepares(id model.ID, chemical int) bool {
	for _, st := range s.steps {
		if st.Purpose == Some(model.Prepare) && st.Destination == id && chemicalOf(st.Medium.Or("")) == chemical {
			return true
		}
	}
	return false
}

// refilled says whether a step of the programme fills a tank with water.
func (s *sim) refilled(id model.ID) bool {
	for _, st := range s.steps {
		if st.Destination != id || st.Source == id {
			continue
		}
		if t, ok := s.p.Circuit.Part(st.Source).(*model.Terminal); ok && t.Medium.Or("") == model.Water {
			return true
		}
	}
	return false
}

// liquid is a volume of a medium; where its density is not known that of water.
func (s *sim) liquid(v float64, m model.Medium, strength Strength, celsius float64) amount {
	chemical := chemicalOf(m)
	if chemical < 0 || strength <= 0 {
		a := waterOf(v, celsius)
		switch m {
		case model.Product:
			a[product] = v
		case model.Recovered:
			a[recovered] = v
		case model.Air, model.Gas:
			a = airOf(v)
		}
		return a
	}
	a, err := solutionOf(v, chemical, fluid.Liquid{Medium: chemicals[chemical-alkali], Strength: strength, Temperature: Celsius(celsius)})
	if err != nil {
		density := stockDensity(chemical, strength)
		a = amount{volume: v, mass: v * density}
		a[chemical] = a[mass] * float64(strength)
		a = a.warm(celsius)
	}
	return a
}

// chemicals are what the media are made of, in the order of an amount's parts.
var chemicals = [...]fluid.Medium{fluid.Caustic, fluid.NitricAcid, fluid.PeraceticAcid}

var chemicalMedia = [...]model.Medium{model.Alkali, model.Acid, model.Disinfect}

// chemicalOf gives the part of an amount that a medium's chemical is, or -1.
func chemicalOf(m model.Medium) int {
	for i, c := range chemicalMedia {
		if c == m {
			return alkali + i
		}
	}
	return -1
}

// stockDensity is the density of a concentrate in kg/m³: between water and the usual
// stock by a straight line, which lies within 2 % for caustic and 4 % for nitric acid;
// for peracetic acid 1100 (common practice, no source).
func stockDensity(chemical int, s Strength) float64 {
	for _, c := range fluid.Concentrates() {
		if c.Medium == chemicals[chemical-alkali] {
			return 998 + (float64(c.Density)-998)*float64(s/c.Strength)
		}
	}
	return 1100
}

// stockStrength is the strength of the usual stock of a chemical, by mass.
func stockStrength(chemical int) Strength {
	for _, c := range fluid.Concentrates() {
		if c.Medium == chemicals[chemical-alkali] {
			return c.Strength
		}
	}
	return 0.05 // of peracetic acid
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
