package lineup

import (
	"math"
	"slices"
)

// walker finds cheapest walks from source to destination through all layers (sets
// of what has been passed), by the method A* of P. E. Hart, N. J. Nilsson and B.
// Raphael (1968). The estimate of what remains is exact for the positions that the
// ask leaves open, and never too high for fewer.
type walker struct {
	k     *links
	work  *int
	rest  []float64 // by state: what remains at least
	cost  []float64
	via   []step
	stamp []int32
	round int32
	queue heap
}

// step is a link passed forward or backward, and the state it was left from.
type step struct {
	link     int32
	backward bool
	from     int32 // state
}

// walk is a way through the links.
type walk struct {
	steps  []step
	states []int32 // from the first to the last, one more than steps
	cost   float64
}

func newWalker(k *links, allowed []uint64, work *int) *walker {
	n := len(k.nodes) * k.f.layers
	w := &walker{k: k, work: work, rest: make([]float64, n), cost: make([]float64, n), via: make([]step, n), stamp: make([]int32, n)}
	w.remaining(allowed)
	return w
}

func (w *walker) state(node int32, layer int) int32 { return node*int32(w.k.f.layers) + int32(layer) }
func (w *walker) node(s int32) int32                { return s / int32(w.k.f.layers) }
func (w *walker) layer(s int32) int                 { return int(s) % w.k.f.layers }

// remaining fills in rest by a search from the destination back.
func (w *walker) remaining(allowed []uint64) {
	for i := range w.rest {
		w.rest[i] = math.Inf(1)
	}
	goal := w.state(w.k.d, w.k.f.layers-1)
	w.rest[goal] = 0
	w.queue = append(w.queue[:0], queued{0, goal})
	for len(w.queue) > 0 {
		top := w.queue.pop()
		if top.key > w.rest[top.at] {
			continue
		}
		*w.work++
		node, layer := w.node(top.at), w.layer(top.at)
		for _, i := range w.k.out[node] {
			l := &w.k.all[i]
			c, ok := w.k.charge(l, allowed)
			if !ok {
				continue
			}
			for _, backward := range [2]bool{false, true} {
				from, to := l.a, l.b
				if backward {
					from, to = l.b, l.a
				}
				if to != node || backward && !l.backward || !backward && !l.forward {
					continue
				}
				for before := range w.k.f.layers {
					if after, ok := w.k.layer(before, l, backward); !ok || after != layer {
						continue
					}
					if s := w.state(from, before); top.key+c < w.rest[s] {
						w.rest[s] = top.key + c
						w.queue.push(queued{top.key + c, s})
					}
				}
			}
		}
	}
}

// find gives the cheapest walk for the positions allowed that keeps out of some
// states and costs at most bound; nil if there is none.
func (w *walker) find(allowed []uint64, banned []int32, bound float64) *walk {
	w.round++
	start, goal := w.state(w.k.s, 0), w.state(w.k.d, w.k.f.layers-1)
	for _, s := range banned {
		w.stamp[s], w.cost[s] = w.round, math.Inf(-1)
	}
	if w.stamp[start] == w.round || math.IsInf(w.rest[start], 1) {
		return nil
	}
	w.stamp[start], w.cost[start], w.via[start] = w.round, 0, step{link: -1}
	w.queue = append(w.queue[:0], queued{w.rest[start], start})
	for len(w.queue) > 0 {
		top := w.queue.pop()
		cost := w.cost[top.at]
		if top.key > cost+w.rest[top.at]+1e-12 {
			continue // a cheaper walk got here since
		}
		if top.at == goal {
			return w.trace(goal)
		}
		*w.work++
		node, layer := w.node(top.at), w.layer(top.at)
		for _, i := range w.k.out[node] {
			l := &w.k.all[i]
			backward := l.b == node
			if backward && !l.backward || !backward && !l.forward {
				continue
			}
			after, ok := w.k.layer(layer, l, backward)
			if !ok {
				continue
			}
			far := l.a + l.b - node
			s := w.state(far, after)
			if math.IsInf(w.rest[s], 1) {
				continue
			}
			c, ok := w.k.charge(l, allowed)
			if !ok || cost+c+w.rest[s] > bound || w.stamp[s] == w.round && w.cost[s] <= cost+c {
				continue
			}
			w.stamp[s], w.cost[s], w.via[s] = w.round, cost+c, step{i, backward, top.at}
			w.queue.push(queued{cost + c + w.rest[s], s})
		}
	}
	return nil
}

func (w *walker) trace(goal int32) *walk {
	out := &walk{cost: w.cost[goal], states: []int32{goal}}
	for s := goal; w.via[s].link >= 0; s = w.via[s].from {
		out.steps = append(out.steps, w.via[s])
		out.states = append(out.states, w.via[s].from)
	}
	slices.Reverse(out.steps)
	slices.Reverse(out.states)
	return out
}

// edges gives the edges of the plant that a walk passes, in order.
func (w *walker) edges(x *walk) []int {
	var out []int
	for _, st := range x.steps {
		l := w.k.all[st.link].edges
		for i := range l {
			e := l[i]
			if st.backward {
				e = l[len(l)-1-i]
			}
			out = append(out, int(e))
		}
	}
	return out
}

// queued is a state, or a share of the positions, in a queue; lowest key first,
// of equal ones that which was numbered first.
type queued struct {
	key float64
	at  int32
}

func (a queued) less(b queued) bool { return a.key < b.key || a.key == b.key && a.at < b.at }

// heap is a binary heap; written out because that of the standard library boxes
// every item.
type heap []queued

func (q *heap) push(x queued) {
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

func (q *heap) pop() queued {
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
