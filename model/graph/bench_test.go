package graph_test

import (
	"fmt"
	"math/rand"
	"testing"

	"rinsewright/model/graph"
)

// pipework is a grid of about m edges with a dead end at every fourth crossing and
// a one-way edge in every twentieth place, pointing from node 0 to the last corner.
// A tail makes up the exact number of edges.
func pipework(m int) (nodes int, edges []graph.Edge, corner int) {
	side := 2
	for 2*side*(side+1)+(side+1)*(side+1)/4 <= m {
		side++
	}
	add := func(u, v int) {
		edges = append(edges, graph.Edge{U: u, V: v, OneWay: len(edges)%20 == 19})
	}
	nodes, corner = side*side, side*side-1
	for n := 0; n < side*side; n++ {
		if n%side+1 < side {
			add(n, n+1)
		}
		if n+side < side*side {
			add(n, n+side)
		}
		if n%4 == 3 {
			add(n, nodes)
			nodes++
		}
	}
	last := corner
	for len(edges) < m {
		add(last, nodes)
		last = nodes
		nodes++
	}
	return nodes, edges, corner
}

// each runs a benchmark at four sizes.
func each(b *testing.B, run func(b *testing.B, g *graph.Graph, corner int)) {
	for _, m := range []int{100, 1_000, 10_000, 100_000} {
		nodes, edges, corner := pipework(m)
		g := build(b, nodes, edges...)
		if g.Len() != m {
			b.Fatalf("%d edges instead of %d", g.Len(), m)
		}
		b.Run(fmt.Sprint(m), func(b *testing.B) {
			b.ReportAllocs()
			run(b, g, corner)
		})
	}
}

func BenchmarkNew(b *testing.B) {
	each(b, func(b *testing.B, g *graph.Graph, _ int) {
		for b.Loop() {
			build(b, g.Nodes(), g.Edges()...)
		}
	})
}

func BenchmarkBlocks(b *testing.B) {
	each(b, func(b *testing.B, g *graph.Graph, _ int) {
		for b.Loop() {
			g.Blocks(nil)
		}
	})
}

func BenchmarkBetween(b *testing.B) {
	each(b, func(b *testing.B, g *graph.Graph, corner int) {
		if !g.Between(nil, 0, corner).Connected {
			b.Fatal("the corners are not joined")
		}
		for b.Loop() {
			g.Between(nil, 0, corner)
		}
	})
}

func BenchmarkMinimax(b *testing.B) {
	each(b, func(b *testing.B, g *graph.Graph, corner int) {
		r := rand.New(rand.NewSource(1))
		height := make([]float64, g.Nodes())
		for n := range height {
			height[n] = 10 * r.Float64()
		}
		for b.Loop() {
			g.Minimax(nil, height, []int{0, corner})
		}
	})
}

func BenchmarkMinCut(b *testing.B) {
	each(b, func(b *testing.B, g *graph.Graph, corner int) {
		r := rand.New(rand.NewSource(1))
		cost := make([]int64, g.Len())
		for e := range cost {
			cost[e] = int64(1 + r.Intn(100))
		}
		for b.Loop() {
			if _, err := g.MinCut(nil, []int{0}, []int{corner}, cost); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkFarthest(b *testing.B) {
	each(b, func(b *testing.B, g *graph.Graph, _ int) {
		r := rand.New(rand.NewSource(1))
		length := make([]float64, g.Len())
		for e := range length {
			length[e] = 10 * r.Float64()
		}
		for b.Loop() {
			g.Farthest(nil, 0, length, nil)
		}
	})
}
