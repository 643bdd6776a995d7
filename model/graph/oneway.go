package graph

// drop is a one-way edge that no way through its block can use.
type drop struct {
	edge    int32
	against bool // passed backwards it would complete a way
}

// unusable returns the one-way edges of a chain, in no particular order, that no
// walk through their block can use.
func (g *Graph) unusable(c *Chain) []drop {
	var out []drop
	var w *walker
	for i := range c.Links {
		k := &c.Links[i]
		if len(k.Edges) == 1 {
			e := k.Edges[0]
			if d := g.edges[e]; d.OneWay && d.U != k.Enter {
				out = append(out, drop{e, true})
			}
			continue
		}
		if !g.anyOneWay(k.Edges) {
			continue
		}
		if w == nil {
			w = &walker{g: g, c: c, down: make([]int32, g.Nodes()), up: make([]int32, g.Nodes())}
		}
		link := int32(i)
		w.walk(w.down, link, k.Enter, k.Leave, Downstream)
		w.walk(w.up, link, k.Leave, k.Enter, Upstream)
		down := func(n int) bool { return w.down[n] == link+1 }
		up := func(n int) bool { return w.up[n] == link+1 }
		for _, e := range k.Edges {
			d := &g.edges[e]
			if !d.OneWay {
				continue
			}
			// No simple path comes back to where the block is entered or goes
			// on from where it is left.
			if d.U != k.Leave && d.V != k.Enter && down(d.U) && up(d.V) {
				continue
			}
			out = append(out, drop{e, d.V != k.Leave && d.U != k.Enter && down(d.V) && up(d.U)})
		}
	}
	return out
}

func (g *Graph) anyOneWay(edges []int32) bool {
	for _, e := range edges {
		if g.edges[e].OneWay {
			return true
		}
	}
	return false
}

// walker searches inside single links of a chain.
type walker struct {
	g        *Graph
	c        *Chain
	down, up []int32 // 1 + the last link in which the node was reached
	stack    []int32
}

// walk marks the nodes of a link that can be reached from one of its nodes without
// passing through another.
func (w *walker) walk(mark []int32, link int32, from, until int, way Direction) {
	mark[from] = link + 1
	w.stack = append(w.stack[:0], int32(from))
	for len(w.stack) > 0 {
		u := w.stack[len(w.stack)-1]
		w.stack = w.stack[:len(w.stack)-1]
		for _, a := range w.g.arcs[w.g.start[u]:w.g.start[u+1]] {
			if w.c.Link[a.Edge] != link || mark[a.Node] == link+1 || !w.g.passable(a.Edge, u, way) {
				continue
			}
			mark[a.Node] = link + 1
			if int(a.Node) != until {
				w.stack = append(w.stack, a.Node)
			}
		}
	}
}

// orient fills in c.Along.
func (g *Graph) orient(c *Chain) {
	var work []int32 // edges decided inside blocks with several ways
	var degree []int32
	decide := func(e int32, from int) {
		if c.Along[e] != 0 {
			return
		}
		c.Along[e] = -1
		if g.edges[e].U == from {
			c.Along[e] = 1
		}
		work = append(work, e)
	}
	for i := range c.Links {
		k := &c.Links[i]
		if len(k.Edges) == 1 {
			decide(k.Edges[0], k.Enter)
			work = work[:0]
			continue
		}
		if degree == nil {
			degree = make([]int32, g.Nodes())
		}
		for _, e := range k.Edges {
			d := &g.edges[e]
			degree[d.U]++
			degree[d.V]++
			switch {
			case d.OneWay || d.U == k.Enter || d.V == k.Leave:
				decide(e, d.U)
			case d.V == k.Enter || d.U == k.Leave:
				decide(e, d.V)
			}
		}
		// A node of two edges passes the direction on. The ends of the link have
		// all their edges decided already, so their degree does not matter.
		for len(work) > 0 {
			e := work[len(work)-1]
			work = work[:len(work)-1]
			tail, head := g.edges[e].U, g.edges[e].V
			if c.Along[e] < 0 {
				tail, head = head, tail
			}
			if f := g.partner(c, e, head, degree); f >= 0 {
				decide(f, head)
			}
			if f := g.partner(c, e, tail, degree); f >= 0 {
				decide(f, g.Other(int(f), tail))
			}
		}
		for _, e := range k.Edges {
			degree[g.edges[e].U], degree[g.edges[e].V] = 0, 0
		}
	}
}

// partner returns the only other edge that the link of edge e has at a node, -1 if
// it has more.
func (g *Graph) partner(c *Chain, e int32, node int, degree []int32) int32 {
	if degree[node] != 2 {
		return -1
	}
	for _, a := range g.Incident(node) {
		if a.Edge != e && c.Link[a.Edge] == c.Link[e] {
			return a.Edge
		}
	}
	return -1
}
