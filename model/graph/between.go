package graph

import "slices"

// Chain is what lies between two nodes: the blocks, one after the other, that
// every simple path from the first to the second runs through.
type Chain struct {
	// Connected reports whether the second node can be reached from the first
	// without passing a one-way edge backwards. When false the chain is empty.
	Connected bool
	// Links are the blocks in order from the first node to the second. There are
	// none when the two nodes are the same.
	Links []Link
	// Link is, per edge, the index in Links of the block it lies in, -1 for an
	// edge on no simple path.
	Link []int32
	// Along is, per edge of the chain, +1 where every way passes it from U to V,
	// -1 where every way passes it from V to U, and 0 where that is not decided.
	// A single edge is always decided. In a block with several ways one-way edges
	// are decided, and the legs that begin at the block's first node or end at its
	// last one, as far as they do not branch.
	Along []int8
	// Dropped are the one-way edges, in rising order, that lie on a simple path if
	// passed either way, but that no way from the first node to the second can use.
	Dropped []int
	// Against are those of Dropped that stand against the way: passed backwards,
	// they would complete a way through their block. The other edges of Dropped
	// are merely cut off by something else.
	Against []int
}

// Link is one block of a chain.
type Link struct {
	Enter, Leave int     // nodes at which every way enters and leaves the block
	Edges        []int32 // in rising order
}

// Contains reports whether edge e lies on a simple path between the two nodes.
func (c *Chain) Contains(e int) bool { return c.Link[e] >= 0 }

// CarriesAll reports whether every way passes edge e, so that its removal
// separates the two nodes.
func (c *Chain) CarriesAll(e int) bool {
	return c.Link[e] >= 0 && len(c.Links[c.Link[e]].Edges) == 1
}

// Marks returns a filter of the edges of the chain.
func (c *Chain) Marks() []bool {
	in := make([]bool, len(c.Link))
	for e, l := range c.Link {
		in[e] = l >= 0
	}
	return in
}

// Between returns the open edges that lie on some simple path from node s to node
// t. In a block any edge lies on a simple path between any two of its nodes
// (F. Harary, Graph Theory, 1969, theorem 3.3, from memory), so these are the edges
// of the blocks between s and t. One search takes linear time. Self loops lie on
// no simple path.
//
// One-way edges: the chain is first found as if there were none. Then, in each of
// its blocks, a one-way edge is dropped when no walk can use it in its direction
// from the node where the block is entered to the node where it is left, passing
// neither of these in between. What remains is searched again until nothing more
// drops. No edge on a permitted simple path is ever dropped, and Connected is exact.
//
// Not decided: inside a block that has several ways and one-way edges, an edge may
// stay in the chain although every walk that uses it in a permitted direction meets
// itself. To settle that exactly is a problem of disjoint paths in a directed graph,
// which is NP-hard (S. Fortune, J. Hopcroft and J. Wyllie, "The directed subgraph
// homeomorphism problem", Theoretical Computer Science 10, 1980).
//
// If s and t are the same node the chain is connected and empty.
func (g *Graph) Between(open []bool, s, t int) *Chain {
	g.mustEdges("open", len(open), open == nil)
	g.mustNode(s, t)
	c := &Chain{Along: make([]int8, len(g.edges))}
	for g.between(c, open, int32(s), int32(t)) && g.oneWay {
		drop := g.unusable(c)
		if len(drop) == 0 {
			break
		}
		open = c.Marks() // all that follows lies inside this chain
		for _, d := range drop {
			open[d.edge] = false
			c.Dropped = append(c.Dropped, int(d.edge))
			if d.against {
				c.Against = append(c.Against, int(d.edge))
			}
		}
	}
	slices.Sort(c.Dropped)
	slices.Sort(c.Against)
	g.orient(c)
	return c
}

// between fills in the chain of open edges as if no edge were one-way, and reports
// whether there is any.
func (g *Graph) between(c *Chain, open []bool, s, t int32) bool {
	c.Connected, c.Links = false, nil
	l := newLowlink(g, open)
	l.run(s)
	place := make([]int32, l.count)
	for i := range place {
		place[i] = -1
	}
	if l.at[t].disc != 0 {
		c.Connected = true
		g.link(c, l, place, s, t)
	}
	c.Link = l.block
	c.fill(place)
	return c.Connected
}

// link walks the search tree back from t to s, makes a link of each block it meets,
// and notes the place in the chain of each block of the search.
func (g *Graph) link(c *Chain, l *lowlink, place []int32, s, t int32) {
	last := int32(-1)
	for n := t; n != s; {
		e := l.at[n].via
		if b := l.block[e]; b != last {
			place[b] = int32(len(c.Links))
			c.Links = append(c.Links, Link{Leave: int(n)})
			last = b
		}
		n = int32(g.Other(int(e), int(n)))
		c.Links[len(c.Links)-1].Enter = int(n)
	}
	slices.Reverse(c.Links)
	for b, p := range place {
		if p >= 0 {
			place[b] = int32(len(c.Links)) - 1 - p
		}
	}
}

// fill turns the blocks in c.Link into places in the chain and lists the edges of
// each link.
func (c *Chain) fill(place []int32) {
	size := make([]int32, len(c.Links))
	total := 0
	for e, b := range c.Link {
		if b < 0 {
			continue
		}
		c.Link[e] = place[b]
		if place[b] >= 0 {
			size[place[b]]++
			total++
		}
	}
	members := make([]int32, total)
	for i := range c.Links {
		c.Links[i].Edges = members[:0:size[i]]
		members = members[size[i]:]
	}
	for e, i := range c.Link {
		if i >= 0 {
			c.Links[i].Edges = append(c.Links[i].Edges, int32(e))
		}
	}
}
