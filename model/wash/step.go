package wash

import (
	"math"
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// step runs one step.
func (s *sim) step(i int) {
	st := s.steps[i]
	r := &s.rec.Steps[i]
	r.Step, r.Start = st, Duration(s.clock)
	r.Use.Steam, r.Use.Electricity = Some(Mass(0)), Some(Energy(0))
	s.rec.film.begin(s, i)
	var f *failure
	switch purpose := st.Purpose.Or(""); {
	case purpose == model.Production:
		f = &failure{why: "production is not simulated", at: model.PlaceOf(st.ID)}
	case purpose == model.Hold:
		f = s.hold(r)
	case purpose == model.Drain:
		f = s.drain(r)
	case purpose == model.AirBlow || s.blows(st):
		f = s.blow(r)
	default:
		f = s.run(i, r)
	}
	if f != nil {
		r.Why, r.At, r.words = f.why, f.at, f.words
		if r.Why == "" {
			r.Why = f.words.String()
		}
		r.Missing = append(r.Missing, f.missing...)
		r.Missing = unique(r.Missing)
	}
	s.clock += float64(r.Time)
	s.rec.film.end(s, i)
	s.sampleTanks()
}

// blows says whether a step sends air.
func (s *sim) blows(st *model.Step) bool {
	m := st.Medium.Or("")
	return m == model.Air || m == model.Gas
}

// run simulates a step in which liquid flows.
func (s *sim) run(i int, r *Step) *failure {
	st := r.Step
	if !st.Time.Known() && !ends(st) && st.Purpose != Some(model.Prepare) {
		return &failure{why: "the step tells no time", at: model.Place{Element: st.ID, Key: "time_min"},
			missing: []network.Missing{{Record: st.ID, Key: "time_min"}}}
	}
	if c, record, is := s.strange(st); is {
		return &failure{why: strings.ReplaceAll(string(c), "-", " ") + " is not simulated: its density, viscosity and conductivity are not known", at: model.Place{Element: record, Key: "chemical"}}
	}
	if t := s.tank(st.Source); t != nil && t.strange != "" {
		return &failure{why: "what " + s.name(t.id) + " holds is not simulated: " + strings.ReplaceAll(string(t.strange), "-", " "), at: model.Place{Element: t.id, Key: "chemical"}}
	}
	if t := s.tank(st.Source); t != nil && !t.known {
		f := &failure{why: "what " + s.name(t.id) + " holds is not known", at: model.Place{Element: t.id, Key: "level_m"}}
		f.missing = append(f.missing, network.Missing{Record: t.id, Key: "level_m"})
		for _, key := range t.missing {
			f.missing = append(f.missing, network.Missing{Record: t.id, Key: key})
		}
		return f
	}
	q, f := s.flows(r)
	if f != nil {
		return f
	}
	c, f := s.circulate(i, st, r.Flow, q)
	if f != nil {
		return f
	}
	r.Simulated = true
	s.rec.film.lay(c)
	f = c.run(r)
	c.unload()
	if !r.Simulated {
		return f
	}
	s.cool(float64(r.Time), q)
	s.bill(c, r)
	return f
}

// ends says whether a step tells an end beside its time.
func ends(st *model.Step) bool {
	return st.EndConductivity.Known() || st.EndTemperature.Known() || st.EndVolume.Known()
}

// flows gives the flow in every edge of a step, m³/s.
func (s *sim) flows(r *Step) ([]float64, *failure) {
	st := s.complete(r.Step)
	sol, err := s.solver.Solve(s.p, s.h, st, s.opt.Flow)
	if err != nil {
		return nil, &failure{why: err.Error(), at: model.PlaceOf(st.ID)}
	}
	r.Flow = sol
	route := sol.Route
	if !route.Found {
		return nil, &failure{why: route.Why, at: route.At}
	}
	q := make([]float64, len(s.p.Edges))
	whole := true
	for e := range q {
		x, known := sol.Edges[e].Flow.Get()
		q[e] = float64(x)
		whole = whole && (known || !route.InFlow[e] || s.p.Edges[e].Path < 0)
	}
	if !whole {
		if q = s.undivided(st, route); q == nil {
			return nil, unsolved(st, sol)
		}
	}
	s.throttle(st, sol, q)
	s.through(q, route)
	return q, nil
}

// throttle holds a supply that no pump draws from to the flow that the step asks for and
// to the most that it gives.
func (s *sim) throttle(st *model.Step, sol *flow.Solution, q []float64) {
	t, ok := s.p.Circuit.Part(st.Source).(*model.Terminal)
	is, solved := sol.Supply.Flow.Get()
	if !ok || !solved || !(is > 0) || len(st.Running) > 0 {
		return
	}
	most := min(st.Flow.Or(is), t.Most.Or(is))
	if most >= is {
		return
	}
	for e := range q {
		q[e] *= float64(most / is)
	}
	s.assumeOf("flow of "+st.Name, Say("throttled to %v, by its pressure alone %v would flow", most, is), "the least of what the step asks for and what the supply gives", st.ID, "flow_m3h")
}

// complete fills in a temperature or strength that a step leaves out with that of its
// source, which flow needs for density and viscosity.
func (s *sim) complete(st *model.Step) *model.Step {
	if st.Temperature.Known() && st.Strength.Known() {
		return st
	}
	now := *st
	celsius, strength := s.air, Strength(0)
	if t := s.tank(st.Source); t != nil {
		if k := t.holds.celsius(); !math.IsNaN(k) {
			celsius = k
		}
		if c := chemicalIn(st); c >= 0 {
			strength = Strength(t.holds.solute(c))
		}
	} else if term, ok := s.p.Circuit.Part(st.Source).(*model.Terminal); ok {
		if k, ok := term.Temperature.Get(); ok {
			celsius = k.Celsius()
		}
		strength = term.Strength.Or(0)
	}
	if !st.Temperature.Known() {
		now.Temperature = Some(Celsius(celsius))
	}
	if !st.Strength.Known() {
		now.Strength = Some(strength)
	}
	return &now
}

// undivided gives the flows of a route without branches where the network was not
// solved: that of the step, else the rated one of a running pump of positive
// displacement; nil where neither is known.
func (s *sim) undivided(st *model.Step, route *network.Route) []float64 {
	flow, known := st.Flow.Get()
	basis := "as the step asks; the network was not solved"
	for _, id := range st.Running {
		pump, ok := s.p.Circuit.Part(id).(*model.Pump)
		if known || !ok || !pump.RatedFlow.Known() {
			continue
		}
		if kind := s.p.Catalogue.Kind(pump.Kind); kind != nil && kind.Has(catalogue.TraitDisplacement) {
			flow, known = pump.RatedFlow.Get()
			basis = "the rated one of " + s.name(id)
		}
	}
	if t, ok := s.p.Circuit.Part(st.Source).(*model.Terminal); ok && !known {
		flow, known = t.Most.Get()
		basis = "the most that " + s.name(t.ID) + " gives"
	}
	if !known {
		return nil
	}
	q := make([]float64, len(s.p.Edges))
	for e, in := range route.InFlow {
		if !in {
			continue
		}
		if !route.Whole[e] || route.Forward[e] == 0 {
			return nil
		}
		q[e] = float64(route.Forward[e]) * float64(flow)
	}
	s.assumeOf("flow of "+st.Name, Say("%v, %s", flow, basis), practice, st.ID, "flow_m3h")
	return q
}

// through gives the insides of vessels on the route what comes into them.
func (s *sim) through(q []float64, route *network.Route) {
	for e := range s.p.Edges {
		edge := &s.p.Edges[e]
		if edge.Path >= 0 {
			continue
		}
		q[e] = 0
		if !route.InFlow[e] {
			continue
		}
		for _, x := range s.p.IncidentEdges(edge.From) {
			if x == e {
				continue
			}
			if s.p.Edges[x].To == edge.From {
				q[e] += q[x]
			} else {
				q[e] -= q[x]
			}
		}
	}
}

// unsolved says why the flow of a step is not known.
func unsolved(st *model.Step, sol *flow.Solution) *failure {
	f := &failure{why: "the flow is not known", at: model.PlaceOf(st.ID), missing: slices.Clone(sol.Missing)}
	if len(sol.Failures) > 0 {
		f.words = Say("%s: %v", f.why, sol.Failures[0].Words())
		f.why = f.words.String()
		f.at = sol.Failures[0].At
	}
	return f
}

// cool lets standing tubes exchange heat with their steel and lose it to the air for a
// time in s. q is the flow of every edge; nil: nothing flows.
func (s *sim) cool(seconds float64, q []float64) {
	if seconds <= 0 {
		return
	}
	steps := int(math.Ceil(min(max(seconds/30, 1), 60)))
	if q == nil {
		for range steps {
			s.topUp(seconds / float64(steps))
			s.stands(nil, seconds/float64(steps))
		}
	}
	for e := range s.walls {
		if len(s.walls[e]) == 0 || len(s.held[e]) == 0 || q != nil && math.Abs(q[e]) >= leastFlow {
			continue
		}
		l := line{slugs: slices.Clone(s.held[e])}
		slices.Reverse(l.slugs) // the order of a line that flows forward
		v := float64(s.p.Edges[e].Volume.Or(0))
		l.pieces = []piece{{edge: e, forward: true, end: v, walls: s.walls[e]}}
		for range steps {
			s.lostNow(l.exchange(seconds/float64(steps), s.air, false))
		}
		slices.Reverse(l.slugs)
		s.held[e] = l.slugs
	}
}

func (s *sim) lostNow(q float64) {
	s.lost += q
	s.rec.Steps[s.now()].Use.Lost += Energy(q)
}

// now is the step that runs.
func (s *sim) now() int { return s.rec.film.step }

// hold lets everything stand for the time of a step.
func (s *sim) hold(r *Step) *failure {
	t, ok := r.Step.Time.Get()
	if !ok {
		return &failure{why: "the step tells no time", missing: []network.Missing{{Record: r.Step.ID, Key: "time_min"}}, at: model.Place{Element: r.Step.ID, Key: "time_min"}}
	}
	r.Simulated, r.Time = true, t
	start := s.clock
	s.sampleTanks()
	n := math.Ceil(min(max(float64(t)/60, 1), 60))
	for k := 1.0; k <= n; k++ {
		s.cool(float64(t)/n, nil)
		s.clock = start + float64(t)*k/n
		s.rec.film.shoot(s, nil)
		if k < n {
			s.sampleTanks()
		}
	}
	s.clock = start // the caller moves it on
	return nil
}
