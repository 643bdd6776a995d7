package flow

import (
	"errors"
	"math"

	"rinsewright/model"
	"rinsewright/model/hydraulic"
	. "rinsewright/model/quantity"
)

const (
	settleRounds = 60
	settled      = 1e-7 // m, by which a loss that depends on the flow may still change
	unsettled    = 1e-3 // m, above which it is told
)

// start makes the solver of a section, or takes that of an earlier solve of the same
// network.
func (s *section) start(w *work, before *section) error {
	for i := range s.links {
		l := &s.links[i]
		if !l.resists() {
			continue
		}
		guess := w.step.Flow.Or(Flow(1.5 * math.Pi / 4 * l.bore * l.bore))
		l.loss = s.minor(l, float64(guess), w.fluid)
		s.net.Links[i].Law = s.pipe(l, w.opt)
	}
	if before != nil && before.solver != nil && sameShape(&s.net, &before.net) {
		s.solver, s.last = before.solver, before.last
		before.solver = nil
		for i := range s.links {
			l := &s.links[i]
			if l.resists() && before.links[i].resists() {
				l.gain = before.links[i].gain
				if s.last != nil {
					l.loss = s.minor(l, float64(s.last.Flow[i]), w.fluid)
					s.net.Links[i].Law = s.pipe(l, w.opt)
				}
				s.net.Links[i].Gain = Length(l.gain[0] + l.gain[1])
			}
		}
		for i := range s.net.Nodes {
			if err := s.solver.SetNode(i, s.net.Nodes[i]); err != nil {
				return err
			}
		}
		for i := range s.net.Links {
			if err := s.solver.SetLink(i, s.net.Links[i]); err != nil {
				return err
			}
		}
		return nil
	}
	var err error
	s.solver, err = hydraulic.NewSolver(s.net)
	return err
}

// sameShape says whether two networks differ in settings only.
func sameShape(a, b *hydraulic.Network) bool {
	if len(a.Nodes) != len(b.Nodes) || len(a.Links) != len(b.Links) {
		return false
	}
	for i := range a.Nodes {
		if a.Nodes[i].Fixed != b.Nodes[i].Fixed {
			return false
		}
	}
	for i := range a.Links {
		if a.Links[i].From != b.Links[i].From || a.Links[i].To != b.Links[i].To {
			return false
		}
	}
	return true
}

// minor gives the loss of a row of pieces beside friction, m/(m³/s)², at a flow.
func (s *section) minor(l *link, flow float64, f hydraulic.Fluid) float64 {
	sum := 0.0
	for i := l.first; i < l.first+l.number; i++ {
		q := flow
		if !l.chain.forward[i] {
			q = -q
		}
		sum += l.chain.pieces[i].loss(q, f)
	}
	return sum
}

func (s *section) pipe(l *link, opt Options) hydraulic.Law {
	return hydraulic.Pipe{Length: Length(l.length), Bore: Bore(l.bore), Roughness: min(opt.Roughness, Length(hydraulic.GreatestRoughness*l.bore)), Loss: Ratio(l.loss / velocityHead(l.bore))}
}

// set changes a link of the section.
func (s *section) set(i int, to hydraulic.Link) error {
	s.net.Links[i] = to
	return s.solver.SetLink(i, to)
}

func (s *section) setLaw(i int, law hydraulic.Law) error {
	l := s.net.Links[i]
	l.Law = law
	return s.set(i, l)
}

// settle solves the section again and again until the losses that depend on the
// flows agree with them.
func (s *section) settle(w *work) error {
	step, worst := 1.0, math.Inf(1)
	for range settleRounds {
		r, err := s.solver.Solve(w.fluid, hydraulic.Options{Start: s.last})
		if err != nil && s.last != nil {
			r, err = s.solver.Solve(w.fluid, hydraulic.Options{})
		}
		if err != nil {
			return err
		}
		s.last = r
		change := s.follow(w.fluid)
		if s.off = change; change < settled {
			return nil
		}
		if change > 0.9*worst {
			step = max(step*0.7, 0.05)
		}
		worst = change
		for i := range s.links {
			l := &s.links[i]
			if !l.resists() {
				continue
			}
			for k := range l.gain {
				l.gain[k] += step * (l.target[k] - l.gain[k])
			}
			to := s.net.Links[i]
			to.Law, to.Gain = s.pipe(l, w.opt), Length(l.gain[0]+l.gain[1])
			if to != s.net.Links[i] {
				if err := s.set(i, to); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// follow works the losses out at the last flows and gives the greatest change of a
// head loss, m.
func (s *section) follow(f hydraulic.Fluid) float64 {
	worst := 0.0
	for i := range s.links {
		l := &s.links[i]
		l.target = [2]float64{}
		if !l.resists() {
			continue
		}
		q := float64(s.last.Flow[i])
		loss := s.minor(l, q, f)
		worst = max(worst, math.Abs(loss-l.loss)*q*q)
		l.loss = loss
	}
	for i := range s.tees {
		t := &s.tees[i]
		var in [3]float64
		for k, leg := range t.legs {
			in[k] = float64(s.last.Flow[leg.link])
			if leg.away {
				in[k] = -in[k]
			}
		}
		for k, lost := range t.losses(in, f) {
			// A link gains what it does not lose along its own way.
			gain := -lost
			if s.last.Flow[t.legs[k].link] < 0 {
				gain = lost
			}
			side := 1
			if t.legs[k].away {
				side = 0
			}
			s.links[t.legs[k].link].target[side] += gain
		}
	}
	for i := range s.links {
		for k, target := range s.links[i].target {
			worst = max(worst, math.Abs(target-s.links[i].gain[k]))
		}
	}
	return worst
}

// explain says in words why a section was not solved, and where.
func (w *work) explain(s *section, err error) {
	var no *hydraulic.ConvergenceError
	var unfed *hydraulic.UnfedError
	switch {
	case errors.As(err, &no):
		w.fail(s.recordOf(w, no.Link), "the flow was not found: at %s the head is still off by %.3g m", no.Link, float64(no.Head))
	case errors.As(err, &unfed):
		at := model.Place{}
		if len(unfed.Names) > 0 {
			at = s.recordOf(w, unfed.Names[0])
		}
		w.fail(at, "the flow has no open way on: %v", err)
	default:
		w.fail(model.Place{}, "%v", err)
	}
}

// recordOf gives the record whose name stands for a link or node.
func (s *section) recordOf(w *work, name string) model.Place {
	for _, r := range w.p.Circuit.Tagged(name) {
		return model.PlaceOf(r.RecordID())
	}
	if w.p.Circuit.Record(model.ID(name)) != nil {
		return model.PlaceOf(model.ID(name))
	}
	return model.Place{}
}
