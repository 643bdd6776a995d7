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

// point is a node at one step.
type point struct {
	head, move float64 // the move: by which the last step changed the head
	balance    float64 // what comes in less what goes out
	push       float64 // what the links would bring if they followed their heads
	sum        float64 // of the conductances
}

// newton improves flows and heads until every passing link agrees with its law
// and every node with its demand.
func (s *Solver) newton(r *Result, o *Options) error {
	first := exact // from an earlier solution on, the flows stay what they were
	if o.Start == nil {
		first = loose
	}
	head, mass := s.assemble(o, step{width: first})
	for i := 0; ; i++ {
		r.HeadResidual, r.MassResidual = quantity.Length(head.off), quantity.Flow(mass.off)
		odd := math.IsNaN(head.off) || math.IsNaN(mass.off)
		if !odd && head.excess <= float64(o.HeadTolerance) && mass.excess <= 0 {
			return nil
		}
		if odd || i == o.Iterations {
			return s.notConverged(r, head, mass, nil)
		}
		r.Iterations++
		if err := s.matrix.Factor(); err != nil {
			return s.notConverged(r, head, mass, s.singular(err))
		}
		s.matrix.Solve(s.right, s.move)
		next := step{width: loose, part: 1, opens: i > 0}
		switch {
		case i >= fullSteps:
			s.shorten()
			next = step{width: exact}
		case mass.excess <= 0 && head.alone():
			next.part = s.reach(head.where)
		}
		s.raise(next.part)
		head, mass = s.assemble(o, next)
	}
}

// step says how the flows go on after the equations are solved.
type step struct {
	part  float64 // of the change that the equations gave
	width float64 // see karman
	opens bool    // a one-way link that opens gets the flow it usually starts with
}

// worst is the greatest disagreement seen, how much of it counts, and where.
type worst struct {
	off, excess float64
	where       int
	power       float64 // the sum of conductance times disagreement squared
	share       float64 // what of that is the worst one's
}

// alone says that the one link disagrees and hardly any other does.
func (w *worst) alone() bool { return w.share > 0.9*w.power }

// assemble lets the flows take the step, evaluates every law, fills the equations
// of the next step and gives the greatest disagreements of the flows and heads as
// they are. What only rounding explains does not count.
func (s *Solver) assemble(o *Options, next step) (head, mass worst) {
	const rounding = 1e-13
	tolerance := float64(o.HeadTolerance)
	head.where, mass.where = -1, -1
	s.matrix.Reset()
	for i := range s.points {
		p := &s.points[i]
		p.balance, p.push, p.sum = -s.demand[i], 0, 0
	}
	// In two rounds: the processor works at several links at once if there is not
	// too much to do for each.
	for i := range s.elements {
		if e := &s.elements[i]; e.passes() {
			if next.part != 0 {
				e.advance(next, s.points[e.from].move-s.points[e.to].move)
			}
			e.place(next.width)
		}
	}
	greatest := 0.0
	for i := range s.elements {
		e := &s.elements[i]
		if !e.passes() {
			continue
		}
		from, to := &s.points[e.from], &s.points[e.to]
		e.weigh()
		if q := math.Abs(e.flow); q > greatest {
			greatest = q
		}
		off := from.head - to.head - e.drop
		e.off = off
		push := e.conductance * off
		head.power += push * off
		if size := math.Abs(off); !(size <= tolerance) {
			if !(size <= head.off) && !math.IsNaN(head.off) { // not a number stays
				head.off, head.where, head.share = size, i, push*off
			}
			if over := size - rounding*(math.Abs(from.head)+math.Abs(to.head)+10*math.Abs(e.drop)); over > head.excess {
				head.excess = over
			}
		} else if size > head.off {
			head.off, head.where, head.share = size, i, push*off
		}
		from.balance -= e.flow
		from.push -= push
		from.sum += e.conductance
		to.balance += e.flow
		to.push += push
		to.sum += e.conductance
		if e.edge >= 0 {
			s.matrix.Join(int(e.edge), e.conductance)
		}
	}
	for i, k := range s.unknown {
		if k < 0 {
			continue
		}
		p := &s.points[i]
		greatest = max(greatest, math.Abs(s.demand[i]))
		if off := math.Abs(p.balance); !(off <= mass.off) && !math.IsNaN(mass.off) {
			mass.off, mass.where = off, i
		}
		s.right[k] = p.push + p.balance
		if s.parts.anchor[i] >= 0 {
			p.sum++
		}
		s.matrix.AddDiagonal(int(k), p.sum)
	}
	mass.excess = mass.off - 1e-12 - 1e-10*greatest
	return head, mass
}

// advance changes the flow of the element by its part of the step. rise is by how
// much its head difference grows.
func (e *element) advance(next step, rise float64) {
	was := e.flow
	// From the changes of head: the heads themselves would lose the last digits.
	e.flow += next.part * e.conductance * (e.off + rise)
	if e.oneWay && was < 0 && e.flow > 0 && next.opens {
		e.flow = max(e.flow, e.start) // start from a flow, not from the seat
	}
}

// raise changes the heads by a part of the step.
func (s *Solver) raise(part float64) {
	for i, k := range s.unknown {
		if k >= 0 {
			s.points[i].move = s.move[k]
			s.points[i].head += part * s.move[k]
		}
	}
}

// reach gives the part of the step, below 1 or above, at which link i meets its
// law if the others behave as the equations take them: as they do, for a time,
// where the link alone was changed. The whole step would halve the flow of a valve
// that was throttled to a tenth of it.
func (s *Solver) reach(i int) float64 {
	e := &s.elements[i]
	rise := 0.0
	if k := s.unknown[e.from]; k >= 0 {
		rise += s.move[k]
	}
	if k := s.unknown[e.to]; k >= 0 {
		rise -= s.move[k]
	}
	change := e.conductance * (e.off + rise)
	part := 1.0
	for round := 0; round < 30; round++ {
		drop, slope := e.at(e.flow + part*change)
		// Along the step the drop rises faster than the head difference, or falls slower.
		over := drop - (e.drop + e.off + part*rise)
		move := over / (slope*change - rise)
		part -= move
		if math.Abs(move) <= 1e-3*math.Abs(part) {
			break
		}
	}
	if !(part > 0.05 && part < 10) {
		return 1
	}
	return part
}

// shorten takes the whole step or, where that overshoots, a part of it.
func (s *Solver) shorten() {
	s.raise(0)
	for i := range s.elements {
		if e := &s.elements[i]; e.passes() {
			s.change[i] = e.conductance * (e.off + s.points[e.from].move - s.points[e.to].move)
		}
	}
	part := s.length()
	for i := range s.elements {
		if e := &s.elements[i]; e.passes() {
			e.flow += part * s.change[i]
		}
	}
	s.raise(1)
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
				drop, _ := e.at(e.flow + part*s.change[i])
				from, to := &s.points[e.from], &s.points[e.to]
				sum += (drop - (from.head + from.move) + (to.head + to.move)) * s.change[i]
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
