package wash

import (
	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/fluid"
	. "rinsewright/model/quantity"
)

// liquid is a volume of a medium; chemical is the part that it is a solution of, or
// -1. Where its density is not known it counts with that of its stock.
func (s *sim) liquid(v float64, m model.Medium, chemical int, strength Strength, celsius float64) amount {
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
var chemicals = [...]fluid.Medium{fluid.Caustic, fluid.NitricAcid, fluid.PeraceticAcid, fluid.PhosphoricAcid}

// chemicalMedia are the media that they make.
var chemicalMedia = [...]model.Medium{model.Alkali, model.Acid, model.Disinfect, model.Acid}

// chemicalOf gives the part of an amount that the usual chemical of a medium is, or -1.
func chemicalOf(m model.Medium) int {
	for i, c := range chemicalMedia {
		if c == m {
			return alkali + i
		}
	}
	return -1
}

// chemicalIn gives the part of an amount that a step's chemical is, or -1 for a step
// without one and for one that names another than those. A step that names none has the
// usual one of its medium.
func chemicalIn(st *model.Step) int {
	if st == nil {
		return -1
	}
	usual := chemicalOf(st.Medium.Or(""))
	named, told := st.Chemical.Get()
	if usual < 0 || !told {
		return usual
	}
	for i, c := range chemicals {
		if string(c) == string(named) {
			return alkali + i
		}
	}
	return -1
}

// strange gives the chemical that a step, or the tank or supply it draws the same medium
// from, names and that cannot be simulated.
func (s *sim) strange(st *model.Step) (c model.Chemical, record model.ID, is bool) {
	medium := st.Medium.Or("")
	if chemicalOf(medium) < 0 {
		return "", "", false
	}
	if c, told := st.Chemical.Get(); told {
		return c, st.ID, !flow.Computes(c)
	}
	told := Opt[model.Chemical]{}
	switch part := s.p.Circuit.Part(st.Source).(type) {
	case *model.Vessel:
		if part.Holds == Some(medium) {
			told = part.Chemical
		}
	case *model.Terminal:
		if part.Medium == Some(medium) {
			told = part.Chemical
		}
	}
	c, is = told.Get()
	return c, st.Source, is && !flow.Computes(c)
}

// chemicalFrom gives the part that a supply's medium is, in a step.
func (c *circulation) chemicalFrom(m model.Medium) int {
	if m == c.step.Medium.Or("") {
		return chemicalIn(c.step)
	}
	return chemicalOf(m)
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
