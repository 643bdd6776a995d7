package wash

import (
	"math"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// circulation is what flows in one step, as elements in the order of the flow.
type circulation struct {
	s    *sim
	i    int // step
	step *model.Step
	sol  *flow.Solution
	q    []float64 // by edge: m³/s from its From to its To

	nodes    []node
	elements []element
	nodeAt   map[int]int // by node of the plant
	of       map[int]spot
	heaters  []*heater
	lines    []*line
	dt       float64
	unmixed  float64 // s
}

// node is where elements meet.
type node struct {
	at       int // node of the plant
	in, out  []int
	shares   []float64 // of out
	flow     float64   // m³/s that leave
	source   float64   // m³/s that begin here
	drawn    *tank
	supply   *model.Terminal
	sink     model.ID
	tank     *tank // that what ends here falls into
	passed   []amount
	waiting  int
	isSource bool
}

// element is one thing on the way: exactly one of its three is set.
type element struct {
	line     *line
	mixer    *mixer
	bowl     *bowl
	from, to int // nodes
	flow     float64
	out      []amount
}

// spot is where an edge lies: in an element and, in a line, from there to there in m³
// from its outlet.
type spot struct {
	element    int
	start, end float64
}

const leastFlow = 1e-9 // m³/s below which a way counts as standing

// circulate makes the circulation of a step; the error says why it cannot.
func (s *sim) circulate(i int, st *model.Step, sol *flow.Solution, q []float64) (*circulation, *failure) {
	c := &circulation{s: s, i: i, step: st, sol: sol, q: q, nodeAt: map[int]int{}, of: map[int]spot{}}
	var live []int
	for e := range q {
		if math.Abs(q[e]) >= leastFlow {
			live = append(live, e)
		}
	}
	if f := c.volumes(live); f != nil {
		return nil, f
	}
	c.join(live)
	if f := c.ends(); f != nil {
		return nil, f
	}
	if f := c.sorted(); f != nil {
		return nil, f
	}
	if f := c.unknownBowl(); f != nil {
		return nil, f
	}
	c.timing()
	c.load()
	return c, nil
}

// failure is why a step cannot be simulated.
type failure struct {
	why     string
	words   Words // in the place of why, where it holds quantities
	at      model.Place
	missing []network.Missing
}

// volumes holds back a step whose tubes have no known volume. Parts without one are
// neglected.
func (c *circulation) volumes(live []int) *failure {
	f := &failure{why: "the volume of what flows is not known"}
	for _, e := range live {
		edge := &c.s.p.Edges[e]
		if edge.Volume.Known() || edge.Path < 0 {
			continue
		}
		part := c.s.p.Circuit.Part(edge.Part)
		_, isObject := part.(*model.Object)
		if part == nil || isObject {
			f.missing = append(f.missing, edge.Missing...)
			continue
		}
		for _, m := range edge.Missing {
			c.s.assume("volume of "+c.s.name(edge.Part), "neglected", practice, m.Record, m.Key)
		}
	}
	if len(f.missing) == 0 {
		return nil
	}
	f.missing = unique(f.missing)
	f.at = model.Place{Element: f.missing[0].Record, Key: f.missing[0].Key}
	return f
}

func unique(list []network.Missing) []network.Missing {
	sortMissing(list)
	return slices.Compact(list)
}

// join makes elements of edges: lines of tubes between what mixes and what divides.
func (c *circulation) join(live []int) {
	p := c.s.p
	outs, ins := map[int][]int{}, map[int][]int{}
	for _, e := range live {
		a, b := c.ends2(e)
		outs[a] = append(outs[a], e)
		ins[b] = append(ins[b], e)
	}
	simple := func(n int) bool {
		return len(outs[n]) == 1 && len(ins[n]) == 1 && p.Nodes[n].Role != catalogue.RoleVessel
	}
	done := map[int]bool{}
	for _, e := range live {
		if c.mixes(e) {
			c.addSpecial(e)
			done[e] = true
		}
	}
	chain := func(e int) {
		var edges []int
		for {
			done[e] = true
			edges = append(edges, e)
			_, b := c.ends2(e)
			if !simple(b) || done[outs[b][0]] {
				break
			}
			e = outs[b][0]
		}
		c.addLine(edges)
	}
	for _, e := range live {
		a, _ := c.ends2(e)
		if !done[e] && (!simple(a) || c.mixes(ins[a][0])) {
			chain(e)
		}
	}
	for _, e := range live {
		if !done[e] {
			chain(e) // of a circle; it is found out when they are sorted
		}
	}
}

// ends2 gives the nodes that an edge leads from and to, in the direction of the flow.
func (c *circulation) ends2(e int) (int, int) {
	edge := &c.s.p.Edges[e]
	if c.q[e] < 0 {
		return edge.To, edge.From
	}
	return edge.From, edge.To
}

// mixes says whether an edge is more than a piece of tube: a hold-up without a length,
// an exchanger, the inside of a vessel.
func (c *circulation) mixes(e int) bool {
	edge := &c.s.p.Edges[e]
	if edge.Path < 0 {
		return true
	}
	if edge.Part == "" {
		return false
	}
	if _, ok := c.s.p.Circuit.Part(edge.Part).(*model.Exchanger); ok {
		return true
	}
	return edge.Volume.Or(0) > 0 && edge.Length.Or(0) == 0
}

func (c *circulation) node(n int) int {
	k, ok := c.nodeAt[n]
	if !ok {
		k = len(c.nodes)
		c.nodeAt[n] = k
		c.nodes = append(c.nodes, node{at: n})
	}
	return k
}

func (c *circulation) add(x element, first, last int) int {
	a, _ := c.ends2(first)
	_, b := c.ends2(last)
	x.from, x.to = c.node(a), c.node(b)
	x.flow = math.Abs(c.q[first])
	k := len(c.elements)
	c.elements = append(c.elements, x)
	c.nodes[x.from].out = append(c.nodes[x.from].out, k)
	c.nodes[x.to].in = append(c.nodes[x.to].in, k)
	return k
}

func (c *circulation) addSpecial(e int) {
	edge := &c.s.p.Edges[e]
	x := element{}
	if edge.Path < 0 {
		x.bowl = c.bowl(c.s.tank(edge.Part), math.Abs(c.q[e]))
	} else {
		x.mixer = &mixer{edge: e, volume: float64(edge.Volume.Or(0))}
		if ex, ok := c.s.p.Circuit.Part(edge.Part).(*model.Exchanger); ok {
			if h := c.heater(ex); h != nil {
				x.mixer.heater = h
				c.heaters = append(c.heaters, h)
			}
		}
	}
	c.of[e] = spot{element: c.add(x, e, e)}
}

func (c *circulation) addLine(edges []int) {
	l := &line{flow: math.Abs(c.q[edges[0]])}
	k := c.add(element{line: l}, edges[0], edges[len(edges)-1])
	for i := len(edges) - 1; i >= 0; i-- {
		e := edges[i]
		v := float64(c.s.p.Edges[e].Volume.Or(0))
		c.of[e] = spot{k, l.capacity, l.capacity + v}
		if v <= 0 {
			continue
		}
		l.pieces = append(l.pieces, piece{edge: e, forward: c.q[e] > 0, start: l.capacity, end: l.capacity + v, spread: c.spread(e), walls: c.wallsOf(e)})
		l.capacity += v
	}
	c.lines = append(c.lines, l)
}

// ends finds what flows in and out where nothing goes on.
func (c *circulation) ends() *failure {
	for k := range c.nodes {
		n := &c.nodes[k]
		in, out := 0.0, 0.0
		for _, e := range n.in {
			in += c.elements[e].flow
		}
		for _, e := range n.out {
			out += c.elements[e].flow
		}
		n.flow = out
		for _, e := range n.out {
			n.shares = append(n.shares, c.elements[e].flow/out)
		}
		id := c.s.p.Nodes[n.at].Part
		switch {
		case len(n.in) == 0:
			n.source, n.isSource = out, true
			if t := c.s.tank(id); t != nil {
				n.drawn = t
			} else if term, ok := c.s.p.Circuit.Part(id).(*model.Terminal); ok {
				n.supply = term
			} else {
				return &failure{why: "flow begins at " + c.s.name(id) + ", which is no supply", at: model.PlaceOf(id)}
			}
		case len(n.out) == 0:
			n.sink = id
			n.tank = c.s.tank(id)
		}
	}
	return nil
}

// sorted puts nodes and elements into the order of the flow.
func (c *circulation) sorted() *failure {
	var queue []int
	for k := range c.nodes {
		c.nodes[k].waiting = len(c.nodes[k].in)
		if c.nodes[k].waiting == 0 {
			queue = append(queue, k)
		}
	}
	for i := 0; i < len(queue); i++ {
		for _, e := range c.nodes[queue[i]].out {
			to := c.elements[e].to
			if c.nodes[to].waiting--; c.nodes[to].waiting == 0 {
				queue = append(queue, to)
			}
		}
	}
	if len(queue) < len(c.nodes) {
		for k := range c.nodes {
			if c.nodes[k].waiting > 0 {
				id := c.s.p.Nodes[c.nodes[k].at].Part
				return &failure{why: "liquid runs in a circle that no vessel is part of; that is not simulated", at: model.PlaceOf(id)}
			}
		}
	}
	c.order(queue)
	return nil
}

// order renumbers the nodes.
func (c *circulation) order(queue []int) {
	place := make([]int, len(queue))
	nodes := make([]node, len(queue))
	for i, k := range queue {
		place[k], nodes[i] = i, c.nodes[k]
		c.nodeAt[nodes[i].at] = i
	}
	c.nodes = nodes
	for e := range c.elements {
		x := &c.elements[e]
		x.from, x.to = place[x.from], place[x.to]
	}
}

// timing chooses the step of time: the route holds Slugs of them.
func (c *circulation) timing() {
	held, q := 0.0, 0.0
	for i := range c.elements {
		x := &c.elements[i]
		if x.line != nil {
			held += x.line.capacity
		}
	}
	for k := range c.nodes {
		q += c.nodes[k].source
	}
	c.dt = 1
	if q > 0 && held > 0 {
		c.dt = min(max(held/q/float64(c.s.opt.Slugs), 0.05), 2)
	}
	for _, l := range c.lines {
		l.grain = l.flow * c.dt
	}
}

// load brings what the edges hold into lines and hold-ups.
func (c *circulation) load() {
	held := c.s.held
	for i := range c.elements {
		x := &c.elements[i]
		switch {
		case x.line != nil:
			var slugs []amount
			for k := range x.line.pieces {
				p := &x.line.pieces[k]
				content := held[p.edge]
				if p.forward {
					content = slices.Clone(content)
					slices.Reverse(content)
				}
				slugs = append(slugs, content...)
				held[p.edge] = nil
			}
			x.line.fill(slugs)
		case x.mixer != nil:
			for _, a := range held[x.mixer.edge] {
				x.mixer.holds.add(&a)
			}
			held[x.mixer.edge] = nil
		}
	}
}

// unload gives what lines and hold-ups hold back to the edges.
func (c *circulation) unload() {
	held := c.s.held
	for i := range c.elements {
		x := &c.elements[i]
		switch {
		case x.line != nil:
			x.line.cut(func(p *piece, slugs []amount) {
				if p.forward {
					slices.Reverse(slugs)
				}
				held[p.edge] = slugs
			})
		case x.mixer != nil && x.mixer.volume > 0:
			held[x.mixer.edge] = []amount{x.mixer.holds}
		}
	}
}

// at gives what passes the outlet end of an edge, and the flow there.
func (c *circulation) at(p spot) (*amount, float64) {
	x := &c.elements[p.element]
	switch {
	case x.line != nil:
		return x.line.at(p.start), x.flow
	case x.mixer != nil:
		return x.mixer.now(), x.flow
	}
	return x.bowl.holds, x.flow
}
