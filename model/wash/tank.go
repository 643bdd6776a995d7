package wash

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/flow"
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
	known   bool           // its volume at the start was told
	strange model.Chemical // that it held at the start and cannot be simulated; empty: none
	start   float64        // m³ at the start of the programme
	touched bool           // some step draws from it or returns to it
	missing []string
	spilled float64 // m³ that ran over in this step

	low  float64         // m³ below which nothing is drawn
	fed  *model.Terminal // supply that keeps its level and tells its most; nil: none yet
	most float64         // m³/s that it gives
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
	if low, told := v.LowLevel.Get(); told && t.shaped {
		t.low = float64(body.At(low))
	}
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
	if c, named := t.vessel.Chemical.Get(); named && t.vessel.Holds == Some(medium) && chemicalOf(medium) >= 0 && !flow.Computes(c) {
		t.strange = c
	}
	if first != nil {
		if c, record, is := s.strange(first); is && record == first.ID {
			t.strange = c
		}
	}
	celsius, warm := s.joinedTemperature(t.id, medium)
	if k, ok := told.Temperature.Get(); ok {
		celsius = k.Celsius()
	} else if k, ok := t.vessel.StartTemperature.Get(); ok {
		celsius = k.Celsius()
	} else if k, ok := stepTemperature(first); ok && s.opt.Hot {
		celsius = k
		s.assumeOf("temperature of "+s.name(t.id), Say("%v, that of its first step", Celsius(k)), "as asked for", t.id, "start_temperature_C")
	} else if !warm {
		celsius = s.air
		s.assumeOf("temperature of "+s.name(t.id), Say("%v, as the air", Celsius(celsius)), practice, t.id, "start_temperature_C")
	}
	chemical := chemicalOf(medium)
	if first != nil && first.Medium == Some(medium) {
		chemical = chemicalIn(first)
	}
	strength := Strength(0)
	if first != nil && chemical >= 0 && !s.prepares(t.id, chemical) {
		strength = first.Strength.Or(0)
		if !told.Strength.Known() {
			s.assume("strength in "+s.name(t.id)+" at the start", percent(strength)+", that of its first step", "no step prepares it", t.id, "")
		}
	}
	strength = told.Strength.Or(strength)
	t.holds = s.liquid(float64(v), medium, chemical, strength, celsius)
	if t.vessel.Wall.Known() || t.vessel.Insulation.Known() {
		if w := s.shell(t); w != nil {
			w.celsius = t.holds.celsius() // it stood so before
			if math.IsNaN(w.celsius) {
				w.celsius = s.air
			}
		}
	}
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
		if st.Purpose == Some(model.Prepare) && st.Destination == id && chemicalIn(st) == chemical {
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
