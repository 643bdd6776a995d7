package sparse

import (
	"fmt"
	"slices"
)

// Pattern is where the entries of a matrix and of its factor are. It does not
// change once made and may be shared.
type Pattern struct {
	n     int
	place []int32 // of an unknown: its row in the order of elimination
	super []supernode
	// Where the values are: the diagonal of an unknown, and of an edge the entry
	// between its ends.
	diagonal []int32
	between  []int32
	size     int
}

// supernode is a set of columns next to each other with the same rows below
// them. Its entries lie row by row from base on: len(rows) rows of width entries.
type supernode struct {
	first, width int32
	rows         []int32 // the columns themselves, then the rows below
	base         int32
	updates      []update
}

// update says that the rows low to high of an earlier supernode fall on the columns
// of this one, and where in its block they and those below them lie.
type update struct {
	from, low, high int32
	at              []int32 // of each row from low on: where its first entry is
}

// Analyse looks at the pattern of a matrix of n unknowns with an entry for each
// edge. Edges may be parallel; they share an entry. The error is of a number that
// is no unknown, or of an edge from an unknown to itself.
func Analyse(n int, edges [][2]int32) (*Pattern, error) {
	for _, e := range edges {
		if e[0] < 0 || e[1] < 0 || int(e[0]) >= n || int(e[1]) >= n {
			return nil, fmt.Errorf("sparse: edge %d-%d among %d unknowns", e[0], e[1], n)
		}
		if e[0] == e[1] {
			return nil, fmt.Errorf("sparse: edge from %d to itself", e[0])
		}
	}
	p := &Pattern{n: n}
	start, adjacent := neighbours(n, edges)
	sequence := order(n, start, adjacent)
	parent := tree(sequence, start, adjacent)
	sequence = postorder(sequence, parent)
	p.place = make([]int32, n)
	for k, v := range sequence {
		p.place[v] = int32(k)
	}
	p.supernodes(sequence, start, adjacent)
	p.places(edges)
	return p, nil
}

// Fill gives the number of entries of the factor, the measure of a good order.
func (p *Pattern) Fill() int { return p.size }

// neighbours gives the neighbours of each unknown, sorted and without repeats:
// those of i are adjacent[start[i]:start[i+1]].
func neighbours(n int, edges [][2]int32) (start, adjacent []int32) {
	count := make([]int32, n+1)
	for _, e := range edges {
		count[e[0]+1]++
		count[e[1]+1]++
	}
	for i := 0; i < n; i++ {
		count[i+1] += count[i]
	}
	all := make([]int32, 2*len(edges))
	at := slices.Clone(count[:n])
	for _, e := range edges {
		all[at[e[0]]] = e[1]
		at[e[0]]++
		all[at[e[1]]] = e[0]
		at[e[1]]++
	}
	start = make([]int32, n+1)
	adjacent = all[:0]
	for i := 0; i < n; i++ {
		list := all[count[i]:count[i+1]]
		slices.Sort(list)
		adjacent = append(adjacent, slices.Compact(list)...)
		start[i+1] = int32(len(adjacent))
	}
	return start, adjacent
}

// tree gives the elimination tree of the sequence: the parent of each place in
// it, -1 at a root.
func tree(sequence, start, adjacent []int32) []int32 {
	n := len(sequence)
	place := make([]int32, n)
	for k, v := range sequence {
		place[v] = int32(k)
	}
	parent, ancestor := make([]int32, n), make([]int32, n)
	for k, v := range sequence {
		parent[k], ancestor[k] = -1, -1
		for _, w := range adjacent[start[v]:start[v+1]] {
			for i := place[w]; i >= 0 && i < int32(k); {
				up := ancestor[i]
				ancestor[i] = int32(k)
				if up < 0 {
					parent[i] = int32(k)
				}
				i = up
			}
		}
	}
	return parent
}

// postorder reorders the sequence so that each subtree lies together.
func postorder(sequence, parent []int32) []int32 {
	n := len(sequence)
	child, sibling := make([]int32, n+1), make([]int32, n)
	for i := range child {
		child[i] = -1
	}
	for k := n - 1; k >= 0; k-- {
		up := parent[k]
		if up < 0 {
			up = int32(n)
		}
		sibling[k] = child[up]
		child[up] = int32(k)
	}
	out := make([]int32, 0, n)
	var stack []int32
	for root := child[n]; root >= 0; root = sibling[root] {
		for stack = append(stack, root); len(stack) > 0; {
			top := stack[len(stack)-1]
			if c := child[top]; c >= 0 {
				child[top] = sibling[c]
				stack = append(stack, c)
				continue
			}
			stack = stack[:len(stack)-1]
			out = append(out, sequence[top])
		}
	}
	return out
}

// supernodes finds the rows of each column of the factor and joins columns.
func (p *Pattern) supernodes(sequence, start, adjacent []int32) {
	n := p.n
	rows := make([][]int32, n) // of a column: the rows below it, sorted
	head, next := make([]int32, n), make([]int32, n)
	seen := make([]int32, n)
	for i := range head {
		head[i], seen[i] = -1, -1
	}
	for k := 0; k < n; k++ {
		v := sequence[k]
		seen[k] = int32(k)
		var list []int32
		add := func(r int32) {
			if r > int32(k) && seen[r] != int32(k) {
				seen[r] = int32(k)
				list = append(list, r)
			}
		}
		room := int(start[v+1] - start[v])
		for c := head[k]; c >= 0; c = next[c] {
			room += len(rows[c])
		}
		list = make([]int32, 0, room)
		for _, w := range adjacent[start[v]:start[v+1]] {
			add(p.place[w])
		}
		for c := head[k]; c >= 0; c = next[c] {
			for _, r := range rows[c] {
				add(r)
			}
		}
		slices.Sort(list)
		rows[k] = list
		if len(list) > 0 {
			up := list[0]
			next[k] = head[up]
			head[up] = int32(k)
		}
	}
	for k := 0; k < n; {
		last := joined(rows, k)
		s := supernode{first: int32(k), width: int32(last - k + 1), base: int32(p.size)}
		s.rows = make([]int32, 0, last-k+1+len(rows[last]))
		for c := k; c <= last; c++ {
			s.rows = append(s.rows, int32(c))
		}
		s.rows = append(s.rows, rows[last]...)
		p.size += len(s.rows) * int(s.width)
		p.super = append(p.super, s)
		k = last + 1
	}
}

// joined gives the last column that goes in a supernode with column k. A column
// joins when its rows are the same, or when holding them as the same costs few
// zeros: a wider supernode is worked through faster.
func joined(rows [][]int32, k int) int {
	last, zeros := k, 0
	for last+1 < len(rows) && len(rows[last]) > 0 && rows[last][0] == int32(last+1) {
		more := len(rows[last+1]) + 1 - len(rows[last]) // rows that every earlier column gains
		width := last - k + 1
		zeros += more * width
		full := (width + 1) * (len(rows[last+1]) + 1 + width/2)
		if more > 0 && !(zeros*100 <= full*allowedZeros || width+1 <= 6 && zeros <= 16) {
			break
		}
		last++
	}
	return last
}

// allowedZeros is the share of zeros in a supernode, in percent, that is worth
// its greater width (by measurement on grids).
const allowedZeros = 15

// places finds which earlier supernodes update each, and where each entry lies.
func (p *Pattern) places(edges [][2]int32) {
	owner := make([]int32, p.n)
	for s := range p.super {
		for c := int32(0); c < p.super[s].width; c++ {
			owner[p.super[s].first+c] = int32(s)
		}
	}
	var room []int32
	for s := range p.super {
		rows := p.super[s].rows
		for low := int(p.super[s].width); low < len(rows); {
			target := owner[rows[low]]
			high := low + 1
			for high < len(rows) && owner[rows[high]] == target {
				high++
			}
			t := &p.super[target]
			if len(room) < len(rows)-low {
				room = make([]int32, max(len(rows)-low, 1<<12))
			}
			at := room[: len(rows)-low : len(rows)-low]
			room = room[len(rows)-low:]
			k := 0
			for i, r := range rows[low:] {
				for t.rows[k] != r { // every row is also one of the target
					k++
				}
				at[i] = int32(k) * t.width
			}
			t.updates = append(t.updates, update{int32(s), int32(low), int32(high), at})
			low = high
		}
	}
	p.diagonal = make([]int32, p.n)
	for v := range p.diagonal {
		k := p.place[v]
		p.diagonal[v] = p.find(owner[k], k, k)
	}
	p.between = make([]int32, len(edges))
	for e, ends := range edges {
		row, column := p.place[ends[0]], p.place[ends[1]]
		if row < column {
			row, column = column, row
		}
		p.between[e] = p.find(owner[column], row, column)
	}
}

func (p *Pattern) find(s, row, column int32) int32 {
	n := &p.super[s]
	at, ok := slices.BinarySearch(n.rows, row)
	if !ok {
		panic("sparse: entry outside the pattern")
	}
	return n.base + int32(at)*n.width + column - n.first
}
