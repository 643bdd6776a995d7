package heat

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/flow"
	. "rinsewright/model/quantity"
	"rinsewright/model/thermal"
)

// leastFlow is the flow in m³/s below which a way counts as standing.
const leastFlow = 1e-9

// flows says whether liquid moves in an edge, as far as that is known.
func (w *work) flows(e int) bool {
	q, known := w.sol.Edges[e].Flow.Get()
	if !known {
		return w.sol.Route.InFlow[e] && !w.p.Dry(e)
	}
	return math.Abs(float64(q)) > leastFlow && !w.p.Dry(e)
}

// rate gives the heat capacity rate of the liquid in an edge in W/K.
func (w *work) rate(e int) (float64, bool) {
	q, known := w.sol.Edges[e].Flow.Get()
	return math.Abs(float64(q)) * w.density * w.capacity, known && w.density > 0
}

// ways puts the edges that flow in the order of the flow: an edge stands behind all that
// lead to where it begins. What is left in a ring follows in order of edge.
func (w *work) ways() {
	n := len(w.p.Nodes)
	w.into, w.first, w.last = make([][]int, n), make([]int, len(w.p.Edges)), make([]int, len(w.p.Edges))
	waits := make([]int, n)
	from := make([][]int, n)
	for e := range w.p.Edges {
		if !w.flows(e) {
			continue
		}
		edge := &w.p.Edges[e]
		a, b := edge.From, edge.To
		if q, known := w.sol.Edges[e].Flow.Get(); known && q < 0 || !known && w.sol.Route.Forward[e] < 0 {
			a, b = b, a
		}
		w.first[e], w.last[e] = a, b
		w.into[b] = append(w.into[b], e)
		from[a] = append(from[a], e)
		waits[b]++
	}
	done := make([]bool, n)
	var queue []int
	for i := range n {
		if waits[i] == 0 && len(from[i]) > 0 {
			queue = append(queue, i)
		}
	}
	if s := w.sol.Route.LineUp.Source; s >= 0 && waits[s] > 0 { // a ring through the source
		waits[s] = 0
		queue = append(queue, s)
	}
	for i := 0; i < len(queue); i++ {
		at := queue[i]
		done[at] = true
		w.order = append(w.order, at)
		for _, e := range from[at] {
			if waits[w.last[e]]--; waits[w.last[e]] == 0 && !done[w.last[e]] {
				queue = append(queue, w.last[e])
			}
		}
	}
	for i := range n {
		if !done[i] && len(w.into[i]) > 0 {
			w.order = append(w.order, i)
		}
	}
}

const (
	sweeps  = 500
	settled = 1e-9 // K
)

// spread carries a temperature from the source along all that flows: NaN where it is not
// known.
func (w *work) spread(start float64) []float64 {
	t := make([]float64, len(w.p.Nodes))
	for i := range t {
		t[i] = math.NaN()
	}
	for _, n := range w.order { // what goes round in a ring begins as warm as the source
		t[n] = start
	}
	source := w.sol.Route.LineUp.Source
	for range sweeps {
		same := true
		for _, n := range w.order {
			now := w.mixed(n, t)
			if n == source {
				now = start
			}
			if d := math.Abs(now - t[n]); d > settled || math.IsNaN(now) != math.IsNaN(t[n]) {
				same = false
			}
			t[n] = now
		}
		if same {
			break
		}
	}
	return t
}

// mixed gives the temperature of what comes to a node.
func (w *work) mixed(n int, t []float64) float64 {
	sum, rates := 0.0, 0.0
	for _, e := range w.into[n] {
		c, known := w.rate(e)
		if !known {
			return math.NaN()
		}
		sum += c * w.behind(e, t[w.first[e]], c)
		rates += c
	}
	if rates == 0 {
		return math.NaN()
	}
	return sum / rates
}

// behind gives the temperature in K of what leaves an edge that it enters at in.
func (w *work) behind(e int, in, c float64) float64 {
	if x := w.exchangerAt[e]; x != nil {
		return w.through(x, in, c)
	}
	k, leaks := w.leakIn(e)
	switch {
	case !leaks || !(in > float64(w.opt.Air)):
		return in
	case k.unknown:
		return math.NaN()
	}
	air := float64(w.opt.Air)
	return air + (in-air)*math.Exp(-k.conductance/c)
}

func (w *work) leakIn(e int) (leak, bool) {
	edge := &w.p.Edges[e]
	if edge.Path < 0 {
		if v, ok := w.p.Circuit.Part(edge.Part).(*model.Vessel); ok && edge.Run == "" {
			k, leaks := w.vesselLeak[v.ID]
			return k, leaks
		}
	}
	k, leaks := w.edgeLeak[e]
	return k, leaks
}

// through gives the temperature behind an exchanger: the step's, as far as it gets there.
func (w *work) through(x *Exchanger, in, c float64) float64 {
	asked, told := x.Asked.Get()
	if !told || math.IsNaN(in) {
		return in
	}
	to := float64(asked)
	if x.Cools == (in <= to) || in == to {
		return in
	}
	gives, known := w.gives(x, Temperature(in), c)
	if !known {
		return to
	}
	most := gives / c
	if x.Cools {
		return math.Max(to, in-most)
	}
	return math.Min(to, in+most)
}

// gives tells what an exchanger passes to a stream at most, in W; not known where data
// is missing.
func (w *work) gives(x *Exchanger, in Temperature, c float64) (float64, bool) {
	stream := thermal.Stream{Mass: thermal.MassFlow(c / w.capacity), HeatCapacity: w.heatCapacity(), Inlet: in}
	if x.Cools {
		return w.takes(x, stream)
	}
	can := w.able[x.Exchanger]
	if len(can.Missing) > 0 {
		return 0, false
	}
	p, err := can.To(stream)
	return p, err == nil
}

// comesOut gives the temperature at the end of an edge, before it mixes with others.
func (w *work) comesOut(e int) (Temperature, bool) {
	c, known := w.rate(e)
	in, ok := w.out.Nodes[w.first[e]].Get()
	if !known || !ok {
		return 0, false
	}
	t := w.behind(e, float64(in), c)
	return Temperature(t), !math.IsNaN(t)
}

// lostIn gives what an edge loses in W.
func (w *work) lostIn(e int) (float64, bool) {
	c, known := w.rate(e)
	in, ok := w.out.Nodes[w.first[e]].Get()
	out, ok2 := w.comesOut(e)
	return c * float64(in-out), known && ok && ok2
}

// running finds the temperatures while the wash runs. What comes back to the tank that is
// drawn from is drawn again, until nothing changes.
func (w *work) running() {
	for _, x := range w.out.Exchangers {
		if _, known := w.gives(&x, w.hot, w.capacity); !known && !x.Idle {
			w.assume(flow.Assumption{What: "power of the exchanger", Value: "enough for the temperature of the step while it runs", Basis: "never told", Record: x.Exchanger, Key: "duty_kW"})
		}
	}
	start, known := w.runsFrom()
	if !known {
		return
	}
	t := w.spread(start)
	if w.out.Round && w.heated() {
		dest := w.sol.Route.LineUp.Dest
		tank := w.vesselLeak[w.step.Source]
		for range sweeps {
			back := t[dest]
			if math.IsNaN(back) || tank.unknown {
				start = math.NaN()
			} else if c := w.drawn(); c > 0 && back > float64(w.opt.Air) {
				// A tank is mixed: C (back − tank) = K (tank − air).
				back = (c*back + tank.conductance*float64(w.opt.Air)) / (c + tank.conductance)
				if math.Abs(back-start) < 1e-7 {
					break
				}
				start = back
			} else {
				break
			}
			t = w.spread(start)
			if math.IsNaN(start) {
				break
			}
		}
	}
	for n, x := range t {
		if !math.IsNaN(x) {
			w.out.Nodes[n] = Some(Temperature(x))
		}
	}
	w.mark()
}

// drawn gives the capacity rate that leaves the source.
func (w *work) drawn() float64 {
	sum, source := 0.0, w.sol.Route.LineUp.Source
	for e := range w.p.Edges {
		if w.flows(e) && w.first[e] == source && w.last[e] != source {
			c, _ := w.rate(e)
			sum += c
		}
	}
	return sum
}

// mark tells the temperatures that matter, and what exchangers give meanwhile.
func (w *work) mark() {
	l := w.sol.Route.LineUp
	w.out.Supplied = w.out.Nodes[l.Source]
	w.out.Back = w.out.Nodes[l.Dest]
	for e := range w.p.Edges {
		if !w.flows(e) {
			continue
		}
		edge := &w.out.Edges[e]
		edge.In = w.out.Nodes[w.first[e]]
		if out, ok := w.comesOut(e); ok {
			edge.Out = Some(out)
		}
		if lost, ok := w.lostIn(e); ok {
			edge.Lost = Some(Power(lost))
		}
		if t, known := w.out.Nodes[w.last[e]].Get(); known && (!w.out.Coldest.Known() || t < w.out.Coldest.Or(0)) {
			w.out.Coldest = Some(t)
		}
	}
	for i := range w.out.Exchangers {
		x := &w.out.Exchangers[i]
		c, known := w.rate(x.Edge)
		in, ok := w.out.Nodes[w.first[x.Edge]].Get()
		out, ok2 := w.comesOut(x.Edge)
		if !known || !ok || !ok2 {
			continue
		}
		x.Holds = Some(Power(c * math.Abs(float64(out-in))))
		if w.sol.Route.Whole[x.Edge] && !x.Idle {
			w.out.Supplied = Some(out)
		}
	}
}
