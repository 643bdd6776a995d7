package lineup

import (
	"rinsewright/model/graph"
)

// links are the blocks between source and destination with every line that has no
// fork made into one link.
type links struct {
	f     *field
	nodes []int32   // of the plant, by node here
	out   [][]int32 // links by node here
	all   []link
	s, d  int32
}

// link is a line between two nodes. What it lists runs from a to b.
type link struct {
	a, b     int32
	metres   float64
	forward  bool // can be passed from a to b
	backward bool
	gates    []need
	hits     []int8
	edges    []int32
	must     bool // every way from source to destination passes it
}

// need is what a link asks of a valve: to stand in one of some positions.
type need struct {
	valve int32
	mask  uint64
}

// passable gives the edges that a way may use in some position of the valves.
func (f *field) passable() []bool {
	open := make([]bool, len(f.base))
	for e := range open {
		open[e] = f.base[e] || f.gate[e] >= 0 && f.mask[e]&f.start[f.gate[e]] != 0
		open[e] = open[e] && !f.shut[e] && f.bar[e] < 0
	}
	return open
}

// newLinks joins the edges of a chain, which must be connected.
func newLinks(f *field, c *graph.Chain) *links {
	k := &links{f: f}
	at := make([]int32, len(f.p.Nodes)) // 1 + node here
	degree := make([]int32, len(f.p.Nodes))
	for i := range c.Links {
		for _, e := range c.Links[i].Edges {
			degree[f.p.Edges[e].From]++
			degree[f.p.Edges[e].To]++
		}
	}
	add := func(n int) int32 {
		if at[n] == 0 {
			k.nodes = append(k.nodes, int32(n))
			k.out = append(k.out, nil)
			at[n] = int32(len(k.nodes))
		}
		return at[n] - 1
	}
	joint := func(n int) bool { return degree[n] == 2 && n != f.source && n != f.dest }
	k.s, k.d = add(f.source), add(f.dest)
	used := make([]bool, len(f.p.Edges))
	for i := range c.Links {
		for _, first := range c.Links[i].Edges {
			for _, from := range [2]int{f.p.Edges[first].From, f.p.Edges[first].To} {
				if used[first] || joint(from) {
					continue
				}
				l := link{a: add(from), forward: true, backward: true, must: c.CarriesAll(int(first))}
				n, e := from, int(first)
				for {
					used[e] = true
					l.must = l.must || c.CarriesAll(e)
					l.pass(f, e, n)
					n = f.g.Other(e, n)
					if !joint(n) {
						break
					}
					e = next(f.g, c, n, e)
				}
				l.b = add(n)
				k.keep(l)
			}
		}
	}
	return k
}

// next gives the other edge of a chain at a joint.
func next(g *graph.Graph, c *graph.Chain, n, e int) int {
	for _, a := range g.Incident(n) {
		if int(a.Edge) != e && c.Contains(int(a.Edge)) {
			return int(a.Edge)
		}
	}
	panic("lineup: a joint has two edges")
}

// pass adds an edge that is left from node n.
func (l *link) pass(f *field, e, n int) {
	l.edges = append(l.edges, int32(e))
	l.metres += f.metres[e] + perEdge
	if d := f.g.Edge(e); d.OneWay {
		l.forward = l.forward && d.U == n
		l.backward = l.backward && d.V == n
	}
	if h := f.hit[e]; h >= 0 && (len(l.hits) == 0 || l.hits[len(l.hits)-1] != h) {
		l.hits = append(l.hits, h)
	}
	v := f.gate[e]
	if v < 0 {
		return
	}
	for i := range l.gates {
		if l.gates[i].valve == v {
			l.gates[i].mask &= f.mask[e]
			return
		}
	}
	l.gates = append(l.gates, need{v, f.mask[e]})
}

// perEdge, in m, lets the search prefer fewer edges among equals and keeps it
// from going round in rings without length.
const perEdge = 1e-9

// keep adds a link unless nothing can pass it.
func (k *links) keep(l link) {
	if !l.forward && !l.backward || l.a == l.b {
		return
	}
	for _, g := range l.gates {
		if g.mask&k.f.start[g.valve] == 0 {
			return
		}
	}
	i := int32(len(k.all))
	k.all = append(k.all, l)
	k.out[l.a] = append(k.out[l.a], i)
	k.out[l.b] = append(k.out[l.b], i)
}

// charge is what a link costs while the valves have some positions left; not ok
// if they leave it shut. A valve in series with itself is charged in parts.
func (k *links) charge(l *link, allowed []uint64) (float64, bool) {
	sum := l.metres
	for _, g := range l.gates {
		left := allowed[g.valve] & g.mask
		if left == 0 {
			return 0, false
		}
		if k.f.moves(g.valve, left) {
			sum += perMove / k.f.valves[g.valve].series
		}
	}
	return sum, true
}

// layer gives what has been passed after a link; not ok if that is out of order.
func (k *links) layer(at int, l *link, backward bool) (int, bool) {
	for i := range l.hits {
		h := int(l.hits[i])
		if backward {
			h = int(l.hits[len(l.hits)-1-i])
		}
		switch {
		case !k.f.ask.Ordered:
			at |= 1 << h
		case h == at:
			at++
		case h > at:
			return 0, false
		}
	}
	return at, true
}
