package wash

import (
	"math"

	"rinsewright/model"
	. "rinsewright/model/quantity"
)

// preparation is a step that makes a tank ready.
type preparation struct {
	s        *sim
	tank     *tank
	chemical int     // -1: not dosed
	strength float64 // 0: not judged
	celsius  float64 // NaN: not judged
	full     float64 // m³; 0: not judged
}

// preparing says what a preparing step waits for; nil for another step.
func (c *circulation) preparing() *preparation {
	s, st := c.s, c.step
	t := s.tank(st.Destination)
	if st.Purpose != Some(model.Prepare) || t == nil {
		return nil
	}
	p := &preparation{s: s, tank: t, chemical: chemicalIn(st), celsius: math.NaN()}
	if p.chemical >= 0 {
		asked := s.strengthAfter(c.i, t.id, p.chemical)
		if st.EndConductivity.Known() {
			asked = 0 // what is measured decides
		}
		p.strength = float64(st.Strength.Or(asked))
	}
	if k, ok := stepTemperature(st); ok && len(c.heaters) > 0 {
		// What leaves the heater is no warmer than the step asks, and the tank only ever
		// nears it: an end that is told lower decides, of the tank as of the return.
		p.celsius = min(k, float64(st.EndTemperature.Or(Celsius(k)).Celsius()))
	}
	if st.Source != st.Destination && p.chemical < 0 && !st.EndVolume.Known() {
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
		if st.Source == id && chemicalIn(st) == chemical {
			return st.Strength.Or(0)
		}
	}
	return 0
}

func (p *preparation) judges() bool {
	return p.strength > 0 || !math.IsNaN(p.celsius) || p.full > 0
}

// over says whether the tank is as the step wants it; a step that wants nothing of it
// runs for its time, or until its other conditions are met.
func (p *preparation) over(others bool) bool { return p.ready() && (p.judges() || others) }

func (p *preparation) ready() bool {
	h := &p.tank.holds
	return (p.strength <= 0 || h.solute(p.chemical) >= preparedShare*p.strength) &&
		(math.IsNaN(p.celsius) || h.celsius() >= p.celsius-preparedShort) &&
		(p.full <= 0 || h[volume] >= p.full)
}

// short says by how much a tank is not ready after t seconds.
func (p *preparation) short(t float64) Words {
	h := &p.tank.holds
	text := Say("%s is not ready after %v:", p.s.name(p.tank.id), Duration(t))
	if p.strength > 0 {
		text = Say("%v %v of %v", text, Strength(h.solute(p.chemical)), Strength(p.strength))
	}
	if !math.IsNaN(p.celsius) {
		text = Say("%v %v of %v", text, Celsius(h.celsius()), Celsius(p.celsius))
	}
	if p.full > 0 {
		text = Say("%v %v of %v", text, Volume(h[volume]), Volume(p.full))
	}
	return text
}
