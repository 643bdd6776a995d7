package graph_test

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"testing"

	"rinsewright/model/graph"
)

// build makes a graph and fails the test if that is refused.
func build(t testing.TB, nodes int, edges ...graph.Edge) *graph.Graph {
	t.Helper()
	g, err := graph.New(nodes, edges)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// two and one are edges passable both ways and from u to v only.
func two(u, v int) graph.Edge { return graph.Edge{U: u, V: v} }
func one(u, v int) graph.Edge { return graph.Edge{U: u, V: v, OneWay: true} }

// chainOf is the graph 0-1-2-...-(nodes-1).
func chainOf(t testing.TB, nodes int) *graph.Graph {
	edges := make([]graph.Edge, nodes-1)
	for i := range edges {
		edges[i] = two(i, i+1)
	}
	return build(t, nodes, edges...)
}

// marked lists the positions that hold true.
func marked(b []bool) []int {
	out := []int{}
	for i, x := range b {
		if x {
			out = append(out, i)
		}
	}
	return out
}

func TestNew_Refuses(t *testing.T) {
	for _, c := range []struct {
		desc  string
		nodes int
		edges []graph.Edge
		want  error
	}{
		{"negative size", -1, nil, graph.ErrSize},
		{"end beyond the last node", 2, []graph.Edge{two(0, 1), two(1, 2)}, graph.ErrNode},
		{"negative end", 2, []graph.Edge{two(-1, 1)}, graph.ErrNode},
		{"edge without nodes", 0, []graph.Edge{two(0, 0)}, graph.ErrNode},
	} {
		if _, err := graph.New(c.nodes, c.edges); !errors.Is(err, c.want) {
			t.Errorf("%s: error %v, want %v", c.desc, err, c.want)
		}
	}
}

func TestNew_Keeps(t *testing.T) {
	edges := []graph.Edge{two(0, 1), two(2, 2), one(1, 0), two(1, 2)}
	g := build(t, 4, edges...)
	if g.Nodes() != 4 || g.Len() != 4 || !reflect.DeepEqual(g.Edges(), edges) || g.Edge(2) != edges[2] {
		t.Errorf("kept %d nodes and %v", g.Nodes(), g.Edges())
	}
	edges[0].V = 3
	if g.Edge(0).V != 1 {
		t.Error("the graph shares the caller's slice")
	}
	for n, want := range [][]graph.Arc{
		{{Edge: 0, Node: 1}, {Edge: 2, Node: 1}},
		{{Edge: 0, Node: 0}, {Edge: 2, Node: 0}, {Edge: 3, Node: 2}},
		{{Edge: 1, Node: 2}, {Edge: 3, Node: 1}},
		{},
	} {
		if got := g.Incident(n); !slices.Equal(got, want) {
			t.Errorf("arcs of node %d: %v, want %v", n, got, want)
		}
	}
	if g.Other(3, 1) != 2 || g.Other(3, 2) != 1 || g.Other(1, 2) != 2 {
		t.Error("wrong other end")
	}
}

func TestGraph_Empty(t *testing.T) {
	var zero graph.Graph
	for _, g := range []*graph.Graph{&zero, build(t, 0), build(t, 3)} {
		if b := g.Blocks(nil); b.Len() != 0 || len(b.Articulation) != g.Nodes() {
			t.Errorf("blocks of a graph without edges: %+v", b)
		}
		if _, n := g.Components(nil); n != g.Nodes() {
			t.Errorf("%d components of %d lone nodes", n, g.Nodes())
		}
		if s := g.Minimax(nil, make([]float64, g.Nodes()), nil); len(s.Low) != g.Nodes() {
			t.Errorf("minimax of %d lone nodes has %d entries", g.Nodes(), len(s.Low))
		}
		if c, err := g.MinCut(nil, nil, nil, nil); err != nil || !c.Possible || c.Value != 0 || len(c.Edges) != 0 {
			t.Errorf("cut of nothing: %+v, %v", c, err)
		}
	}
}

// Asking with a filter of another graph is a fault of the program, not of its data.
func TestGraph_Panics(t *testing.T) {
	g := build(t, 2, two(0, 1))
	for _, c := range []struct {
		desc string
		ask  func()
	}{
		{"short filter", func() { g.Blocks([]bool{}) }},
		{"long filter", func() { g.Reach([]bool{true, true}, []int{0}, graph.Either, nil) }},
		{"missing heights", func() { g.Minimax(nil, nil, []int{0}) }},
		{"unknown node", func() { g.Between(nil, 0, 2) }},
		{"unknown sink", func() { _, _ = g.MinCut(nil, []int{0}, []int{-1}, []int64{1}) }},
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", c.desc)
				}
			}()
			c.ask()
		}()
	}
}

// A recursive search would need 100,000 frames here.
func TestLongChain(t *testing.T) {
	const n = 100_000
	g := chainOf(t, n)
	b := g.Blocks(nil)
	if b.Len() != n-1 || len(marked(b.Bridge)) != n-1 || len(marked(b.Articulation)) != n-2 {
		t.Errorf("chain: %d blocks, %d bridges, %d articulations", b.Len(), len(marked(b.Bridge)), len(marked(b.Articulation)))
	}
	c := g.Between(nil, n-1, 0)
	if len(c.Links) != n-1 || c.Links[0].Enter != n-1 || c.Links[n-2].Leave != 0 || c.Along[5] != -1 {
		t.Errorf("chain between its ends has %d links", len(c.Links))
	}
	cost := make([]int64, n-1)
	for i := range cost {
		cost[i] = 7
	}
	if k, err := g.MinCut(nil, []int{0}, []int{n - 1}, cost); err != nil || k.Value != 7 || !slices.Equal(k.Edges, []int{n - 2}) {
		t.Errorf("cut of a chain %+v, %v; want its last edge", k, err)
	}
	if p, _ := g.SimplePaths(nil, 0, n-1, 2); len(p) != 1 || len(p[0]) != n-1 {
		t.Errorf("%d paths through a chain", len(p))
	}
}

func TestReach(t *testing.T) {
	// 0 - 1 -> 2 - 3, and 4 apart.
	g := build(t, 5, two(0, 1), one(1, 2), two(2, 3))
	for _, c := range []struct {
		desc string
		open []bool
		from []int
		way  graph.Direction
		stop []bool
		want []int
	}{
		{"either way", nil, []int{3}, graph.Either, nil, []int{0, 1, 2, 3}},
		{"with the one-way edge", nil, []int{0}, graph.Downstream, nil, []int{0, 1, 2, 3}},
		{"against the one-way edge", nil, []int{3}, graph.Downstream, nil, []int{2, 3}},
		{"whence one gets to 3", nil, []int{3}, graph.Upstream, nil, []int{0, 1, 2, 3}},
		{"whence one gets to 0", nil, []int{0}, graph.Upstream, nil, []int{0, 1}},
		{"closed edge", []bool{true, false, true}, []int{0, 4}, graph.Either, nil, []int{0, 1, 4}},
		{"stopped at 1", nil, []int{0}, graph.Either, []bool{true, true, false, false, false}, []int{0, 1}},
		{"from nowhere", nil, nil, graph.Either, nil, []int{}},
	} {
		if got := marked(g.Reach(c.open, c.from, c.way, c.stop)); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.desc, got, c.want)
		}
	}
	if of, n := g.Components([]bool{true, false, true}); n != 3 || !slices.Equal(of, []int32{0, 0, 1, 1, 2}) {
		t.Errorf("components %v, %d", of, n)
	}
}

func TestBetween_Cases(t *testing.T) {
	for _, c := range []struct {
		desc    string
		nodes   int
		edges   []graph.Edge
		s, t    int
		links   [][]int32
		along   []int8
		dropped []int
		against []int
	}{
		{desc: "same node", nodes: 2, edges: []graph.Edge{two(0, 1)}, s: 1, t: 1, links: [][]int32{}, along: []int8{0}},
		{desc: "tail and loop stay out", nodes: 4, edges: []graph.Edge{two(1, 0), two(1, 3), two(1, 1), two(1, 2)}, s: 0, t: 2,
			links: [][]int32{{0}, {3}}, along: []int8{-1, 0, 0, 1}},
		{desc: "bypass of two parallel edges", nodes: 3, edges: []graph.Edge{two(0, 1), two(2, 1), two(1, 2)}, s: 0, t: 2,
			links: [][]int32{{0}, {1, 2}}, along: []int8{1, -1, 1}},
		{desc: "legs pass their direction on", nodes: 6, edges: []graph.Edge{two(0, 1), two(2, 1), two(2, 5), two(0, 3), two(4, 3), two(4, 5)}, s: 0, t: 5,
			links: [][]int32{{0, 1, 2, 3, 4, 5}}, along: []int8{1, -1, 1, 1, -1, 1}},
		{desc: "the middle of a bridge circuit is not decided", nodes: 4, edges: []graph.Edge{two(0, 1), two(0, 2), two(1, 2), two(1, 3), two(2, 3)}, s: 0, t: 3,
			links: [][]int32{{0, 1, 2, 3, 4}}, along: []int8{1, 1, 0, 1, 1}},
		{desc: "one-way edge the right way", nodes: 3, edges: []graph.Edge{one(0, 1), two(1, 2)}, s: 0, t: 2,
			links: [][]int32{{0}, {1}}, along: []int8{1, 1}},
		{desc: "one-way edge the wrong way in series", nodes: 3, edges: []graph.Edge{one(1, 0), one(1, 2)}, s: 0, t: 2,
			along: []int8{0, 0}, dropped: []int{0}, against: []int{0}},
		{desc: "one-way edge the wrong way in one of two legs", nodes: 5,
			edges: []graph.Edge{two(0, 1), one(2, 1), two(2, 4), two(0, 3), two(3, 4)}, s: 0, t: 4,
			links: [][]int32{{3}, {4}}, along: []int8{0, 0, 0, 1, 1}, dropped: []int{1}, against: []int{1}},
		{desc: "the right one behind the wrong one is only cut off", nodes: 5,
			edges: []graph.Edge{one(0, 1), one(2, 1), two(2, 4), two(0, 3), two(3, 4)}, s: 0, t: 4,
			links: [][]int32{{3}, {4}}, along: []int8{0, 0, 0, 1, 1}, dropped: []int{0, 1}, against: []int{1}},
		{desc: "the same, away from the ends", nodes: 5,
			edges: []graph.Edge{two(0, 1), one(1, 2), one(3, 2), two(3, 4), two(0, 4)}, s: 0, t: 4,
			links: [][]int32{{4}}, along: []int8{0, 0, 0, 0, 1}, dropped: []int{1, 2}, against: []int{2}},
		{desc: "one-way edge out of the last node", nodes: 4,
			edges: []graph.Edge{two(0, 1), two(0, 2), one(1, 2), two(2, 3), two(3, 1)}, s: 0, t: 1,
			links: [][]int32{{0, 1, 3, 4}}, along: []int8{1, 1, 0, 1, 1}, dropped: []int{2}, against: []int{2}},
		{desc: "one-way edge into the first node", nodes: 4,
			edges: []graph.Edge{two(0, 1), two(1, 2), one(2, 0), two(2, 3), two(3, 0)}, s: 0, t: 1,
			links: [][]int32{{0, 1, 3, 4}}, along: []int8{1, -1, 0, -1, -1}, dropped: []int{2}, against: []int{2}},
		{desc: "two against the way, numbered backwards", nodes: 3, edges: []graph.Edge{one(2, 1), one(1, 0)}, s: 0, t: 2,
			along: []int8{0, 0}, dropped: []int{0, 1}, against: []int{0, 1}},
		{desc: "one-way edge on a dead end is no matter", nodes: 3, edges: []graph.Edge{two(0, 1), one(2, 1)}, s: 0, t: 1,
			links: [][]int32{{0}}, along: []int8{1, 0}},
		{desc: "not joined", nodes: 3, edges: []graph.Edge{two(0, 1)}, s: 0, t: 2, along: []int8{0}},
	} {
		g := build(t, c.nodes, c.edges...)
		ch := g.Between(nil, c.s, c.t)
		if ch.Connected != (c.links != nil) {
			t.Errorf("%s: connected %v", c.desc, ch.Connected)
		}
		links := [][]int32{}
		for _, k := range ch.Links {
			links = append(links, k.Edges)
		}
		if len(links)+len(c.links) > 0 && !reflect.DeepEqual(links, c.links) {
			t.Errorf("%s: links %v, want %v", c.desc, links, c.links)
		}
		if !slices.Equal(ch.Along, c.along) {
			t.Errorf("%s: along %v, want %v", c.desc, ch.Along, c.along)
		}
		if !slices.Equal(ch.Dropped, c.dropped) || !slices.Equal(ch.Against, c.against) {
			t.Errorf("%s: dropped %v against %v, want %v %v", c.desc, ch.Dropped, ch.Against, c.dropped, c.against)
		}
	}
}

// Of ways of the same level the shortest is taken, though the search meets the
// longer one first; then the lowest edge.
func TestMinimax_Ties(t *testing.T) {
	// Node 2 of height 3 drains by 1 to sink 0 or directly to sink 3.
	g := build(t, 4, two(0, 1), two(1, 2), two(3, 2))
	s := g.Minimax(nil, []float64{1, 1, 3, 2}, []int{0, 3})
	if !slices.Equal(s.Parent, []int32{-1, 0, 2, -1}) || !slices.Equal(s.Low, []float64{1, 1, 3, 2}) {
		t.Errorf("parents %v, levels %v", s.Parent, s.Low)
	}
	g = build(t, 3, two(1, 2), two(0, 2))
	if s := g.Minimax(nil, make([]float64, 3), []int{0, 1}); s.Parent[2] != 0 {
		t.Errorf("node 2 drains by edge %d, want the lowest", s.Parent[2])
	}
}

func TestMinimax_Wall(t *testing.T) {
	g := chainOf(t, 3)
	s := g.Minimax(nil, []float64{0, math.Inf(1), 0}, []int{0})
	if l, known := s.Level(2); !known || !math.IsInf(l, 1) || s.Parent[2] != -1 {
		t.Errorf("level %v, known %v behind a wall", l, known)
	}
}

// An end behind an unknown length is the farthest though its bound is no larger.
func TestFarthest_Unknown(t *testing.T) {
	g := chainOf(t, 3)
	f := g.Farthest(nil, 0, []float64{2, math.NaN()}, nil)
	if f.Node != 2 || f.Length != 2 || !f.Unknown || !slices.Equal(f.Path, []int{0, 1}) {
		t.Errorf("%+v", f)
	}
	if d, known := f.Distance(2); known || !math.IsNaN(d) {
		t.Errorf("distance %v, known %v", d, known)
	}
	// A node that is not reached does not make the answer unknown.
	f = g.Farthest([]bool{true, false}, 0, []float64{2, math.NaN()}, nil)
	if f.Node != 1 || f.Length != 2 || f.Unknown {
		t.Errorf("%+v", f)
	}
}

// The shortest way 0-1-2-3 fills first and has to be partly undone: the largest flow
// takes 0-4-5-2-3 and 0-1-6-7-3. Worked by hand.
func TestMinCut_Undoes(t *testing.T) {
	g := build(t, 8, one(0, 1), one(1, 2), one(2, 3), one(0, 4), one(4, 5), one(5, 2), one(1, 6), one(6, 7), one(7, 3))
	c, err := g.MinCut(nil, []int{0}, []int{3}, []int64{1, 1, 1, 1, 1, 1, 1, 1, 1})
	if err != nil || c.Value != 2 || !slices.Equal(c.Edges, []int{2, 8}) {
		t.Errorf("%+v, %v", c, err)
	}
}

func TestMinCut_Costs(t *testing.T) {
	g := build(t, 2, two(0, 1), two(0, 1))
	for _, cost := range [][]int64{{-1, 1}, {graph.Uncuttable - 1, 1}} {
		if _, err := g.MinCut(nil, []int{0}, []int{1}, cost); !errors.Is(err, graph.ErrCost) {
			t.Errorf("costs %v: error %v", cost, err)
		}
		// The cost of a closed edge does not matter.
		if c, err := g.MinCut([]bool{false, true}, []int{0}, []int{1}, cost); err != nil || c.Value != 1 {
			t.Errorf("costs %v with the first edge closed: %+v, %v", cost, c, err)
		}
	}
	c, err := g.MinCut(nil, []int{0}, []int{1}, []int64{1, math.MaxInt64})
	if err != nil || c.Possible || len(c.Edges) != 0 {
		t.Errorf("beside an edge that must stay: %+v, %v", c, err)
	}
}
