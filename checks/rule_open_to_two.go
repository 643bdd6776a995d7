package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

var ruleOpenToTwo = &Rule{
	Name: "open-to-two",
	Doc: Doc{
		Title:    "Line-up opens to a second source or to sewer",
		Why:      "Two media run into each other, or the wash runs to sewer while it should return.",
		How:      "In each step, the tanks and terminals that the liquid reaches through open ways are compared with the step's source, destination and what it cleans; of a drain step, with what its programme cleans. A further tank or supply with the same medium may be joined (making up, dosing).",
		Blind:    "Which way the pressures push the liquid. A check valve counts as shut against it.",
		Remedy:   "Shut the valve towards the second source or the sewer in this step.",
		Cites:    []Citation{commonPractice},
		Severity: Stop,
		Merge:    AnyStep,
	},
	Run: runOpenToTwo,
}

func runOpenToTwo(p *Pass) {
	r, plant := p.Route(), p.Plant()
	if !r.Found {
		return
	}
	medium := p.Step.Medium
	if !medium.Known() {
		medium = holds(p.Circuit.Part(p.Step.Source))
	}
	own := map[model.ID]bool{p.Step.Source: true, p.Step.Destination: true}
	for _, step := range p.Circuit.Steps() {
		// A vessel that the programme cleans holds nothing else while it is drained.
		if step == p.Step || p.Step.Purpose.Or("") == model.Drain && step.Programme == p.Step.Programme {
			for _, id := range step.Cleans {
				own[id] = true
			}
		}
	}
	for _, part := range slices.Concat(p.ofClass(model.ClassVessel), p.ofClass(model.ClassTerminal)) {
		id := part.RecordID()
		if own[id] || !meets(p.Snapshot, part) || !passes(plant, id, r.Wet) {
			continue
		}
		at := model.PlaceOf(id)
		if p.Has(part, catalogue.TraitSewer) {
			p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(p.Step.Source)},
				Message: Say("%v lies open to %v, though %v leads to %v", p.Name(p.Step.Source), p.Name(id), p.Name(p.Step.ID), p.Name(p.Step.Destination))})
			continue
		}
		other := holds(part)
		switch {
		case !other.Known():
			p.NotAssessed(at, missingKey(part, mediumKey(part)))
		case !medium.Known():
			p.NotAssessed(model.PlaceOf(p.Step.ID), missingKey(p.Step, "medium"))
		case other != medium:
			p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(p.Step.Source)},
				Message: Say("%v from %v lies open to %v, which holds %v", medium.Or(""), p.Name(p.Step.Source), p.Name(id), other.Or(""))})
		}
	}
}

// meets says whether a part is a source or sewer: a storing tank, a supply, an
// outlet for product, a sewer drain.
func meets(s *Snapshot, p model.Part) bool {
	switch p := p.(type) {
	case *model.Vessel:
		return s.Has(p, catalogue.TraitStorage) || s.Has(p, catalogue.TraitCleaned)
	case *model.Terminal:
		if s.Has(p, catalogue.TraitVent) {
			return false
		}
		switch p.Medium.Or("") {
		case model.Steam, model.Condensate, model.Air, model.Gas:
			return false
		}
		return true
	}
	return false
}
