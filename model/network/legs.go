package network

import (
	"cmp"
	"math"
	"slices"

	"rinsewright/model/graph"
	. "rinsewright/model/quantity"
)

// DeadLegs finds the wet parts that no flow passes: at every flowing node, save
// source and destination, each group of wet edges without flow that hangs on it
// is a leg. They come in order of their root, then of their lowest edge.
//
// The length, in m, runs along the tube axis from the inner wall of the flowing
// tube to the farthest point: a branch counts with its stub, which is measured
// from the wall; a leg that goes straight on where the flow turns into a branch
// counts less half the bore of the branch; where the leg itself passes between
// main and branch of a further tee, half the bore of that main is added. In a
// ring the farthest point is where the two ways round are equally long. A leg of
// zero length is reported too (an instrument flush with the wall), but not a port
// of zero length on which nothing is mounted.
//
// A route that was not found has no legs.
func (p *Plant) DeadLegs(r *Route) []Leg {
	if !r.Found {
		return nil
	}
	s := newLegSearch(p, r)
	var out []Leg
	for n := range p.Nodes {
		if !s.flows[n] || n == r.LineUp.Source || n == r.LineUp.Dest {
			continue
		}
		for _, a := range p.rest.Incident(n) {
			if !s.dead(int(a.Edge)) || s.taken[a.Edge] == int32(n)+1 {
				continue
			}
			s.gather(n, int(a.Edge))
			if !s.nothingMounted() {
				out = append(out, s.leg())
			}
		}
	}
	return out
}

// legSearch holds what the legs of one route share. The group in hand is the leg
// being looked at; its nodes have numbers of their own, the root is 0.
type legSearch struct {
	p     *Plant
	r     *Route
	flows []bool  // by node: an edge with flow touches it
	taken []int32 // by edge: root + 1 of the last group it was in
	local []int32 // by node: number in the group in hand, where nodes[number] is the node
	nodes []int
	edges []int
	stops []bool // by number: the leg does not go on

	inner   []graph.Edge
	length  []float64
	missing [][]Missing // by position in edges: why its length is unknown
	degree  []int       // by number: edges of the group at the node
}

func newLegSearch(p *Plant, r *Route) *legSearch {
	s := &legSearch{p: p, r: r, flows: make([]bool, len(p.Nodes)), taken: make([]int32, len(p.Edges)), local: make([]int32, len(p.Nodes))}
	for e, in := range r.InFlow {
		if in {
			s.flows[p.Edges[e].From], s.flows[p.Edges[e].To] = true, true
		}
	}
	for _, e := range r.WrongWay {
		s.taken[e] = math.MaxInt32 // held shut by the flow
	}
	return s
}

func (s *legSearch) dead(e int) bool {
	return s.r.Wet[e] && !s.r.InFlow[e] && s.taken[e] != math.MaxInt32
}

// number gives a node its number in the group in hand.
func (s *legSearch) number(n int) int {
	if k := s.local[n]; int(k) < len(s.nodes) && s.nodes[k] == n {
		return int(k)
	}
	s.local[n] = int32(len(s.nodes))
	s.nodes = append(s.nodes, n)
	s.stops = append(s.stops, s.flows[n] || s.p.is(n, isVessel) || n == s.r.LineUp.Source || n == s.r.LineUp.Dest)
	return len(s.nodes) - 1
}

// gather collects the group that begins at root with edge first.
func (s *legSearch) gather(root, first int) {
	s.nodes, s.edges, s.stops = s.nodes[:0], s.edges[:0], s.stops[:0]
	s.number(root)
	s.take(root, first)
	for k := 1; k < len(s.nodes); k++ {
		if s.stops[k] {
			continue
		}
		for _, a := range s.p.rest.Incident(s.nodes[k]) {
			if s.dead(int(a.Edge)) && s.taken[a.Edge] != int32(root)+1 {
				s.take(root, int(a.Edge))
			}
		}
	}
	slices.Sort(s.edges)
}

func (s *legSearch) take(root, e int) {
	s.taken[e] = int32(root) + 1
	s.edges = append(s.edges, e)
	s.number(s.p.Edges[e].From)
	s.number(s.p.Edges[e].To)
}

// nothingMounted says whether the group is but a port that opens flush into what
// flows and on which nothing is mounted: it is no leg, the port is not there.
func (s *legSearch) nothingMounted() bool {
	if len(s.edges) != 1 || s.p.Edges[s.edges[0]].Length != Some(Length(0)) || len(s.nodes) < 2 {
		return false
	}
	end := s.nodes[1]
	return s.p.Nodes[end].Role == "" && s.p.Nodes[end].Part != "" && len(s.p.rest.Incident(end)) == 1
}

func (s *legSearch) leg() Leg {
	s.measure()
	g, err := graph.New(len(s.nodes), s.inner)
	if err != nil {
		panic("network: " + err.Error()) // the numbers were given above
	}
	far := g.Farthest(nil, 0, s.length, s.stops)
	end, tip, length := s.farthest(far)
	l := Leg{Root: s.nodes[0], End: s.nodes[end], Edges: slices.Clone(s.edges), AtLeast: Length(max(length, 0)), Opens: s.opens(far)}
	for n := end; far.Parent[n] >= 0; n = g.Other(int(far.Parent[n]), n) {
		l.Way = append(l.Way, s.edges[far.Parent[n]])
	}
	slices.Reverse(l.Way)
	if tip >= 0 {
		l.Way = append(l.Way, s.edges[tip])
	}
	if !s.unsure(far) {
		l.Length = Some(l.AtLeast)
	} else {
		for _, m := range s.missing {
			l.miss(m)
		}
	}
	s.bore(&l)
	l.Main = s.p.boreNear(l.Root, s.r.InFlow)
	return l
}

// farthest picks the point to which the leg is measured: the node that is
// farthest by its shortest way, of equal ones a closed end, else the last; or a
// point inside edge tip of a ring, with end the node by which it is reached.
func (s *legSearch) farthest(far *graph.Reached) (end, tip int, length float64) {
	const same = 1e-9 // m
	rank := func(k int) int {
		switch {
		case k == 0:
			return 0
		case s.degree[k] > 1:
			return 1
		case s.p.is(s.nodes[k], isClosed):
			return 3
		}
		return 2
	}
	for k, d := range far.Low {
		switch {
		case k == 0 || d > far.Low[end]+same:
			end = k
		case d < far.Low[end]-same:
		case rank(k) > rank(end):
			end = k
		case rank(k) == rank(end) && rank(k) == 1 && s.behind(far, k, end):
			end = k
		}
	}
	tip, length = -1, far.Low[end]
	for i, e := range s.inner {
		if d := (far.Low[e.U] + far.Low[e.V] + s.length[i]) / 2; d > length+same {
			tip, length = i, d
			end = e.U
		}
	}
	return end, tip, length
}

// behind says whether node a is reached by way of node b.
func (s *legSearch) behind(far *graph.Reached, a, b int) bool {
	for a != b {
		e := far.Parent[a]
		if e < 0 {
			return false
		}
		if a = s.inner[e].U + s.inner[e].V - a; a == b {
			return true
		}
	}
	return false
}

// unsure says whether a length that nobody told could make the leg longer.
func (s *legSearch) unsure(far *graph.Reached) bool {
	if far.Unknown {
		return true
	}
	for i, l := range s.length {
		if math.IsNaN(l) && far.Parent[s.inner[i].U] != int32(i) && far.Parent[s.inner[i].V] != int32(i) {
			return true // the closing edge of a ring
		}
	}
	return false
}

// opens gives the nearest node at which the leg is not closed, or -1.
func (s *legSearch) opens(far *graph.Reached) int {
	best := -1
	for k := 1; k < len(s.nodes); k++ {
		n := s.nodes[k]
		if !s.p.is(n, isVessel|isAir|isMouth) && n != s.r.LineUp.Source && n != s.r.LineUp.Dest {
			continue
		}
		if best < 0 || far.Low[k] < far.Low[best] {
			best = k
		}
	}
	if best < 0 {
		return -1
	}
	return s.nodes[best]
}

// bore fills in the smallest inside diameter on the way.
func (s *legSearch) bore(l *Leg) {
	least := math.Inf(1)
	known := true
	for _, e := range l.Way {
		i, _ := slices.BinarySearch(s.edges, e)
		if s.length[i] == 0 {
			continue
		}
		d, ok := s.p.Edges[e].Bore.Get()
		if !ok {
			known = false
			l.miss(s.p.missingBore(e))
			continue
		}
		least = min(least, float64(d))
	}
	if known && !math.IsInf(least, 1) {
		l.Bore = Some(Bore(least))
	}
}

func (l *Leg) miss(list []Missing) {
	for _, m := range list {
		if !slices.Contains(l.Missing, m) {
			l.Missing = append(l.Missing, m)
		}
	}
}

// measure fills in the edges of the group in its own numbers and their lengths.
func (s *legSearch) measure() {
	s.inner, s.length, s.missing = s.inner[:0], s.length[:0], s.missing[:0]
	s.degree = append(s.degree[:0], make([]int, len(s.nodes))...)
	for _, e := range s.edges {
		d := &s.p.Edges[e]
		u, v := int(s.local[d.From]), int(s.local[d.To])
		s.degree[u]++
		s.degree[v]++
		s.inner = append(s.inner, graph.Edge{U: u, V: v})
		length, missing := s.axis(e)
		s.length = append(s.length, length)
		s.missing = append(s.missing, missing)
	}
}

// axis gives the length of an edge along the axis as it counts in the leg in
// hand; NaN with what is missing where it is unknown.
func (s *legSearch) axis(e int) (float64, []Missing) {
	p, d := s.p, &s.p.Edges[e]
	missing := p.missingLength(e)
	length := math.NaN()
	if l, ok := d.Length.Get(); ok {
		length = float64(l)
	}
	tee := p.teeOf(e)
	if tee < 0 {
		return length, missing
	}
	switch atRoot := tee == s.nodes[0]; {
	case d.Branch && !atRoot:
		bore := p.mainBore(tee)
		half, ok := bore.Get()
		if !ok {
			return math.NaN(), append(missing, p.missingAt(tee, false)...)
		}
		return length + float64(half)/2, missing
	case !d.Branch && atRoot:
		branch := s.turn(tee)
		if branch < 0 {
			return length, missing
		}
		bore, ok := p.Edges[branch].Bore.Get()
		if !ok {
			return math.NaN(), append(missing, p.missingBore(branch)...)
		}
		return max(length-float64(bore)/2, 0), missing
	}
	return length, missing
}

// turn gives the branch through which the flow passes a tee, or -1.
func (s *legSearch) turn(tee int) int {
	for _, a := range s.p.flow.Incident(tee) {
		if s.p.Edges[a.Edge].Branch && s.r.InFlow[a.Edge] {
			return int(a.Edge)
		}
	}
	return -1
}

// teeOf gives the tee node that an edge ends on, or -1.
func (p *Plant) teeOf(e int) int {
	if d := &p.Edges[e]; p.is(d.From, isTee) {
		return d.From
	} else if p.is(d.To, isTee) {
		return d.To
	}
	return -1
}

// mainBore gives the bore of the main of a tee: of its paths that are not
// branches, or, where these have none, of the tube beside them.
func (p *Plant) mainBore(tee int) Opt[Bore] {
	main := func(e int) bool { return !p.Edges[e].Branch }
	var best Opt[Bore]
	for _, a := range p.flow.Incident(tee) {
		if e := int(a.Edge); main(e) {
			if d := p.Edges[e].Bore; d.Known() && d.Or(0) > best.Or(0) {
				best = d
			}
		}
	}
	if best.Known() {
		return best
	}
	for _, a := range p.flow.Incident(tee) {
		if e := int(a.Edge); main(e) {
			if d := p.boreBeyond(p.Other(e, tee), e, nil); d.Known() {
				return d
			}
		}
	}
	return best
}

// missingAt names the properties without which the bores of a tee's main are
// unknown.
func (p *Plant) missingAt(tee int, branch bool) []Missing {
	var out []Missing
	for _, a := range p.flow.Incident(tee) {
		if e := int(a.Edge); p.Edges[e].Branch == branch {
			for _, m := range p.missingBore(e) {
				if !slices.Contains(out, m) {
					out = append(out, m)
				}
			}
		}
	}
	return out
}

// boreNear gives the widest bore at a node among the edges in use; where none of
// these has one, that of the nearest tube along them.
func (p *Plant) boreNear(node int, use []bool) Opt[Bore] {
	var best Opt[Bore]
	for _, a := range p.flow.Incident(node) {
		if d := p.Edges[a.Edge].Bore; use[a.Edge] && d.Known() && d.Or(0) > best.Or(0) {
			best = d
		}
	}
	if best.Known() || p.is(node, isVessel) {
		return best
	}
	for _, a := range p.flow.Incident(node) {
		if use[a.Edge] {
			if d := p.boreBeyond(p.Other(int(a.Edge), node), int(a.Edge), use); d.Known() && d.Or(0) > best.Or(0) {
				best = d
			}
		}
	}
	return best
}

// boreBeyond follows fittings without length and bore, from a node away from an
// edge, to the first bore. use, if not nil, tells which edges may be followed.
func (p *Plant) boreBeyond(node, from int, use []bool) Opt[Bore] {
	const far = 16 // fittings face to face
	for range far {
		next, ways := -1, 0
		for _, a := range p.flow.Incident(node) {
			if e := int(a.Edge); e != from && (use == nil || use[e]) && !p.Edges[e].Branch {
				next = e
				ways++
			}
		}
		if ways != 1 || p.is(node, isVessel) {
			break
		}
		e := &p.Edges[next]
		if e.Bore.Known() {
			return e.Bore
		}
		if !e.Length.Known() || e.Length.Or(0) > 0 {
			break
		}
		node, from = p.Other(next, node), next
	}
	return Opt[Bore]{}
}

// compareMissing orders by record, then key.
func compareMissing(a, b Missing) int {
	return cmp.Or(cmp.Compare(a.Record, b.Record), cmp.Compare(a.Key, b.Key))
}
