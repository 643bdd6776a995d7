package checks

import "rinsewright/model"

var ruleNoDrainPath = &Rule{
	Name: "no-drain-path",
	Doc: Doc{
		Title: "No way to a drain",
		Why:   "What cannot drain stays: the chemical goes into the next rinse, the rinse into the product, and the tube is opened full.",
		How: "From everything that a step wets, a way to an open drain is looked for in the line-ups of the drain steps. Without a drain step every valve is taken as open. " +
			"Tanks that store a medium, and what stands on their nozzles while the drains are open, are meant to stay full.",
		Blind:    "Liquid blown out with air.",
		Remedy:   "Open the valve towards the drain in a drain step, or add a drain at the lowest point.",
		Cites:    []Citation{handbook17},
		Severity: Fix,
	},
	Run: runNoDrainPath,
}

func runNoDrainPath(p *Pass) {
	d, plant := Drainings.Of(p.Snapshot), p.Plant()
	for _, pool := range d.Pools {
		if !pool.NoDrain || d.told && p.ofTank(pool) {
			continue
		}
		at := NodePlace(plant, pool.Lowest)
		if n := plant.Nodes[pool.Lowest]; n.Part == "" {
			at = EdgePlace(plant, pool.Edges[0])
		}
		held := Say("an unknown volume of liquid")
		var measured Value
		if v, known := pool.Volume.Get(); known {
			measured = Of(v)
			held = Say("up to %v of liquid", measured)
		}
		places := append([]model.Place{at}, EdgePlaces(plant, pool.Edges)...)
		p.Report(Finding{At: at, Places: places, Measured: measured,
			Message: Say("no way leads from %v to an open drain %v; %v stays", p.Where(at), d.words(), held)})
	}
}
