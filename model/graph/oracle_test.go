package graph_test

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand"
	"os/exec"
	"slices"
	"testing"

	"rinsewright/model/graph"
)

// question and reply are the input and output of testdata/oracle.py for one graph.
type question struct {
	Nodes  int          `json:"nodes"`
	Edges  []graph.Edge `json:"edges"`
	S      int          `json:"s"`
	T      int          `json:"t"`
	Cost   []int64      `json:"cost"`
	Length []float64    `json:"length"`
	Height []float64    `json:"height"`
}

type reply struct {
	Blocks       [][]int    `json:"blocks"`
	Bridges      []int      `json:"bridges"`
	Articulation []int      `json:"articulation"`
	Components   [][]int    `json:"components"`
	Downstream   []int      `json:"downstream"`
	Flow         int64      `json:"flow"`
	Between      []int      `json:"between"`
	Distance     []*float64 `json:"distance"`
	Spill        []*float64 `json:"spill"`
}

// ask draws a simple graph of 2 to 40 nodes, from sparse to fairly dense.
func ask(r *rand.Rand) question {
	n := 2 + r.Intn(39)
	q := question{Nodes: n, T: 1 + r.Intn(n-1), Edges: []graph.Edge{}, Cost: []int64{}, Length: []float64{}}
	q.S = r.Intn(q.T)
	for v := 0; v < n; v++ {
		q.Height = append(q.Height, float64(r.Intn(20)))
	}
	mean := 0.5 + 2.5*r.Float64()              // edges per node
	oneWay := []float64{0, 0.25, 1}[r.Intn(3)] // share
	for v := 1; v < n; v++ {
		for u := 0; u < v; u++ {
			if r.Float64()*float64(n) < 2*mean {
				e := graph.Edge{U: u, V: v, OneWay: r.Float64() < oneWay}
				if r.Intn(2) == 0 {
					e.U, e.V = v, u
				}
				q.Edges = append(q.Edges, e)
				q.Cost = append(q.Cost, int64(1+r.Intn(9)))
				q.Length = append(q.Length, float64(r.Intn(9))) // whole, so sums are exact
			}
		}
	}
	return q
}

// The same questions answered by networkx (Debian package python3-networkx, 2.8.8
// at the time of writing), a library that shares nothing with this one. The test
// fails where it is not installed.
func TestOracle_Networkx(t *testing.T) {
	r := rand.New(rand.NewSource(7))
	questions := make([]question, 400)
	for i := range questions {
		questions[i] = ask(r)
	}
	in, err := json.Marshal(questions)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("/usr/bin/python3", "testdata/oracle.py")
	cmd.Stdin = bytes.NewReader(in)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("python3 with networkx is needed (apt install python3-networkx): %v\n%s", err, stderr.Bytes())
	}
	var replies []reply
	if err := json.Unmarshal(out, &replies); err != nil {
		t.Fatal(err)
	}
	if len(replies) != len(questions) {
		t.Fatalf("%d replies to %d questions", len(replies), len(questions))
	}
	for i, q := range questions {
		compare(t, q, replies[i])
	}
}

func compare(t *testing.T, q question, want reply) {
	t.Helper()
	g := build(t, q.Nodes, q.Edges...)
	b := g.Blocks(nil)
	blocks := make([][]int, b.Len())
	for i := range blocks {
		for _, e := range b.Edges(i) {
			blocks[i] = append(blocks[i], int(e))
		}
	}
	if !slices.EqualFunc(blocks, want.Blocks, slices.Equal[[]int]) {
		t.Errorf("%v: blocks %v, want %v", q.Edges, blocks, want.Blocks)
	}
	if got := marked(b.Bridge); !slices.Equal(got, want.Bridges) {
		t.Errorf("%v: bridges %v, want %v", q.Edges, got, want.Bridges)
	}
	if got := marked(b.Articulation); !slices.Equal(got, want.Articulation) {
		t.Errorf("%v: articulation %v, want %v", q.Edges, got, want.Articulation)
	}
	of, count := g.Components(nil)
	components := make([][]int, count)
	for n, c := range of {
		components[c] = append(components[c], n)
	}
	if !slices.EqualFunc(components, want.Components, slices.Equal[[]int]) {
		t.Errorf("%v: components %v, want %v", q.Edges, components, want.Components)
	}
	if got := marked(g.Reach(nil, []int{q.S}, graph.Downstream, nil)); !slices.Equal(got, want.Downstream) {
		t.Errorf("%v: downstream of %d %v, want %v", q.Edges, q.S, got, want.Downstream)
	}
	cut, err := g.MinCut(nil, []int{q.S}, []int{q.T}, q.Cost)
	if err != nil || !cut.Possible || cut.Value != want.Flow {
		t.Errorf("%v: cut from %d to %d %+v, %v; want %d", q.Edges, q.S, q.T, cut, err, want.Flow)
	}
	distance := g.Farthest(nil, q.S, q.Length, nil)
	if !sameLevels(distance.Low, want.Distance) {
		t.Errorf("%v: distances from %d %v", q.Edges, q.S, distance.Low)
	}

	// The rest of the oracle knows nothing of one-way edges.
	both := slices.Clone(q.Edges)
	for i := range both {
		both[i].OneWay = false
	}
	u := build(t, q.Nodes, both...)
	if got := marked(u.Between(nil, q.S, q.T).Marks()); !slices.Equal(got, want.Between) {
		t.Errorf("%v: between %d and %d %v, want %v", q.Edges, q.S, q.T, got, want.Between)
	}
	if got := u.Minimax(nil, q.Height, []int{q.T}); !sameLevels(got.Low, want.Spill) {
		t.Errorf("%v heights %v: spill towards %d %v", q.Edges, q.Height, q.T, got.Low)
	}
}

// sameLevels compares with a list in which nil stands for unreached.
func sameLevels(got []float64, want []*float64) bool {
	return slices.EqualFunc(got, want, func(g float64, w *float64) bool {
		if w == nil {
			return math.IsInf(g, 1)
		}
		return g == *w
	})
}
