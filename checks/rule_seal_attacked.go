package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var ruleSealAttacked = &Rule{
	Name: "seal-attacked",
	Doc: Doc{
		Title:    "Seal that the cleaning liquid attacks",
		Why:      "A swollen or brittle seal leaks past the seat, sheds pieces into the product and harbours germs in its cracks.",
		How:      "The sealing material of every valve, pump and exchanger that the liquid of a cleaning step reaches is looked up in a table of materials by chemical, strength and temperature. Alkali counts as sodium hydroxide and acid as nitric acid where the step does not tell; of a disinfectant it must. Of water only the temperature counts.",
		Blind:    "The compound: grades of one polymer differ widely. The time of contact, wetting agents, fat. Seals of unions, instruments and spray devices.",
		Remedy:   "Take a seal that stands the chemical after the maker's table for the compound, or wash weaker or cooler.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
	},
	Run: runSealAttacked,
}

// sealOf gives the sealing material of a part; has is false where its kind has none.
func (s *Snapshot) sealOf(part model.Part) (seal quantity.Opt[string], has bool) {
	switch p := part.(type) {
	case *model.Valve:
		seal = p.Seal
	case *model.Pump:
		seal = p.Seal
	case *model.Exchanger:
		seal = p.Seal
	default:
		return seal, false
	}
	return seal, s.hasProperty(part, "seal")
}

// bath is what a step does to a seal.
type bath struct {
	step    *model.Step
	route   *network.Route
	agent   string
	missing []network.Missing
}

func runSealAttacked(p *Pass) {
	var baths []bath
	for _, step := range p.Circuit.Steps() {
		cleans, _ := cleaningStep(step)
		r := Route.Of(p.Snapshot, step)
		if !cleans || !r.Found {
			continue
		}
		agent, missing := agentOf(step)
		if agent == "" && missing == nil {
			continue
		}
		if _, told := step.Temperature.Get(); !told {
			missing = append(missing, missingKey(step, "temperature_C"))
		}
		if _, told := step.Strength.Get(); !told && agent != ofWater {
			missing = append(missing, missingKey(step, "strength_pct"))
		}
		p.NotAssessed(model.PlaceOf(step.ID), missing...)
		baths = append(baths, bath{step, r, agent, missing})
	}
	for _, class := range []model.Class{model.ClassValve, model.ClassPump, model.ClassExchanger} {
		for _, part := range p.ofClass(class) {
			if seal, has := p.sealOf(part); has && !p.Has(part, catalogue.TraitRelief) {
				p.judgeSeal(part, seal, baths)
			}
		}
	}
}

func (p *Pass) judgeSeal(part model.Part, seal quantity.Opt[string], baths []bath) {
	plant, at := p.Plant(), model.PlaceOf(part.RecordID())
	material, known := seal.Get()
	var f Finding
	for _, b := range baths {
		if !passes(plant, part.RecordID(), b.route.Wet) {
			continue
		}
		if !known || material == "" {
			p.NotAssessed(at, missingKey(part, "seal"))
			return
		}
		if len(b.missing) > 0 {
			continue // told at the step
		}
		row, inTable, ok := chemistryData().sealStands(material, b.agent)
		if !inTable {
			p.notAssessedFor(at, "the seal material "+material+" is not in the table of seals")
			return
		}
		strength, temperature := b.step.Strength.Or(0), b.step.Temperature.Or(0)
		strong := b.agent != ofWater && above(float64(strength), float64(row.strength()))
		hot := above(float64(temperature), float64(row.temperature()))
		if !ok || !strong && !hot {
			continue
		}
		f.Steps = append(f.Steps, b.step.ID)
		if len(f.Steps) > 1 {
			continue
		}
		f.At, f.Source = at, row.Citation
		what := Say("%v of %v at %v", Of(strength), chemicalName(b.agent), Of(temperature))
		most := Say("%v at %v", Of(row.strength()), Of(row.temperature()))
		if b.agent == ofWater {
			what, most = Say("water of %v", Of(temperature)), Say("%v", Of(row.temperature()))
		}
		f.Measured, f.Limit = Of(temperature), Of(row.temperature())
		if strong {
			f.Measured, f.Limit = Of(strength), Of(row.strength())
		}
		f.Message = Say("the %v seal of %v gets %v in %v; it stands %v", material, p.Name(part.RecordID()), what, p.Name(b.step.ID), most)
	}
	if len(f.Steps) > 0 {
		p.Report(f)
	}
}
