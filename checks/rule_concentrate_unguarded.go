package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

var ruleConcentrateUnguarded = &Rule{
	Name: "concentrate-unguarded",
	Doc: Doc{
		Title:    "Concentrate line without a shut-off or a check valve",
		Why:      "Concentrate siphons into the tank while nobody doses, or solution and water are pressed back into the drum, which heats up and spills.",
		How:      "From each supply of a concentrated chemical to the first vessel or cleaned line, a valve that shuts (not a check, relief or regulating valve) and a check valve are looked for. A pump of positive displacement lets nothing through while it stands and counts as the shut-off.",
		Blind:    "Whether the valve is shut when nobody doses; suction lances, and what stands inside the supply.",
		Remedy:   "Fit a shut-off valve and a check valve in the fill line.",
		Cites:    []Citation{{Source: "Handbook of Hygiene Control in the Food Industry", Clause: "chapter 27, concentrate tanks", Standing: StandingRead}},
		Severity: Fix,
	},
	Run: runConcentrateUnguarded,
}

func runConcentrateUnguarded(p *Pass) {
	plant := p.Plant()
	for _, part := range p.ofTrait(catalogue.TraitSupply) {
		supply, ok := part.(*model.Terminal)
		if !ok || !chemical(supply.Medium.Or("")) {
			continue
		}
		shuts, checks, leads := false, false, false
		seen := map[int]bool{}
		queue := plant.PartNodes(supply.ID)
		for _, n := range queue {
			seen[n] = true
		}
		places := []model.Place{model.PlaceOf(supply.ID)}
		for i := 0; i < len(queue); i++ {
			n := queue[i]
			at := p.partOfNode(n)
			switch at := at.(type) {
			case *model.Vessel:
				leads = true
				continue
			case *model.Valve:
				checks = checks || p.Has(at, catalogue.TraitCheck)
				shuts = shuts || p.isShutOff(at)
			case *model.Pump:
				shuts = shuts || p.Has(at, catalogue.TraitDisplacement)
			}
			leads = leads || at != nil && at.RecordID() != supply.ID
			for _, a := range plant.Graph().Incident(n) {
				if !seen[int(a.Node)] && !everFlowsBut(p, int(a.Edge), supply.ID) {
					seen[int(a.Node)] = true
					queue = append(queue, int(a.Node))
				}
			}
		}
		if !leads || shuts && checks {
			continue
		}
		lacks := "a check valve"
		if !shuts {
			lacks = "a valve that shuts"
			if !checks {
				lacks = "a valve that shuts and a check valve"
			}
		}
		p.Report(Finding{At: places[0], Places: places, Message: Say("the line from %v lacks %v", p.Name(supply.ID), lacks)})
	}
}

// isShutOff says whether a valve can shut a line tight.
func (p *Pass) isShutOff(v *model.Valve) bool {
	kind := p.Kind(v)
	return kind != nil && len(kind.Positions) > 1 && !p.Has(v, catalogue.TraitRegulating) && !p.Has(v, catalogue.TraitRelief) && !p.Has(v, catalogue.TraitSample)
}

// everFlowsBut says whether the flow of a cleaning step that does not come from a
// supply passes an edge.
func everFlowsBut(p *Pass, edge int, supply model.ID) bool {
	for _, step := range p.Circuit.Steps() {
		if step.Source != supply {
			if cleans, _ := cleaningStep(step); cleans && Route.Of(p.Snapshot, step).InFlow != nil && Route.Of(p.Snapshot, step).InFlow[edge] {
				return true
			}
		}
	}
	return false
}
