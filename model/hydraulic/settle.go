package hydraulic

import (
	"errors"

	"rinsewright/model/quantity"
)

const (
	// heldHead is the head, m, against its way above which a one-way link holds.
	heldHead = 1e-7
	// heldRounds bounds how often the set of holding links is revised.
	heldRounds = 12
)

// settle takes the leak out of the one-way links that hold, and solves again
// without them. A link may change over while the others settle; the number of
// rounds is bounded, and if they run out the solution with the leak stands, which
// the result tells.
func (s *Solver) settle(r *Result, o *Options) error {
	if !s.hold() {
		return nil
	}
	leaky := make([]float64, 0, len(s.elements)+len(s.points))
	for i := range s.elements {
		leaky = append(leaky, s.elements[i].flow)
	}
	for i := range s.points {
		leaky = append(leaky, s.points[i].head)
	}
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
	for i := range s.points {
		s.points[i].head = leaky[len(s.elements)+i]
	}
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
		if s.points[e.from].head-s.points[e.to].head-drop+e.gain > heldHead {
			e.held, e.flow = false, e.start
			any = true
		}
	}
	return any
}
