package sparse

// order gives an elimination order of n unknowns that keeps the factor sparse,
// by approximate minimum degree. start and adjacent hold the neighbours of each
// unknown, both ways, without loops and repeats; neither is changed.
//
// The graph that elimination leaves is held as a quotient graph: an eliminated
// unknown becomes an element, which stands for the clique of its neighbours.
// Unknowns with the same neighbours are merged and eliminated together.
func order(n int, start, adjacent []int32) []int32 {
	q := newQuotient(n, start, adjacent)
	out := make([]int32, 0, n)
	for len(out) < n {
		p := q.lowest()
		for _, member := range q.eliminate(p) {
			for v := member; v >= 0; v = q.follower[v] {
				out = append(out, v)
			}
		}
	}
	return out
}

// quotient is the quotient graph of what is not yet eliminated.
type quotient struct {
	n          int
	variables  [][]int32 // of a variable: variables still joined to it directly
	elements   [][]int32 // of a variable: elements that it belongs to
	clique     [][]int32 // of an element: its variables
	reach      []int32   // of an element: the weight of its clique
	weight     []int32   // of a variable: unknowns merged in it; 0 when gone; negative while in the clique at work
	degree     []int32   // of a variable: bound of its degree
	dead       []bool    // of an element: absorbed by a later one
	outside    []int32   // of an element: weight of its clique outside the clique at work, plus stamp
	stamp      int32
	follower   []int32 // next unknown merged in the same variable, -1 at the end
	last       []int32 // last unknown merged in a variable
	first      []int32 // of a degree: first variable of that degree
	next, prev []int32
	floor      int32 // no variable has a lower degree
	left       int32 // unknowns not yet eliminated
	mark       []int32
	marked     int32
	sameHash   []int32 // of a hash: first variable of that hash
	hash       []int32
	hashNext   []int32
	gone       []int32
}

func newQuotient(n int, start, adjacent []int32) *quotient {
	q := &quotient{
		n: n, variables: make([][]int32, n), elements: make([][]int32, n), clique: make([][]int32, n),
		reach: make([]int32, n), weight: make([]int32, n), degree: make([]int32, n), dead: make([]bool, n),
		outside: make([]int32, n), stamp: 1, follower: make([]int32, n), last: make([]int32, n),
		first: make([]int32, n+1), next: make([]int32, n), prev: make([]int32, n), left: int32(n),
		mark: make([]int32, n), sameHash: make([]int32, n), hash: make([]int32, n), hashNext: make([]int32, n),
	}
	// A variable never has more variables and elements together than it had
	// neighbours, so both lists fit in room of that size.
	own := append([]int32(nil), adjacent...)
	room := make([]int32, len(adjacent))
	for d := range q.first {
		q.first[d] = -1
	}
	for i := 0; i < n; i++ {
		a, b := start[i], start[i+1]
		q.variables[i] = own[a:b:b]
		q.elements[i] = room[a:a:b]
		q.weight[i], q.follower[i], q.last[i], q.sameHash[i] = 1, -1, int32(i), -1
		q.degree[i] = b - a
	}
	for i := n - 1; i >= 0; i-- {
		q.insert(int32(i))
	}
	return q
}

func (q *quotient) insert(i int32) {
	d := q.degree[i]
	q.prev[i], q.next[i] = -1, q.first[d]
	if q.first[d] >= 0 {
		q.prev[q.first[d]] = i
	}
	q.first[d] = i
	q.floor = min(q.floor, d)
}

func (q *quotient) remove(i int32) {
	if q.prev[i] >= 0 {
		q.next[q.prev[i]] = q.next[i]
	} else {
		q.first[q.degree[i]] = q.next[i]
	}
	if q.next[i] >= 0 {
		q.prev[q.next[i]] = q.prev[i]
	}
}

// lowest takes a variable of lowest degree.
func (q *quotient) lowest() int32 {
	for q.first[q.floor] < 0 {
		q.floor++
	}
	p := q.first[q.floor]
	q.remove(p)
	return p
}

// eliminate makes the variable p an element and gives the variables that go with
// it, p first.
func (q *quotient) eliminate(p int32) []int32 {
	q.gone = append(q.gone[:0], p)
	q.left -= q.weight[p]
	total := q.gather(p)
	q.measure(p)
	total = q.lower(p, total)
	q.merge(p)

	kept := q.clique[p][:0]
	for _, i := range q.clique[p] {
		if q.weight[i] == 0 {
			continue
		}
		w := -q.weight[i]
		q.weight[i] = w
		q.degree[i] = min(q.degree[i]+total-w, q.left-w)
		q.insert(i)
		kept = append(kept, i)
	}
	q.clique[p], q.reach[p] = kept, total
	if len(kept) == 0 {
		q.dead[p] = true
	}
	return q.gone
}

// gather makes the clique of p and gives its weight. The elements of p are then
// absorbed by p, and the weights of the clique are negative.
func (q *quotient) gather(p int32) int32 {
	size := len(q.variables[p])
	for _, e := range q.elements[p] {
		size += len(q.clique[e])
	}
	clique, total := make([]int32, 0, size), int32(0)
	q.weight[p] = 0
	add := func(list []int32) {
		for _, i := range list {
			if q.weight[i] > 0 {
				total += q.weight[i]
				q.weight[i] = -q.weight[i]
				q.remove(i)
				clique = append(clique, i)
			}
		}
	}
	add(q.variables[p])
	for _, e := range q.elements[p] {
		if !q.dead[e] {
			add(q.clique[e])
			q.dead[e], q.clique[e] = true, nil
		}
	}
	q.variables[p], q.elements[p] = nil, nil
	q.clique[p] = clique
	return total
}

// measure finds, for each element that meets the clique of p, the weight of it
// outside that clique.
func (q *quotient) measure(p int32) {
	q.stamp += int32(q.n) + 1
	if q.stamp > 1<<30 {
		clear(q.outside)
		q.stamp = int32(q.n) + 1
	}
	for _, i := range q.clique[p] {
		w := -q.weight[i]
		for _, e := range q.elements[i] {
			if q.dead[e] {
				continue
			}
			if q.outside[e] < q.stamp {
				q.outside[e] = q.reach[e] + q.stamp
			}
			q.outside[e] -= w
		}
	}
}

// lower bounds the degree of each variable of the clique of p outside that
// clique, absorbs elements that lie wholly in it, and eliminates at once the
// variables that have no neighbour outside. It gives the weight that is left.
func (q *quotient) lower(p, total int32) int32 {
	for _, i := range q.clique[p] {
		degree, hash := int32(0), uint32(p)
		elements := q.elements[i][:0]
		for _, e := range q.elements[i] {
			if q.dead[e] {
				continue
			}
			if beyond := q.outside[e] - q.stamp; beyond > 0 {
				degree += beyond
				hash += uint32(e)
				elements = append(elements, e)
			} else {
				q.dead[e], q.clique[e] = true, nil
			}
		}
		variables := q.variables[i][:0]
		for _, j := range q.variables[i] {
			if q.weight[j] > 0 {
				degree += q.weight[j]
				hash += uint32(j)
				variables = append(variables, j)
			}
		}
		if degree == 0 {
			w := -q.weight[i]
			total -= w
			q.left -= w
			q.weight[i] = 0
			q.elements[i], q.variables[i] = nil, nil
			q.gone = append(q.gone, i)
			continue
		}
		q.elements[i], q.variables[i] = append(elements, p), variables
		q.degree[i] = min(q.degree[i], degree)
		q.hash[i] = int32(hash % uint32(q.n))
	}
	return total
}

// merge joins the variables of the clique of p that have the same neighbours.
func (q *quotient) merge(p int32) {
	clique := q.clique[p]
	for _, i := range clique {
		if q.weight[i] != 0 {
			q.hashNext[i] = q.sameHash[q.hash[i]]
			q.sameHash[q.hash[i]] = i
		}
	}
	for _, i := range clique {
		if q.weight[i] == 0 || q.sameHash[q.hash[i]] < 0 {
			continue
		}
		list := q.sameHash[q.hash[i]]
		q.sameHash[q.hash[i]] = -1
		for ; list >= 0; list = q.hashNext[list] {
			if q.weight[list] != 0 && q.hashNext[list] >= 0 {
				q.mergeInto(list)
			}
		}
	}
}

// mergeInto joins to variable i those after it in its hash list that have the
// same neighbours.
func (q *quotient) mergeInto(i int32) {
	q.marked++
	for _, e := range q.elements[i] {
		q.mark[e] = q.marked
	}
	for _, v := range q.variables[i] {
		q.mark[v] = q.marked
	}
	for j := q.hashNext[i]; j >= 0; j = q.hashNext[j] {
		if q.weight[j] == 0 || len(q.elements[j]) != len(q.elements[i]) || len(q.variables[j]) != len(q.variables[i]) ||
			!q.allMarked(q.elements[j]) || !q.allMarked(q.variables[j]) {
			continue
		}
		q.weight[i] += q.weight[j]
		q.weight[j] = 0
		q.elements[j], q.variables[j] = nil, nil
		q.follower[q.last[i]] = j
		q.last[i] = q.last[j]
	}
}

func (q *quotient) allMarked(list []int32) bool {
	for _, v := range list {
		if q.mark[v] != q.marked {
			return false
		}
	}
	return true
}
