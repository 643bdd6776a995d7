package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

// holder is a tank or supply of a chemical.
type holder struct {
	part    model.Part
	medium  model.Medium
	agent   model.Chemical // empty: of a disinfectant nobody told
	missing []network.Missing
}

// Holders gives the storing tanks and supplies that hold a chemical, in order of id.
// Alkali is taken as sodium hydroxide and acid as nitric acid where nobody tells.
var Holders = NewFact("holders of chemicals", func(s *Snapshot) []holder {
	var out []holder
	for _, part := range s.Circuit.Parts() {
		var told model.Chemical
		switch part := part.(type) {
		case *model.Vessel:
			if !s.Has(part, catalogue.TraitStorage) {
				continue
			}
			told = part.Chemical.Or("")
		case *model.Terminal:
			if !s.Has(part, catalogue.TraitSupply) {
				continue
			}
			told = part.Chemical.Or("")
		default:
			continue
		}
		medium := holds(part).Or("")
		if !chemical(medium) {
			continue
		}
		h := holder{part: part, medium: medium, agent: told}
		if told == "" {
			switch medium {
			case model.Alkali:
				h.agent = model.SodiumHydroxide
			case model.Acid:
				h.agent = model.NitricAcid
			default:
				h.missing = []network.Missing{missingKey(part, "chemical")}
			}
		}
		out = append(out, h)
	}
	return out
})

// reaction tells what two chemicals do when they meet; empty where they only mix.
func reaction(a, b model.Chemical) string {
	sort := func(c model.Chemical) string {
		switch c {
		case model.SodiumHydroxide:
			return "alkali"
		case model.NitricAcid, model.PhosphoricAcid:
			return "acid"
		case model.PeraceticAcid:
			return "peracid"
		case model.SodiumHypochlorite:
			return "chlorine"
		}
		return ""
	}
	met := map[string]bool{sort(a): true, sort(b): true}
	switch {
	case len(met) < 2 || met[""]:
		return ""
	case met["chlorine"] && (met["acid"] || met["peracid"]):
		return "chlorine gas"
	case met["alkali"] && met["acid"]:
		return "heat, boiling and spray"
	case met["alkali"] && met["peracid"]:
		return "heat and oxygen"
	}
	return ""
}
