package checks

import (
	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var ruleLiquidPocket = &Rule{
	Name: "liquid-pocket",
	Doc: Doc{
		Title: "Pocket that keeps liquid",
		Why:   "A sag or an up-and-over keeps liquid though a drain is open.",
		How: "Each point's spill level is the lowest possible highest point on the way from it to an open drain. What lies below its spill level stays wet; its volume is added up. " +
			"Heights are those of the tube axis.",
		Blind:    "Sagging between supports, the film on the wall, and what air blows out.",
		Remedy:   "Let the line fall all the way to the drain, or add a drain at the lowest point.",
		Cites:    []Citation{handbook17},
		Severity: Fix,
		Limits:   []string{"pocket-most"},
	},
	Run: runLiquidPocket,
}

func runLiquidPocket(p *Pass) {
	d, plant := Drainings.Of(p.Snapshot), p.Plant()
	for _, pool := range d.Pools {
		if pool.NoDrain {
			continue // told by no-drain-path
		}
		at := NodePlace(plant, pool.Lowest)
		volume, known := pool.Volume.Get()
		if known && p.small(volume) {
			continue
		}
		f := Finding{At: at, Places: append([]model.Place{at}, EdgePlaces(plant, pool.Edges)...), Way: EdgePlaces(plant, pool.Way), LimitName: "pocket-most"}
		where, over := p.vesselsIn(pool)+"around "+p.Where(at), ""
		if pool.Over >= 0 {
			over = ", held back by " + p.Where(NodePlace(plant, pool.Over))
		}
		if known {
			f.Measured = Of(volume)
			f.Message = Say("%v stay %v%v %v", Of(volume), where, over, d.words())
		} else {
			f.Message = Say("liquid stays %v%v %v; how much is unknown without the %v", where, over, d.words(), missingText(p.Snapshot, pool.Missing))
		}
		p.Report(f)
	}
	seen := map[network.Missing]bool{}
	for _, m := range d.Missing {
		if !seen[m] {
			seen[m] = true
			p.NotAssessed(model.PlaceOf(m.Record), m)
		}
	}
}

// vesselsIn names the vessels that a pocket reaches into: "in T-1 and ".
func (p *Pass) vesselsIn(pool network.Pool) string {
	var names []string
	for _, e := range pool.Edges {
		if edge := &p.Plant().Edges[e]; edge.Path < 0 && edge.Part != "" {
			names = append(names, p.Name(edge.Part))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "in " + list(names) + " and "
}

// small says whether a pocket is too small to be told.
func (p *Pass) small(v quantity.Volume) bool {
	return !above(float64(v), p.Limit("pocket-most").Is())
}
