package graph_test

import (
	"slices"
	"testing"

	"rinsewright/model/graph"
)

// T. H. Cormen, C. E. Leiserson, R. L. Rivest, C. Stein, Introduction to
// Algorithms, 3rd edition 2009, figure 26.1: the network of the Lucky Puck Company;
// section 26.2 gives its maximum flow 23 and minimum cut S = {s, v1, v2, v4}.
func TestMinCut_LuckyPuck(t *testing.T) {
	const s, v1, v2, v3, v4, sink = 0, 1, 2, 3, 4, 5
	g := build(t, 6, one(s, v1), one(s, v2), one(v1, v3), one(v2, v1), one(v2, v4),
		one(v3, v2), one(v3, sink), one(v4, v3), one(v4, sink))
	cost := []int64{16, 13, 12, 4, 14, 9, 20, 7, 4}
	c, err := g.MinCut(nil, []int{s}, []int{sink}, cost)
	if err != nil {
		t.Fatal(err)
	}
	// The edges that leave S: v1-v3, v4-v3, v4-t.
	if !c.Possible || c.Value != 23 || !slices.Equal(c.Edges, []int{2, 7, 8}) {
		t.Errorf("cut %+v, want 23 over edges 2, 7, 8", c)
	}
	open := []bool{true, true, false, true, true, true, true, false, false}
	if got := marked(g.Reach(open, []int{s}, graph.Downstream, nil)); !slices.Equal(got, []int{s, v1, v2, v4}) {
		t.Errorf("side of the source %v", got)
	}
}

// karate is the friendship graph of W. W. Zachary, "An information flow model for
// conflict and fission in small groups", Journal of Anthropological Research 33,
// 1977, with members counted from 0; edges as in networkx 2.8.8 karate_club_graph.
var karate = [][2]int{
	{0, 1}, {0, 2}, {0, 3}, {0, 4}, {0, 5}, {0, 6}, {0, 7}, {0, 8}, {0, 10}, {0, 11},
	{0, 12}, {0, 13}, {0, 17}, {0, 19}, {0, 21}, {0, 31}, {1, 2}, {1, 3}, {1, 7}, {1, 13},
	{1, 17}, {1, 19}, {1, 21}, {1, 30}, {2, 3}, {2, 7}, {2, 8}, {2, 9}, {2, 13}, {2, 27},
	{2, 28}, {2, 32}, {3, 7}, {3, 12}, {3, 13}, {4, 6}, {4, 10}, {5, 6}, {5, 10}, {5, 16},
	{6, 16}, {8, 30}, {8, 32}, {8, 33}, {9, 33}, {13, 33}, {14, 32}, {14, 33}, {15, 32}, {15, 33},
	{18, 32}, {18, 33}, {19, 33}, {20, 32}, {20, 33}, {22, 32}, {22, 33}, {23, 25}, {23, 27}, {23, 29},
	{23, 32}, {23, 33}, {24, 25}, {24, 27}, {24, 31}, {25, 31}, {26, 29}, {26, 33}, {27, 33}, {28, 31},
	{28, 33}, {29, 32}, {29, 33}, {30, 32}, {30, 33}, {31, 32}, {31, 33}, {32, 33},
}

// The families of Florence about 1430, linked by marriage: R. L. Breiger and P. E.
// Pattison, "Cumulated social roles: the duality of persons and their algebras",
// Social Networks 8, 1986; edges as in networkx 2.8.8 florentine_families_graph.
const (
	acciaiuoli = iota
	albizzi
	barbadori
	bischeri
	castellani
	ginori
	guadagni
	lamberteschi
	medici
	pazzi
	peruzzi
	ridolfi
	salviati
	strozzi
	tornabuoni
)

var florence = [][2]int{
	{acciaiuoli, medici}, {castellani, peruzzi}, {castellani, strozzi}, {castellani, barbadori},
	{medici, barbadori}, {medici, ridolfi}, {medici, tornabuoni}, {medici, albizzi}, {medici, salviati},
	{salviati, pazzi}, {peruzzi, strozzi}, {peruzzi, bischeri}, {strozzi, ridolfi}, {strozzi, bischeri},
	{ridolfi, tornabuoni}, {tornabuoni, guadagni}, {albizzi, ginori}, {albizzi, guadagni},
	{bischeri, guadagni}, {guadagni, lamberteschi},
}

func fromPairs(t testing.TB, nodes int, pairs [][2]int) *graph.Graph {
	edges := make([]graph.Edge, len(pairs))
	for i, p := range pairs {
		edges[i] = two(p[0], p[1])
	}
	return build(t, nodes, edges...)
}

// petersen is the graph of J. Petersen, "Sur le théorème de Tait", 1898: an outer
// pentagon, spokes, and an inner pentagram.
func petersen() (pairs [][2]int) {
	for i := 0; i < 5; i++ {
		pairs = append(pairs, [2]int{i, (i + 1) % 5}, [2]int{i, i + 5}, [2]int{i + 5, (i+2)%5 + 5})
	}
	return pairs
}

// barbell is two complete graphs of five nodes joined by a path of two more.
func barbell() (pairs [][2]int) {
	for v := 1; v < 5; v++ {
		for u := 0; u < v; u++ {
			pairs = append(pairs, [2]int{u, v}, [2]int{u + 7, v + 7})
		}
	}
	return append(pairs, [2]int{4, 5}, [2]int{5, 6}, [2]int{6, 7})
}

// Bridges and articulation nodes as computed by networkx 2.8.8; for the karate club
// also by igraph 0.10.2.
func TestBlocks_Published(t *testing.T) {
	for _, c := range []struct {
		desc          string
		nodes         int
		pairs         [][2]int
		edges, blocks int
		bridges       [][2]int
		articulation  []int
	}{
		{"karate club", 34, karate, 78, 3, [][2]int{{0, 11}}, []int{0}},
		{"Florentine families", 15, florence, 20, 6,
			[][2]int{{acciaiuoli, medici}, {medici, salviati}, {salviati, pazzi}, {albizzi, ginori}, {guadagni, lamberteschi}},
			[]int{albizzi, guadagni, medici, salviati}},
		{"Petersen", 10, petersen(), 15, 1, nil, []int{}},
		{"barbell", 12, barbell(), 23, 5, [][2]int{{4, 5}, {5, 6}, {6, 7}}, []int{4, 5, 6, 7}},
	} {
		g := fromPairs(t, c.nodes, c.pairs)
		b := g.Blocks(nil)
		var bridges [][2]int
		for _, e := range marked(b.Bridge) {
			bridges = append(bridges, c.pairs[e])
		}
		if g.Len() != c.edges || b.Len() != c.blocks || !slices.Equal(bridges, c.bridges) || !slices.Equal(marked(b.Articulation), c.articulation) {
			t.Errorf("%s: %d edges, %d blocks, bridges %v, articulation %v; want %d, %d, %v, %v", c.desc,
				g.Len(), b.Len(), bridges, marked(b.Articulation), c.edges, c.blocks, c.bridges, c.articulation)
		}
	}
}

// From the Pazzi to the Ginori every way passes the Salviati, the Medici and the
// Albizzi (the four bridges above); the middle is the one large block, of 15 edges.
func TestBetween_Florence(t *testing.T) {
	g := fromPairs(t, 15, florence)
	c := g.Between(nil, pazzi, ginori)
	var at []int
	for _, k := range c.Links {
		at = append(at, k.Leave)
	}
	if !slices.Equal(at, []int{salviati, medici, albizzi, ginori}) || len(c.Links[2].Edges) != 15 {
		t.Errorf("chain leaves its blocks at %v", at)
	}
}

// Unit cuts. Karate club between its two leaders: 10, from memory of Zachary 1977,
// and by networkx and igraph. Petersen graph: 3 between any two nodes, as it is
// cubic and 3-connected (D. A. Holton and J. Sheehan, The Petersen Graph, 1993,
// from memory).
func TestMinCut_Unit(t *testing.T) {
	unit := func(n int) []int64 {
		cost := make([]int64, n)
		for i := range cost {
			cost[i] = 1
		}
		return cost
	}
	g := fromPairs(t, 34, karate)
	if c, err := g.MinCut(nil, []int{0}, []int{33}, unit(78)); err != nil || c.Value != 10 || len(c.Edges) != 10 {
		t.Errorf("karate club: %+v, %v", c, err)
	}
	p := fromPairs(t, 10, petersen())
	for v := 1; v < 10; v++ {
		for u := 0; u < v; u++ {
			if c, err := p.MinCut(nil, []int{u}, []int{v}, unit(15)); err != nil || c.Value != 3 {
				t.Errorf("Petersen %d to %d: %+v, %v", u, v, c, err)
			}
		}
	}
}

// The Petersen graph has diameter 2 (Holton and Sheehan, from memory).
func TestFarthest_Petersen(t *testing.T) {
	p := fromPairs(t, 10, petersen())
	length := make([]float64, 15)
	for i := range length {
		length[i] = 1
	}
	for n := 0; n < 10; n++ {
		if f := p.Farthest(nil, n, length, nil); f.Length != 2 || f.Unknown || len(f.Path) != 2 {
			t.Errorf("farthest from %d: %+v", n, f)
		}
	}
}

// square is a grid of n by n nodes.
func square(t testing.TB, n int) *graph.Graph {
	var edges []graph.Edge
	for y := 0; y < n; y++ {
		for x := 0; x < n; x++ {
			if x+1 < n {
				edges = append(edges, two(y*n+x, y*n+x+1))
			}
			if y+1 < n {
				edges = append(edges, two(y*n+x, y*n+x+n))
			}
		}
	}
	return build(t, n*n, edges...)
}

// On-Line Encyclopedia of Integer Sequences, A007764: simple paths between opposite
// corners of a grid of n by n nodes: 1, 2, 12, 184, 8512.
func TestSimplePaths_Grid(t *testing.T) {
	for i, want := range []int{1, 2, 12, 184, 8512} {
		n := i + 1
		g := square(t, n)
		if p, more := g.SimplePaths(nil, 0, n*n-1, 10_000); len(p) != want || more {
			t.Errorf("grid of %d: %d paths, want %d", n, len(p), want)
		}
		if p, more := g.SimplePaths(nil, 0, n*n-1, want-1); len(p) != want-1 || !more {
			t.Errorf("grid of %d: %d paths of a limit of %d, more %v", n, len(p), want-1, more)
		}
		// By symmetry and 2-connectedness every edge lies on a path.
		if c := g.Between(nil, 0, n*n-1); len(marked(c.Marks())) != g.Len() {
			t.Errorf("grid of %d: %d of %d edges between the corners", n, len(marked(c.Marks())), g.Len())
		}
	}
}
