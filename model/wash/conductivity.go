package wash

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/fluid"
	. "rinsewright/model/quantity"
)

// tapWater is the conductivity of a water of which nothing is told, at 25 °C. Common
// practice, no source: drinking water has 0.2 to 0.8 mS/cm.
const tapWater Conductivity = 0.05 // S/m

// ownConductivity finds what the water itself has: as the options tell, else as the
// first water supply that tells it.
func (s *sim) ownConductivity() {
	if s.opt.WaterSupply > 0 {
		s.water = Some(s.opt.WaterSupply)
		return
	}
	for _, part := range s.p.Circuit.Parts() {
		t, ok := part.(*model.Terminal)
		if !ok || t.Medium.Or("") != model.Water {
			continue
		}
		if t.Conductivity.Known() {
			s.water = t.Conductivity
			return
		}
		if s.tap == "" {
			s.tap = t.ID
		}
	}
}

// conductivity is that of the chemical of which there is most, at a temperature;
// unknown beside more than a hundredth of another one, for peracetic acid, and where
// product or air disturb it. That of the water itself is added; of nearly pure water
// it is unknown where nothing tells it.
func (s *sim) conductivity(a *amount, celsius float64) Opt[Conductivity] {
	if a.share(air) > 0.01 || a.share(product) > 0.01 || a.solute(disinfect) > 1e-5 {
		return Opt[Conductivity]{}
	}
	x, other, best := 0.0, 0.0, 0
	for i := range chemicals {
		switch y := a.solute(alkali + i); {
		case alkali+i == disinfect:
		case y > x:
			x, other, best = y, max(other, x), i
		default:
			other = max(other, y)
		}
	}
	if other > 0.01*x && other > 1e-7 {
		return Opt[Conductivity]{}
	}
	if x < 1e-7 {
		return s.water
	}
	k, ok := s.conducts(chemicals[best], x, celsius)
	if !ok {
		return Opt[Conductivity]{}
	}
	return Some(k + s.water.Or(0))
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

// reads is the conductivity that the end of a step is compared with: corrected to
// 25 °C. For a chemical that is to rise it is that of the chemical, where little else
// disturbs it; for anything that is to fall it is the most that it can be: what
// several chemicals have each by itself, added up.
func (s *sim) reads(a *amount, rises bool) Opt[Conductivity] {
	if a.share(air) > 0.01 || a.share(product) > 0.01 || a.solute(disinfect) > 1e-5 {
		return Opt[Conductivity]{}
	}
	own, told := s.water.Get()
	if !told {
		own = tapWater
		s.assumeOf("conductivity of the water", Say("%v", own), practice+"; drinking water", s.tap, "conductivity_mScm")
	}
	if rises {
		k, known := s.conductivity(a, 25).Get()
		if !known {
			return Opt[Conductivity]{}
		}
		return Some(k - s.water.Or(0) + own)
	}
	sum := own
	for i, m := range chemicals {
		x := a.solute(alkali + i)
		if x < 1e-9 || alkali+i == disinfect {
			continue
		}
		k, err := fluid.Liquid{Medium: m, Strength: Strength(x), Temperature: Celsius(25)}.Conductivity()
		if err != nil && alkali+i == phosphoric && x < 0.005 {
			k, err = wholeIons(x), nil
		}
		if err != nil {
			return Opt[Conductivity]{}
		}
		sum += k
	}
	return Some(sum)
}

// wholeIons is the conductivity of so dilute phosphoric acid that its table does not
// hold it, as if all of it were split into ions, S/m at 25 °C: more than it can be. The
// ions conduct 349.8 and 36 S·cm²/mol (CRC Handbook, from memory), a mole is 98.0 g.
func wholeIons(strength float64) Conductivity {
	return Conductivity(strength * 997 / 0.098 * (349.8 + 36) * 1e-4)
}

// strengthAt is the strength at which a chemical reads a conductivity, at 25 °C.
func (s *sim) strengthAt(chemical int, k Conductivity) (Strength, bool) {
	x, err := fluid.StrengthOf(chemicals[chemical-alkali], k-s.water.Or(tapWater), Celsius(25))
	if err != nil || math.IsNaN(float64(x)) {
		return 0, false
	}
	return x, true
}
