package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/flow"
)

var ruleReturnFallsBehind = &Rule{
	Name: "return-falls-behind",
	Doc: Doc{
		Title: "Return that cannot keep up with the supply",
		Why:   "A return that is just as large as the supply builds up a puddle with every filter that clogs. A pump that cannot draw air loses its flow when the bowl runs empty, and stays without.",
		How: "What the return of a vessel can take at full speed, from a puddle that just reaches the outlet, must be the solved flow into the vessel and the margin. " +
			"Where it takes more than comes, so that the bowl runs empty and air comes in, its pump must be self-priming: told so, or by its kind. Vessels that fill are told by bowl-fills.",
		Blind:    "Air in the liquid, which takes from what a pump can do; ejectors.",
		Remedy:   "Take a larger return pump, or one that primes itself.",
		Cites:    []Citation{commonPractice, handbook27},
		Severity: Fix,
		Merge:    AnyStep,
		Limits:   []string{"return-margin", "puddle-most"},
	},
	Run: runReturnFallsBehind,
}

func runReturnFallsBehind(p *Pass) {
	sol := p.flowing()
	if sol == nil {
		return
	}
	margin := p.Limit("return-margin")
	for _, v := range sol.Vessels {
		at := model.PlaceOf(v.Vessel)
		in, known := v.Inflow.Get()
		can, told := v.Capacity.Get()
		switch {
		case v.Balance == flow.BowlFills || above(float64(v.Level.Or(0)), p.Limit("puddle-most").Is()):
			// told by bowl-fills
		case !known || !told:
			p.unsolved(at, sol)
		case below(float64(can), float64(in)*(1+margin.Is())):
			places := []model.Place{at}
			for _, id := range v.Pumps {
				places = append(places, model.PlaceOf(id))
			}
			p.Report(Finding{At: at, Places: places, Measured: Percent(float64(can/in) - 1), LimitName: "return-margin",
				Message: Say("%v come into %v and %v at most can leave%v: %v more, less than %v", Of(in), p.Name(v.Vessel), Of(can), p.returnWords(v), Percent(float64(can/in)-1), margin.Value)})
		case v.Balance == flow.DrawsAir:
			p.drawsAir(v)
		}
	}
}

// drawsAir demands that the first pump behind a bowl that runs empty primes itself.
func (p *Pass) drawsAir(v flow.Vessel) {
	for _, id := range v.Pumps {
		pump, ok := p.Circuit.Part(id).(*model.Pump)
		if !ok || p.Has(pump, catalogue.TraitPriming) && !pump.SelfPriming.Known() {
			continue
		}
		at := model.PlaceOf(id)
		primes, known := pump.SelfPriming.Get()
		switch {
		case !known:
			p.NotAssessed(at, missingKey(pump, "self_priming"))
		case !primes:
			p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(v.Vessel)},
				Message: Say("%v empties %v, draws air and does not prime itself", p.Name(id), p.Name(v.Vessel))})
		}
	}
}
