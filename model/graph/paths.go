package graph

// SimplePaths lists the simple paths over open edges from s to t, each as its edges
// in order, and reports whether there are more than limit, which ends the listing.
// One-way edges are passed from U to V only. The paths come in the order of their
// edge ids at each node. If s and t are the same node the one path is empty.
//
// There may be exponentially many, and even a low limit does not always keep the
// search short: blind alleys made by one-way edges or by the path itself are
// tried to their end.
func (g *Graph) SimplePaths(open []bool, s, t, limit int) (paths [][]int, more bool) {
	chain := g.Between(open, s, t)
	if !chain.Connected {
		return nil, false
	}
	if s == t {
		if limit < 1 {
			return nil, true
		}
		return [][]int{{}}, false
	}
	on := make([]bool, g.Nodes())
	next := make([]int32, g.Nodes())
	var path []int
	u := int32(s)
	on[u], next[u] = true, g.start[u]
	for {
		if int(u) == t {
			if len(paths) >= limit {
				return paths, true
			}
			paths = append(paths, append([]int(nil), path...))
		} else if a, ok := g.branch(chain, u, on, next); ok {
			path = append(path, int(a.Edge))
			u = a.Node
			on[u], next[u] = true, g.start[u]
			continue
		}
		on[u] = false
		if len(path) == 0 {
			return paths, false
		}
		u = int32(g.Other(path[len(path)-1], int(u)))
		path = path[:len(path)-1]
	}
}

// branch returns the next arc of the chain from u to a node that is not on the path.
func (g *Graph) branch(c *Chain, u int32, on []bool, next []int32) (Arc, bool) {
	for next[u] < g.start[u+1] {
		a := g.arcs[next[u]]
		next[u]++
		if c.Link[a.Edge] >= 0 && !on[a.Node] && g.passable(a.Edge, u, Downstream) {
			return a, true
		}
	}
	return Arc{}, false
}
