package sparse

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// grid gives the edges of a square grid of n×n unknowns.
func grid(n int) [][2]int32 {
	var edges [][2]int32
	for x := 0; x < n; x++ {
		for y := 0; y < n; y++ {
			at := int32(x*n + y)
			if x+1 < n {
				edges = append(edges, [2]int32{at, at + int32(n)})
			}
			if y+1 < n {
				edges = append(edges, [2]int32{at, at + 1})
			}
		}
	}
	return edges
}

// addEdge adds a conductance g along edge e.
func addEdge(m *Matrix, edges [][2]int32, e int, g float64) {
	m.AddDiagonal(int(edges[e][0]), g)
	m.AddDiagonal(int(edges[e][1]), g)
	m.Join(e, g)
}

// randomEdges gives edges among n unknowns, some of them parallel.
func randomEdges(r *rand.Rand, n, count int) [][2]int32 {
	var edges [][2]int32
	for len(edges) < count {
		a, b := int32(r.IntN(n)), int32(r.IntN(n))
		if a != b {
			edges = append(edges, [2]int32{a, b})
		}
	}
	return edges
}

// The equations are checked by putting the answer back into them: the product of
// the matrix, held densely here, with the answer must be the right-hand side.
func TestSolveSatisfiesTheEquations(t *testing.T) {
	const tolerance = 1e-10
	r := rand.New(rand.NewPCG(1, 2))
	for trial := 0; trial < 300; trial++ {
		n := 1 + r.IntN(60)
		var edges [][2]int32
		switch {
		case n == 1:
		case trial%10 == 0: // star: one unknown joined to all
			for i := 1; i < n; i++ {
				edges = append(edges, [2]int32{0, int32(i)})
			}
		case trial%10 == 1: // every unknown joined to every other
			for i := 0; i < n; i++ {
				for j := 0; j < i; j++ {
					edges = append(edges, [2]int32{int32(i), int32(j)})
				}
			}
		default:
			edges = randomEdges(r, n, r.IntN(4*n))
		}
		pattern, err := Analyse(n, edges)
		if err != nil {
			t.Fatal(err)
		}
		m := pattern.NewMatrix()
		for again := 0; again < 2; again++ { // the second filling must not see the first
			m.Reset()
			full := make([]float64, n*n)
			for i := 0; i < n; i++ {
				g := 0.1 + r.Float64()
				m.AddDiagonal(i, g)
				full[i*n+i] += g
			}
			for e, ends := range edges {
				g := math.Exp(6 * r.NormFloat64())
				a, b := int(ends[0]), int(ends[1])
				addEdge(m, edges, e, g)
				full[a*n+a] += g
				full[b*n+b] += g
				full[a*n+b] -= g
				full[b*n+a] -= g
			}
			if err := m.Factor(); err != nil {
				t.Fatal(err)
			}
			b, x := make([]float64, n), make([]float64, n)
			for i := range b {
				b[i] = r.NormFloat64()
			}
			m.Solve(b, x)
			for i := 0; i < n; i++ {
				sum, scale := -b[i], math.Abs(b[i])
				for j := 0; j < n; j++ {
					sum += full[i*n+j] * x[j]
					scale += math.Abs(full[i*n+j] * x[j])
				}
				if math.Abs(sum) > tolerance*scale {
					t.Fatalf("trial %d of %d unknowns: row %d is off by %g of %g", trial, n, i, sum, scale)
				}
			}
		}
	}
}

// The poles of a long chain: unknowns k = 1..n of a chain held at 0 at both ends
// with unit conductances and a unit source at each have x_k = k(n+1-k)/2, the
// closed form of the second difference.
func TestChain(t *testing.T) {
	const n = 1000
	var edges [][2]int32
	for i := int32(0); i < n-1; i++ {
		edges = append(edges, [2]int32{i, i + 1})
	}
	pattern, err := Analyse(n, edges)
	if err != nil {
		t.Fatal(err)
	}
	m := pattern.NewMatrix()
	for e := range edges {
		addEdge(m, edges, e, 1)
	}
	m.AddDiagonal(0, 1)
	m.AddDiagonal(n-1, 1)
	if err := m.Factor(); err != nil {
		t.Fatal(err)
	}
	x := make([]float64, n)
	for i := range x {
		x[i] = 1
	}
	m.Solve(x, x)
	for i, got := range x {
		k := float64(i + 1)
		if want := k * (n + 1 - k) / 2; math.Abs(got-want) > 1e-9*want {
			t.Fatalf("unknown %d: %v, want %v", i, got, want)
		}
	}
}

// A tree has an order with no fill at all: the factor then holds one entry for
// each unknown and one for each edge. Wider supernodes may add a few zeros.
func TestTreeHasNoFill(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	const n = 5000
	var edges [][2]int32
	for i := int32(1); i < n; i++ {
		edges = append(edges, [2]int32{i, r.Int32N(i)})
	}
	start, adjacent := neighbours(n, edges)
	if got := fill(order(n, start, adjacent), start, adjacent); got != 2*n-1 {
		t.Errorf("%d entries, want %d", got, 2*n-1)
	}
}

// fill counts the entries of the factor for an order, column by column.
func fill(sequence, start, adjacent []int32) int {
	n := len(sequence)
	place := make([]int32, n)
	for k, v := range sequence {
		place[v] = int32(k)
	}
	parent := tree(sequence, start, adjacent)
	mark := make([]int, n)
	total := n
	for k, v := range sequence { // rows of the factor: walk up from each neighbour before k
		mark[k] = k + 1
		for _, w := range adjacent[start[v]:start[v+1]] {
			for i := place[w]; i < int32(k) && mark[i] != k+1; i = parent[i] {
				mark[i] = k + 1
				total++
			}
		}
	}
	return total
}

// scipy 1.10.1, scipy.sparse.linalg.splu(permc_spec="MMD_AT_PLUS_A", symmetric
// mode, diagonal pivots) holds 630, 10,098 and 82,196 entries in L for grids
// of 10, 30 and 71 by 71 unknowns. Approximate minimum degree is to be about as
// good: no more than a tenth worse.
func TestFillOfGrids(t *testing.T) {
	for _, c := range []struct{ side, published int }{{10, 630}, {30, 10098}, {71, 82196}} {
		edges := grid(c.side)
		n := c.side * c.side
		start, adjacent := neighbours(n, edges)
		sequence := order(n, start, adjacent)
		got := fill(sequence, start, adjacent)
		t.Logf("%d×%d: %d entries", c.side, c.side, got)
		if float64(got) > 1.1*float64(c.published) {
			t.Errorf("%d×%d: %d entries, more than a tenth above %d", c.side, c.side, got, c.published)
		}
	}
}

func TestOrderIsAPermutation(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for trial := 0; trial < 500; trial++ {
		n := 1 + r.IntN(80)
		var edges [][2]int32
		if n > 1 {
			edges = randomEdges(r, n, r.IntN(6*n))
		}
		start, adjacent := neighbours(n, edges)
		seen := make([]bool, n)
		for _, v := range order(n, start, adjacent) {
			if seen[v] {
				t.Fatalf("trial %d: %d twice", trial, v)
			}
			seen[v] = true
		}
	}
}

func TestFaults(t *testing.T) {
	if _, err := Analyse(2, [][2]int32{{0, 2}}); err == nil {
		t.Error("no error for an unknown that is not there")
	}
	if _, err := Analyse(2, [][2]int32{{1, 1}}); err == nil {
		t.Error("no error for an edge to itself")
	}
	edges := [][2]int32{{0, 1}, {1, 2}}
	p, err := Analyse(3, edges)
	if err != nil {
		t.Fatal(err)
	}
	m := p.NewMatrix()
	addEdge(m, edges, 0, 1)
	addEdge(m, edges, 1, 1) // nothing holds the three: singular
	var not *NotPositive
	if err := m.Factor(); !errors.As(err, &not) {
		t.Errorf("error %v of a singular matrix, want NotPositive", err)
	}
	m.Reset()
	m.AddDiagonal(0, math.NaN())
	if err := m.Factor(); !errors.As(err, &not) {
		t.Errorf("error %v of a matrix with NaN, want NotPositive", err)
	}
}

var sides = []int{7, 23, 71}

func BenchmarkAnalyse(b *testing.B) {
	for _, n := range sides {
		edges := grid(n)
		b.Run(fmt.Sprintf("%d", len(edges)), func(b *testing.B) {
			for b.Loop() {
				if _, err := Analyse(n*n, edges); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkFactorAndSolve(b *testing.B) {
	for _, n := range sides {
		edges := grid(n)
		p, err := Analyse(n*n, edges)
		if err != nil {
			b.Fatal(err)
		}
		m, x := p.NewMatrix(), make([]float64, n*n)
		b.Run(fmt.Sprintf("%d", len(edges)), func(b *testing.B) {
			for b.Loop() {
				m.Reset()
				m.AddDiagonal(0, 1)
				for e := range edges {
					addEdge(m, edges, e, 1)
				}
				if err := m.Factor(); err != nil {
					b.Fatal(err)
				}
				x[len(x)-1] = 1
				m.Solve(x, x)
			}
		})
	}
}
