package checks

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/graph"
	"rinsewright/model/hydraulic"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
	"rinsewright/model/vessel"
)

var ruleDrainSlow = &Rule{
	Name: "drain-slow",
	Doc: Doc{
		Title: "Vessel that takes long to empty",
		Why:   "Draining is dead time in every programme, and a drain narrower than the line before it holds solids back.",
		How: "In each drain step, for each vessel whose outlet is open to a sewer drain: the time in which its working volume runs out by its own weight through the narrowest bore on the way, as through an opening with discharge 0.6 and the level above the outlet as head: t = ∫ A(h) dh / (Cd a √(2 g h)). " +
			"Beside that the narrowest bore on the way must not be smaller than the outlet.",
		Blind:    "Friction of the line, and the fall below the outlet, which helps; pumps that help to empty.",
		Remedy:   "Take a wider drain, or empty with a pump.",
		Cites:    []Citation{{Source: "Torricelli's law with a discharge coefficient of 0.6", Standing: StandingComputed}, commonPractice},
		Severity: Note,
		Merge:    AnyStep,
		Limits:   []string{"drain-time-most"},
	},
	Run: runDrainSlow,
}

func runDrainSlow(p *Pass) {
	if p.Step.Purpose.Or("") != model.Drain {
		return
	}
	plant := p.Plant()
	open := make([]bool, len(plant.Edges))
	for e, o := range lineUps.Of(p.Snapshot).of[p.Step].Open {
		open[e] = o && !plant.Dry(e)
	}
	mouths := map[int]bool{}
	for _, part := range p.ofTrait(catalogue.TraitSewer) {
		for _, n := range plant.PartNodes(part.RecordID()) {
			if plant.Nodes[n].Role == catalogue.RoleAir {
				mouths[n] = true
			}
		}
	}
	for _, part := range p.ofClass(model.ClassVessel) {
		v := part.(*model.Vessel)
		draw, ok := plant.PortNode(v.ID, network.Draw)
		if !ok || p.partOfNode(draw) == nil {
			continue
		}
		way := p.wayToMouth(draw, open, mouths)
		if way == nil {
			continue
		}
		p.judgeDraining(v, way)
	}
}

// wayToMouth gives the edges of a shortest open way down from a node to one of the
// mouths, without passing another vessel; nil if there is none.
func (p *Pass) wayToMouth(from int, open []bool, mouths map[int]bool) []int {
	plant := p.Plant()
	reached := plant.Graph().Reach(open, []int{from}, graph.Downstream, nil)
	by := map[int]int{from: -1}
	queue := []int{from}
	for i := 0; i < len(queue); i++ {
		n := queue[i]
		if mouths[n] {
			var way []int
			for e := by[n]; e >= 0; e = by[n] {
				way = append([]int{e}, way...)
				n = plant.Other(e, n)
			}
			return way
		}
		if plant.Nodes[n].Role == catalogue.RoleVessel && n != from {
			continue
		}
		for _, a := range plant.Graph().Incident(n) {
			if _, seen := by[int(a.Node)]; !seen && open[a.Edge] && reached[a.Node] {
				by[int(a.Node)] = int(a.Edge)
				queue = append(queue, int(a.Node))
			}
		}
	}
	return nil
}

func (p *Pass) judgeDraining(v *model.Vessel, way []int) {
	plant, at := p.Plant(), model.PlaceOf(v.ID)
	outlet, known := p.Catalogue.Bore(v, "size").Get()
	if !known {
		p.NotAssessed(at, missingKey(v, "size"))
		return
	}
	bore, narrow := outlet, -1
	for _, e := range way {
		if d, told := plant.Edges[e].Bore.Get(); told && d < bore {
			bore, narrow = d, e
		}
	}
	if narrow >= 0 && below(float64(bore), float64(outlet)) {
		where := EdgePlace(plant, narrow)
		p.Report(Finding{At: where, Places: []model.Place{where, at}, Way: EdgePlaces(plant, way), Measured: Of(bore), Limit: Of(outlet),
			Message: Say("%v drains through %v of %v, narrower than its outlet of %v", p.Name(v.ID), p.Where(where), Of(bore), Of(outlet))})
	}
	body, keys, err := vessel.Of(v)
	var missing []network.Missing
	for _, key := range keys {
		missing = append(missing, missingKey(v, key))
	}
	if err != nil {
		missing = append(missing, missingKey(v, "height_m"))
	}
	full, told := v.Working.Get()
	if !told {
		missing = append(missing, missingKey(v, "working_volume_L"))
	}
	if len(missing) > 0 {
		p.NotAssessed(at, missing...)
		return
	}
	most := p.Limit("drain-time-most")
	takes := timeToEmpty(body, min(full, body.Total()), bore)
	if above(float64(takes), most.Is()) {
		p.Report(Finding{At: at, Way: EdgePlaces(plant, way), Measured: Of(takes), LimitName: "drain-time-most",
			Message: Say("%v of %v run out through a bore of %v in %v, longer than %v", Of(full), p.Name(v.ID), Of(bore), Of(takes), most.Value)})
	}
}

// timeToEmpty gives the time in which a volume runs out of the bottom of a body by
// its own weight. The substitution h = x² takes the root out of the integral:
// t = 2 ∫ A(x²) dx / (Cd a √(2g)), by Simpson's rule.
func timeToEmpty(body vessel.Body, volume quantity.Volume, bore quantity.Bore) quantity.Duration {
	level, err := body.LevelFor(volume)
	if err != nil || bore <= 0 {
		return quantity.Duration(math.Inf(1))
	}
	const parts = 64
	top := math.Sqrt(float64(level))
	sum := 0.0
	for i := range parts + 1 {
		x := top * float64(i) / parts
		weight := 2.0
		switch {
		case i == 0 || i == parts:
			weight = 1
		case i%2 == 1:
			weight = 4
		}
		sum += weight * float64(body.Surface(quantity.Length(x*x)))
	}
	integral := 2 * sum * top / parts / 3
	return quantity.Duration(integral / (openingDischarge * catalogue.BoreArea(bore) * math.Sqrt(2*hydraulic.StandardGravity)))
}
