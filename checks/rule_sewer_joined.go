package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

var ruleSewerJoined = &Rule{
	Name: "sewer-joined",
	Doc: Doc{
		Title:    "Drain to sewer without an air gap",
		Why:      "A drain pipe that dips into the sewer draws sewage back when the line is under vacuum, and nobody sees what leaves.",
		How:      "The air gap of each sewer drain is compared with the larger of the least gap and the limit times the bore of the drain.",
		Blind:    "How the gap is built: it must be visible and cannot be shut in.",
		Remedy:   "Let the drain end above the gully with a visible air gap.",
		Cites:    []Citation{{Source: "EN 1717", Clause: "type AA", Standing: StandingMemory}},
		Severity: Fix,
		Limits:   []string{"air-gap-bores", "air-gap-least"},
	},
	Run: runSewerJoined,
}

func runSewerJoined(p *Pass) {
	least, bores := p.Limit("air-gap-least"), p.Limit("air-gap-bores")
	for _, part := range p.ofTrait(catalogue.TraitSewer) {
		drain, ok := part.(*model.Terminal)
		if !ok {
			continue
		}
		at := model.PlaceOf(drain.ID)
		gap, knownGap := drain.AirGap.Get()
		bore, knownBore := p.Catalogue.Bore(drain, "size").Get()
		if !knownGap {
			p.NotAssessed(at, missingKey(drain, "air_gap_mm"))
			continue
		}
		need, name := quantity.Bore(least.Is()), "air-gap-least"
		if byBore := quantity.Bore(bores.Is() * float64(bore)); knownBore && byBore > need {
			need, name = byBore, "air-gap-bores"
		}
		if !below(float64(gap), float64(need)) {
			if !knownBore {
				p.NotAssessed(at, missingKey(drain, "size"))
			}
			continue
		}
		after := model.Clone(drain)
		after.AirGap = quantity.Some(need)
		limit := Of(need)
		f := Finding{At: at, Measured: Of(gap), Limit: limit, LimitName: name,
			Message: Say("%v has an air gap of %v above the sewer; %v are needed", p.Name(drain.ID), Of(gap), limit)}
		if knownBore {
			f.Fixes = []Remedy{remedy(Say("raise it to an air gap of %v", limit),
				model.Edit{Label: "air gap at " + p.Name(drain.ID), Changes: []model.Change{model.Replacing(drain, after)}})}
		}
		p.Report(f)
	}
}
