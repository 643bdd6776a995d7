package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

var ruleNoStrengthControl = &Rule{
	Name: "no-strength-control",
	Doc: Doc{
		Title:    "Nothing measures the strength of the chemical",
		Why:      "Too weak does not clean, too strong attacks seals and costs; without a measurement nobody knows which it is.",
		How:      "In each step that sends alkali, acid or disinfectant, a conductivity transmitter sees the whole flow in the supply, or sits on the tank that the step draws from.",
		Blind:    "Blended detergents and soiled caustic, whose conductivity tells little of their strength: titrate. Whether the transmitter acts on the dosing.",
		Remedy:   "Fit a conductivity transmitter in the supply or in the dosing loop of the tank.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
		Merge:    AnyStep,
	},
	Run: runNoStrengthControl,
}

func runNoStrengthControl(p *Pass) {
	if medium, known := p.Step.Medium.Get(); known && !chemical(medium) {
		return
	} else if !known {
		if cleans, _ := cleaningStep(p.Step); cleans {
			p.NotAssessed(model.PlaceOf(p.Step.ID), missingKey(p.Step, "medium"))
		}
		return
	}
	s := p.judgedSides()
	if s == nil || len(p.withTrait(s.supplyInstr, catalogue.TraitConductivity)) > 0 {
		return
	}
	for _, id := range p.attached(p.Step.Source, catalogue.TraitConductivity) {
		if !slices.Contains(s.returnInstr, id) {
			return
		}
	}
	at := model.PlaceOf(p.Step.Source)
	p.Report(Finding{At: at, Way: supplyWay.Of(p.Snapshot, p.Step),
		Message: Say("nothing measures the strength of the %v that comes from %v", p.Step.Medium.Or(""), p.Name(p.Step.Source))})
}

// attached gives the parts with one of the traits that are joined to a part
// across runs, fittings and instruments, but no valve, pump or vessel; in order
// of distance.
func (s *Snapshot) attached(id model.ID, traits ...string) []model.ID {
	seen := map[model.ID]bool{id: true}
	queue := []model.ID{id}
	var all []model.ID
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for _, run := range s.Circuit.RunsAt(at) {
			for _, end := range []model.End{run.From, run.To} {
				part := s.Circuit.Part(end.Part)
				if part == nil || seen[end.Part] {
					continue
				}
				seen[end.Part] = true
				all = append(all, end.Part)
				if part.Class() == model.ClassFitting || part.Class() == model.ClassInstrument {
					queue = append(queue, end.Part)
				}
			}
		}
	}
	return s.withTrait(all, traits...)
}
