package flow

import (
	"math"
	"slices"

	"rinsewright/model"
	"rinsewright/model/hydraulic"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// keepTap lets a vessel give a flow; the level follows.
func (s *section) keepTap(t *tap, flow float64) error {
	t.keeps, t.flow = true, flow
	return s.setLaw(t.link, hydraulic.ConstantFlow{Flow: Flow(flow)})
}

// openTapAt lets a vessel give what flows, from a level above the plant's zero.
func (s *section) openTapAt(t *tap, level float64) error {
	t.keeps, t.level = false, level
	n := s.net.Nodes[t.surface]
	n.Level = Length(level)
	s.net.Nodes[t.surface] = n
	if err := s.solver.SetNode(t.surface, n); err != nil {
		return err
	}
	return s.setLaw(t.link, openTap)
}

// stands gives the level of a vessel above its outlet in the last solution, m.
func (s *section) stands(w *work, t *tap) float64 {
	return float64(s.last.Head[t.outlet]) - gravityHead(t.end.gas, w.fluid) - t.end.level
}

// returns solves a section that begins at vessels on the way: what comes in must go
// out. With the return at full speed the levels follow; pumps that could take more
// are slowed until the lowest level is just that of the outlet.
func (w *work) returns(s *section) error {
	taps := s.draws()
	state := make([]*Vessel, len(taps))
	for k, t := range taps {
		state[k] = w.vessel(t.end.record)
		state[k].Pumps, state[k].Gravity = nil, len(s.drivers) == 0
		for _, d := range s.drivers {
			state[k].Pumps = append(state[k].Pumps, d.pump.ID)
		}
		if err := s.keepTap(t, float64(w.inflow[t.end.record].Or(0))); err != nil {
			return err
		}
	}
	for i := range s.drivers {
		if !s.drivers[i].hand {
			s.drivers[i].found = false
			if err := s.setDriver(i, float64(w.opt.MostSpeed)); err != nil {
				return err
			}
		}
	}
	if i := s.displacing(); i >= 0 {
		return w.displaced(s, i, taps, state)
	}
	if err := s.settle(w); err != nil {
		return err
	}
	lowest := math.Inf(1)
	for k, t := range taps {
		level := s.stands(w, t)
		lowest = min(lowest, level)
		state[k].FullSpeed = length(level)
		state[k].Balance = LevelFound
		if level < 0 {
			state[k].Balance = DrawsAir
		}
	}
	if err := w.fills(s, taps, state); err != nil {
		return err
	}
	if lowest < -levelTolerance {
		if err := w.regulate(s, taps, state); err != nil {
			return err
		}
	}
	for k, t := range taps {
		if state[k].Balance != BowlFills {
			state[k].Level = puddle(s.stands(w, t))
		}
		state[k].Outflow = Some(s.last.Flow[t.link])
	}
	if len(s.drivers) == 0 {
		w.runsPartFull(s, taps, state)
	}
	return w.capacity(s, taps, state)
}

// levelTolerance is the level in m that counts as the outlet's own.
const levelTolerance = 1e-4

func (s *section) draws() []*tap {
	var out []*tap
	for _, t := range s.taps {
		if t.end.kind == endDraw {
			out = append(out, t)
		}
	}
	return out
}

// displacing gives a running pump of positive displacement, or -1.
func (s *section) displacing() int {
	for i, d := range s.drivers {
		if d.displaces() {
			return i
		}
	}
	return -1
}

// fills lets the vessels whose level would rise above their top give what they can
// when full.
func (w *work) fills(s *section, taps []*tap, state []*Vessel) error {
	for range taps {
		changed := false
		for k, t := range taps {
			if !t.keeps {
				continue
			}
			height, known := w.p.Circuit.Part(t.end.record).(*model.Vessel).Height.Get()
			if !known {
				state[k].Missing = []network.Missing{{Record: t.end.record, Key: "height_m"}}
				continue
			}
			if s.stands(w, t) > float64(height) {
				state[k].Balance, state[k].Level = BowlFills, Some(height)
				if err := s.openTapAt(t, t.end.level+float64(height)); err != nil {
					return err
				}
				changed = true
			}
		}
		if !changed {
			return nil
		}
		if err := s.settle(w); err != nil {
			return err
		}
	}
	return nil
}

// regulate slows the pump of a return until the lowest puddle just reaches its
// outlet.
func (w *work) regulate(s *section, taps []*tap, state []*Vessel) error {
	i := s.lead()
	if i < 0 || s.drivers[i].hand {
		return nil
	}
	for range 10 {
		lowest := math.Inf(1)
		for _, t := range taps {
			if t.keeps {
				lowest = min(lowest, s.stands(w, t))
			}
		}
		if math.IsInf(lowest, 0) || math.IsNaN(lowest) || abs(lowest) < levelTolerance {
			break
		}
		n, ok := speedFor(s.drivers[i].curve, float64(s.last.Flow[s.driven[i]]), s.adds(i)+lowest)
		if !ok {
			n = 0
		}
		n = w.limited(n)
		if n == s.drivers[i].speed {
			break
		}
		if err := s.setDriver(i, n); err != nil {
			return err
		}
		s.drivers[i].found = true
		if err := s.settle(w); err != nil {
			return err
		}
	}
	w.assume(Assumption{What: "speed of the return pump", Value: "regulated until the bowl is just kept empty", Basis: practice, Record: s.drivers[i].pump.ID})
	for k, t := range taps {
		state[k].Regulated = t.keeps && s.stands(w, t) > -2*levelTolerance
	}
	return nil
}

// displaced is a return with a pump of positive displacement: it takes what it takes.
func (w *work) displaced(s *section, i int, taps []*tap, state []*Vessel) error {
	d := s.drivers[i]
	come := 0.0
	for _, t := range taps {
		come += t.flow
	}
	most := d.rated * d.speed // at full speed, or as set by hand
	if !d.hand {
		d.found = true
		if err := s.setDriver(i, w.limited(come/d.rated)); err != nil {
			return err
		}
	}
	// The first vessel gives what the pump takes beside the others.
	if err := s.openTapAt(taps[0], taps[0].end.level); err != nil {
		return err
	}
	if err := s.settle(w); err != nil {
		return err
	}
	takes := d.rated * d.speed
	for k, t := range taps {
		v := state[k]
		v.Outflow = Some(s.last.Flow[t.link])
		v.Capacity = Some(Flow(most * t.flow / max(come, 1e-12)))
		v.Level = puddle(s.stands(w, t))
		v.Regulated = abs(takes-come) <= 1e-9*come
		switch {
		case most < come*(1-1e-9):
			v.Balance = BowlFills
			if h, known := w.p.Circuit.Part(t.end.record).(*model.Vessel).Height.Get(); known {
				v.Level = Some(h)
			}
		case most > come*(1+1e-9):
			v.Balance = DrawsAir
		default:
			v.Balance = LevelFound
		}
	}
	return nil
}

// capacity finds what the return takes at full speed from puddles that just reach
// their outlets, and leaves the section as it was.
func (w *work) capacity(s *section, taps []*tap, state []*Vessel) error {
	full := s.copied()
	for i, d := range full.drivers {
		if !d.hand {
			if err := full.setDriver(i, float64(w.opt.MostSpeed)); err != nil {
				return err
			}
		}
	}
	for _, t := range full.draws() {
		if err := full.openTapAt(t, t.end.level); err != nil {
			return err
		}
	}
	if err := full.settle(w); err != nil {
		return nil // the section itself is solved; its capacity stays unknown
	}
	for k, t := range full.draws() {
		state[k].Capacity = Some(full.last.Flow[t.link])
	}
	return nil
}

// vessel gives the state of a vessel on the way, made where needed.
func (w *work) vessel(id model.ID) *Vessel {
	for i := range w.sol.Vessels {
		if w.sol.Vessels[i].Vessel == id {
			return &w.sol.Vessels[i]
		}
	}
	panic("flow: vessel " + string(id) + " is not on the way") // all were entered before
}

// copied gives a section that can be changed beside this one.
func (s *section) copied() *section {
	c := s.duplicate()
	c.solver = s.solver.Clone()
	return c
}

// duplicate copies a section but for its solver.
func (s *section) duplicate() *section {
	c := *s
	c.net.Nodes = slices.Clone(s.net.Nodes)
	c.net.Links = slices.Clone(s.net.Links)
	c.links = slices.Clone(s.links)
	c.taps, c.drivers, c.solver = nil, nil, nil
	for _, t := range s.taps {
		u := *t
		c.taps = append(c.taps, &u)
		c.links[u.link].tap = &u
	}
	for i, d := range s.drivers {
		u := *d
		c.drivers = append(c.drivers, &u)
		c.links[s.driven[i]].driver = &u
	}
	return &c
}

// puddle gives a level that was found, without what the solve leaves of a level of
// nothing.
func puddle(level float64) Opt[Length] {
	if level < 1e-6 {
		level = 0
	}
	return length(level)
}
