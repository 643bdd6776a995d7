package flow

import (
	"errors"
	"fmt"
	"slices"

	"rinsewright/model"
	"rinsewright/model/hydraulic"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// Solve finds what flows in a step. h are the heights of the plant.
//
// What hinders a solution (no route, unknown data, no convergence) stands in the
// solution, with all that could be found without it; the error is of a call that
// cannot be: nil arguments, or a route of another step.
func Solve(p *network.Plant, h *network.Heights, step *model.Step, opt Options) (*Solution, error) {
	return new(Solver).Solve(p, h, step, opt)
}

// Solver solves steps of a circuit while it is edited: each solve starts from the
// last one of the same step where the network still has the same shape. The zero
// Solver is ready. Not for use from several goroutines at once.
type Solver struct {
	before map[model.ID][]kept
}

// kept is what a section leaves for the next solve of its step. Solutions that were
// handed out never look at it.
type kept struct {
	net    hydraulic.Network
	links  []link
	solver *hydraulic.Solver
	last   *hydraulic.Result
}

// Solve is as the function [Solve].
func (s *Solver) Solve(p *network.Plant, h *network.Heights, step *model.Step, opt Options) (*Solution, error) {
	switch {
	case p == nil || h == nil || step == nil:
		return nil, errors.New("flow: plant, heights and step must be given")
	case len(h.Of) != len(p.Nodes):
		return nil, errors.New("flow: the heights are of another plant")
	}
	route := opt.Route
	if route == nil {
		route = p.Route(p.LineUp(step))
	} else if route.LineUp == nil || route.LineUp.Step != step || len(route.InFlow) != len(p.Edges) {
		return nil, fmt.Errorf("flow: the route is not of step %q in this plant", step.Name)
	}
	w := &work{p: p, h: h, step: step, opt: opt.withDefaults(), route: route, assumed: map[assumed]struct{}{}, running: map[model.ID]bool{}}
	for _, id := range step.Running {
		w.running[id] = true
	}
	w.sol = &Solution{Step: step, Plant: p, Route: route, work: w, Edges: make([]Edge, len(p.Edges)), Nodes: make([]Node, len(p.Nodes))}
	w.sol.Supply.Asked = step.Flow
	w.run(s.before[step.ID])
	if s.before == nil {
		s.before = map[model.ID][]kept{}
	}
	now := make([]kept, len(w.sections))
	for i, sec := range w.sections {
		now[i] = kept{sec.net, sec.links, sec.solver, sec.last}
		sec.solver = nil
	}
	s.before[step.ID] = now
	sortAssumptions(w.sol.Assumptions)
	w.sol.Missing = sortMissing(w.sol.Missing)
	return w.sol, nil
}

// Forget drops what is kept of earlier solves.
func (s *Solver) Forget() { s.before = nil }

func (w *work) run(before []kept) {
	switch {
	case !w.route.Found:
		w.fail(model.PlaceOf(w.step.ID), "no way leads from source to destination: %s", w.route.Why)
		return
	case len(w.route.LineUp.Unknown) > 0:
		for _, id := range w.route.LineUp.Unknown {
			if w.matters(id) {
				w.sol.Missing = append(w.sol.Missing, network.Missing{Record: id, Key: "normal"})
			}
		}
		if len(w.sol.Missing) > 0 {
			return
		}
	}
	known := w.fill()
	w.number()
	w.choose()
	if !slices.Contains(w.live, true) {
		if len(w.sol.Failures) == 0 {
			w.fail(model.PlaceOf(w.step.ID), "no liquid flows in this step")
		}
		return
	}
	w.divide(w.chains())
	w.assume(Assumption{What: "roughness of tube walls", Value: fmt.Sprintf("%.1f µm", float64(w.opt.Roughness)*1e6), Basis: "drawn tube, from memory of Crane TP-410; stainless steel is given with 1.5 to 4.7 µm"})
	w.assume(Assumption{What: "loss of bends", Value: "radius 1.5 of the bore, K after Hooper", Basis: "W. B. Hooper, Chem. Eng. 88 (1981) 96"})
	w.assume(Assumption{What: "loss of tees", Value: "Crane TP-410 where three legs flow, else Hooper", Basis: "Crane TP-410 (2009), formulae 2-35 to 2-38"})
	w.assume(Assumption{What: "loss of instruments in the line", Value: "none", Basis: practice})
	for i, s := range w.sections {
		w.build(s)
		w.sol.Missing = append(w.sol.Missing, s.missing...)
		if !known || s.broken || len(s.missing) > 0 {
			continue
		}
		var old kept
		if i < len(before) {
			old = before[i]
		}
		if err := s.start(w, old); err != nil {
			w.explain(s, err)
			s.solver = nil
		}
	}
	for _, part := range w.p.Circuit.Parts() {
		if id := part.RecordID(); w.through[id] {
			w.sol.Vessels = append(w.sol.Vessels, Vessel{Vessel: id})
		}
	}
	if known {
		w.solveAll()
	}
	w.report()
}

// matters says whether liquid comes to a valve.
func (w *work) matters(id model.ID) bool {
	for _, n := range w.p.PartNodes(id) {
		for _, a := range w.p.Graph().Incident(n) {
			if w.route.Wet[a.Edge] {
				return true
			}
		}
	}
	return false
}

// number gives the edges of one way from source to destination their places.
func (w *work) number() {
	w.order = make([]int32, len(w.p.Edges))
	for i := range w.order {
		w.order[i] = -1
	}
	for i, e := range w.route.Ways {
		w.order[e] = int32(i)
	}
}

const (
	vesselRounds  = 200
	vesselSettled = 1e-8 // m³/s
)

// solveAll solves section after section, each when what comes into its vessels is
// known. Vessels that feed each other in a ring are gone over until they agree.
func (w *work) solveAll() {
	waiting := slices.Clone(w.sections)
	waiting = slices.DeleteFunc(waiting, func(s *section) bool { return s.solver == nil })
	for len(waiting) > 0 {
		rest := waiting[:0:0]
		for _, s := range waiting {
			if !w.ready(s) {
				rest = append(rest, s)
				continue
			}
			w.solveSection(s)
			w.collect()
		}
		if len(rest) == len(waiting) {
			w.ring(rest)
			return
		}
		waiting = rest
	}
}

// ready says whether the flow into every vessel that a section begins at is known.
func (w *work) ready(s *section) bool {
	for _, t := range s.taps {
		if t.end.kind == endDraw && !w.inflow[t.end.record].Known() {
			return false
		}
	}
	return true
}

// collect adds up what comes into the vessels on the way, where all that leads into
// them is solved.
func (w *work) collect() {
	sum := map[model.ID]float64{}
	unsolved := map[model.ID]bool{}
	for _, s := range w.sections {
		for _, c := range s.chains {
			for _, n := range [2]int{c.from, c.to} {
				if n < len(w.p.Nodes) {
					continue
				}
				id := w.mouths[n-len(w.p.Nodes)].vessel
				if !s.solved {
					unsolved[id] = true
				} else if n == c.to {
					sum[id] += s.flow(c)
				} else {
					sum[id] -= s.flow(c)
				}
			}
		}
	}
	for id := range w.through {
		switch {
		case !unsolved[id]:
			w.inflow[id] = Some(Flow(sum[id]))
		default:
			delete(w.inflow, id)
			if q, asked := w.step.Flow.Get(); asked && w.takesAll(id) {
				w.inflow[id] = Some(q)
			}
		}
	}
}

// takesAll says whether the whole flow of the route passes a vessel.
func (w *work) takesAll(id model.ID) bool {
	for _, e := range w.p.PartEdges(id) {
		if w.p.Edges[e].Path < 0 && w.route.Whole[e] {
			return true
		}
	}
	return false
}

// flow gives the flow of a chain from its beginning to its end, m³/s.
func (s *section) flow(c *chain) float64 {
	if len(c.links) == 0 || s.last == nil {
		return 0
	}
	q := float64(s.last.Flow[c.links[0]])
	for _, i := range c.links {
		if s.last.Flow[i] == 0 { // a one-way part that holds
			return 0
		}
	}
	return q
}

// ring solves sections that wait for each other: vessels that feed each other. It
// begins with the flow asked and goes round until the flows agree.
func (w *work) ring(rest []*section) {
	for _, s := range rest {
		for _, t := range s.taps {
			if t.end.kind == endDraw && !w.inflow[t.end.record].Known() {
				if _, mayCome := w.feeds(t.end.record, rest); !mayCome {
					return // what comes into the vessel depends on a section that lacks data
				}
				w.inflow[t.end.record] = Some(w.step.Flow.Or(0))
			}
		}
	}
	var off float64
	for range vesselRounds {
		before := map[model.ID]Flow{}
		for id, q := range w.inflow {
			before[id] = q.Or(0)
		}
		for _, s := range rest {
			w.solveSection(s)
			w.collect()
			for id, q := range before {
				if !w.inflow[id].Known() {
					w.inflow[id] = Some(q)
				}
			}
		}
		off = 0
		for id, q := range before {
			now := w.inflow[id].Or(0)
			off = max(off, abs(float64(now-q)))
			w.inflow[id] = Some((now + q) / 2)
		}
		if off < vesselSettled {
			return
		}
	}
	w.fail(model.PlaceOf(w.step.ID), "the flows between vessels that feed each other do not settle: still off by %v", Flow(off))
}

// feeds says whether every section that leads into a vessel is solved or among some.
func (w *work) feeds(id model.ID, among []*section) (any, all bool) {
	all = true
	for _, s := range w.sections {
		for _, c := range s.chains {
			for _, n := range [2]int{c.from, c.to} {
				if n >= len(w.p.Nodes) && w.mouths[n-len(w.p.Nodes)].vessel == id {
					any = true
					all = all && (s.solved || slices.Contains(among, s))
				}
			}
		}
	}
	return any, all
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

// solveSection sets pumps and levels of one section and solves it.
func (w *work) solveSection(s *section) {
	var err error
	switch {
	case s.begins(endSource):
		err = w.supply(s)
	case s.begins(endDraw):
		err = w.returns(s)
	default:
		err = s.settle(w)
	}
	if err != nil {
		w.explain(s, err)
		s.solved = false
		return
	}
	s.solved = true
	switch {
	case s.off > hopeless:
		w.fail(model.PlaceOf(w.step.ID), "the flow was not found: the losses of tees do not settle, they are still off by %v", Length(s.off))
		s.solved = false
	case s.off > unsettled:
		w.assume(Assume(Say("settled to %v only", Length(s.off)), Assumption{What: "losses that depend on how the flow divides", Basis: "the flow in a tee nearly turns round"}))
	}
}

func (s *section) begins(kind endKind) bool {
	return slices.ContainsFunc(s.taps, func(t *tap) bool { return t.end.kind == kind })
}

// setDriver gives a pump its speed.
func (s *section) setDriver(i int, speed float64) error {
	s.drivers[i].speed = speed
	return s.setLaw(s.driven[i], s.drivers[i].law())
}

// keep makes a pump's link pass a flow whatever it takes.
func (s *section) keep(i int, flow float64) error {
	return s.setLaw(s.driven[i], hydraulic.ConstantFlow{Flow: Flow(flow)})
}

// adds gives the head in m that a pump adds in the last solution.
func (s *section) adds(i int) float64 { return -float64(s.last.Drop[s.driven[i]]) }
