package network

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	. "rinsewright/model/quantity"
)

// Velocity gives the mean velocity in m/s in an edge of a route: the step's flow
// over the area of the bore, v = q / (π d²/4), where the whole flow passes, and 0
// where none does. Otherwise it is unknown, with what is missing: the step's flow,
// the bore, or, under the step's key "split", how the flow divides. A way without
// a bore of its own, such as the inside of a vessel, has no velocity and misses
// nothing.
func (p *Plant) Velocity(r *Route, edge int) (Opt[Velocity], []Missing) {
	e := &p.Edges[edge]
	if !r.InFlow[edge] {
		return Some(Velocity(0)), nil
	}
	var step model.ID
	var flow Opt[Flow]
	if r.LineUp.Step != nil {
		step, flow = r.LineUp.Step.ID, r.LineUp.Step.Flow
	}
	d, knownBore := e.Bore.Get()
	if !knownBore {
		return Opt[Velocity]{}, p.missingBore(edge)
	}
	if !r.Whole[edge] {
		return Opt[Velocity]{}, []Missing{{Record: step, Key: "split"}}
	}
	q, knownFlow := flow.Get()
	if !knownFlow {
		return Opt[Velocity]{}, []Missing{{Record: step, Key: "flow_m3h"}}
	}
	return Some(Velocity(float64(q) / catalogue.BoreArea(d))), nil
}

// missingBore names the property without which an edge's bore is unknown; none
// if it is known or the edge has no bore of its own.
func (p *Plant) missingBore(edge int) []Missing {
	e := &p.Edges[edge]
	if e.Bore.Known() {
		return nil
	}
	if e.Part == "" {
		return []Missing{{Record: e.Run, Key: "size"}}
	}
	if w := p.wayOf(edge); w != nil && w.boreKey != "" {
		return []Missing{{Record: e.Part, Key: w.boreKey}}
	}
	return nil
}

// missingLength names the property without which an edge's length is unknown.
func (p *Plant) missingLength(edge int) []Missing {
	e := &p.Edges[edge]
	if e.Length.Known() {
		return nil
	}
	if e.Part == "" {
		return []Missing{{Record: e.Run, Key: "stretches"}}
	}
	return []Missing{{Record: e.Part, Key: p.wayOf(edge).path.Length}}
}

// wayOf gives the path that an edge is made of, or nil for a stretch or the
// liquid of a vessel.
func (p *Plant) wayOf(edge int) *way {
	e := &p.Edges[edge]
	if e.Part == "" || e.Path < 0 {
		return nil
	}
	return &p.shapes[p.partOf[e.From]].ways[e.Path]
}
