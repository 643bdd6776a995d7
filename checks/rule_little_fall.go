package checks

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var ruleLittleFall = &Rule{
	Name: "little-fall",
	Doc: Doc{
		Title: "Too little fall towards the drain",
		Why:   "A level line drains slowly and sags between its supports; one that falls the wrong way does not drain.",
		How: "The fall of every wetted stretch along the way on which it drains, per length. Upright stretches are left out, and so are stretches that drain nowhere (see no-drain-path) and runs whose heights contradict each other (see heights-disagree). " +
			"Stretches that follow each other on the way to a drain are told once, at the worst.",
		Blind:    "Sagging, and pieces of fittings that are shorter than a stretch.",
		Remedy:   "Lay the stretch with fall towards the drain.",
		Cites:    []Citation{handbook17, {Source: "ASME BPE", Clause: "SD-2.4", Standing: StandingMemory}},
		Severity: Fix,
		Limits:   []string{"fall-least", "height-tolerance"},
	},
	Run: runLittleFall,
}

func runLittleFall(p *Pass) {
	d, plant := Drainings.Of(p.Snapshot), p.Plant()
	least := p.Limit("fall-least")
	for _, line := range p.flatLines(d, least.Is()) {
		worst, length := line[0], quantity.Length(0)
		var edges []int
		for _, s := range line {
			if s.Fall < worst.Fall {
				worst = s
			}
			length += s.Length
			edges = append(edges, s.Edge)
		}
		at := EdgePlace(plant, worst.Edge)
		var says Text
		switch {
		case worst.Fall < 0:
			says = Say("%v rises %v towards the drain, where it should fall %v,", p.Where(at), Percent(-worst.Fall), least.Value)
		case worst.Fall == 0:
			says = Say("%v lies level, where it should fall %v towards the drain,", p.Where(at), least.Value)
		default:
			says = Say("%v falls %v towards the drain, less than %v,", p.Where(at), Percent(worst.Fall), least.Value)
		}
		over := Say("over %v", Of(worst.Length))
		if len(line) > 1 {
			over = Say("the worst of %v stretches in a row, %v in all", len(line), Of(length))
		}
		p.Report(Finding{At: at, Places: append([]model.Place{at}, EdgePlaces(plant, edges)...), Way: EdgePlaces(plant, edges), Measured: Percent(worst.Fall), LimitName: "fall-least",
			Message: Say("%v %v", says, over)})
	}
	p.fallUnknown(d)
}

// flatLines gives the stretches that fall too little, those that follow each other
// on the way to a drain together. A run whose heights disagree is left out.
func (p *Pass) flatLines(d *drainings, least float64) [][]network.Slope {
	plant := p.Plant()
	var flat []network.Slope
	at := map[int]int{} // index in flat by edge
	sloped := map[int]bool{}
	contradicts := p.heightsDisagree()
	for _, s := range d.Slopes {
		if contradicts[plant.Edges[s.Edge].Run] {
			continue
		}
		sloped[s.Edge] = true
		if below(s.Fall, least) {
			at[s.Edge] = len(flat)
			flat = append(flat, s)
		}
	}
	same := make([]int, len(flat))
	for i := range same {
		same[i] = i
	}
	first := func(i int) int {
		for same[i] != i {
			i = same[i]
		}
		return i
	}
	for i, s := range flat {
		if next, ok := at[p.nextSloped(d, s.Edge, sloped)]; ok {
			a, b := first(i), first(next)
			same[max(a, b)] = min(a, b)
		}
	}
	var out [][]network.Slope
	line := map[int]int{}
	for i, s := range flat {
		k, begun := line[first(i)]
		if !begun {
			k = len(out)
			line[first(i)] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], s)
	}
	return out
}

// nextSloped follows the way to the drain from a stretch to the next one that has
// a slope to be judged, across parts and upright stretches; -1 if there is none.
func (p *Pass) nextSloped(d *drainings, edge int, sloped map[int]bool) int {
	plant := p.Plant()
	n := plant.Edges[edge].To
	if d.Toward[n] == int32(edge) {
		n = plant.Edges[edge].From
	}
	for range plant.Edges {
		e := int(d.Toward[n])
		if e < 0 {
			return -1
		}
		if sloped[e] {
			return e
		}
		if _, vessel := p.partOfEdge(e).(*model.Vessel); vessel {
			return -1
		}
		n = plant.Other(e, n)
	}
	return -1
}

// heightsDisagree gives the runs of which heights-disagree speaks.
func (p *Pass) heightsDisagree() map[model.ID]bool {
	out := map[model.ID]bool{}
	for _, x := range Heights.Of(p.Snapshot).Disagree {
		if above(math.Abs(float64(x.Told-x.Needed)), p.Limit("height-tolerance").Is()) {
			out[x.Run] = true
		}
	}
	return out
}

// fallUnknown tells the wetted runs whose fall is not known.
func (p *Pass) fallUnknown(d *drainings) {
	plant, heights := p.Plant(), Heights.Of(p.Snapshot)
	for _, run := range p.runEdges() {
		var missing []network.Missing
		for i := range max(1, len(run.Stretches)) {
			e := run.first + i
			edge := &plant.Edges[e]
			length, known := edge.Length.Get()
			switch {
			case !d.wetted[e] || known && length == 0:
			case !known:
				missing = append(missing, missingKey(run, "stretches"))
			case i < len(run.Stretches) && run.Stretches[i].Rise.Known():
			case !heights.Of[edge.From].Known() || !heights.Of[edge.To].Known():
				missing = append(missing, missingKey(run, "rise_m"))
			}
		}
		p.NotAssessed(model.PlaceOf(run.ID), missing...)
	}
}
