package flow

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/hydraulic"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// report writes what the sections say into the solution.
func (w *work) report() {
	w.still()
	for _, s := range w.sections {
		if s.solved {
			w.reportSection(s)
			w.reportFilled(s)
		}
	}
	w.reportVessels()
	w.asked()
	w.spread()
	w.reportSupply()
	w.reportPumps()
	w.reportSprays()
	w.reportSplits()
	w.reportAlong()
}

// still says of what carries nothing that it carries nothing.
func (w *work) still() {
	for e := range w.sol.Edges {
		if !w.live[e] && w.p.Edges[e].Path >= 0 {
			w.setFlow(e, 0)
		}
	}
	for _, s := range w.sections {
		for _, c := range s.chains {
			if s.solved && len(c.links) == 0 && !c.pump {
				w.rest(c)
			}
		}
	}
}

// rest says of a row that nothing can pass that nothing does.
func (w *work) rest(c *chain) {
	for i := range c.pieces {
		w.setFlow(c.pieces[i].edge, 0)
		w.sol.Edges[c.pieces[i].edge].Loss = length(0)
	}
}

// setFlow gives an edge its flow and what follows from that.
func (w *work) setFlow(e int, q float64) {
	edge := &w.sol.Edges[e]
	edge.Flow = Some(Flow(q))
	d, known := w.p.Edges[e].Bore.Get()
	switch {
	case known && d > 0 && w.fluid.Density > 0 && q == 0: // what a pipe would say, at once
		edge.Velocity, edge.Reynolds, edge.Shear = Some(Velocity(q)), Some(Ratio(0)), Some(Pressure(0))
	case known && d > 0 && w.fluid.Density > 0:
		pipe := hydraulic.Pipe{Bore: d, Roughness: min(w.opt.Roughness, Length(hydraulic.GreatestRoughness*d))}
		st := pipe.At(Flow(q), w.fluid)
		edge.Velocity, edge.Reynolds, edge.Shear = Some(st.Velocity), Some(st.Reynolds), Some(st.Shear)
	case known && d > 0:
		edge.Velocity = Some(Velocity(q / (math.Pi / 4 * float64(d) * float64(d))))
	case q == 0:
		edge.Velocity, edge.Shear = Some(Velocity(0)), Some(Pressure(0))
	}
}

func (w *work) setHead(n int, head float64) {
	if n >= len(w.sol.Nodes) || math.IsNaN(head) {
		return
	}
	node := &w.sol.Nodes[n]
	node.Head = length(head)
	if z, missing := w.z(n); missing == nil {
		node.Pressure = Some(Pressure((head - z) * w.fluid.Density * hydraulic.StandardGravity))
	}
}

func (w *work) reportSection(s *section) {
	for n, i := range s.node {
		w.setHead(n, float64(s.last.Head[i]))
	}
	for _, c := range s.chains {
		if len(c.links) == 0 {
			continue
		}
		q := s.flow(c)
		if c.pump {
			e := c.pieces[0].edge
			w.setFlow(e, q)
			if drop := float64(s.last.Drop[c.links[0]]); !math.IsNaN(drop) {
				w.sol.Edges[e].Loss = length(drop)
			}
			continue
		}
		w.reportRow(s, c, q)
	}
}

// reportRow gives the edges and nodes of a row what the section says of it.
func (w *work) reportRow(s *section, c *chain, q float64) {
	w.alongRow(s, c, func(i, at int, head, lost float64) {
		e := c.pieces[i].edge
		if c.forward[i] {
			w.setFlow(e, q)
		} else {
			w.setFlow(e, -q)
		}
		if q < 0 {
			lost = -lost
		}
		w.sol.Edges[e].Loss = length(lost)
		if i < len(c.pieces)-1 {
			w.setHead(at, head)
		}
	})
}

// alongRow lays the heads out along a row: for every piece the node behind it, the
// head there and the head lost on the way to it. A one-way part that holds parts the
// heads before it from those behind.
func (w *work) alongRow(s *section, c *chain, visit func(i, at int, head, lost float64)) {
	first, last := &s.links[c.links[0]], &s.links[c.links[len(c.links)-1]]
	q := s.flow(c)
	head := float64(s.last.Head[s.node[c.from]])
	behind := float64(s.last.Head[s.node[c.to]])
	at := w.plantNode(c, 0)
	for i := range c.pieces {
		pc := &c.pieces[i]
		lost := 0.0
		switch {
		case q == 0 && pc.oneWay:
			lost = head - behind
		case c.forward[i]:
			lost = pc.drop(q, float64(w.opt.Roughness), w.fluid)
		default:
			lost = -pc.drop(-q, float64(w.opt.Roughness), w.fluid)
		}
		if i == 0 {
			lost += first.tees[0].at(q)
		}
		if i == len(c.pieces)-1 {
			lost += last.tees[1].at(q)
		}
		head -= lost
		at = w.p.Other(pc.edge, at)
		visit(i, at, head, lost)
	}
}

// plantNode gives the plant's node at the beginning of a piece of a row.
func (w *work) plantNode(c *chain, i int) int {
	e := &w.p.Edges[c.pieces[i].edge]
	if c.forward[i] {
		return e.From
	}
	return e.To
}

// reportVessels gives the liquid inside vessels its head, and the edge between what
// came in and what is drawn its flow.
func (w *work) reportVessels() {
	for i := range w.sol.Vessels {
		v := &w.sol.Vessels[i]
		v.Inflow = w.inflow[v.Vessel]
		for _, e := range w.p.PartEdges(v.Vessel) {
			edge := &w.p.Edges[e]
			if edge.Path >= 0 {
				continue
			}
			if q, known := v.Inflow.Get(); known {
				w.setFlow(e, float64(q))
				w.sol.Edges[e].Loss = length(0)
			}
			level, known := v.Level.Get()
			if z, missing := w.z(edge.To); known && missing == nil && w.fluid.Density > 0 {
				gas, _ := w.p.Circuit.Part(v.Vessel).(*model.Vessel).GasPressure.Get()
				w.setHead(edge.From, z+float64(level)+gravityHead(gas, w.fluid))
			}
		}
	}
}

// asked fills in what follows from the flow asked alone, where a section that the
// whole flow passes was not solved.
func (w *work) asked() {
	q, told := w.step.Flow.Get()
	if !told {
		return
	}
	for e := range w.sol.Edges {
		if w.route.Whole[e] && w.route.Forward[e] != 0 && !w.sol.Edges[e].Flow.Known() {
			w.setFlow(e, float64(q)*float64(w.route.Forward[e]))
		}
	}
}

// spread carries heads on into dead legs, where nothing moves.
func (w *work) spread() {
	if w.fluid.Density == 0 {
		return
	}
	queue := make([]int, 0, len(w.sol.Nodes))
	for n := range w.sol.Nodes {
		if w.sol.Nodes[n].Head.Known() && !w.isVessel(n) {
			queue = append(queue, n)
		}
	}
	for i := 0; i < len(queue); i++ {
		n := queue[i]
		for _, a := range w.p.Graph().Incident(n) {
			e, to := int(a.Edge), int(a.Node)
			if w.live[e] || !w.route.Wet[e] || w.p.Edges[e].Path < 0 || w.stops(e) || w.p.Edges[e].OneWay && !w.isRunningPump(e) && w.p.Edges[e].From != n {
				continue
			}
			if w.sol.Nodes[to].Head.Known() || w.isVessel(to) || w.isRunningPump(e) {
				continue
			}
			w.setHead(to, float64(w.sol.Nodes[n].Head.Or(0)))
			queue = append(queue, to)
		}
	}
}

func (w *work) reportSupply() {
	u := &w.sol.Supply
	for _, s := range w.sections {
		if !s.solved || !s.begins(endSource) {
			continue
		}
		sum := 0.0
		for _, t := range s.taps {
			if t.end.kind == endSource {
				sum += float64(s.last.Flow[t.link])
			}
		}
		u.Drawn = Some(Flow(float64(u.Drawn.Or(0)) + sum))
		for i, d := range s.drivers {
			if d.pump.ID != u.Pump {
				continue
			}
			u.Speed = Some(Ratio(d.speed))
			// A pump that only a share of the flow passes, beside another one or
			// with a way round it, does not tell what is supplied: the source does.
			if d.whole || d.displaces() {
				u.Flow = Some(s.last.Flow[s.driven[i]])
			}
		}
	}
	if !u.Flow.Known() {
		u.Flow = u.Drawn
	}
	w.lost()
	asked, told := u.Asked.Get()
	flow, known := u.Flow.Get()
	if told && known && flow < asked*(1-1e-6) {
		u.Short = Some(asked - flow)
		if speed, known := u.Speed.Get(); known && speed >= w.opt.MostSpeed*(1-1e-6) {
			u.Full = u.Flow
		}
	}
	if told && known && flow > asked*(1+1e-6) {
		u.Over = Some(flow - asked)
	}
}

// lost adds up what leaves the route; unknown while a section is not solved.
func (w *work) lost() {
	sum := 0.0
	for _, s := range w.sections {
		if !s.solved {
			return
		}
		for _, c := range s.chains {
			if w.leaves(c.to) {
				sum += max(0, s.flow(c))
			}
			if w.leaves(c.from) {
				sum += max(0, -s.flow(c))
			}
		}
	}
	w.sol.Supply.Lost = Some(Flow(sum))
}

// leaves says whether what flows out at a node does not belong to the route.
func (w *work) leaves(n int) bool {
	if n >= len(w.p.Nodes) {
		m := &w.mouths[n-len(w.p.Nodes)]
		return m.inside != w.route.LineUp.Dest && !w.through[m.vessel]
	}
	x := w.ends[n]
	return x != nil && x.kind == endFixed && n != w.route.LineUp.Dest
}

func (w *work) reportPumps() {
	drivers := map[model.ID]*driver{}
	solved := map[model.ID]bool{}
	for _, s := range w.sections {
		for _, d := range s.drivers {
			drivers[d.pump.ID], solved[d.pump.ID] = d, s.solved
		}
	}
	for _, part := range w.p.Circuit.Parts() {
		pump, ok := part.(*model.Pump)
		if !ok {
			continue
		}
		edges := w.p.PartEdges(pump.ID)
		if len(edges) == 0 || !w.running[pump.ID] && !w.route.Wet[edges[0]] {
			continue
		}
		r := Pump{Pump: pump.ID, Edge: edges[0], Running: w.running[pump.ID], Required: pump.NPSHRequired}
		r.Flow = w.sol.Edges[r.Edge].Flow
		if d := drivers[pump.ID]; d != nil && r.Running && solved[pump.ID] {
			w.duty(&r, d)
		}
		w.sol.Pumps = append(w.sol.Pumps, r)
	}
}

// duty works out what a running pump does.
func (w *work) duty(r *Pump, d *driver) {
	r.Speed, r.Regulated = Some(Ratio(d.speed)), d.found
	if drop, known := w.sol.Edges[r.Edge].Loss.Get(); known {
		r.Head = Some(-drop)
	}
	q := float64(r.Flow.Or(0))
	if !d.displaces() {
		r.OutOfCurve = d.curve.Outside(q / d.speed)
	}
	if eta, known := d.pump.Efficiency.Get(); !known || !(eta > 0) {
		r.Missing = append(r.Missing, network.Missing{Record: d.pump.ID, Key: "efficiency_pct"})
	} else if h, known := r.Head.Get(); known {
		r.Power = Some(ShaftPower(w.fluid.Density * hydraulic.StandardGravity * q * float64(h) / float64(eta)))
	}
	if !r.Required.Known() {
		r.Missing = append(r.Missing, network.Missing{Record: d.pump.ID, Key: "npsh_required_m"})
	}
	from := w.p.Edges[r.Edge].From
	z, missing := w.z(from)
	head, known := w.sol.Nodes[from].Head.Get()
	if missing != nil {
		r.Missing = append(r.Missing, missing...)
	} else if known {
		// NPSH = total head at the suction, absolute, above that of the vapour; the
		// head of a node is the total one.
		r.Available = length(float64(head) - z + gravityHead(w.opt.Atmosphere-w.vapour, w.fluid))
	}
	r.Missing = sortMissing(r.Missing)
}

func (w *work) reportSprays() {
	for _, part := range w.p.Circuit.Parts() {
		spray, ok := part.(*model.Spray)
		if !ok {
			continue
		}
		edges := w.p.PartEdges(spray.ID)
		if len(edges) == 0 || !w.route.Wet[edges[0]] {
			continue
		}
		e := edges[0]
		r := Spray{Spray: spray.ID, Edge: e, Flow: w.sol.Edges[e].Flow}
		if w.live[e] {
			in, knownIn := w.sol.Nodes[w.p.Edges[e].From].Pressure.Get()
			gas := Pressure(0)
			if id, ok := w.sprayed[e]; ok {
				r.Vessel = id
				gas = w.p.Circuit.Part(id).(*model.Vessel).GasPressure.Or(0)
			}
			if knownIn {
				r.Pressure = Some(in - gas)
			}
		}
		w.sol.Sprays = append(w.sol.Sprays, r)
	}
}
