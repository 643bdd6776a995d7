package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

var ruleSteamSetIncomplete = &Rule{
	Name: "steam-set-incomplete",
	Doc: Doc{
		Title: "Steam set of a heater incomplete",
		Why:   "Without a block valve nobody can work on it; dirt holds the control valve open; without a trap steam blows through or condensate stands and hammers; without a check valve it comes back; without a vacuum breaker the heater cooling down sucks it in.",
		How: "Every way from a steam supply to a steam-heated exchanger must pass a block valve, a strainer and a control valve; every way from it to the condensate return a trap and a check valve. " +
			"A vacuum breaker or vent must lie open to its steam side with no valve between. Valves that normally stand closed, as those of a bypass, count as no way.",
		Blind:    "Order and size of the parts, drip legs, separators and gauges; pumped condensate.",
		Remedy:   "Fit what is lacking.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
	},
	Run: runSteamSetIncomplete,
}

func runSteamSetIncomplete(p *Pass) {
	for _, part := range p.ofTrait(catalogue.TraitSteamHeated) {
		x, ok := part.(*model.Exchanger)
		if !ok {
			continue
		}
		steam, condensate := p.steamPorts(x)
		at := model.PlaceOf(x.ID)
		if !p.portUsed(x.ID, steam) && !p.portUsed(x.ID, condensate) {
			continue // told by open-end
		}
		var lacks []string
		if p.fromPort(x.ID, steam, nothing).supply(p.Snapshot) == nil {
			p.notAssessedFor(at, "no steam supply is drawn")
		} else {
			for _, need := range []struct {
				name  string
				holds func(model.Part) bool
			}{
				{"a block valve", p.isBlockValve},
				{"a strainer", p.withOne(catalogue.TraitStrainer)},
				{"a control valve", p.withOne(catalogue.TraitRegulating)},
			} {
				if p.fromPort(x.ID, steam, need.holds).supply(p.Snapshot) != nil {
					lacks = append(lacks, need.name)
				}
			}
			if !p.fromPort(x.ID, steam, anyValve).has(p.Snapshot, catalogue.TraitVent) {
				lacks = append(lacks, "a vacuum breaker")
			}
		}
		if len(p.fromPort(x.ID, condensate, nothing).terminals) == 0 {
			p.notAssessedFor(model.PlaceOfPort(x.ID, condensate), "no condensate return is drawn")
		} else {
			for _, need := range []struct{ name, trait string }{{"a steam trap", catalogue.TraitSteamTrap}, {"a check valve behind the trap", catalogue.TraitCheck}} {
				if len(p.fromPort(x.ID, condensate, p.withOne(need.trait)).terminals) > 0 {
					lacks = append(lacks, need.name)
				}
			}
		}
		if len(lacks) > 0 {
			p.Report(Finding{At: at, Measured: Number(float64(len(lacks))), Message: Say("the steam set of %v lacks %v", p.Name(x.ID), list(lacks))})
		}
	}
}

// withOne says of a part whether it has a trait.
func (p *Pass) withOne(trait string) func(model.Part) bool {
	return func(part model.Part) bool { return p.Has(part, trait) }
}

// isBlockValve says whether a part is a valve that shuts off by hand or on demand.
func (p *Pass) isBlockValve(part model.Part) bool {
	if part.Class() != model.ClassValve {
		return false
	}
	for _, trait := range []string{catalogue.TraitRegulating, catalogue.TraitCheck, catalogue.TraitRelief, catalogue.TraitVent, catalogue.TraitSample} {
		if p.Has(part, trait) {
			return false
		}
	}
	return true
}

func anyValve(part model.Part) bool { return part.Class() == model.ClassValve }
