package hydraulic

import (
	"errors"
	"fmt"
	"math"

	"rinsewright/model/hydraulic/sparse"
	"rinsewright/model/quantity"
)

// fullSteps is the number of steps taken in full. Newton's method is then
// nearly always done; if not, each further step is shortened so that the energy
// of the network falls, which cannot cycle because that energy is convex.
const fullSteps = 10

// newton improves flows and heads until every passing link agrees with its law
// and every node with its demand.
func (s *Solver) newton(r *Result, o *Options) error {
	for step := 0; ; step++ {
		head, mass := s.assemble()
		r.HeadResidual, r.MassResidual = quantity.Length(head.off), quantity.Flow(mass.off)
		odd := math.IsNaN(head.off) || math.IsNaN(mass.off)
		if !odd && head.excess <= float64(o.HeadTolerance) && mass.excess <= 0 {
			return nil
		}
		if odd || step == o.Iterations {
			return s.notConverged(r, head, mass, nil)
		}
		r.Iterations++
		if err := s.matrix.Factor(); err != nil {
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
		if q := math.Abs(e.flow); q > greatest {
			greatest = q
		}
		var slope float64
		e.drop, slope = e.at(e.flow)
		if slope < leastSlope {
			slope = leastSlope
		}
		e.conductance = 1 / slope
		high, low := s.head[e.from], s.head[e.to]
		off := high - low - e.drop
		e.off = off
		size := math.Abs(off)
		if !(size <= head.off) && !math.IsNaN(head.off) { // not a number stays
			head.off, head.where = size, i
		}
		if over := size - rounding*(math.Abs(high)+math.Abs(low)+10*math.Abs(e.drop)); over > head.excess {
			head.excess = over
		}
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
			// From the changes of head: the heads themselves would lose the last digits.
			change := e.off
			if e.high >= 0 {
				change += s.move[e.high]
			}
			if e.low >= 0 {
				change -= s.move[e.low]
			}
			s.flow[i] = e.conductance * change
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
