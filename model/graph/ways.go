package graph

// ways is a forest of best ways from some seed nodes. Best is the lowest key, then
// the fewest edges, then the lowest edge id.
type ways struct {
	key    []float64 // +Inf where no way leads
	hops   []int32
	parent []int32 // edge towards the seed; -1 at a seed and where no way leads
}

// search finds the best ways from the seeds by the method of E. W. Dijkstra, "A
// note on two problems in connexion with graphs", Numerische Mathematik 1, 1959.
// first is the key of a seed; step is the key at a node reached over an edge from
// a node with the given key, and is never less than it. Nodes in stop are not
// passed unless they are seeds.
func (g *Graph) search(open []bool, seeds []int, way Direction, stop []bool,
	first func(n int) float64, step func(key float64, a Arc) float64) ways {
	n := g.Nodes()
	w := ways{make([]float64, n), make([]int32, n), make([]int32, n)}
	for i := range w.key {
		w.key[i], w.parent[i] = inf, -1
	}
	var q queue
	for _, s := range seeds {
		if k := first(s); k < w.key[s] {
			w.key[s] = k
			q.push(waiting{k, 0, int32(s)})
		}
	}
	for len(q) > 0 {
		top := q.pop()
		u := top.node
		if top.key != w.key[u] || top.hops != w.hops[u] {
			continue // a better way was found since
		}
		if stop != nil && stop[u] && top.hops > 0 {
			continue
		}
		hops := top.hops + 1
		for _, a := range g.arcs[g.start[u]:g.start[u+1]] {
			if open != nil && !open[a.Edge] || !g.passable(a.Edge, u, way) {
				continue
			}
			v, key := a.Node, step(top.key, a)
			switch old := w.key[v]; {
			case key < old || key == old && key < inf && hops < w.hops[v]:
				w.key[v], w.hops[v], w.parent[v] = key, hops, a.Edge
				q.push(waiting{key, hops, v})
			case key == old && hops == w.hops[v] && a.Edge < w.parent[v]:
				w.parent[v] = a.Edge
			}
		}
	}
	return w
}

// merge gives the nodes of the pessimistic search that no certain way reaches the
// parents of the optimistic one.
func merge(high, low ways) []int32 {
	parent := high.parent
	for n, k := range high.key {
		if k == inf {
			parent[n] = low.parent[n]
		}
	}
	return parent
}

// waiting is a node in the queue with the key it was put there for.
type waiting struct {
	key  float64
	hops int32
	node int32
}

func (a waiting) less(b waiting) bool {
	if a.key != b.key {
		return a.key < b.key
	}
	if a.hops != b.hops {
		return a.hops < b.hops
	}
	return a.node < b.node
}

// queue is a binary heap, lowest first. It is written out because the heap of the
// standard library boxes every item, and because a generic one, which could serve
// package lineup too, made Minimax and Farthest slower by 15 to 55 % when measured.
type queue []waiting

func (q *queue) push(x waiting) {
	h := append(*q, x)
	i := len(h) - 1
	for i > 0 {
		up := (i - 1) / 2
		if !x.less(h[up]) {
			break
		}
		h[i] = h[up]
		i = up
	}
	h[i] = x
	*q = h
}

func (q *queue) pop() waiting {
	h := *q
	top, x := h[0], h[len(h)-1]
	h = h[:len(h)-1]
	*q = h
	if len(h) == 0 {
		return top
	}
	i := 0
	for {
		down := 2*i + 1
		if down >= len(h) {
			break
		}
		if down+1 < len(h) && h[down+1].less(h[down]) {
			down++
		}
		if !h[down].less(x) {
			break
		}
		h[i] = h[down]
		i = down
	}
	h[i] = x
	return top
}
