package graph

// Reach returns, per node, whether it can be reached from any of the nodes from
// over open edges. With [Downstream] one-way edges are passed only from U to V;
// with [Upstream] only from V to U, which gives the nodes from which one of from
// can be reached; with [Either] both ways.
//
// A node marked in stop (nil for none) is reached but not passed, unless it is one
// of from.
func (g *Graph) Reach(open []bool, from []int, way Direction, stop []bool) []bool {
	g.mustEdges("open", len(open), open == nil)
	g.mustNodes("stop", len(stop), stop == nil)
	g.mustNode(from...)
	seen := make([]bool, g.Nodes())
	queue := make([]int32, 0, len(from))
	for _, n := range from {
		if !seen[n] {
			seen[n] = true
			queue = append(queue, int32(n))
		}
	}
	for len(queue) > 0 {
		u := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		for _, a := range g.arcs[g.start[u]:g.start[u+1]] {
			if seen[a.Node] || open != nil && !open[a.Edge] || !g.passable(a.Edge, u, way) {
				continue
			}
			seen[a.Node] = true
			if stop == nil || !stop[a.Node] {
				queue = append(queue, a.Node)
			}
		}
	}
	return seen
}

// Components returns the connected component of each node over open edges, taken
// both ways, and the number of components. They are numbered by their lowest node.
func (g *Graph) Components(open []bool) (of []int32, count int) {
	g.mustEdges("open", len(open), open == nil)
	of = make([]int32, g.Nodes())
	for i := range of {
		of[i] = -1
	}
	var queue []int32
	for root := range of {
		if of[root] >= 0 {
			continue
		}
		c := int32(count)
		count++
		of[root] = c
		queue = append(queue, int32(root))
		for len(queue) > 0 {
			u := queue[len(queue)-1]
			queue = queue[:len(queue)-1]
			for _, a := range g.arcs[g.start[u]:g.start[u+1]] {
				if of[a.Node] < 0 && (open == nil || open[a.Edge]) {
					of[a.Node] = c
					queue = append(queue, a.Node)
				}
			}
		}
	}
	return of, count
}
