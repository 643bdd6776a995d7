package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/flow"
	"rinsewright/model/quantity"
)

var ruleSlowRun = &Rule{
	Name: "slow-run",
	Doc: Doc{
		Title:    "Flow too slow",
		Why:      "Below the least velocity the flow does not take soil off the wall, nor does it carry air along.",
		How:      "Mean velocity from the solved flow and the inside diameter, in every run that the whole flow of a cleaning step passes, and in the widest bore of an object. Where the flow cannot be solved, the flow that the step asks for counts.",
		Blind:    "Branches among which the flow divides (see split-flow), the return of a vessel that fills (see bowl-fills), fittings wider than their tube, and wall shear (see weak-shear).",
		Remedy:   "Raise the flow, or take the next smaller tube.",
		Cites:    []Citation{handbook27, {Source: "3-A 605-04, EHEDG Doc 10 and ASME BPE Part SD", Standing: StandingMemory}},
		Severity: Fix,
		Merge:    AnyStep,
		Limits:   []string{"velocity-least", "velocity-most"},
	},
	Run: runSlowRun,
}

func runSlowRun(p *Pass) {
	if !p.sweeps() {
		return
	}
	least := p.Limit("velocity-least")
	speeds := Speeds.Of(p.Snapshot, p.Step)
	for _, v := range speeds.known {
		if !v.whole || !below(float64(v.is), least.Is()) || p.heldBack(v, least.Is()) {
			continue
		}
		var fixes []Remedy
		if short := p.falls(Flows.Of(p.Snapshot, p.Step)); !short.Empty() {
			// A narrower tube would take still more from the flow.
		} else if size, ok := p.widestFor(v.run.Size.Or(""), v.flow, least.Is(), p.Limit("velocity-most").Is()); ok {
			fixes = append(fixes, resize(v.run, size))
		}
		p.Report(Finding{At: v.at, Measured: Of(v.is), LimitName: "velocity-least", Fixes: fixes,
			Message: p.orShort(Say("%v: %v in a bore of %v is %v, slower than %v", p.Name(v.run.ID), Of(v.flow), Of(v.bore), Of(v.is), least.Value))})
	}
	for _, at := range speeds.places {
		p.NotAssessed(at, speeds.missing[at]...)
	}
	p.slowObjects(least)
}

// heldBack says whether a run would be swept at the flow asked for and is not
// because a vessel before it fills, which is told by bowl-fills.
func (p *Pass) heldBack(v speed, least float64) bool {
	asked, told := p.Step.Flow.Get()
	fills := slices.ContainsFunc(Flows.Of(p.Snapshot, p.Step).Vessels, func(x flow.Vessel) bool { return x.Balance == flow.BowlFills })
	return fills && told && v.flow < asked && v.bore > 0 && !below(float64(asked)/catalogue.BoreArea(v.bore), least)
}

// slowObjects judges the inside of objects by their widest bore.
func (p *Pass) slowObjects(least Limit) {
	r, plant := p.Route(), p.Plant()
	if !r.Found {
		return
	}
	for _, part := range p.ofClass(model.ClassObject) {
		object, ok := part.(*model.Object)
		if !ok || !passes(plant, part.RecordID(), r.Whole) {
			continue
		}
		flow, known := p.flowThrough(object.ID)
		if !known {
			continue // the flow of the step is missing, which is told once
		}
		at := model.PlaceOf(object.ID)
		bore, told := object.LargestBore.Get()
		if !told || bore <= 0 {
			p.NotAssessed(at, missingKey(object, "largest_bore_mm"))
			continue
		}
		v := quantity.Velocity(float64(flow) / catalogue.BoreArea(bore))
		if below(float64(v), least.Is()) {
			p.Report(Finding{At: at, Measured: Of(v), LimitName: "velocity-least",
				Message: p.orShort(Say("%v: %v in its widest bore of %v is %v, slower than %v", p.Name(object.ID), Of(flow), Of(bore), Of(v), least.Value))})
		}
	}
}

// flowThrough gives the flow through a part that the whole flow passes: the solved
// one, else that which the step asks for.
func (p *Pass) flowThrough(id model.ID) (quantity.Flow, bool) {
	sol := Flows.Of(p.Snapshot, p.Step)
	for _, e := range p.Plant().PartEdges(id) {
		if q, known := sol.Edges[e].Flow.Get(); known && p.Route().Whole[e] && !asAsked(sol, q) {
			return magnitude(q), true
		}
	}
	return p.Step.Flow.Get()
}

// orShort adds to a message that the step gets less than it asks for, where it does.
func (p *Pass) orShort(says Text) Text {
	if short := p.falls(Flows.Of(p.Snapshot, p.Step)); !short.Empty() {
		return Say("%v; %v", says, short)
	}
	return says
}
