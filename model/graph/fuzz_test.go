package graph_test

import (
	"math"
	"slices"
	"testing"

	"rinsewright/model/graph"
)

// FuzzGraph reads a multigraph, a filter, two nodes, costs and heights from bytes
// and checks that the answers agree with each other. The first byte is the number
// of nodes less one, the next two are the ends asked for, then three bytes describe
// each edge: its ends, and its state.
func FuzzGraph(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte{0, 0, 0, 0, 0, 1})                            // a lone self loop
	f.Add([]byte{1, 0, 1, 0, 1, 1, 0, 1, 1})                   // two parallel edges
	f.Add([]byte{3, 0, 3, 0, 1, 1, 1, 2, 3, 2, 3, 1})          // a chain with a one-way edge
	f.Add([]byte{3, 0, 3, 0, 1, 1, 2, 1, 3, 2, 3, 1, 0, 3, 0}) // one against the way, one closed
	f.Add([]byte{4, 0, 4, 0, 1, 9, 1, 4, 17, 0, 2, 41, 2, 4, 1, 1, 2, 67, 3, 3, 129})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) < 3 || len(data) > 300 {
			return
		}
		n := 1 + int(data[0])%32
		s, d := int(data[1])%n, int(data[2])%n
		var edges []graph.Edge
		var open []bool
		var cost []int64
		height := make([]float64, n)
		for i := range height {
			height[i] = float64(int(data[i%len(data)]) % 16)
			if height[i] == 15 {
				height[i] = math.NaN()
			}
		}
		for x := data[3:]; len(x) >= 3; x = x[3:] {
			edges = append(edges, graph.Edge{U: int(x[0]) % n, V: int(x[1]) % n, OneWay: x[2]&2 != 0})
			open = append(open, x[2]&1 != 0)
			cost = append(cost, int64(x[2]>>2))
		}
		g := build(t, n, edges...)
		agreeOnBlocks(t, g, open)
		agreeOnChain(t, g, open, s, d)
		agreeOnCut(t, g, open, s, d, cost)
		agreeOnSpill(t, g, open, height, s, d)
	})
}

// agreeOnBlocks checks that an edge is a bridge if and only if closing it makes one
// component more.
func agreeOnBlocks(t *testing.T, g *graph.Graph, open []bool) {
	b := g.Blocks(open)
	_, before := g.Components(open)
	closed := slices.Clone(open)
	for e, o := range open {
		if !o {
			continue
		}
		closed[e] = false
		_, after := g.Components(closed)
		closed[e] = true
		if b.Bridge[e] != (after > before) {
			t.Errorf("edge %d bridge %v, components %d to %d", e, b.Bridge[e], before, after)
		}
	}
}

// agreeOnChain checks the chain against reach and against the blocks.
func agreeOnChain(t *testing.T, g *graph.Graph, open []bool, s, d int) {
	c := g.Between(open, s, d)
	if want := g.Reach(open, []int{s}, graph.Downstream, nil)[d]; c.Connected != want {
		t.Fatalf("connected %v, by reach %v", c.Connected, want)
	}
	if !c.Connected {
		if len(c.Links) > 0 || len(marked(c.Marks())) > 0 {
			t.Errorf("a chain without connection: %+v", c)
		}
		return
	}
	// The chain alone still connects, and shutting an edge that carries all does not.
	only := c.Marks()
	if s != d && !g.Reach(only, []int{s}, graph.Downstream, nil)[d] {
		t.Error("the chain alone does not connect its ends")
	}
	for e := range only {
		if !c.Contains(e) {
			continue
		}
		if !open[e] {
			t.Errorf("closed edge %d in the chain", e)
		}
		if c.CarriesAll(e) {
			shut := slices.Clone(open)
			shut[e] = false
			if g.Reach(shut, []int{s}, graph.Downstream, nil)[d] {
				t.Errorf("edge %d does not carry all", e)
			}
		}
	}
	again := g.Between(only, s, d)
	if !slices.Equal(again.Marks(), only) || !slices.Equal(again.Along, c.Along) {
		t.Error("the chain of the chain is another one")
	}
}

// agreeOnCut checks that the cut separates, costs what it says, and needs each edge
// that costs something.
func agreeOnCut(t *testing.T, g *graph.Graph, open []bool, s, d int, cost []int64) {
	c, err := g.MinCut(open, []int{s}, []int{d}, cost)
	if err != nil {
		t.Fatal(err)
	}
	if c.Possible != (s != d) {
		t.Fatalf("cut possible %v from %d to %d", c.Possible, s, d)
	}
	if !c.Possible {
		return
	}
	shut := slices.Clone(open)
	sum := int64(0)
	for _, e := range c.Edges {
		shut[e] = false
		sum += cost[e]
	}
	if sum != c.Value || g.Reach(shut, []int{s}, graph.Downstream, nil)[d] {
		t.Errorf("cut %+v costs %d or does not separate", c, sum)
	}
	for _, e := range c.Edges {
		if cost[e] == 0 {
			continue
		}
		shut[e] = true
		if !g.Reach(shut, []int{s}, graph.Downstream, nil)[d] {
			t.Errorf("edge %d is not needed in cut %v", e, c.Edges)
		}
		shut[e] = false
	}
}

// agreeOnSpill checks that levels exist where a sink is reached, are bounded by the
// node's own height, and do not sink when a second sink is taken away.
func agreeOnSpill(t *testing.T, g *graph.Graph, open []bool, height []float64, s, d int) {
	both := g.Minimax(open, height, []int{s, d})
	single := g.Minimax(open, height, []int{d})
	reach := g.Reach(open, []int{s, d}, graph.Upstream, nil)
	for n, h := range height {
		if reach[n] == math.IsInf(both.Low[n], 1) {
			t.Errorf("node %d: reached %v, level %v", n, reach[n], both.Low[n])
		}
		if both.Low[n] < h || both.Low[n] > both.High[n] {
			t.Errorf("node %d of height %v has levels %v..%v", n, h, both.Low[n], both.High[n])
		}
		if both.Low[n] > single.Low[n] || both.High[n] > single.High[n] {
			t.Errorf("node %d: another sink raised its level", n)
		}
	}
}
