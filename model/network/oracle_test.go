package network

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// oracle answers the same questions by enumeration. It reads nodes and edges of
// the plant and works out the rest itself, from the circuit and the catalogue:
// which edges are one-way, what is dry, how long things are. It is slow and plain.
type oracle struct {
	p    *Plant
	at   [][]int // edges by node
	flow []int   // by edge: 0 both ways, +1 from From to To, -1 the other way
	rest []int
	dry  []bool
}

func newOracle(p *Plant) *oracle {
	o := &oracle{p: p, at: make([][]int, len(p.Nodes)), flow: make([]int, len(p.Edges)), rest: make([]int, len(p.Edges)), dry: make([]bool, len(p.Edges))}
	for e, d := range p.Edges {
		o.at[d.From] = append(o.at[d.From], e)
		o.at[d.To] = append(o.at[d.To], e)
		if d.Part == "" {
			continue
		}
		kind := p.Circuit.Part(d.Part).Meta().Kind
		switch kind {
		case "check-valve", "lobe-pump":
			o.flow[e], o.rest[e] = 1, 1
		case "centrifugal-pump":
			o.flow[e] = 1
		case "process-vessel", "balance-tank":
			for _, n := range []int{d.From, d.To} {
				switch port := p.Nodes[n].Point; port {
				case "spray", "product_in", "return", "spray2", "fill":
					if n == d.From {
						o.flow[e], o.rest[e] = 1, 1
					} else {
						o.flow[e], o.rest[e] = -1, -1
					}
				case "vent", "overflow":
					o.dry[e] = true
				}
			}
		}
	}
	for _, r := range p.Circuit.Runs() {
		ends := []model.End{r.From, r.To}
		if slices.ContainsFunc(ends, func(e model.End) bool { return e.Port == "vent" || e.Port == "overflow" }) {
			for _, e := range p.RunEdges(r.ID) {
				o.dry[e] = true
			}
		}
	}
	return o
}

// paths calls visit with the edges of every simple path from a node to another.
func (o *oracle) paths(open []bool, way []int, from, to int, visit func([]int)) {
	on := make([]bool, len(o.p.Nodes))
	var path []int
	var walk func(n int)
	walk = func(n int) {
		if n == to {
			visit(path)
			return
		}
		on[n] = true
		for _, e := range o.at[n] {
			d := o.p.Edges[e]
			m := d.From + d.To - n
			if !open[e] || on[m] || way[e] == 1 && n != d.From || way[e] == -1 && n != d.To {
				continue
			}
			path = append(path, e)
			walk(m)
			path = path[:len(path)-1]
		}
		on[n] = false
	}
	walk(from)
}

func (o *oracle) liquid(l *LineUp) []bool {
	open := slices.Clone(l.Open)
	for e := range open {
		open[e] = open[e] && !o.dry[e]
	}
	return open
}

func (o *oracle) inFlow(l *LineUp) (on []bool, found bool, whole []bool) {
	on, whole = make([]bool, len(o.p.Edges)), make([]bool, len(o.p.Edges))
	passes, all := make([]int, len(o.p.Edges)), 0
	o.paths(o.liquid(l), o.flow, l.Source, l.Dest, func(path []int) {
		all++
		for _, e := range path {
			on[e] = true
			passes[e]++
		}
	})
	for e := range whole {
		whole[e] = all > 0 && passes[e] == all
	}
	return on, all > 0, whole
}

func (o *oracle) isVessel(n int) bool {
	return o.p.Nodes[n].Point == "inside" || o.p.Nodes[n].Point == "draw"
}

// wet floods, one edge at a time, from the source and all that flows.
func (o *oracle) wet(l *LineUp, flow []bool) []bool {
	open := o.liquid(l)
	wet := slices.Clone(flow)
	flows := func(n int) bool { return slices.ContainsFunc(o.at[n], func(e int) bool { return flow[e] }) }
	for changed := true; changed; {
		changed = false
		for e, d := range o.p.Edges {
			if wet[e] || !open[e] {
				continue
			}
			for _, n := range []int{d.From, d.To} {
				if o.rest[e] == 1 && n != d.From || o.rest[e] == -1 && n != d.To || n == l.Dest {
					continue
				}
				reached := n == l.Source || flows(n) || !o.isVessel(n) && slices.ContainsFunc(o.at[n], func(f int) bool {
					// Wet beyond a one-way part only where liquid comes out of it.
					return wet[f] && (o.rest[f] == 0 || (o.rest[f] == 1) == (o.p.Edges[f].To == n))
				})
				if reached {
					wet[e], changed = true, true
				}
			}
		}
	}
	return wet
}

// axisLength is the whole length of an edge along the tube axis, from the
// properties of parts and runs as they stand in the circuit.
func (o *oracle) axisLength(e int) float64 {
	d := o.p.Edges[e]
	if d.Run != "" {
		return float64(o.p.Circuit.Run(d.Run).Stretches[d.Stretch].Length.Or(0))
	}
	ends := []string{o.p.Nodes[d.From].Point, o.p.Nodes[d.To].Point}
	has := func(name string) bool { return slices.Contains(ends, name) }
	switch part := o.p.Circuit.Part(d.Part).(type) {
	case *model.Fitting:
		switch {
		case part.Kind == "hose":
			return float64(part.RunLength.Or(0))
		case part.Kind == "tee" && has("branch"):
			return float64(part.Stub.Or(0)) + 0.050/2
		case part.Kind == "tee":
			return float64(part.RunLength.Or(0)) / 2
		}
	case *model.Valve:
		switch {
		case has("a") && has("seat_a"):
			return float64(part.SeatA.Or(0))
		case has("b") && has("seat_b"):
			return float64(part.SeatB.Or(0))
		}
	case *model.Instrument:
		if has("tip") {
			return float64(part.Stub.Or(0)) + 0.050/2
		}
	}
	return 0
}

// fromWall is what the flowing tube takes off a leg that leaves it by edge e.
func (o *oracle) fromWall(root, e int, flow []bool) float64 {
	if o.p.Nodes[root].Role != catalogue.RoleTee {
		return 0
	}
	if o.p.Edges[e].Branch {
		return 0.050 / 2
	}
	for _, f := range o.at[root] {
		if flow[f] && o.p.Edges[f].Branch {
			return min(float64(o.p.Edges[f].Bore.Or(0))/2, o.axisLength(e))
		}
	}
	return 0
}

type deadEnd struct {
	edges  []int
	length float64
}

// legs gathers the dead ends of a node: edge by edge, then by floods.
func (o *oracle) legs(l *LineUp, flow, wet []bool, root int) []deadEnd {
	dead := func(e int) bool { return wet[e] && !flow[e] }
	stops := func(n int) bool {
		return o.isVessel(n) || n == l.Source || n == l.Dest || slices.ContainsFunc(o.at[n], func(e int) bool { return flow[e] })
	}
	var out []deadEnd
	taken := make([]bool, len(flow))
	for _, first := range o.at[root] {
		if !dead(first) || taken[first] {
			continue
		}
		group := make([]bool, len(flow))
		group[first] = true
		for changed := true; changed; {
			changed = false
			for e, d := range o.p.Edges {
				for _, n := range []int{d.From, d.To} {
					if !group[e] && dead(e) && !stops(n) && slices.ContainsFunc(o.at[n], func(f int) bool { return group[f] }) {
						group[e], changed = true, true
					}
				}
			}
		}
		leg := deadEnd{}
		for e := range group {
			if group[e] {
				leg.edges = append(leg.edges, e)
				taken[e] = true
			}
		}
		leg.length = o.farthest(root, group, stops, flow)
		out = append(out, leg)
	}
	return out
}

// farthest measures the shortest way to a hundred points along every edge.
func (o *oracle) farthest(root int, group []bool, stops func(int) bool, flow []bool) float64 {
	both := make([]int, len(group))
	shortest := make([]float64, len(o.p.Nodes))
	for n := range shortest {
		shortest[n] = math.Inf(1)
		o.paths(group, both, root, n, func(path []int) {
			length, at := 0.0, root
			for i, e := range path {
				if i > 0 && stops(at) {
					return
				}
				length += o.axisLength(e)
				if i == 0 {
					length -= o.fromWall(root, e, flow)
				}
				at = o.p.Edges[e].From + o.p.Edges[e].To - at
			}
			shortest[n] = min(shortest[n], length)
		})
	}
	most := 0.0
	for e, in := range group {
		if !in {
			continue
		}
		d := o.p.Edges[e]
		length := o.axisLength(e)
		if d.From == root || d.To == root {
			length -= o.fromWall(root, e, flow)
		}
		for k := range 101 {
			x := length * float64(k) / 100
			most = max(most, min(shortest[d.From]+x, shortest[d.To]+length-x))
		}
	}
	return most
}

func TestRoute_Oracle(t *testing.T) {
	r := rand.New(rand.NewSource(11))
	exact, found, legs, dropped := 0, 0, 0, 0
	for i := range 900 {
		d := drawRandom(t, r, 3+r.Intn(9), i%3 == 0)
		p := d.plant()
		o := newOracle(p)
		st := step("W", "D", d.positions())
		if v := d.vessels(); len(v) > 0 {
			switch r.Intn(4) {
			case 0:
				st.Source = model.ID(v[0])
			case 1:
				st.Destination = model.ID(v[0])
			}
		}
		l := p.LineUp(st)
		got := p.Route(l)
		name := fmt.Sprintf("circuit %d from %s to %s", i, st.Source, st.Destination)
		flow, ok, whole := o.inFlow(l)
		if got.Found != ok {
			t.Fatalf("%s: found %v, by paths %v: %s", name, got.Found, ok, got.Why)
		}
		if !ok {
			continue
		}
		found++
		if i%3 != 0 {
			exact++
		}
		same := true
		for e := range flow {
			if flow[e] && !got.InFlow[e] {
				t.Errorf("%s: edge %d %s - %s is on a way and not in flow", name, e, called(p, p.Edges[e].From), called(p, p.Edges[e].To))
			}
			same = same && flow[e] == got.InFlow[e]
		}
		if !same {
			// One-way parts inside a loop may leave more edges in: see Route.
			dropped++
			if !slices.ContainsFunc(o.flow, func(w int) bool { return w != 0 }) {
				t.Errorf("%s: edges in flow that are on no way", name)
			}
			continue
		}
		if !slices.Equal(got.Whole, whole) {
			t.Errorf("%s: whole flow %v, want %v", name, got.Whole, whole)
		}
		wet := o.wet(l, flow)
		for e := range wet {
			if wet[e] != got.Wet[e] {
				t.Errorf("%s: edge %d %s - %s wet %v, want %v", name, e, called(p, p.Edges[e].From), called(p, p.Edges[e].To), got.Wet[e], wet[e])
			}
		}
		if len(got.WrongWay) > 0 {
			continue // legs end at a check valve that the flow holds shut
		}
		legs += compareLegs(t, name, o, l, got, flow, wet)
		checkWay(t, name, p, o, l, got)
	}
	if exact < 200 || found < 300 || legs < 500 || dropped > found/20 {
		t.Errorf("samples too poor: %d found, %d without one-way parts, %d legs, %d not exact", found, exact, legs, dropped)
	}
	t.Logf("%d found, %d without one-way parts, %d legs, %d not exact", found, exact, legs, dropped)
}

func compareLegs(t *testing.T, name string, o *oracle, l *LineUp, r *Route, flow, wet []bool) int {
	t.Helper()
	got := o.p.DeadLegs(r)
	at := 0
	for n := range o.p.Nodes {
		if n == l.Source || n == l.Dest || !slices.ContainsFunc(o.at[n], func(e int) bool { return flow[e] }) {
			continue
		}
		for _, want := range o.legs(l, flow, wet, n) {
			if len(want.edges) == 1 && want.length == 0 && unusedPort(o, want.edges[0]) {
				continue
			}
			if at == len(got) {
				t.Errorf("%s: no leg at %s with edges %v", name, called(o.p, n), want.edges)
				return at
			}
			leg := got[at]
			at++
			// The points measured by the oracle lie at hundredths of an edge of at most 2 m.
			length, known := leg.Length.Get()
			if leg.Root != n || !slices.Equal(leg.Edges, want.edges) || !known || math.Abs(float64(length)-want.length) > 0.0101 {
				t.Errorf("%s: leg at %s edges %v length %v, want %s %v %v", name, called(o.p, leg.Root), leg.Edges, length, called(o.p, n), want.edges, want.length)
			}
			if float64(length) < want.length-1e-9 {
				t.Errorf("%s: leg at %s is %v long and a point lies %v away", name, called(o.p, n), length, want.length)
			}
		}
	}
	if at != len(got) {
		t.Errorf("%s: legs too many: %+v", name, got[at:])
	}
	return at
}

func unusedPort(o *oracle, e int) bool {
	for _, n := range []int{o.p.Edges[e].From, o.p.Edges[e].To} {
		if len(o.at[n]) == 1 && o.p.Nodes[n].Role == "" && o.p.Nodes[n].Part != "" {
			return true
		}
	}
	return false
}

// checkWay walks the shortest way.
func checkWay(t *testing.T, name string, p *Plant, o *oracle, l *LineUp, r *Route) {
	t.Helper()
	at := l.Source
	for _, e := range r.Ways {
		d := p.Edges[e]
		if !r.InFlow[e] || d.From != at && d.To != at || o.flow[e] == 1 && d.From != at {
			t.Fatalf("%s: way %v breaks at edge %d", name, r.Ways, e)
		}
		at = d.From + d.To - at
	}
	fewest := math.MaxInt
	o.paths(o.liquid(l), o.flow, l.Source, l.Dest, func(path []int) { fewest = min(fewest, len(path)) })
	if at != l.Dest || len(r.Ways) != fewest {
		t.Errorf("%s: way of %d edges ends at %s; the shortest has %d", name, len(r.Ways), called(p, at), fewest)
	}
}

// height of a point along an edge, as if it were straight.
func along(h []float64, d Edge, x float64) float64 { return h[d.From]*(1-x) + h[d.To]*x }

// Spill levels by all simple paths to all drains, and the litres by cutting each
// edge into slices and asking of each whether it lies below its own spill level.
func TestDraining_Oracle(t *testing.T) {
	r := rand.New(rand.NewSource(12))
	pools, undrained, wetEdges := 0, 0, 0
	for i := range 500 {
		d := drawRandom(t, r, 3+r.Intn(9), i%2 == 0)
		p := d.plant()
		o := newOracle(p)
		heights := p.Heights()
		h := make([]float64, len(p.Nodes))
		for n, z := range heights.Of {
			v, known := z.Get()
			if !known { // behind the unknown rise of a run to a loose end
				v = 0
				heights.Of[n] = some(v)
			}
			h[n] = float64(v)
		}
		wetted := make([]bool, len(p.Edges))
		for e := range wetted {
			wetted[e] = !o.dry[e] && r.Intn(5) > 0
		}
		var drains []*LineUp
		for range 1 + r.Intn(2) {
			dest := ""
			if v := d.vessels(); len(v) > 0 && r.Intn(3) == 0 {
				dest = v[0]
			}
			drains = append(drains, p.LineUp(step("", dest, d.positions())))
		}
		got := p.Draining(heights, wetted, drains)
		spill := o.spill(h, drains)
		name := fmt.Sprintf("circuit %d", i)
		for n, want := range spill {
			if level, known := got.Spill[n].Get(); got.Drained[n] == math.IsInf(want, 1) || known && float64(level) != want || known == math.IsInf(want, 1) {
				t.Errorf("%s: spill at %s %v %v, want %v", name, called(p, n), level, known, want)
			}
			if got.Drained[n] {
				continue
			}
			undrained++
		}
		want := 0.0
		for e := range wetted {
			if wetted[e] {
				wetEdges++
				want += o.stays(e, h, spill, drains)
			}
		}
		sum := 0.0
		seen := map[int]bool{}
		for _, pool := range got.Pools {
			pools++
			v, known := pool.Volume.Get()
			if !known {
				t.Errorf("%s: volume missing %v", name, pool.Missing)
			}
			sum += float64(v)
			for _, e := range pool.Edges {
				if seen[e] || !wetted[e] {
					t.Errorf("%s: edge %d is in two pools, or dry", name, e)
				}
				seen[e] = true
			}
			checkPool(t, name, p, h, spill, pool)
		}
		if math.Abs(sum-want) > 1e-5+0.002*want || len(got.Vague) > 0 {
			t.Errorf("%s: %v L, by slices %v L; vague %v", name, sum*1000, want*1000, got.Vague)
		}
	}
	if pools < 500 || undrained < 500 || wetEdges < 5000 {
		t.Errorf("samples too poor: %d pools, %d nodes undrained, %d edges", pools, undrained, wetEdges)
	}
}

func (o *oracle) spill(h []float64, drains []*LineUp) []float64 {
	out := slices.Repeat([]float64{math.Inf(1)}, len(h))
	for _, l := range drains {
		open := o.liquid(l)
		for e, d := range o.p.Edges {
			if d.Path == -1 {
				open[e] = true
			}
		}
		for sink, node := range o.p.Nodes {
			if node.Point != "mouth" && sink != l.Dest {
				continue
			}
			for n := range h {
				o.paths(open, o.rest, n, sink, func(path []int) {
					top, at := h[n], n
					for _, e := range path {
						at = o.p.Edges[e].From + o.p.Edges[e].To - at
						top = max(top, h[at])
					}
					out[n] = min(out[n], top)
				})
			}
		}
	}
	return out
}

// stays cuts an edge into slices. Liquid in a slice gets out by either end.
func (o *oracle) stays(e int, h, spill []float64, drains []*LineUp) float64 {
	d := o.p.Edges[e]
	volume := float64(d.Volume.Or(0))
	if d.Path == -1 {
		level := spill[d.From]
		if math.IsInf(level, 1) {
			return volume
		}
		if level <= h[d.From]+tolerance {
			return 0
		}
		return math.Pi / 4 * 0.25 * min(1, level-h[d.From]) // 0.5 m diameter, 1 m high, flat
	}
	a, b := spill[d.From], spill[d.To]
	level := min(a, b)
	if o.rest[e] == 1 {
		level = b
	}
	if math.IsInf(level, 1) {
		return volume
	}
	low := min(h[d.From], h[d.To])
	if level <= low+tolerance {
		return 0
	}
	if d.Part != "" && o.p.Circuit.Part(d.Part).Class() == model.ClassPump {
		return volume
	}
	const slices = 2000
	in := 0
	for k := range slices {
		if along(h, d, (float64(k)+0.5)/slices) < level || h[d.From] == h[d.To] {
			in++
		}
	}
	return volume * float64(in) / slices
}

// checkPool looks at one pool by itself: a way over a sill as high as its level.
func checkPool(t *testing.T, name string, p *Plant, h, spill []float64, pool Pool) {
	t.Helper()
	level, known := pool.Level.Get()
	if known == pool.NoDrain {
		t.Errorf("%s: level known %v, no drain %v", name, known, pool.NoDrain)
	}
	if pool.NoDrain {
		return
	}
	at := pool.Lowest
	for _, e := range pool.Way {
		if d := p.Edges[e]; d.From != at && d.To != at {
			t.Fatalf("%s: way %v of a pool breaks", name, pool.Way)
		}
		at = p.Edges[e].From + p.Edges[e].To - at
	}
	if at != pool.Over || math.Abs(h[at]-float64(level)) > 1e-9 || math.Abs(spill[pool.Lowest]-float64(level)) > 1e-9 {
		t.Errorf("%s: pool at %s stands to %v over %s at %v", name, called(p, pool.Lowest), level, called(p, pool.Over), h[at])
	}
}
