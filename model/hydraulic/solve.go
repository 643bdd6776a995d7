package hydraulic

import "rinsewright/model/quantity"

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
