package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var ruleBoreMix = &Rule{
	Name: "bore-mix",
	Doc: Doc{
		Title:    "Too many bores in one swept route",
		Why:      "The widest bore sets the flow; what sweeps it rushes through the narrowest and costs pump head.",
		How:      "The different inside diameters of the runs that the whole flow of a cleaning step passes are counted; bores within the limit of size-jump count as one. The flow that gives the widest bore its least velocity is worked out, and what it does in the narrowest: v2 = v1 (D1/D2)². What the solved flow does in both is told beside it.",
		Blind:    "The inside of objects and machines.",
		Remedy:   "Make the route one bore, or two; wash the rest in a step of its own.",
		Cites:    []Citation{handbook27},
		Severity: Note,
		Merge:    AnyStep,
		Limits:   []string{"bores-most", "bore-step-most", "velocity-least"},
	},
	Run: runBoreMix,
}

func runBoreMix(p *Pass) {
	r, plant := p.Route(), p.Plant()
	if !p.sweeps() || !r.Found {
		return
	}
	type piece struct {
		run  model.ID
		bore quantity.Bore
	}
	var pieces []piece
	var missing []network.Missing
	for _, run := range p.runEdges() {
		if !r.Whole[run.first] || run.face {
			continue
		}
		if bore, known := plant.Edges[run.first].Bore.Get(); known {
			pieces = append(pieces, piece{run.ID, bore})
		} else {
			missing = append(missing, missingKey(run, "size"))
		}
	}
	slices.SortStableFunc(pieces, func(a, b piece) int {
		switch {
		case a.bore < b.bore:
			return -1
		case a.bore > b.bore:
			return 1
		}
		return 0
	})
	var bores []piece
	for _, x := range pieces {
		if n := len(bores); n == 0 || above(float64(x.bore-bores[n-1].bore), p.Limit("bore-step-most").Is()) {
			bores = append(bores, x)
		}
	}
	at := p.routePlace()
	most := p.Limit("bores-most")
	if !above(float64(len(bores)), most.Is()) {
		p.NotAssessed(at, missing...)
		return
	}
	narrow, wide := bores[0], bores[len(bores)-1]
	flow := p.Limit("velocity-least").Is() * catalogue.BoreArea(wide.bore)
	v := quantity.Velocity(flow / catalogue.BoreArea(narrow.bore))
	places := []model.Place{at}
	for _, b := range bores {
		places = append(places, model.PlaceOf(b.run))
	}
	p.Report(Finding{At: at, Places: places, Way: EdgePlaces(plant, r.Ways), Measured: Number(float64(len(bores))), LimitName: "bores-most",
		Message: Say("the route to %v has %v bores, from %v to %v; %v that the widest needs for %v run at %v in the narrowest%v", p.Name(at.Element),
			len(bores), Of(narrow.bore), Of(wide.bore), Of(quantity.Flow(flow)), p.Limit("velocity-least").Value, Of(v), p.nowIn(wide.run, narrow.run))})
}

// nowIn tells how fast the flow of the step runs in two runs; empty where it is
// not known.
func (p *Pass) nowIn(wide, narrow model.ID) Text {
	var is [2]quantity.Velocity
	found := 0
	for _, v := range Speeds.Of(p.Snapshot, p.Step).known {
		for i, id := range [2]model.ID{wide, narrow} {
			if v.run.ID == id {
				is[i] = v.is
				found++
			}
		}
	}
	if found < 2 {
		return Text{}
	}
	return Say("; now it runs at %v in the widest and %v in the narrowest", Of(is[0]), Of(is[1]))
}

// routePlace is where a fault of a whole route is told: what is cleaned, else
// the destination, so that it is the same in all steps over that route.
func (p *Pass) routePlace() model.Place {
	for _, id := range p.Step.Cleans {
		if p.Circuit.Part(id) != nil {
			return model.PlaceOf(id)
		}
	}
	if p.Circuit.Part(p.Step.Destination) != nil {
		return model.PlaceOf(p.Step.Destination)
	}
	return model.PlaceOf(p.Step.ID)
}
