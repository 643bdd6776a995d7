package flow

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"rinsewright/model/hydraulic"
	. "rinsewright/model/quantity"
)

// supply solves the section that begins at the source. A flow asked for is brought
// about by the first running pump on the way, as far as its speed goes. Where none is
// asked for, a speed that the step tells is that of the same pump.
func (w *work) supply(s *section) error {
	// In a ring of vessels a source section may begin at a vessel too.
	for _, t := range s.taps {
		if t.end.kind == endDraw {
			if err := s.keepTap(t, float64(w.inflow[t.end.record].Or(0))); err != nil {
				return err
			}
		}
	}
	for i := range s.drivers {
		if !s.drivers[i].hand {
			s.drivers[i].found = false
			if err := s.setDriver(i, 1); err != nil {
				return err
			}
		}
	}
	lead := s.lead()
	asked, told := w.step.Flow.Get()
	if n, set := w.step.PumpSpeed.Get(); set && n > 0 && !told && lead >= 0 && !s.drivers[lead].hand {
		w.sol.Supply.Pump = s.drivers[lead].pump.ID
		if err := s.setDriver(lead, float64(n)); err != nil {
			return err
		}
		return s.settle(w)
	}
	if lead < 0 || !told || !(asked > 0) || s.drivers[lead].hand {
		return s.settle(w)
	}
	w.sol.Supply.Pump = s.drivers[lead].pump.ID
	s.drivers[lead].found = true
	switch d := s.drivers[lead]; {
	case d.displaces():
		return w.displace(s, lead, float64(asked))
	case d.whole:
		return w.drive(s, lead, float64(asked))
	}
	return w.search(s, lead, float64(asked))
}

// lead gives the first running pump of a section on the way from the source; -1 if
// there is none.
func (s *section) lead() int {
	best := -1
	for i, d := range s.drivers {
		if d.order >= 0 && (best < 0 || d.order < s.drivers[best].order) {
			best = i
		}
	}
	if best < 0 && len(s.drivers) > 0 {
		return 0
	}
	return best
}

// limited brings a speed within the limits.
func (w *work) limited(n float64) float64 {
	return min(max(n, float64(w.opt.LeastSpeed)), float64(w.opt.MostSpeed))
}

// displace lets a pump of positive displacement give the flow.
func (w *work) displace(s *section, lead int, flow float64) error {
	n := flow / s.drivers[lead].rated
	w.sol.Supply.Needed = Some(Ratio(n))
	if err := s.setDriver(lead, w.limited(n)); err != nil {
		return err
	}
	return s.settle(w)
}

// drive finds the speed of a centrifugal pump that the whole flow passes.
func (w *work) drive(s *section, lead int, flow float64) error {
	if err := s.keep(lead, flow); err != nil {
		return err
	}
	if err := s.settle(w); err != nil {
		return err
	}
	if err := w.ease(s, lead); err != nil {
		return err
	}
	n, within, err := w.takeSpeed(s, lead, flow)
	if err != nil || within {
		return err
	}
	if n > 1 && w.helped(s, lead) { // a return pump that was slowed can give the rest
		return w.pushOn(s, lead, flow)
	}
	return s.settle(w)
}

// takeSpeed sets a pump that was made to pass a flow to the speed that does so, and
// says whether it lies within the limits. Outside them the pump runs at the limit,
// and the section has to be solved anew.
func (w *work) takeSpeed(s *section, i int, flow float64) (n float64, within bool, err error) {
	n, ok := speedFor(s.drivers[i].curve, flow, s.adds(i))
	if ok {
		w.sol.Supply.Needed = Some(Ratio(n))
	} else if s.adds(i) > 0 {
		n = math.Inf(1)
	}
	limited := w.limited(n)
	return n, limited == n, s.setDriver(i, limited)
}

// ease slows the other pumps that the whole flow passes, from the last to the first,
// until the pressure on the way to each is nowhere below that of the air.
func (w *work) ease(s *section, lead int) error {
	var others []int
	for i, d := range s.drivers {
		if i != lead && !d.displaces() && !d.hand && d.whole {
			others = append(others, i)
		}
	}
	slices.SortFunc(others, func(a, b int) int { return cmp.Compare(s.drivers[b].order, s.drivers[a].order) })
	for _, i := range others {
		least := w.leastBefore(s, s.drivers[lead].order, s.drivers[i].order)
		if math.IsInf(least, 0) || math.IsNaN(least) || least >= 0 {
			continue
		}
		// The flow is kept, so a head taken off here goes to the pressure before.
		n, ok := speedFor(s.drivers[i].curve, float64(s.last.Flow[s.driven[i]]), s.adds(i)+least)
		if !ok {
			n = 0
		}
		s.drivers[i].found = true
		if err := s.setDriver(i, w.limited(n)); err != nil {
			return err
		}
		w.assume(Assumption{What: "speed of the return pump", Value: "regulated until the pressure before it is nowhere below that of the air", Basis: practice, Record: s.drivers[i].pump.ID})
		if err := s.settle(w); err != nil {
			return err
		}
	}
	return nil
}

// leastBefore gives the least pressure head in m on the way between two pumps, by
// their places on it; infinite where no height on it is known.
func (w *work) leastBefore(s *section, from, to int) float64 {
	least := math.Inf(1)
	for _, c := range s.chains {
		order := int(w.order[c.pieces[0].edge])
		if c.pump || len(c.links) == 0 || order <= from || order >= to {
			continue
		}
		w.alongRow(s, c, func(i, at int, head, lost float64) {
			if z, unknown := w.z(at); unknown == nil {
				least = min(least, head-z)
			}
		})
	}
	return least
}

// helped says whether another pump was slowed.
func (w *work) helped(s *section, lead int) bool {
	for i, d := range s.drivers {
		if i != lead && d.found && d.speed < float64(w.opt.MostSpeed) {
			return true
		}
	}
	return false
}

// pushOn runs the supply pump at its limit and lets the other pumps, the first of
// them first, give what is lacking.
func (w *work) pushOn(s *section, lead int, flow float64) error {
	for i, d := range s.drivers {
		if i == lead || !d.found {
			continue
		}
		if err := s.keep(i, flow); err != nil {
			return err
		}
		if err := s.settle(w); err != nil {
			return err
		}
		n, ok := speedFor(d.curve, flow, s.adds(i))
		if !ok {
			n = float64(w.opt.MostSpeed)
		}
		if err := s.setDriver(i, w.limited(n)); err != nil {
			return err
		}
		if ok && n <= float64(w.opt.MostSpeed) {
			break
		}
	}
	return s.settle(w)
}

// search finds the speed of a pump that only a part of the flow passes.
func (w *work) search(s *section, lead int, flow float64) error {
	source := -1
	for _, t := range s.taps {
		if t.end.kind == endSource {
			source = t.link
		}
	}
	for range 20 {
		if err := s.settle(w); err != nil {
			return err
		}
		n, _, err := s.solver.SpeedFor(s.driven[lead], source, Flow(flow), w.opt.LeastSpeed, w.opt.MostSpeed, w.fluid, hydraulic.Options{Start: s.last})
		var no *hydraulic.UnreachableError
		switch {
		case errors.As(err, &no) && float64(no.Most) < flow:
			n = w.opt.MostSpeed
		case errors.As(err, &no):
			n = w.opt.LeastSpeed
		case err != nil:
			return err
		default:
			w.sol.Supply.Needed = Some(n)
		}
		same := abs(float64(n)-s.drivers[lead].speed) < 1e-8
		if err := s.setDriver(lead, float64(n)); err != nil {
			return err
		}
		if same {
			break
		}
	}
	return s.settle(w)
}
