package flow

import (
	"fmt"
	"math"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/hydraulic"
	. "rinsewright/model/quantity"
)

// NotSolvedError says that a design question asks about what was not solved.
type NotSolvedError struct{ What string }

func (e *NotSolvedError) Error() string { return "flow: " + e.What }

// NoSpeedError says that no speed of a pump gives a flow.
type NoSpeedError struct {
	Pump string // its tag
	Flow Flow
	Head Length // that is needed for the flow
}

func (e *NoSpeedError) Error() string { return "flow: " + e.Told(Metric) }

// Told says it in a reader's units.
func (e *NoSpeedError) Told(s System) string {
	return Say("no speed of pump %s gives %v: %v of head are needed for it", e.Pump, e.Flow, e.Head).In(s)
}

// of gives the section of a running pump, ready to be changed, and the pump's place in
// it.
func (s *Solution) of(pump model.ID) (*section, int, error) {
	for _, sec := range s.work.sections {
		for i, d := range sec.drivers {
			if d.pump.ID != pump {
				continue
			}
			if !sec.solved {
				return nil, 0, &NotSolvedError{"what pump " + s.work.name(pump) + " feeds was not solved"}
			}
			c, err := sec.fresh(s.work)
			return c, i, err
		}
	}
	return nil, 0, &NotSolvedError{"pump " + s.work.name(pump) + " does not run in this step, or no liquid reaches it"}
}

// fresh gives a section with a solver of its own, in which vessels give what flows
// from the level that was found.
func (s *section) fresh(w *work) (*section, error) {
	c := s.duplicate()
	var err error
	if c.solver, err = hydraulic.NewSolver(c.net); err != nil {
		return nil, err
	}
	for _, t := range c.draws() {
		if !t.keeps {
			continue
		}
		level := s.stands(w, t)
		if math.IsNaN(level) {
			level = 0
		}
		if err := c.openTapAt(t, t.end.level+max(0, level)); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// HeadFor gives the head in m that a running pump must add to pass a flow in m³/s,
// everything else being as in the solution. Below zero the flow comes by itself. The
// error is a [NotSolvedError] or that of the solve.
func (s *Solution) HeadFor(pump model.ID, flow Flow) (Length, error) {
	sec, i, err := s.of(pump)
	if err != nil {
		return 0, err
	}
	return sec.headFor(s.work, i, flow)
}

func (s *section) headFor(w *work, i int, flow Flow) (Length, error) {
	if err := s.keep(i, float64(flow)); err != nil {
		return 0, err
	}
	if err := s.settle(w); err != nil {
		return 0, err
	}
	head := s.adds(i)
	if math.IsNaN(head) {
		return 0, &NotSolvedError{"the head that pump " + w.name(s.drivers[i].pump.ID) + " needs is not decided: no liquid level holds one of its sides"}
	}
	return Length(head), nil
}

// SpeedFor gives the speed, over its rated one, at which a running pump passes a flow
// in m³/s. Whether the motor stands it is not asked: the speed may be above 1. The
// error is a [NotSolvedError], a [NoSpeedError] or that of the solve.
func (s *Solution) SpeedFor(pump model.ID, flow Flow) (Ratio, error) {
	sec, i, err := s.of(pump)
	if err != nil {
		return 0, err
	}
	if d := sec.drivers[i]; d.displaces() {
		return Ratio(float64(flow) / d.rated), nil
	}
	head, err := sec.headFor(s.work, i, flow)
	if err != nil {
		return 0, err
	}
	n, ok := speedFor(sec.drivers[i].curve, float64(flow), float64(head))
	if !ok {
		return 0, &NoSpeedError{s.work.name(pump), flow, head}
	}
	return Ratio(n), nil
}

// curvePoints is the number of points of a curve that is plotted.
const curvePoints = 25

// SystemCurve gives the head that a running pump must add against the flow through
// it, from no flow to a third beyond its duty and its curve.
func SystemCurve(s *Solution, pump model.ID) ([]Duty, error) {
	sec, i, err := s.of(pump)
	if err != nil {
		return nil, err
	}
	d := sec.drivers[i]
	most := 4.0 / 3 * math.Abs(float64(sec.last.Flow[sec.driven[i]]))
	if !d.displaces() {
		most = max(most, d.curve.Last()*d.speed)
	}
	var out []Duty
	for k := range curvePoints {
		q := Flow(most * float64(k) / (curvePoints - 1))
		if h, err := sec.headFor(s.work, i, q); err == nil {
			out = append(out, Duty{q, h})
		}
	}
	if len(out) == 0 {
		return nil, &NotSolvedError{"no point of the system's curve could be solved"}
	}
	return out, nil
}

// PumpCurve gives the curve of a running pump at a speed over its rated one; at the
// speed it runs at for 0. A pump of positive displacement has none.
func PumpCurve(s *Solution, pump model.ID, speed Ratio) ([]Duty, error) {
	for _, sec := range s.work.sections {
		for _, d := range sec.drivers {
			if d.pump.ID != pump || d.displaces() {
				continue
			}
			n := float64(speed)
			if !(n > 0) {
				n = d.speed
			}
			var out []Duty
			for k := range curvePoints {
				q := d.curve.Last() * float64(k) / (curvePoints - 1)
				h, _ := d.curve.At(q)
				out = append(out, Duty{Flow(q * n), Length(h * n * n)})
			}
			return out, nil
		}
	}
	return nil, &NotSolvedError{"pump " + s.work.name(pump) + " has no curve in this step"}
}

// TubeFor gives the smallest tube of a table that meets limits at a flow of the step's
// liquid, and its state. series is any size of the table. The error is
// [hydraulic.ErrNoTube], or of a liquid or table that is not known.
func (s *Solution) TubeFor(flow Flow, limits hydraulic.Limits, series model.TubeSize) (catalogue.Tube, hydraulic.PipeState, error) {
	w := s.work
	tubes := w.p.Catalogue.Series(series)
	if len(tubes) == 0 {
		return catalogue.Tube{}, hydraulic.PipeState{}, fmt.Errorf("flow: no tube table with %q", series)
	}
	if !s.Properties.Known() {
		return catalogue.Tube{}, hydraulic.PipeState{}, &NotSolvedError{"the liquid of the step is not known"}
	}
	pipes := make([]hydraulic.Pipe, len(tubes))
	for i, t := range tubes {
		pipes[i] = hydraulic.Pipe{Length: 1, Bore: t.Inside(), Roughness: w.opt.Roughness}
	}
	i, state, err := hydraulic.SmallestTube(pipes, flow, limits, w.fluid)
	if err != nil {
		return catalogue.Tube{}, state, err
	}
	return tubes[i], state, nil
}

// Want is the flow that the branch of a valve is to pass.
type Want struct {
	Valve model.ID
	Flow  Flow
}

// Setting is what a valve must be throttled to.
type Setting struct {
	Valve model.ID
	Flow  Flow
	Drop  Length         // head left for the valve; zero or below: the branch cannot pass the flow
	Kv    Opt[ValveFlow] // unknown where no Kv gives the flow
}

// Balancing is how valves and the pump that feeds them are set.
type Balancing struct {
	Settings []Setting // as asked for
	Pump     model.ID  // whose speed is set; empty if there is none to set
	Speed    Opt[Ratio]
}

// BalanceBy gives the Kv of valves so that each of their branches passes the flow
// asked, with the feeding pump slowed until one of the valves need not throttle more
// than it does when open. The valves must lie in one section. The error is a
// [NotSolvedError] or that of the solve.
func (s *Solution) BalanceBy(wants []Want) (*Balancing, error) {
	if len(wants) == 0 {
		return &Balancing{}, nil
	}
	w, edges, err := s.apart(wants)
	if err != nil {
		return nil, err
	}
	sec, links, err := w.sectionOf(edges)
	if err != nil {
		return nil, err
	}
	b := &Balancing{}
	lead := -1
	for i, d := range sec.drivers {
		speed := float64(w.opt.MostSpeed)
		if !d.hand && !d.displaces() && (lead < 0 || d.order >= 0 && d.order < sec.drivers[lead].order) {
			lead = i
		} else if d.hand {
			speed = d.speed
		}
		if err := sec.setDriver(i, speed); err != nil {
			return nil, err
		}
	}
	for _, t := range sec.draws() {
		q, known := s.work.inflow[t.end.record].Get()
		if !known {
			return nil, &NotSolvedError{"what comes into vessel " + w.name(t.end.record) + " is not known"}
		}
		if err := sec.keepTap(t, float64(q)); err != nil {
			return nil, err
		}
	}
	for k, i := range links {
		sec.links[i].kept = true
		l := sec.net.Links[i]
		q := wants[k].Flow
		if !sec.links[i].chain.forward[0] != w.against(edges[k]) {
			q = -q
		}
		l.Law, l.OneWay, l.Gain = hydraulic.ConstantFlow{Flow: q}, false, 0
		if err := sec.set(i, l); err != nil {
			return nil, err
		}
	}
	if err := sec.settle(w); err != nil {
		return nil, err
	}
	drops := func() []float64 {
		out := make([]float64, len(links))
		for k, i := range links {
			out[k] = float64(sec.last.Drop[i])
			if float64(sec.last.Flow[i]) < 0 {
				out[k] = -out[k]
			}
		}
		return out
	}
	d := drops()
	if lead >= 0 {
		spare := math.Inf(1)
		for k, i := range links {
			q := float64(wants[k].Flow)
			spare = min(spare, d[k]-sec.links[i].chain.pieces[0].loss(q, w.fluid)*q*q)
		}
		drive := sec.drivers[lead]
		b.Pump, b.Speed = drive.pump.ID, Some(Ratio(drive.speed))
		if n, ok := speedFor(drive.curve, float64(sec.last.Flow[sec.driven[lead]]), sec.adds(lead)-spare); ok && spare > 0 {
			if err := sec.setDriver(lead, w.limited(n)); err != nil {
				return nil, err
			}
			if err := sec.settle(w); err != nil {
				return nil, err
			}
			b.Speed = Some(Ratio(drive.speed))
			d = drops()
		}
	}
	for k := range wants {
		set := Setting{Valve: wants[k].Valve, Flow: wants[k].Flow, Drop: Length(d[k])}
		if d[k] > 0 && !math.IsNaN(d[k]) {
			// h = 1 bar/(ρ0 g) (Q/Kv)²
			set.Kv = Some(ValveFlow(float64(wants[k].Flow) * math.Sqrt(1e5/(waterDensity*hydraulic.StandardGravity*d[k]))))
		}
		b.Settings = append(b.Settings, set)
	}
	return b, nil
}

// against says whether the route passes an edge from its To to its From.
func (w *work) against(e int) bool { return w.route.Forward[e] < 0 }

// apart lays the network out anew with the seats of some valves as links of their own.
func (s *Solution) apart(wants []Want) (*work, []int, error) {
	old := s.work
	if !s.Properties.Known() || len(old.sections) == 0 {
		return nil, nil, &NotSolvedError{"the step was not solved"}
	}
	w := &work{p: old.p, h: old.h, step: old.step, opt: old.opt, route: old.route, fluid: old.fluid, vapour: old.vapour,
		running: old.running, order: old.order, assumed: map[assumed]struct{}{}, lone: map[int]bool{}}
	w.sol = &Solution{Step: s.Step, Plant: s.Plant, Route: s.Route, work: w}
	var edges []int
	for _, want := range wants {
		found := -1
		for _, e := range w.p.PartEdges(want.Valve) {
			if edge := &w.p.Edges[e]; old.live[e] && edge.Path >= 0 && len(w.kindOf(e).Paths[edge.Path].OpenIn) > 0 {
				found = e
			}
		}
		if found < 0 || slices.Contains(edges, found) || !(want.Flow > 0) {
			return nil, nil, &NotSolvedError{"valve " + w.name(want.Valve) + " stands in no way that flows, or is asked for twice or for no flow"}
		}
		w.lone[found] = true
		edges = append(edges, found)
	}
	w.choose()
	w.divide(w.chains())
	return w, edges, nil
}

// sectionOf makes ready the one section that some edges lie in and gives their links.
func (w *work) sectionOf(edges []int) (*section, []int, error) {
	var sec *section
	links := make([]int, len(edges))
	for _, s := range w.sections {
		for _, c := range s.chains {
			k := slices.Index(edges, c.pieces[0].edge)
			if k < 0 {
				continue
			}
			if sec != nil && sec != s {
				return nil, nil, &NotSolvedError{"the valves lie in parts of the circuit that a vessel parts"}
			}
			sec = s
		}
	}
	if sec == nil {
		return nil, nil, &NotSolvedError{"the valves stand in no way that flows"}
	}
	w.build(sec)
	if len(sec.missing) > 0 {
		return nil, nil, &NotSolvedError{"data is missing, first: " + w.label(sec.missing[0])}
	}
	if sec.broken {
		return nil, nil, &NotSolvedError{"a told number cannot be, see why the step is not solved"}
	}
	if err := sec.start(w, kept{}); err != nil {
		return nil, nil, err
	}
	for _, c := range sec.chains {
		if k := slices.Index(edges, c.pieces[0].edge); k >= 0 {
			if len(c.links) == 0 {
				return nil, nil, &NotSolvedError{"nothing can pass valve " + w.name(w.p.Edges[edges[k]].Part)}
			}
			links[k] = c.links[0]
		}
	}
	return sec, links, nil
}
