package hydraulic

import (
	"errors"
	"fmt"
	"math"

	"rinsewright/model/hydraulic/sparse"
	"rinsewright/model/quantity"
)

// Options of a solve. The zero value is good.
type Options struct {
	Gravity       float64         // m/s²; 0 for [StandardGravity]
	Friction      FrictionLaw     // nil for [Moody]
	HeadTolerance quantity.Length // by which a link may disagree with its law; 0 for 1e-8 m
	Iterations    int             // at most; 0 for 200
	Start         *Result         // of an earlier solve of this network, to start from; nil for none
}

const (
	standardTolerance  = 1e-8
	standardIterations = 200

	// fullSteps is the number of steps taken in full. Newton's method is then
	// nearly always done; if not, each further step is shortened so that the energy
	// of the network falls, which cannot cycle because that energy is convex.
	fullSteps = 25

	// heldHead is the head, m, against its way above which a one-way link holds.
	heldHead = 1e-7
	// heldRounds bounds how often the set of holding links is revised.
	heldRounds = 12
)

// Solve finds the flow in each link and the head at each node. The error is an
// [InputError] (the fluid, a pressure), an [UnfedError] or a [ConvergenceError].
func (s *Solver) Solve(fluid Fluid, o Options) (*Result, error) {
	c, err := s.prepare(fluid, &o)
	if err != nil {
		return nil, err
	}
	if err := s.findParts(); err != nil {
		return nil, err
	}
	r := &Result{}
	if err := s.newton(r, &o); err != nil {
		return nil, err
	}
	if err := s.settle(r, &o); err != nil {
		return nil, err
	}
	s.fill(r, c)
	return r, nil
}

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
			s.head[i] = float64(n.Level) + float64(n.Gas)/(c.density*c.gravity)
			if !within(s.head[i], -greatestHead, greatestHead) {
				return nil, &InputError{"node " + s.net.nodeName(i), fmt.Sprintf("gas pressure %v Pa", float64(n.Gas))}
			}
		case start != nil && !math.IsNaN(float64(start.Head[i])):
			s.head[i] = float64(start.Head[i])
		default:
			s.head[i] = float64(n.Elevation)
		}
	}
	for i := range s.net.Links {
		l := &s.net.Links[i]
		e := &s.elements[i]
		before := blendEnd{e.roughness, e.upper, e.upperRise}
		*e = element{from: int32(l.From), to: int32(l.To), high: s.unknown[l.From], low: s.unknown[l.To], edge: s.edge[i], gain: float64(l.Gain), oneWay: l.OneWay, law: c.friction}
		l.Law.bind(c, e)
		if before.roughness == e.roughness {
			e.upper, e.upperRise = before.factor, before.rise
		}
		if l.Shut {
			e.form = formShut
		}
		e.flow = e.start
		switch {
		case e.form == formShut:
			e.flow = 0
		case e.form == formFlow:
			s.demand[l.From] += e.flow
			s.demand[l.To] -= e.flow
		case start != nil:
			e.flow = warm(e, float64(start.Flow[i]))
		}
	}
	return c, nil
}

// blendEnd is the end of the blend of the friction law, which depends on the
// roughness alone and so outlives a solve.
type blendEnd struct{ roughness, factor, rise float64 }

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

// newton improves flows and heads until every passing link agrees with its law
// and every node with its demand.
func (s *Solver) newton(r *Result, o *Options) error {
	var err error
	for step := 0; ; step++ {
		head, mass := s.assemble()
		r.HeadResidual, r.MassResidual = quantity.Length(head.off), quantity.Flow(mass.off)
		if head.excess <= float64(o.HeadTolerance) && mass.excess <= 0 {
			return nil
		}
		if step == o.Iterations || math.IsNaN(head.off) || math.IsNaN(mass.off) || err != nil {
			return s.notConverged(r, head, mass, err)
		}
		r.Iterations++
		if err = s.matrix.Factor(); err != nil {
			return s.notConverged(r, head, mass, s.singular(err))
		}
		s.matrix.Solve(s.push, s.move)
		s.advance(step >= fullSteps, step == 0)
	}
}

// worst is the greatest disagreement seen, how much of it counts, and where.
type worst struct {
	off, excess float64
	where       int
}

// assemble evaluates every law, fills the equations of the step and gives the
// greatest disagreements of the flows and heads as they are. What only rounding
// explains does not count.
func (s *Solver) assemble() (head, mass worst) {
	const rounding = 1e-13
	head.where, mass.where = -1, -1
	s.matrix.Reset()
	clear(s.balance)
	clear(s.push)
	greatest := 0.0
	for i := range s.elements {
		e := &s.elements[i]
		if !e.passes() {
			continue
		}
		greatest = max(greatest, math.Abs(e.flow))
		var slope float64
		e.drop, slope = e.at(e.flow)
		e.conductance = 1 / max(slope, leastSlope)
		high, low := s.head[e.from], s.head[e.to]
		off := high - low - e.drop
		if size := math.Abs(off); !(size <= head.off) && !math.IsNaN(head.off) {
			head.off, head.where = size, i
		}
		head.excess = max(head.excess, math.Abs(off)-rounding*(math.Abs(high)+math.Abs(low)+10*math.Abs(e.drop)))
		push := e.conductance * off
		a, b := e.high, e.low
		if a >= 0 {
			s.balance[a] -= e.flow
			s.push[a] -= push
		}
		if b >= 0 {
			s.balance[b] += e.flow
			s.push[b] += push
		}
		switch {
		case e.edge >= 0:
			s.matrix.AddEdge(int(e.edge), e.conductance)
		case a >= 0:
			s.matrix.AddDiagonal(int(a), e.conductance)
		case b >= 0:
			s.matrix.AddDiagonal(int(b), e.conductance)
		}
	}
	for i, k := range s.unknown {
		if k < 0 {
			continue
		}
		demand := s.demand[i]
		greatest = max(greatest, math.Abs(demand))
		s.balance[k] -= demand
		if off := math.Abs(s.balance[k]); !(off <= mass.off) && !math.IsNaN(mass.off) {
			mass.off, mass.where = off, i
		}
		s.push[k] += s.balance[k]
		if s.parts.anchor[i] >= 0 {
			s.matrix.AddDiagonal(int(k), 1)
		}
	}
	mass.excess = mass.off - 1e-12 - 1e-10*greatest
	return head, mass
}

// advance takes the step that the equations gave: whole, or shortened.
func (s *Solver) advance(careful, first bool) {
	for i := range s.net.Nodes {
		s.nextHead[i] = s.head[i]
		if k := s.unknown[i]; k >= 0 {
			s.nextHead[i] += s.move[k]
		}
	}
	for i := range s.elements {
		if e := &s.elements[i]; e.passes() {
			s.flow[i] = e.conductance * (s.nextHead[e.from] - s.nextHead[e.to] - e.drop)
		}
	}
	part := 1.0
	if careful {
		part = s.length()
	}
	for i := range s.elements {
		e := &s.elements[i]
		if !e.passes() {
			continue
		}
		was := e.flow
		e.flow += part * s.flow[i]
		if e.oneWay && was < 0 && e.flow > 0 && !careful && !first {
			e.flow = max(e.flow, e.start) // opens: start from a flow, not from the seat
		}
	}
	copy(s.head, s.nextHead)
}

// length gives the part of the step, up to 1, at which the energy of the network
// is least along it. Its slope there, the sum over the links of (head loss - head
// difference) times the change of flow, rises along the step; it is below zero at
// the start, because each summand is then minus slope times change squared.
func (s *Solver) length() float64 {
	slope := func(part float64) float64 {
		sum := 0.0
		for i := range s.elements {
			if e := &s.elements[i]; e.passes() {
				drop, _ := e.at(e.flow + part*s.flow[i])
				sum += (drop - s.nextHead[e.from] + s.nextHead[e.to]) * s.flow[i]
			}
		}
		return sum
	}
	begin, end := slope(0), slope(1)
	if end <= 0.5*math.Abs(begin) || !(begin < 0) {
		return 1
	}
	low, high := 0.0, 1.0
	atLow, atHigh := begin, end
	for i := 0; i < 60; i++ {
		// False position with the Illinois halving, kept off the ends.
		part := low - atLow*(high-low)/(atHigh-atLow)
		part = min(max(part, low+0.01*(high-low)), high-0.01*(high-low))
		at := slope(part)
		if math.Abs(at) <= 0.1*math.Abs(begin) {
			return part
		}
		if at < 0 {
			low, atLow = part, at
			atHigh /= 2
		} else {
			high, atHigh = part, at
			atLow /= 2
		}
	}
	return low
}

// settle takes the leak out of the one-way links that hold, and solves again
// without them. A link may change over while the others settle; the number of
// rounds is bounded, and if they run out the solution with the leak stands, which
// the result tells.
func (s *Solver) settle(r *Result, o *Options) error {
	if !s.hold() {
		return nil
	}
	leaky := make([]float64, 0, len(s.elements)+len(s.head))
	for i := range s.elements {
		leaky = append(leaky, s.elements[i].flow)
	}
	leaky = append(leaky, s.head...)
	for round := 0; round < heldRounds; round++ {
		if err := s.findParts(); err != nil {
			return err
		}
		if err := s.newton(r, o); err != nil {
			var no *ConvergenceError
			if errors.As(err, &no) {
				break
			}
			return err
		}
		if !s.revise() {
			return nil
		}
	}
	for i := range s.elements {
		s.elements[i].held = false
		s.elements[i].flow = leaky[i]
		if flow := leaky[i]; s.elements[i].oneWay && flow < 0 {
			r.Leak = max(r.Leak, quantity.Flow(-flow))
		}
	}
	copy(s.head, leaky[len(s.elements):])
	if err := s.findParts(); err != nil {
		return err
	}
	return s.newton(r, o)
}

// hold marks the one-way links that hold against pressure and says if any does.
func (s *Solver) hold() bool {
	any := false
	for i := range s.elements {
		e := &s.elements[i]
		if e.passes() && e.oneWay && e.flow < 0 && -e.flow*leakSlope > heldHead {
			e.held, e.flow = true, 0
			any = true
		}
	}
	return any
}

// revise opens the holding links that are pushed along their way, holds those
// that flow runs back through, and says if there was any.
func (s *Solver) revise() bool {
	any := s.hold()
	for i := range s.elements {
		e := &s.elements[i]
		if !e.held || !e.oneWay || e.form >= formFlow {
			continue
		}
		drop, _ := e.along(0)
		if s.head[e.from]-s.head[e.to]-drop+e.gain > heldHead {
			e.held, e.flow = false, e.start
			any = true
		}
	}
	return any
}

func (s *Solver) notConverged(r *Result, head, mass worst, cause error) error {
	e := &ConvergenceError{Iterations: r.Iterations, Head: quantity.Length(head.off), Mass: quantity.Flow(mass.off), Link: "-", Node: "-", Cause: cause}
	if head.where >= 0 {
		e.Link = s.net.linkName(head.where)
	}
	if mass.where >= 0 {
		e.Node = s.net.nodeName(mass.where)
	}
	return e
}

// singular says at which node the equations could not be solved.
func (s *Solver) singular(err error) error {
	var not *sparse.NotPositive
	if !errors.As(err, &not) {
		return err
	}
	for i, k := range s.unknown {
		if int(k) == not.Unknown {
			return fmt.Errorf("the links at node %s resist too unequally: %w", s.net.nodeName(i), err)
		}
	}
	return err
}
