package graph_test

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"rinsewright/model/graph"
)

// The tests of this file compare the package with brute force: enumeration of all
// simple paths, removal of each edge and node, and enumeration of all cuts, all
// written out here from the definitions.

const samples = 500

// sample is a small random multigraph with a filter.
type sample struct {
	*graph.Graph
	open []bool
}

// draw makes a multigraph of 1 to 7 nodes and up to 11 edges, loops and parallels
// among them; oneWay is the share of one-way edges.
func draw(t testing.TB, r *rand.Rand, oneWay float64) sample {
	n := 1 + r.Intn(7)
	edges := make([]graph.Edge, r.Intn(12))
	for i := range edges {
		edges[i] = graph.Edge{U: r.Intn(n), V: r.Intn(n), OneWay: r.Float64() < oneWay}
	}
	s := sample{Graph: build(t, n, edges...)}
	if r.Intn(3) > 0 {
		s.open = make([]bool, len(edges))
		for i := range s.open {
			s.open[i] = r.Intn(6) > 0
		}
	}
	return s
}

func (s sample) isOpen(e int) bool { return s.open == nil || s.open[e] }

// without is the filter less one edge.
func (s sample) without(e int) sample {
	open := make([]bool, s.Len())
	for i := range open {
		open[i] = s.isOpen(i) && i != e
	}
	return sample{s.Graph, open}
}

// hop is one step of a path: an edge and whether it is passed from U to V.
type hop struct {
	edge    int
	forward bool
}

// paths calls visit with every simple path from s to t. Each path is found by
// trying every edge of the graph at every node.
func (s sample) paths(from, to int, directed bool, visit func([]hop)) {
	on := make([]bool, s.Nodes())
	var path []hop
	var walk func(u int)
	walk = func(u int) {
		if u == to {
			visit(path)
			return
		}
		on[u] = true
		for i, e := range s.Edges() {
			if !s.isOpen(i) {
				continue
			}
			if e.U == u && !on[e.V] {
				path = append(path, hop{i, true})
				walk(e.V)
				path = path[:len(path)-1]
			}
			if e.V == u && !on[e.U] && e.U != e.V && !(directed && e.OneWay) {
				path = append(path, hop{i, false})
				walk(e.U)
				path = path[:len(path)-1]
			}
		}
		on[u] = false
	}
	walk(from)
}

func (s sample) joined(from, to int, directed bool) bool {
	found := false
	s.paths(from, to, directed, func([]hop) { found = true })
	return found
}

func TestBlocks_BruteForce(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for i := 0; i < samples; i++ {
		s := draw(t, r, 0.2)
		b := s.Blocks(s.open)
		cycle := onCommonCycle(s)
		for e, d := range s.Edges() {
			if !s.isOpen(e) {
				if b.Block[e] != -1 || b.Bridge[e] {
					t.Fatalf("%v: closed edge %d has a block", s.Edges(), e)
				}
				continue
			}
			if want := !s.without(e).joined(d.U, d.V, false); b.Bridge[e] != want {
				t.Errorf("%v open %v: edge %d bridge %v, by removal %v", s.Edges(), s.open, e, b.Bridge[e], want)
			}
			for f := range s.Edges() {
				if s.isOpen(f) && f != e && (b.Block[e] == b.Block[f]) != cycle[e][f] {
					t.Errorf("%v open %v: edges %d, %d in blocks %d, %d; common cycle %v", s.Edges(), s.open, e, f, b.Block[e], b.Block[f], cycle[e][f])
				}
			}
			if !slices.Contains(b.Edges(int(b.Block[e])), int32(e)) {
				t.Errorf("edge %d is not listed in its block", e)
			}
		}
		for n := range b.Articulation {
			if want := separates(s, n); b.Articulation[n] != want {
				t.Errorf("%v open %v: node %d articulation %v, by removal %v", s.Edges(), s.open, n, b.Articulation[n], want)
			}
		}
	}
}

// onCommonCycle tells for each two edges whether a simple cycle runs through both.
func onCommonCycle(s sample) [][]bool {
	common := make([][]bool, s.Len())
	for e := range common {
		common[e] = make([]bool, s.Len())
	}
	for e, d := range s.Edges() {
		if !s.isOpen(e) || d.U == d.V {
			continue
		}
		s.without(e).paths(d.U, d.V, false, func(path []hop) {
			for _, h := range path {
				common[e][h.edge] = true
			}
		})
	}
	return common
}

// separates reports whether the removal of node n parts two joined nodes.
func separates(s sample, n int) bool {
	rest := sample{s.Graph, make([]bool, s.Len())}
	for e, d := range s.Edges() {
		rest.open[e] = s.isOpen(e) && d.U != n && d.V != n
	}
	for u := 0; u < s.Nodes(); u++ {
		for v := 0; v < u; v++ {
			if u != n && v != n && s.joined(u, v, false) && !rest.joined(u, v, false) {
				return true
			}
		}
	}
	return false
}

func TestBetween_BruteForce(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	connected, dropped := 0, 0
	for i := 0; i < samples; i++ {
		s := draw(t, r, 0)
		from, to := r.Intn(s.Nodes()), r.Intn(s.Nodes())
		c := s.Between(s.open, from, to)
		on, all := uses(s, from, to)
		for e := range s.Edges() {
			if c.Contains(e) != (on[e] != 0) || c.CarriesAll(e) != all[e] {
				t.Errorf("%v open %v from %d to %d: edge %d in %v all %v, by paths %v %v",
					s.Edges(), s.open, from, to, e, c.Contains(e), c.CarriesAll(e), on[e] != 0, all[e])
			}
		}
		checkChain(t, s, c, from, to)
		if c.Connected {
			connected++
		}
	}
	for i := 0; i < 2*samples; i++ {
		s := draw(t, r, 0.4)
		from, to := r.Intn(s.Nodes()), r.Intn(s.Nodes())
		c := s.Between(s.open, from, to)
		checkChain(t, s, c, from, to)
		checkDropped(t, s, c, from, to)
		dropped += len(c.Dropped)
	}
	if connected < samples/4 || dropped < samples/4 {
		t.Errorf("samples too poor: %d connected, %d edges dropped", connected, dropped)
	}
}

// uses tells how directed simple paths use each edge: bit 0 forward, bit 1
// backward; and which edges all of them use.
func uses(s sample, from, to int) (on []int, all []bool) {
	on, all = make([]int, s.Len()), make([]bool, s.Len())
	count, times := 0, make([]int, s.Len())
	s.paths(from, to, true, func(path []hop) {
		count++
		for _, h := range path {
			times[h.edge]++
			if h.forward {
				on[h.edge] |= 1
			} else {
				on[h.edge] |= 2
			}
		}
	})
	for e := range all {
		all[e] = count > 0 && times[e] == count
	}
	return on, all
}

// checkChain tests what holds for every chain.
func checkChain(t *testing.T, s sample, c *graph.Chain, from, to int) {
	t.Helper()
	on, all := uses(s, from, to)
	if want := s.joined(from, to, true); c.Connected != want {
		t.Fatalf("%v open %v from %d to %d: connected %v, by paths %v", s.Edges(), s.open, from, to, c.Connected, want)
	}
	for e := range s.Edges() {
		if on[e] != 0 && !c.Contains(e) {
			t.Errorf("%v open %v from %d to %d: edge %d is on a path but not in the chain", s.Edges(), s.open, from, to, e)
		}
		if c.CarriesAll(e) && !all[e] {
			t.Errorf("%v open %v from %d to %d: edge %d does not carry all", s.Edges(), s.open, from, to, e)
		}
		if c.CarriesAll(e) && c.Along[e] == 0 {
			t.Errorf("edge %d carries all without a direction", e)
		}
		if c.Along[e] != 0 && !c.Contains(e) || c.Along[e] > 0 && on[e]&2 != 0 || c.Along[e] < 0 && on[e]&1 != 0 {
			t.Errorf("%v open %v from %d to %d: edge %d along %d, used %d", s.Edges(), s.open, from, to, e, c.Along[e], on[e])
		}
	}
	at, listed := from, 0
	for i, k := range c.Links {
		if k.Enter != at || !slices.IsSorted(k.Edges) {
			t.Errorf("link %d enters at %d after %d, edges %v", i, k.Enter, at, k.Edges)
		}
		at = k.Leave
		for _, e := range k.Edges {
			listed++
			if c.Link[e] != int32(i) {
				t.Errorf("edge %d listed in link %d, marked in %d", e, i, c.Link[e])
			}
		}
	}
	if c.Connected && at != to || listed != len(marked(c.Marks())) {
		t.Errorf("chain ends at %d instead of %d, lists %d of %d edges", at, to, listed, len(marked(c.Marks())))
	}
}

// checkDropped tests that dropped edges are one-way, were on an undirected path,
// are on no directed one, and that nothing is shut without a reason.
func checkDropped(t *testing.T, s sample, c *graph.Chain, from, to int) {
	t.Helper()
	undirected := make([]bool, s.Len())
	s.paths(from, to, false, func(path []hop) {
		for _, h := range path {
			undirected[h.edge] = true
		}
	})
	on, _ := uses(s, from, to)
	for _, e := range c.Dropped {
		if !s.Edge(e).OneWay || !undirected[e] || on[e] != 0 || c.Contains(e) {
			t.Errorf("%v open %v from %d to %d: edge %d wrongly dropped", s.Edges(), s.open, from, to, e)
		}
	}
	for _, e := range c.Against {
		if !slices.Contains(c.Dropped, e) {
			t.Errorf("edge %d against the way but not dropped", e)
		}
	}
	if !c.Connected && s.joined(from, to, false) && len(c.Dropped) == 0 {
		t.Errorf("%v open %v from %d to %d: shut without a reason", s.Edges(), s.open, from, to)
	}
}

func TestSimplePaths_BruteForce(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	for i := 0; i < samples; i++ {
		s := draw(t, r, 0.3)
		from, to := r.Intn(s.Nodes()), r.Intn(s.Nodes())
		var want [][]int
		s.paths(from, to, true, func(path []hop) {
			p := []int{}
			for _, h := range path {
				p = append(p, h.edge)
			}
			want = append(want, p)
		})
		got, more := s.SimplePaths(s.open, from, to, 1000)
		if more || !slices.EqualFunc(got, want, slices.Equal[[]int]) {
			t.Errorf("%v open %v from %d to %d: paths %v, want %v", s.Edges(), s.open, from, to, got, want)
		}
		if got, more = s.SimplePaths(s.open, from, to, 1); len(got) != min(1, len(want)) || more != (len(want) > 1) {
			t.Errorf("limit 1: %v, more %v, of %d", got, more, len(want))
		}
	}
}

// spillOf is the spill level of a node by enumeration of all ways to all sinks.
func spillOf(s sample, n int, height []float64, sinks []int) float64 {
	best := math.Inf(1)
	for _, sink := range sinks {
		s.paths(n, sink, true, func(path []hop) {
			top := height[n]
			for _, h := range path {
				d := s.Edge(h.edge)
				if h.forward {
					top = max(top, height[d.V])
				} else {
					top = max(top, height[d.U])
				}
			}
			best = min(best, top)
		})
	}
	return best
}

func TestMinimax_BruteForce(t *testing.T) {
	r := rand.New(rand.NewSource(4))
	unknown, surely := 0, 0
	for i := 0; i < samples; i++ {
		s := draw(t, r, 0.2)
		height := make([]float64, s.Nodes())
		holes := false
		for n := range height {
			height[n] = float64(r.Intn(6))
			if i%2 == 1 && r.Intn(4) == 0 {
				height[n], holes = math.NaN(), true
			}
		}
		var sinks []int
		for k := r.Intn(3); k >= 0; k-- {
			sinks = append(sinks, r.Intn(s.Nodes()))
		}
		got := s.Minimax(s.open, height, sinks)
		// Any filling of the holes gives a level between the one with all holes
		// below and the one with all above every other height.
		low, high := fill(height, -100), fill(height, 100)
		random := fill(height, 6*r.Float64())
		for n := range height {
			l, h := spillOf(s, n, low, sinks), spillOf(s, n, high, sinks)
			level, known := got.Level(n)
			if known != (l == h) || known && level != l || got.Unknown()[n] == known {
				t.Errorf("%v open %v heights %v sinks %v node %d: %v known %v, by paths %v to %v", s.Edges(), s.open, height, sinks, n, level, known, l, h)
			}
			if x := spillOf(s, n, random, sinks); x < got.Low[n] || x > got.High[n] {
				t.Errorf("level %v outside %v..%v", x, got.Low[n], got.High[n])
			}
			if !known {
				unknown++
			} else if holes && level < 100 {
				surely++
			}
			checkWayOut(t, s, got, n, height, sinks)
		}
	}
	if unknown < 100 || surely < 100 {
		t.Errorf("samples too poor: %d unknown, %d known beside holes", unknown, surely)
	}
}

func fill(values []float64, by float64) []float64 {
	out := slices.Clone(values)
	for i, v := range out {
		if math.IsNaN(v) {
			out[i] = by
		}
	}
	return out
}

// checkWayOut follows the parents from n to a sink.
func checkWayOut(t *testing.T, s sample, got *graph.Spill, n int, height []float64, sinks []int) {
	t.Helper()
	if math.IsInf(got.Low[n], 1) {
		if got.Parent[n] != -1 {
			t.Errorf("node %d has a way out without reaching a sink", n)
		}
		return
	}
	top, at := math.Inf(-1), n
	for steps := 0; ; steps++ {
		if steps > s.Nodes() {
			t.Fatalf("%v open %v: the way out of %d goes round", s.Edges(), s.open, n)
		}
		if math.IsNaN(height[at]) {
			if !math.IsInf(got.High[n], 1) {
				t.Errorf("way out of %d passes an unknown height though a certain one exists", n)
			}
		} else {
			top = max(top, height[at])
		}
		e := int(got.Parent[at])
		if e < 0 {
			break
		}
		d := s.Edge(e)
		if !s.isOpen(e) || d.OneWay && d.U != at {
			t.Fatalf("way out of %d passes edge %d, closed or the wrong way", n, e)
		}
		at = s.Other(e, at)
	}
	want := got.High[n]
	if math.IsInf(want, 1) {
		want = got.Low[n]
	}
	if !slices.Contains(sinks, at) || top != want {
		t.Errorf("%v open %v heights %v: way out of %d ends at %d, highest %v, want %v", s.Edges(), s.open, height, n, at, top, want)
	}
}

func TestMinCut_BruteForce(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	for i := 0; i < samples; i++ {
		s := draw(t, r, 0.3)
		cost := make([]int64, s.Len())
		for e := range cost {
			cost[e] = int64(1 + r.Intn(5))
			if r.Intn(6) == 0 {
				cost[e] = graph.Uncuttable
			}
		}
		sources, sinks := []int{r.Intn(s.Nodes())}, []int{r.Intn(s.Nodes())}
		if r.Intn(2) == 0 {
			sources = append(sources, r.Intn(s.Nodes()))
			sinks = append(sinks, r.Intn(s.Nodes()), sinks[0])
		}
		want, value, possible := cheapest(s, sources, sinks, cost)
		got, err := s.MinCut(s.open, sources, sinks, cost)
		if err != nil {
			t.Fatal(err)
		}
		if got.Possible != possible || got.Value != value || !slices.Equal(got.Edges, want) {
			t.Errorf("%v open %v from %v to %v cost %v: %+v, by enumeration %v %d %v",
				s.Edges(), s.open, sources, sinks, cost, got, want, value, possible)
		}
	}
}

// cheapest tries every division of the nodes into a side of the sources and a side
// of the sinks. Of equal ones the smallest side of the sinks wins; there is only
// one (L. R. Ford and D. R. Fulkerson, Flows in Networks, 1962: minimum cuts are
// closed under union and intersection of their sides).
func cheapest(s sample, sources, sinks []int, cost []int64) (edges []int, value int64, possible bool) {
	bestSize := 0
	for side := 0; side < 1<<s.Nodes(); side++ { // bit set: side of the sinks
		near := func(n int) bool { return side>>n&1 == 1 }
		if slices.ContainsFunc(sources, near) || slices.ContainsFunc(sinks, func(n int) bool { return !near(n) }) {
			continue
		}
		var cut []int
		sum := int64(0)
		for e, d := range s.Edges() {
			if s.isOpen(e) && (!near(d.U) && near(d.V) || !d.OneWay && near(d.U) && !near(d.V)) {
				cut = append(cut, e)
				if sum += cost[e]; sum >= graph.Uncuttable {
					sum = graph.Uncuttable
					break
				}
			}
		}
		if sum >= graph.Uncuttable {
			continue
		}
		size := 0
		for n := 0; n < s.Nodes(); n++ {
			if near(n) {
				size++
			}
		}
		if !possible || sum < value || sum == value && size < bestSize {
			edges, value, possible, bestSize = cut, sum, true, size
		}
	}
	return edges, value, possible
}

func TestMinCut_ZeroCost(t *testing.T) {
	// The edge 2-1 costs nothing but no source reaches 2; 0-1 has to be cut.
	g := build(t, 3, two(0, 1), two(2, 1))
	c, err := g.MinCut(nil, []int{0}, []int{1}, []int64{4, 0})
	if err != nil || c.Value != 4 || !slices.Equal(c.Edges, []int{0}) {
		t.Errorf("%+v, %v", c, err)
	}
	// A free edge that does stand in the way is listed.
	c, err = g.MinCut(nil, []int{0}, []int{2}, []int64{4, 0})
	if err != nil || c.Value != 0 || !slices.Equal(c.Edges, []int{1}) {
		t.Errorf("%+v, %v", c, err)
	}
}

func TestFarthest_BruteForce(t *testing.T) {
	r := rand.New(rand.NewSource(6))
	for i := 0; i < samples; i++ {
		s := draw(t, r, 0.2)
		length := make([]float64, s.Len())
		for e := range length {
			length[e] = float64(r.Intn(5)) / 4 // exact in binary, so sums compare exactly
			if i%2 == 1 && r.Intn(5) == 0 {
				length[e] = math.NaN()
				if r.Intn(3) == 0 {
					length[e] = -1
				}
			}
		}
		from := r.Intn(s.Nodes())
		var stop []bool
		if r.Intn(2) == 0 {
			stop = make([]bool, s.Nodes())
			stop[r.Intn(s.Nodes())] = true
		}
		got := s.Farthest(s.open, from, length, stop)
		most, mostHigh := 0.0, 0.0
		for n := 0; n < s.Nodes(); n++ {
			l, h := shortestOf(s, from, n, length, stop)
			if got.Low[n] != l || got.High[n] != h {
				t.Errorf("%v open %v lengths %v from %d stop %v node %d: %v..%v, by paths %v..%v",
					s.Edges(), s.open, length, from, stop, n, got.Low[n], got.High[n], l, h)
			}
			if d, known := got.Distance(n); known != (l == h) || known && d != l {
				t.Errorf("distance %v known %v, want %v..%v", d, known, l, h)
			}
			if !math.IsInf(l, 1) {
				most, mostHigh = max(most, l), max(mostHigh, h)
			}
		}
		if got.Length != most || got.Unknown != (most != mostHigh) || got.Low[got.Node] != most {
			t.Errorf("farthest node %d at %v unknown %v, want %v..%v", got.Node, got.Length, got.Unknown, most, mostHigh)
		}
		at, sum := from, 0.0
		for _, e := range got.Path {
			at = s.Other(e, at)
			if length[e] > 0 {
				sum += length[e]
			}
		}
		if at != got.Node || !got.Unknown && sum != got.Length {
			t.Errorf("path %v from %d ends at %d with length %v; want %d, %v", got.Path, from, at, sum, got.Node, got.Length)
		}
	}
}

// shortestOf is the shortest length by enumeration with every unknown length zero,
// and with every unknown length endless.
func shortestOf(s sample, from, to int, length []float64, stop []bool) (low, high float64) {
	low, high = math.Inf(1), math.Inf(1)
	s.paths(from, to, false, func(path []hop) {
		l, h, at := 0.0, 0.0, from
		for _, p := range path {
			if stop != nil && stop[at] && at != from {
				return
			}
			at = s.Other(p.edge, at)
			if length[p.edge] >= 0 {
				l += length[p.edge]
				h += length[p.edge]
			} else {
				h = math.Inf(1)
			}
		}
		low, high = min(low, l), min(high, h)
	})
	return low, high
}
