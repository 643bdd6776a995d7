package flow

import (
	"errors"
	"math"
	"strings"

	"rinsewright/model"
	"rinsewright/model/hydraulic"
	. "rinsewright/model/quantity"
)

const (
	settleRounds = 40
	settled      = 1e-7 // m, by which a loss that depends on the flow may still change
	unsettled    = 1e-3 // m, above which it is told
	hopeless     = 1e-2 // m, above which there is no solution
)

// start makes the solver of a section, or takes that of an earlier solve of the same
// network.
func (s *section) start(w *work, before kept) error {
	for i := range s.links {
		l := &s.links[i]
		if !l.resists() {
			continue
		}
		guess := w.step.Flow.Or(Flow(1.5 * math.Pi / 4 * l.bore * l.bore))
		l.loss = s.minor(l, float64(guess), w.fluid)
		s.net.Links[i].Law = s.pipe(l, w.opt)
	}
	if before.solver != nil && sameShape(&s.net, &before.net) {
		s.solver, s.last = before.solver, before.last
		for i := range s.links {
			l := &s.links[i]
			if l.resists() && before.links[i].resists() {
				l.tees = before.links[i].tees
				if s.last != nil {
					l.loss = s.minor(l, float64(s.last.Flow[i]), w.fluid)
				}
				s.net.Links[i].Law = s.pipe(l, w.opt)
				s.net.Links[i].Gain = Length(l.tees[0].gain + l.tees[1].gain)
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
	return hydraulic.Pipe{Length: Length(l.length), Bore: Bore(l.bore), Roughness: min(opt.Roughness, Length(hydraulic.GreatestRoughness*l.bore)), Loss: Ratio((l.loss + l.tees[0].square + l.tees[1].square) / velocityHead(l.bore))}
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
// flows agree with them. Tees that find no rest, because the flow in them nearly
// turns round, are taken with the simpler losses of Hooper.
func (s *section) settle(w *work) error {
	for pass := range 3 {
		if pass > 0 {
			s.simplify(w, pass > 1)
		}
		done, err := s.rounds(w)
		if done || err != nil || len(s.tees) == 0 {
			return err
		}
	}
	return nil
}

// simplify takes the tees that do not agree with the last solution, or all, with the
// losses of Hooper.
func (s *section) simplify(w *work, all bool) {
	for i := range s.tees {
		t := &s.tees[i]
		if t.simple || !all && s.teeOff(t, w.fluid) < settled {
			continue
		}
		t.simple = true
		w.assume(Assumption{What: "losses of the tee", Value: "after Hooper for each leg", Basis: "Crane's laws give no steady flow: it nearly turns round", Record: w.p.Nodes[t.node].Part})
	}
}

// rounds solves the section until its losses agree; not done if they never do.
func (s *section) rounds(w *work) (done bool, err error) {
	step, worst := 1.0, math.Inf(1)
	for range settleRounds {
		r, err := s.solver.Solve(w.fluid, hydraulic.Options{Start: s.last})
		if err != nil && s.last != nil {
			r, err = s.solver.Solve(w.fluid, hydraulic.Options{})
		}
		if err != nil {
			return false, err
		}
		s.last = r
		if s.off = s.disagrees(w.fluid); s.off < settled {
			return true, nil
		}
		if s.off > 0.9*worst {
			step = max(step*0.7, 0.1)
		}
		worst = s.off
		if err := s.follow(w, step); err != nil {
			return false, err
		}
	}
	return false, nil
}

// disagrees gives the greatest difference, in m, between the head that a link or tee
// loses in the last solution and what it would lose at the flows there.
func (s *section) disagrees(f hydraulic.Fluid) float64 {
	worst := 0.0
	for i := range s.links {
		if l := &s.links[i]; l.resists() {
			q := float64(s.last.Flow[i])
			worst = max(worst, math.Abs(s.minor(l, q, f)-l.loss)*q*q)
		}
	}
	for i := range s.tees {
		worst = max(worst, s.teeOff(&s.tees[i], f))
	}
	return worst
}

// teeOff is the same for one tee.
func (s *section) teeOff(t *tee, f hydraulic.Fluid) float64 {
	worst, in := 0.0, s.into(t)
	for k, lost := range t.losses(in, f) {
		q, side := t.legs[k].along(in[k])
		worst = max(worst, math.Abs(math.Copysign(lost, lost*q)-s.links[t.legs[k].link].tees[side].at(q)))
	}
	return worst
}

// follow changes the losses that depend on the flows towards those of the last
// solution, those of tees by a part of the step.
func (s *section) follow(w *work, step float64) error {
	for i := range s.links {
		if l := &s.links[i]; l.resists() {
			l.loss = s.minor(l, float64(s.last.Flow[i]), w.fluid)
		}
	}
	for i := range s.tees {
		t := &s.tees[i]
		in := s.into(t)
		lost, slope := t.losses(in, w.fluid), t.slopes(in, w.fluid)
		for k := range t.legs {
			q, side := t.legs[k].along(in[k])
			x := &s.links[t.legs[k].link].tees[side]
			want := x.at(q) + step*(math.Copysign(lost[k], lost[k]*q)-x.at(q))
			// The same loss at this flow, and the same slope as far as it rises.
			x.square = 0
			if a := max(math.Abs(q), leastShare*t.greatest(in)); a > 0 {
				x.square = max(0, slope[k]) / (2 * a)
			}
			x.gain = x.square*q*math.Abs(q) - want
		}
	}
	for i := range s.links {
		l := &s.links[i]
		if !l.resists() {
			continue
		}
		to := s.net.Links[i]
		to.Law, to.Gain = s.pipe(l, w.opt), Length(l.tees[0].gain+l.tees[1].gain)
		if to != s.net.Links[i] {
			if err := s.set(i, to); err != nil {
				return err
			}
		}
	}
	return nil
}

// into gives the flows into a tee from its legs.
func (s *section) into(t *tee) [3]float64 {
	var in [3]float64
	for k, leg := range t.legs {
		in[k] = float64(s.last.Flow[leg.link])
		if leg.away {
			in[k] = -in[k]
		}
	}
	return in
}

// explain says in words why a section was not solved, and where.
func (w *work) explain(s *section, err error) {
	var no *hydraulic.ConvergenceError
	var unfed *hydraulic.UnfedError
	switch {
	case errors.As(err, &no):
		w.fail(s.recordOf(w, no.Link), "the flow was not found: at %s the head is still off by %v", no.Link, Length(no.Head))
	case errors.As(err, &unfed):
		at := model.Place{}
		if len(unfed.Names) > 0 {
			at = s.recordOf(w, unfed.Names[0])
		}
		w.fail(at, "what a pump or vessel gives has no open way on: %v at %s", -unfed.Demand, strings.Join(unfed.Names, ", "))
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
