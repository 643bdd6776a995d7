package graph

// BlockTree is the division of the open edges into blocks (biconnected
// components): two edges share a block when some simple cycle runs through both.
// Parallel edges share a block; a bridge and a self loop are each a block of
// their own. Blocks are numbered by their lowest edge.
type BlockTree struct {
	// Block is the block of each edge, -1 for a closed edge.
	Block []int32
	// Articulation marks the nodes whose removal would separate others that are
	// joined now.
	Articulation []bool
	// Bridge marks the edges whose removal would separate their ends.
	Bridge []bool

	start   []int32 // edges of block b are members[start[b]:start[b+1]]
	members []int32
}

// Len is the number of blocks.
func (t *BlockTree) Len() int { return len(t.start) - 1 }

// Edges returns the edges of a block in rising order. The slice belongs to the
// tree and must not be changed.
func (t *BlockTree) Edges(block int) []int32 {
	return t.members[t.start[block]:t.start[block+1]]
}

// Blocks divides the open edges into blocks, in time linear in the graph. One-way
// edges count as passable both ways.
func (g *Graph) Blocks(open []bool) *BlockTree {
	g.mustEdges("open", len(open), open == nil)
	t := &BlockTree{
		Articulation: make([]bool, g.Nodes()),
		Bridge:       make([]bool, len(g.edges)),
	}
	l := newLowlink(g, open)
	atRoot := 0
	l.closed = func(top int32, root bool) {
		// A root separates when two blocks hang at it, any other node with one.
		if root {
			atRoot++
		}
		if !root || atRoot > 1 {
			t.Articulation[top] = true
		}
	}
	for n := range l.at {
		if l.at[n].disc == 0 {
			atRoot = 0
			l.run(int32(n))
		}
	}
	t.Block = l.block
	t.number(int(l.count))
	for b := 0; b < t.Len(); b++ {
		if m := t.Edges(b); len(m) == 1 {
			e := g.edges[m[0]]
			t.Bridge[m[0]] = e.U != e.V
		}
	}
	return t
}

// number renames the blocks by their lowest edge and lists their members.
func (t *BlockTree) number(count int) {
	name := make([]int32, count)
	for i := range name {
		name[i] = -1
	}
	t.start = make([]int32, count+1)
	next, total := int32(0), int32(0)
	for e, b := range t.Block {
		if b < 0 {
			continue
		}
		if name[b] < 0 {
			name[b] = next
			next++
		}
		t.Block[e] = name[b]
		t.start[name[b]+1]++
		total++
	}
	for b := 0; b < count; b++ {
		t.start[b+1] += t.start[b]
	}
	t.members = make([]int32, total)
	fill := name // no longer needed under its own name
	copy(fill, t.start)
	for e, b := range t.Block {
		if b >= 0 {
			t.members[fill[b]] = int32(e)
			fill[b]++
		}
	}
}
