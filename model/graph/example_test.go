package graph_test

import (
	"fmt"
	"log"
	"math"

	"rinsewright/model/graph"
)

// loop is a way 0-1-2-3 with a bypass beside 1-2 and a dead end 2-4.
func loop() *graph.Graph {
	g, err := graph.New(5, []graph.Edge{
		{U: 0, V: 1}, // 0
		{U: 1, V: 2}, // 1
		{U: 1, V: 2}, // 2
		{U: 2, V: 3}, // 3
		{U: 2, V: 4}, // 4
	})
	if err != nil {
		log.Fatal(err)
	}
	return g
}

func ExampleGraph_Between() {
	g := loop()
	c := g.Between(nil, 0, 3)
	for _, k := range c.Links {
		fmt.Println(k.Enter, "to", k.Leave, "by", k.Edges)
	}
	fmt.Println("edge 4 on the way:", c.Contains(4))

	// With the bypass closed every edge carries all.
	c = g.Between([]bool{true, true, false, true, true}, 0, 3)
	fmt.Println("edge 1 carries all:", c.CarriesAll(1))
	// Output:
	// 0 to 1 by [0]
	// 1 to 2 by [1 2]
	// 2 to 3 by [3]
	// edge 4 on the way: false
	// edge 1 carries all: true
}

func ExampleGraph_Blocks() {
	b := loop().Blocks(nil)
	for i := 0; i < b.Len(); i++ {
		fmt.Println(b.Edges(i))
	}
	fmt.Println(b.Bridge)
	// Output:
	// [0]
	// [1 2]
	// [3]
	// [4]
	// [true false false true true]
}

// Node 1 is a sag between two high points; nobody has said how high node 4 lies.
func ExampleGraph_Minimax() {
	height := []float64{2, 0, 3, 1, math.NaN()}
	s := loop().Minimax(nil, height, []int{0, 3})
	for n := range height {
		level, known := s.Level(n)
		fmt.Println(n, level, known)
	}
	// Output:
	// 0 2 true
	// 1 2 true
	// 2 3 true
	// 3 1 true
	// 4 NaN false
}

func ExampleGraph_Farthest() {
	length := []float64{1, 2, 5, 1, 0.5}
	f := loop().Farthest(nil, 0, length, nil)
	fmt.Println("node", f.Node, "at", f.Length, "by", f.Path)
	// Output:
	// node 3 at 4 by [0 1 3]
}

func ExampleGraph_MinCut() {
	cost := []int64{graph.Uncuttable, 3, 2, 5, 1}
	c, err := loop().MinCut(nil, []int{0}, []int{3}, cost)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(c.Value, c.Edges)
	// Both ways cost 5; the one nearer the sink is given.
	// Output:
	// 5 [3]
}

func ExampleGraph_Reach() {
	g, err := graph.New(3, []graph.Edge{{U: 0, V: 1}, {U: 1, V: 2, OneWay: true}})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(g.Reach(nil, []int{2}, graph.Downstream, nil))
	fmt.Println(g.Reach(nil, []int{2}, graph.Either, nil))
	// Output:
	// [false false true]
	// [true true true]
}
