package hydraulic

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"rinsewright/model/quantity"
)

// UnreachableError says that a flow cannot be had within the range of a setting.
type UnreachableError struct {
	Link        string        // whose flow was asked
	Asked       quantity.Flow // the flow
	Least, Most quantity.Flow // what the range gives
}

func (e *UnreachableError) Error() string {
	return fmt.Sprintf("hydraulic: %.4g m³/h in %s cannot be had: the range gives %.4g to %.4g m³/h", e.Asked.CubicMetresPerHour(), e.Link,
		e.Least.CubicMetresPerHour(), e.Most.CubicMetresPerHour())
}

// SpeedFor finds the speed of a pump, between least and most of that of its curve,
// that gives the flow asked in another link (or in the pump itself), counted along
// that link, and leaves the solver as it was. The flow must rise with the speed.
// The error is an [UnreachableError], or that of a solve.
func (s *Solver) SpeedFor(pump, link int, flow quantity.Flow, least, most quantity.Ratio, f Fluid, o Options) (quantity.Ratio, *Result, error) {
	before := s.Link(pump)
	defer func() { s.net.Links[pump] = before }()
	law, ok := before.Law.(Pump)
	if !ok {
		return 0, nil, &InputError{"link " + s.net.linkName(pump), "is no pump"}
	}
	if !(least > 0) || !(most > least) {
		return 0, nil, fmt.Errorf("hydraulic: speeds from %v to %v: they must be above zero and rise", float64(least), float64(most))
	}
	last := o.Start
	at := func(speed float64) (float64, *Result, error) {
		law.Speed = quantity.Ratio(speed)
		now := before
		now.Law = law
		if err := s.SetLink(pump, now); err != nil {
			return 0, nil, err
		}
		o.Start = last
		r, err := s.Solve(f, o)
		if err != nil {
			return 0, nil, err
		}
		last = r
		return float64(r.Flow[link] - flow), r, nil
	}
	speed, r, err := s.root(at, float64(least), float64(most), link, flow)
	return quantity.Ratio(speed), r, err
}

// root finds where a rising function of a setting is zero: false position with the
// Illinois halving, to 1e-9 of the setting or of the flow.
func (s *Solver) root(at func(float64) (float64, *Result, error), low, high float64, link int, flow quantity.Flow) (float64, *Result, error) {
	atLow, r, err := at(low)
	if err != nil {
		return 0, nil, err
	}
	if atLow == 0 {
		return low, r, nil
	}
	atHigh, r, err := at(high)
	if err != nil {
		return 0, nil, err
	}
	if atHigh == 0 {
		return high, r, nil
	}
	if atLow > 0 || atHigh < 0 {
		return 0, nil, &UnreachableError{s.net.linkName(link), flow, quantity.Flow(atLow) + flow, quantity.Flow(atHigh) + flow}
	}
	side := 0
	for i := 0; i < 100; i++ {
		x := low - atLow*(high-low)/(atHigh-atLow)
		if i > 20 { // a kink: halve instead
			x = (low + high) / 2
		}
		y, r, err := at(x)
		if err != nil {
			return 0, nil, err
		}
		if math.Abs(y) <= 1e-9*math.Abs(float64(flow))+1e-13 || high-low <= 1e-9*high {
			return x, r, nil
		}
		if y < 0 {
			low, atLow = x, y
			if side < 0 {
				atHigh /= 2
			}
			side = -1
		} else {
			high, atHigh = x, y
			if side > 0 {
				atLow /= 2
			}
			side = 1
		}
	}
	return 0, nil, errors.New("hydraulic: no setting found in 100 trials")
}

// HeadFor gives the head (m) that a pump in the place of a link must add to drive
// the flow asked through it, and the solution in which it does. The link keeps its
// settings. Below zero, the flow comes by itself and has to be throttled. The head
// is NaN where no fixed head holds one of the sides. The error is that of a solve.
func (s *Solver) HeadFor(link int, flow quantity.Flow, f Fluid, o Options) (quantity.Length, *Result, error) {
	r, err := s.imposed([]Branch{{link, flow}}, f, o)
	if err != nil {
		return 0, nil, err
	}
	return -r.Drop[link], r, nil
}

// imposed solves with the flow of each branch kept constant, whatever its law.
func (s *Solver) imposed(branches []Branch, f Fluid, o Options) (*Result, error) {
	before := make([]Link, len(branches))
	for i, b := range branches {
		before[i] = s.Link(b.Link)
	}
	defer func() {
		for i, b := range branches {
			s.net.Links[b.Link] = before[i]
		}
	}()
	for i, b := range branches {
		now := before[i]
		now.Law, now.Shut, now.OneWay = ConstantFlow{b.Flow}, false, false
		if err := s.SetLink(b.Link, now); err != nil {
			return nil, err
		}
	}
	return s.Solve(f, o)
}

// Branch is a link and the flow that it is to pass, above zero from From to To.
type Branch struct {
	Link int
	Flow quantity.Flow
}

// Setting is what a regulating valve must be set to.
type Setting struct {
	Link int
	Drop quantity.Length    // head left for the valve; not above zero when there is none
	Kv   quantity.ValveFlow // 0 where no Kv gives the flow: see Drop
}

// Balance gives the Kv that each regulating valve needs so that its branch passes
// the flow asked, all at once, and the solution in which they do. A valve whose
// Drop is not above zero cannot: the branch lacks that head. Of branches that one
// pump feeds, the one with the least Drop decides how far the pump's speed may be
// lowered. Drop is NaN where the valves cut a part off from every fixed head. The
// solver keeps its settings. The error is that of a solve, or says that a branch
// is named twice.
func (s *Solver) Balance(branches []Branch, f Fluid, o Options) ([]Setting, *Result, error) {
	sorted := slices.Clone(branches)
	slices.SortFunc(sorted, func(a, b Branch) int { return cmp.Compare(a.Link, b.Link) })
	for i, b := range sorted {
		if i > 0 && sorted[i-1].Link == b.Link {
			return nil, nil, &InputError{"link " + s.net.linkName(b.Link), "is to be balanced twice"}
		}
		if !(b.Flow > 0) {
			return nil, nil, &InputError{"link " + s.net.linkName(b.Link), fmt.Sprintf("is to pass %v m³/s; it must be above zero", float64(b.Flow))}
		}
	}
	r, err := s.imposed(branches, f, o)
	if err != nil {
		return nil, nil, err
	}
	gravity := o.Gravity
	if gravity == 0 {
		gravity = StandardGravity
	}
	settings := make([]Setting, len(branches))
	for i, b := range branches {
		settings[i] = Setting{Link: b.Link, Drop: r.Drop[b.Link]}
		if drop := float64(r.Drop[b.Link]) + float64(s.net.Links[b.Link].Gain); drop > 0 {
			settings[i].Kv = quantity.ValveFlow(float64(b.Flow) * math.Sqrt(1e5/(kvDensity*gravity*drop)))
		}
	}
	return settings, r, nil
}

// Limits of a tube for a flow. A limit of zero is none.
type Limits struct {
	LeastVelocity quantity.Velocity
	MostVelocity  quantity.Velocity
	MostGradient  quantity.Ratio // head lost by friction a length, m/m
}

// ErrNoTube says that no tube of a list meets the limits.
var ErrNoTube = errors.New("hydraulic: no tube of the list meets the limits")

// SmallestTube gives the index of the tube of the smallest bore in a list that
// meets the limits at a flow, and its state. Of equal bores the first counts. The
// error is [ErrNoTube], or of a tube or fluid that cannot be.
func SmallestTube(tubes []Pipe, flow quantity.Flow, l Limits, f Fluid) (int, PipeState, error) {
	if err := f.check(); err != nil {
		return 0, PipeState{}, err
	}
	best, found := -1, PipeState{}
	for i, t := range tubes {
		if err := t.check(); err != nil {
			return 0, PipeState{}, &InputError{fmt.Sprintf("tube #%d", i), err.Error()}
		}
		if best >= 0 && t.Bore >= tubes[best].Bore {
			continue
		}
		s := t.At(flow, f)
		v := quantity.Velocity(math.Abs(float64(s.Velocity)))
		if l.LeastVelocity > 0 && v < l.LeastVelocity || l.MostVelocity > 0 && v > l.MostVelocity ||
			l.MostGradient > 0 && s.Gradient > l.MostGradient {
			continue
		}
		best, found = i, s
	}
	if best < 0 {
		return 0, PipeState{}, ErrNoTube
	}
	return best, found, nil
}
