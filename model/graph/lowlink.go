package graph

// lowlink is the depth-first search of J. Hopcroft and R. Tarjan, "Algorithm 447:
// efficient algorithms for graph manipulation", Communications of the ACM 16(6),
// 1973, which finds the blocks of a graph in linear time. The path is kept in a
// slice instead of on the call stack, so that a chain of any length is safe, and
// the edge back to the parent is told by its id instead of by its node, so that
// parallel edges form a block.
type lowlink struct {
	g     *Graph
	open  []bool
	at    []visit
	block []int32 // per edge; -1 while it has none
	count int32   // blocks so far
	clock int32
	path  []int32 // nodes from the root to the current one
	stack []int32 // edges not yet in a block
	// closed, if not nil, is told each block other than a self loop when it is
	// complete, with the node at which it hangs.
	closed func(top int32, root bool)
}

// visit is what the search knows of a node.
type visit struct {
	disc int32 // time of discovery, from 1; 0 while undiscovered
	low  int32 // earliest time reached from the subtree by one back edge
	next int32 // next arc to look at
	via  int32 // edge from the parent; -1 at a root
}

func newLowlink(g *Graph, open []bool) *lowlink {
	l := &lowlink{
		g: g, open: open,
		at:    make([]visit, g.Nodes()),
		block: make([]int32, len(g.edges)),
	}
	for i := range l.block {
		l.block[i] = -1
	}
	return l
}

// run searches the component of root, which must not have been searched before.
func (l *lowlink) run(root int32) {
	l.discover(root, -1)
	for len(l.path) > 0 {
		u := l.path[len(l.path)-1]
		if !l.advance(u) {
			l.path = l.path[:len(l.path)-1]
			l.retreat(u)
		}
	}
}

func (l *lowlink) discover(n, via int32) {
	l.clock++
	l.at[n] = visit{disc: l.clock, low: l.clock, next: l.g.start[n], via: via}
	l.path = append(l.path, n)
}

// advance looks at the arcs of u until one leads to a new node, which becomes the
// end of the path. It reports false when no arc is left.
func (l *lowlink) advance(u int32) bool {
	at := &l.at[u]
	for end := l.g.start[u+1]; at.next < end; {
		a := l.g.arcs[at.next]
		at.next++
		if a.Edge == at.via || l.open != nil && !l.open[a.Edge] {
			continue
		}
		if a.Node == u {
			l.block[a.Edge] = l.count
			l.count++
			continue
		}
		switch disc := l.at[a.Node].disc; {
		case disc == 0:
			l.stack = append(l.stack, a.Edge)
			l.discover(a.Node, a.Edge)
			return true
		case disc < at.disc:
			l.stack = append(l.stack, a.Edge)
			at.low = min(at.low, disc)
		}
	}
	return false
}

// retreat leaves u, the last node of the path before it was shortened, and closes
// the block that hangs at its parent when nothing below u reaches higher.
func (l *lowlink) retreat(u int32) {
	if len(l.path) == 0 {
		return
	}
	p := l.path[len(l.path)-1]
	via, low := l.at[u].via, l.at[u].low
	if low < l.at[p].disc {
		l.at[p].low = min(l.at[p].low, low)
		return
	}
	for {
		e := l.stack[len(l.stack)-1]
		l.stack = l.stack[:len(l.stack)-1]
		l.block[e] = l.count
		if e == via {
			break
		}
	}
	l.count++
	if l.closed != nil {
		l.closed(p, len(l.path) == 1)
	}
}
