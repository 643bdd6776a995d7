package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

var ruleWaterJoined = &Rule{
	Name: "water-joined",
	Doc: Doc{
		Title: "Drinking water joined to cleaning liquid",
		Why:   "When the pressure in the mains falls, alkali or acid runs back into the water that people drink. One seat or one check valve leaks sooner or later, unseen.",
		How: "From each water supply all ways are followed, through valves open or shut, check valves and pumps, to where a step brings alkali, acid or disinfectant. They may pass only a mix-proof valve, a swing bend, or the inlet of a tank that is vented (a break tank: its inlet lies above the liquid). " +
			"Otherwise the supply must be told to have a reduced-pressure zone or an air gap; a check valve alone does not do.",
		Blind:    "The height of a break tank's inlet above its overflow; two valves with a drained space between; what stands outside the drawing unless it is told. The water supplier's rules and the local code decide which protection is enough.",
		Remedy:   "Feed the station from a break tank, or fit a mix-proof valve or a backflow preventer of the class that the water supplier asks for.",
		Cites:    []Citation{handbook27, {Source: "EN 1717", Standing: StandingMemory}},
		Severity: Stop,
	},
	Run: runWaterJoined,
}

// chemicalStep gives, by node, the first step that brings a chemical there, or nil.
var chemicalStep = NewFact("where chemicals come", func(s *Snapshot) []*model.Step {
	plant := Plant.Of(s)
	out := make([]*model.Step, len(plant.Nodes))
	done := map[*model.Step]bool{}
	for _, step := range s.Circuit.Steps() {
		like := lineUps.Of(s).like[step]
		if !chemical(step.Medium.Or("")) || done[like] {
			continue
		}
		done[like] = true
		for e, wet := range Route.Of(s, step).Wet {
			if wet {
				for _, n := range [2]int{plant.Edges[e].From, plant.Edges[e].To} {
					if out[n] == nil {
						out[n] = step
					}
				}
			}
		}
	}
	return out
})

func runWaterJoined(p *Pass) {
	for _, part := range p.ofTrait(catalogue.TraitSupply) {
		supply, ok := part.(*model.Terminal)
		if !ok || supply.Medium.Or("") != model.Water {
			continue
		}
		switch supply.Backflow.Or("") {
		case model.BackflowAirGap, model.BackflowReduced:
			continue
		}
		p.judgeSupply(supply)
	}
}

func (p *Pass) judgeSupply(supply *model.Terminal) {
	plant, chem := p.Plant(), chemicalStep.Of(p.Snapshot)
	at := model.PlaceOf(supply.ID)
	by := map[int]int{} // edge that a node was reached by
	var queue []int
	for _, n := range plant.PartNodes(supply.ID) {
		by[n] = -1
		queue = append(queue, n)
	}
	var missing []network.Missing
	for i := 0; i < len(queue); i++ {
		n := queue[i]
		if step := chem[n]; step != nil && step.Source != supply.ID {
			p.reportJoined(supply, step, n, by)
			return
		}
		for _, a := range plant.Graph().Incident(n) {
			e, next := int(a.Edge), int(a.Node)
			if _, seen := by[next]; seen || plant.Dry(e) || p.partsWater(e) {
				continue
			}
			if tank, ok := p.partOfEdge(e).(*model.Vessel); ok && plant.Nodes[next].Role == catalogue.RoleVessel {
				if port, is := p.Kind(tank).Port(plant.Nodes[n].Point); is && port.Role == "in" {
					b := p.breathes(tank, atRest.Of(p.Snapshot).Open)
					lacks := onlyKeys(b.missing, "vented")
					missing = append(missing, lacks...)
					if b.free || len(lacks) > 0 {
						continue
					}
				}
			}
			by[next] = e
			queue = append(queue, next)
		}
	}
	p.NotAssessed(at, missing...)
}

// partsWater says whether an edge keeps two liquids apart safely: between the seats
// of a mix-proof valve, or across a swing bend.
func (p *Pass) partsWater(edge int) bool {
	part := p.partOfEdge(edge)
	kind := p.Kind(part)
	if kind == nil || part.Class() != model.ClassValve || !p.shuts(edge) {
		return false
	}
	if p.Has(part, catalogue.TraitMixProof) {
		return true
	}
	for _, pos := range kind.Positions {
		if pos == positionAway {
			return true
		}
	}
	return false
}

func (p *Pass) reportJoined(supply *model.Terminal, step *model.Step, to int, by map[int]int) {
	at := model.PlaceOf(supply.ID)
	plant := p.Plant()
	told, known := supply.Backflow.Get()
	var way []int
	var seats []model.ID
	for e := by[to]; e >= 0; e = by[to] {
		way = append(way, e)
		if part := p.partOfEdge(e); part != nil && (p.shuts(e) || holdsBack(&plant.Edges[e], part)) {
			seats = append(seats, part.RecordID())
		}
		to = plant.Other(e, to)
	}
	if !known {
		p.NotAssessed(at, missingKey(supply, "backflow"))
		return
	}
	between := Say("nothing between")
	switch len(seats) {
	case 0:
	case 1:
		between = Say("only %v between", p.Name(seats[0]))
	default:
		between = Say("%v and %v other valves between, none of which leaks to the outside", p.Name(seats[len(seats)-1]), len(seats)-1)
	}
	if told == model.BackflowCheck {
		between = Say("%v, and a check valve at the supply, which is no protection", between)
	}
	places := []model.Place{at, model.PlaceOf(step.ID)}
	for _, id := range seats {
		places = append(places, model.PlaceOf(id))
	}
	p.Report(Finding{At: at, Places: places, Steps: []model.ID{step.ID}, Way: EdgePlaces(plant, way),
		Message: Say("%v is joined to the %v of %v: %v", p.Name(supply.ID), string(step.Medium.Or("")), p.Name(step.ID), between)})
}
