package checks

import (
	"rinsewright/model"
	"rinsewright/model/network"
)

var ruleLittleFall = &Rule{
	Name: "little-fall",
	Doc: Doc{
		Title:    "Too little fall towards the drain",
		Why:      "A level line drains slowly and sags between its supports; one that falls the wrong way does not drain.",
		How:      "The fall of every wetted stretch along the way on which it drains, per length. Upright stretches are left out, and so are stretches that drain nowhere (see no-drain-path).",
		Blind:    "Sagging, and pieces of fittings that are shorter than a stretch.",
		Remedy:   "Lay the stretch with fall towards the drain.",
		Cites:    []Citation{handbook17, {Source: "ASME BPE", Clause: "SD-2.4", Standing: StandingMemory}},
		Severity: Fix,
		Limits:   []string{"fall-least"},
	},
	Run: runLittleFall,
}

func runLittleFall(p *Pass) {
	d, plant, least := Drainings.Of(p.Snapshot), p.Plant(), p.Limit("fall-least")
	for _, s := range d.Slopes {
		if !below(s.Fall, least.Is()) {
			continue
		}
		at := EdgePlace(plant, s.Edge)
		says := Say("falls %v", Percent(s.Fall))
		if s.Fall < 0 {
			says = Say("rises %v", Percent(-s.Fall))
		} else if s.Fall == 0 {
			says = Say("lies level")
		}
		p.Report(Finding{At: at, Measured: Percent(s.Fall), LimitName: "fall-least",
			Message: Say("%v %v towards the drain over %v; the least is %v", p.Where(at), says, Of(s.Length), least.Value)})
	}
	p.fallUnknown(d)
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
