package hydraulic

import (
	"fmt"
	"math"
)

// prepare binds every law to the fluid and sets the start.
func (s *Solver) prepare(fluid Fluid, o *Options) (*conditions, error) {
	if err := fluid.check(); err != nil {
		return nil, err
	}
	if o.Gravity == 0 {
		o.Gravity = StandardGravity
	}
	if o.HeadTolerance == 0 {
		o.HeadTolerance = standardTolerance
	}
	if o.Iterations == 0 {
		o.Iterations = standardIterations
	}
	if !within(o.Gravity, 1e-3, 1e3) || !within(float64(o.HeadTolerance), 1e-14, 1e6) || o.Iterations < 0 {
		return nil, fmt.Errorf("hydraulic: gravity %v m/s², tolerance %v m, %d iterations: out of range", o.Gravity, float64(o.HeadTolerance), o.Iterations)
	}
	if !within(fluid.Density, 1e-2, 1e5) || !within(fluid.Kinematic(), 1e-9, 1e2) {
		return nil, fmt.Errorf("hydraulic: fluid of %v kg/m³ and %v Pa·s: out of range", fluid.Density, fluid.Viscosity)
	}
	start := o.Start
	if start != nil && (len(start.Flow) != len(s.net.Links) || len(start.Head) != len(s.net.Nodes)) {
		return nil, fmt.Errorf("hydraulic: the result to start from is of another network")
	}
	c := &conditions{density: fluid.Density, kinematic: fluid.Kinematic(), gravity: o.Gravity, friction: o.Friction}
	for i := range s.net.Nodes {
		n := &s.net.Nodes[i]
		s.demand[i] = float64(n.Demand)
		switch {
		case n.Fixed:
			s.points[i].head = float64(n.Level) + float64(n.Gas)/(c.density*c.gravity)
			if !within(s.points[i].head, -greatestHead, greatestHead) {
				return nil, &InputError{"node " + s.net.nodeName(i), fmt.Sprintf("gas pressure %v Pa", float64(n.Gas))}
			}
		case start != nil && !math.IsNaN(float64(start.Head[i])):
			s.points[i].head = float64(start.Head[i])
		default:
			s.points[i].head = float64(n.Elevation)
		}
	}
	s.bind(c)
	for i := range s.elements {
		e := &s.elements[i]
		e.held = false
		e.flow, e.turbulent = e.start, e.begin.turbulent
		e.drop, e.conductance = e.begin.drop, e.begin.conductance
		e.known = e.begin.known && start == nil
		switch {
		case e.form == formShut:
			e.flow = 0
		case e.form == formFlow:
			s.demand[e.from] += e.flow
			s.demand[e.to] -= e.flow
		case start != nil:
			e.flow = warm(e, float64(start.Flow[i]))
			if len(start.karman) > i {
				e.turbulent = karman{s: start.karman[i]}
			}
		}
	}
	return c, nil
}

// bind binds the laws of the links to the fluid, of those that changed since the
// last time if the fluid is the same. What it makes does not depend on any solve.
func (s *Solver) bind(c *conditions) {
	// Laws of friction cannot be compared.
	same := c.friction == nil && s.bound.friction == nil && s.bound.density == c.density && s.bound.kinematic == c.kinematic && s.bound.gravity == c.gravity
	var sizes pointsOfSizes
	for i := range s.net.Links {
		if same && !s.changed[i] {
			continue
		}
		l := &s.net.Links[i]
		e := &s.elements[i]
		*e.rest = rest{law: c.friction}
		*e = element{rest: e.rest, from: int32(l.From), to: int32(l.To), edge: s.edge[i], gain: float64(l.Gain), oneWay: l.OneWay}
		l.Law.bind(c, e)
		if l.Shut {
			e.form = formShut
		}
		if e.form == formPipe && c.friction != nil {
			e.form = formLaw
		}
		if e.form < formFunction {
			e.flow = e.start
			if re := e.start * e.reynolds; e.turbulentAt(re) {
				e.turbulent, e.placed = sizes.point(re, e.roughness), true
			}
			e.weigh()
			e.begin = begin{true, e.drop, e.conductance, e.turbulent}
		}
		s.changed[i] = false
	}
	s.bound = *c
}

// pointsOfSizes are the points on the law of turbulent flow that were found last.
// The tubes of a plant are of few sizes and begin with one velocity, so most begin
// at a point that another has found.
type pointsOfSizes struct {
	found [8]struct {
		reynolds, roughness float64
		point               karman
	}
	next int
}

// point gives the point at a Reynolds number and relative roughness. It does not
// depend on what was found before.
func (p *pointsOfSizes) point(reynolds, roughness float64) karman {
	for i := range p.found {
		if f := &p.found[i]; f.reynolds == reynolds && f.roughness == roughness {
			return f.point
		}
	}
	f := &p.found[p.next]
	p.next = (p.next + 1) % len(p.found)
	f.reynolds, f.roughness, f.point = reynolds, roughness, karman{}
	f.point.near(reynolds, roughness*roughTerm, exact)
	return f.point
}

// warm gives the flow to start a link with, for its flow in an earlier solution.
// Where nothing flowed, a one-way link starts as one that holds, and any other
// from its usual start: it may have been shut.
func warm(e *element, flow float64) float64 {
	const still = 1e-12
	switch {
	case math.Abs(flow) > still:
		return flow
	case e.oneWay:
		return -still
	}
	return e.start
}
