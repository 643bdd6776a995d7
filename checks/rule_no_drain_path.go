package checks

import (
	"math"
	"slices"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

var ruleNoDrainPath = &Rule{
	Name: "no-drain-path",
	Doc: Doc{
		Title: "No way to a drain",
		Why:   "What cannot drain stays: the chemical goes into the next rinse, the rinse into the product, and the tube is opened full.",
		How: "From everything that a step wets, a way to an open drain is looked for in the line-ups of the drain steps. Without a drain step every valve is taken as open. " +
			"Tanks that store a medium, and what stands on their nozzles while the drains are open, are meant to stay full. " +
			"What only shut valves part is told once, with the volume of vessels and of tubes apart.",
		Blind:    "Liquid blown out with air.",
		Remedy:   "Open the valve towards the drain in a drain step, or add a drain at the lowest point.",
		Cites:    []Citation{handbook17},
		Severity: Fix,
	},
	Run: runNoDrainPath,
}

func runNoDrainPath(p *Pass) {
	d := Drainings.Of(p.Snapshot)
	for _, edges := range p.undrained(d) {
		at, what := p.bodyPlace(edges)
		vessels, tube := p.heldIn(edges, true), p.heldIn(edges, false)
		held := Say("%v%v", vessels, tube) // one of them is empty
		if !vessels.Empty() && !tube.Empty() {
			held = Say("%v and %v", vessels, tube)
		}
		p.Report(Finding{At: at, Places: append([]model.Place{at}, EdgePlaces(p.Plant(), edges)...), Measured: p.volumeOf(edges),
			Message: Say("no way leads from %v to an open drain %v: %v stay%v", what, d.words(), held, p.neverDrains(d, at.Element))})
	}
}

// neverDrains adds which programme cleans something and has no drain step.
func (p *Pass) neverDrains(d *drainings, id model.ID) string {
	if !d.told {
		return ""
	}
	for _, steps := range p.programmes() {
		cleans := slices.ContainsFunc(steps, func(s *model.Step) bool { return slices.Contains(s.Cleans, id) })
		drains := slices.ContainsFunc(steps, func(s *model.Step) bool { return s.Purpose.Or("") == model.Drain })
		if cleans && !drains && steps[0].Programme != "" {
			return "; programme " + steps[0].Programme + " has no drain step"
		}
	}
	return ""
}

// undrained gives the bodies of liquid that no drain is open to, each as its
// edges: what only a shut valve parts is one, for one drain would empty it.
func (p *Pass) undrained(d *drainings) [][]int {
	plant := p.Plant()
	var bodies [][]int
	of := map[int]int{} // body of a node
	for _, pool := range d.Pools {
		if !pool.NoDrain || d.told && p.ofTank(pool) {
			continue
		}
		for _, e := range pool.Edges {
			of[plant.Edges[e].From], of[plant.Edges[e].To] = len(bodies), len(bodies)
		}
		bodies = append(bodies, pool.Edges)
	}
	same := make([]int, len(bodies)) // a body that it belongs to, itself for none
	for i := range same {
		same[i] = i
	}
	first := func(i int) int {
		for same[i] != i {
			i = same[i]
		}
		return i
	}
	for e := range plant.Edges {
		a, known := of[plant.Edges[e].From]
		b, alsoKnown := of[plant.Edges[e].To]
		if known && alsoKnown && d.wetted[e] {
			a, b = first(a), first(b)
			same[max(a, b)] = min(a, b)
		}
	}
	for i := len(bodies) - 1; i >= 0; i-- {
		if j := first(i); j != i {
			bodies[j] = append(slices.Clone(bodies[j]), bodies[i]...)
			bodies[i] = nil
		}
	}
	bodies = slices.DeleteFunc(bodies, func(edges []int) bool { return edges == nil })
	for _, edges := range bodies {
		slices.Sort(edges)
	}
	return bodies
}

// bodyPlace tells where a body of liquid is: at its vessels, else its object, else
// its lowest part with a tag.
func (p *Pass) bodyPlace(edges []int) (model.Place, string) {
	plant, heights := p.Plant(), Heights.Of(p.Snapshot)
	var vessels []model.ID
	var names []string
	var lowest model.ID
	depth := math.Inf(1)
	for _, e := range edges {
		for _, n := range [2]int{plant.Edges[e].From, plant.Edges[e].To} {
			part := p.partOfNode(n)
			if part == nil {
				continue
			}
			id := part.RecordID()
			if plant.Edges[e].Path < 0 && plant.Edges[e].Part == id && !slices.Contains(vessels, id) {
				vessels, names = append(vessels, id), append(names, p.Name(id))
			}
			z := math.MaxFloat64
			if h, known := heights.Of[n].Get(); known {
				z = float64(h)
			}
			if part.Class() == model.ClassObject {
				z = math.Inf(-1)
			}
			if part.Meta().Tag != "" && (z < depth || z == depth && id < lowest) {
				lowest, depth = id, z
			}
		}
	}
	switch {
	case len(vessels) > 0:
		return model.PlaceOf(vessels[0]), list(names)
	case lowest != "":
		return model.PlaceOf(lowest), "the tube at " + p.Name(lowest)
	}
	at := EdgePlace(plant, edges[0])
	return at, p.Where(at)
}

// heldIn tells how much of some edges is in vessels, or in tubes and parts; the
// zero Text if that is nothing.
func (p *Pass) heldIn(edges []int, vessel bool) Text {
	plant, where := p.Plant(), "in the tube"
	if vessel {
		where = "in the vessel"
	}
	var own []int
	for _, e := range edges {
		if inside := plant.Edges[e].Path < 0 && plant.Edges[e].Part != ""; inside == vessel {
			own = append(own, e)
		}
	}
	v := p.volumeOf(own)
	switch {
	case !v.Known():
		return Say("an unknown volume %v", where)
	case v.SI() == 0:
		return Text{}
	}
	return Say("up to %v %v", v, where)
}

// volumeOf gives what some edges hold when full, or no value where that is not
// known.
func (p *Pass) volumeOf(edges []int) Value {
	var sum quantity.Volume
	for _, e := range edges {
		v, known := p.Plant().Edges[e].Volume.Get()
		if !known {
			return Value{}
		}
		sum += v
	}
	return Of(sum)
}
