package lineup

import (
	"math/bits"
	"slices"
)

// spread finds where liquid gets to beside a way while the positions of some valves
// are still open: what is certain, at which undecided valves it stands, and what
// each of their positions adds at least.
type spread struct {
	f    *field
	work *int

	seen  []int32 // by node: round in which liquid reached it for certain
	wet   []int32 // by edge: round in which it is wet for certain
	onWay []int32 // by node: round in which the way passes it
	last  []int32 // by node: valve last passed on the way there, -1 for none
	root  []int32 // by node: place on the way of the point it is reached from; -1 if only over a one-way part
	round int32

	tried  []int32 // by node: trial in which liquid reached it
	soaked []int32 // by edge: trial in which it is wet
	spent  []int32 // by edge: round in which a trial of another valve has counted it
	trial  int32
	queue  []int32

	way     []int
	shared  []bool     // by place on the way: a trial has counted that only a part of the flow passes
	things  [][2]int32 // by thing asked for: first and last place on the way
	divided []bool     // by thing: counted likewise
}

// puddle is what a spread finds.
type puddle struct {
	metres   float64   // wet for certain beside the way
	contacts []contact // undecided valves that liquid stands at, in the order found
	barred   int       // edge of what must stay dry that is wet for certain, or -1
	by       int32     // valve last passed before it, or -1
}

// contact is a valve whose position decides how far liquid gets.
type contact struct {
	valve   int32
	edges   []int   // gates that liquid stands at
	from    []int32 // node by gate
	options []option
}

// option is one position of a valve, and what it costs at least: a move, and
// liquid beyond the valve; without end if something would be reached that must
// stay dry.
type option struct {
	at    int
	least float64
	bar   int // edge reached that must stay dry, or -1
}

func newSpread(f *field, work *int) *spread {
	n, m := len(f.p.Nodes), len(f.p.Edges)
	return &spread{f: f, work: work, seen: make([]int32, n), onWay: make([]int32, n), last: make([]int32, n), root: make([]int32, n), wet: make([]int32, m),
		things: make([][2]int32, len(f.ask.Through)), divided: make([]bool, len(f.ask.Through)), tried: make([]int32, n), soaked: make([]int32, m), spent: make([]int32, m)}
}

// state of an edge while some positions are allowed.
type state int8

const (
	shut state = iota
	open
	undecided
)

func (f *field) state(e int, allowed []uint64) state {
	v := f.gate[e]
	switch {
	case v < 0 && f.base[e]:
		return open
	case v < 0 || allowed[v]&f.mask[e] == 0:
		return shut
	case allowed[v]&^f.mask[e] == 0:
		return open
	}
	return undecided
}

// passes says whether standing liquid at node gets into edge e from there.
func (f *field) passes(e int, node int32) bool {
	return !f.back[e] || f.g.Edge(e).U == int(node)
}

// flood lets liquid run from a way.
func (s *spread) flood(way []int, allowed []uint64) puddle {
	out := puddle{barred: -1, by: -1}
	if s.f.air {
		return out
	}
	s.round++
	s.queue = s.queue[:0]
	s.along(way)
	at := map[int32]int{} // place in contacts by valve
	for i := 0; i < len(s.queue); i++ {
		u := s.queue[i]
		*s.work++
		for _, a := range s.f.g.Incident(int(u)) {
			e := int(a.Edge)
			if s.wet[e] == s.round || !s.f.passes(e, u) {
				continue
			}
			switch s.f.state(e, allowed) {
			case open:
				s.wet[e] = s.round
				out.metres += s.f.metres[e]
				by := s.last[u]
				if s.f.gate[e] >= 0 {
					by = s.f.gate[e]
				}
				if s.f.bar[e] >= 0 && out.barred < 0 {
					out.barred, out.by = e, by
				}
				if s.seen[a.Node] != s.round {
					s.seen[a.Node], s.last[a.Node], s.root[a.Node] = s.round, by, s.root[u]
					if s.f.g.Edge(e).OneWay {
						s.root[a.Node] = -1
					}
					if !s.ends(a.Node) {
						s.queue = append(s.queue, a.Node)
					}
				}
			case undecided:
				v := s.f.gate[e]
				k, known := at[v]
				if !known {
					k = len(out.contacts)
					at[v] = k
					out.contacts = append(out.contacts, contact{valve: v})
				}
				out.contacts[k].edges = append(out.contacts[k].edges, e)
				out.contacts[k].from = append(out.contacts[k].from, u)
			}
		}
	}
	return out
}

// along puts the points of a way into the queue and notes their places.
func (s *spread) along(way []int) {
	s.way = way
	s.shared = append(s.shared[:0], make([]bool, len(way))...)
	clear(s.divided)
	for i := range s.things {
		s.things[i] = [2]int32{-1, -1}
	}
	n := s.f.source
	point := func(place int) {
		s.seen[n], s.onWay[n], s.last[n], s.root[n] = s.round, s.round, -1, int32(place)
		if n != s.f.dest {
			s.queue = append(s.queue, int32(n))
		}
	}
	point(0)
	for i, e := range way {
		s.wet[e] = s.round
		n = s.f.g.Other(e, n)
		point(i + 1)
		if h := s.f.hit[e]; h >= 0 {
			if s.things[h][0] < 0 {
				s.things[h][0] = int32(i)
			}
			s.things[h][1] = int32(i)
		}
	}
}

// ends says whether liquid goes no farther than a node: the inside of a vessel in
// which nothing flows, and the destination.
func (s *spread) ends(n int32) bool {
	return s.f.stop[n] && s.onWay[n] != s.round || int(n) == s.f.dest
}

// weigh fills in the options of the contacts. No metre is counted for two valves,
// so that the sum of the least options is a lower bound.
func (s *spread) weigh(p *puddle, allowed []uint64) {
	for i := range p.contacts {
		c := &p.contacts[i]
		v := &s.f.valves[c.valve]
		forced := s.f.moves(c.valve, allowed[c.valve])
		var counted trialled
		for _, at := range s.undominated(c.valve, allowed[c.valve]) {
			o := option{at: at, bar: -1}
			if at != v.normal && !forced {
				o.least = perMove
			}
			var more float64
			more, o.bar = s.beyond(c, at, allowed, &counted)
			o.least += more
			c.options = append(c.options, o)
		}
		for _, e := range counted.edges {
			s.spent[e] = s.round
		}
		for _, part := range counted.parts {
			s.share(part[0], part[1], true)
		}
	}
}

// undominated gives the allowed positions of a valve for which no other one opens
// less and costs no more.
func (s *spread) undominated(v int32, allowed uint64) []int {
	d := &s.f.valves[v]
	opens := func(at int) uint64 {
		var out uint64
		for i, e := range d.gates {
			out |= (s.f.mask[e] >> at & 1) << min(i, 63)
		}
		return out
	}
	var out []int
	for left := allowed; left != 0; left &= left - 1 {
		p := bits.TrailingZeros64(left)
		beaten := false
		for others := allowed &^ (1 << p); others != 0 && !beaten; others &= others - 1 {
			q := bits.TrailingZeros64(others)
			costs, better := q != d.normal && p == d.normal, q == d.normal && p != d.normal
			less := opens(q) &^ opens(p)
			same := opens(q) == opens(p)
			beaten = !costs && less == 0 && (!same || better || q < p)
		}
		if !beaten {
			out = append(out, p)
		}
	}
	return out
}

// trialled is what the trials of one valve have counted.
type trialled struct {
	edges []int
	parts [][2]int32 // places on the way between which another way leads
}

// beyond gives the least cost of what gets wet for certain behind a valve in one
// position, and an edge reached that must stay dry, or -1. If liquid comes back to
// the way, what lies between has only a part of the flow.
func (s *spread) beyond(c *contact, at int, allowed []uint64, counted *trialled) (float64, int) {
	s.trial++
	metres, bar := 0.0, -1
	first, last, twoWay := int32(len(s.way)), int32(-1), true
	join := func(n int32) {
		if r := s.root[n]; r >= 0 {
			first, last = min(first, r), max(last, r)
		}
	}
	s.queue = s.queue[:0]
	soak := func(e int, far int32) {
		twoWay = twoWay && !s.f.g.Edge(e).OneWay
		if s.seen[far] == s.round {
			join(far)
		}
		if s.soaked[e] == s.trial || s.wet[e] == s.round {
			return
		}
		s.soaked[e] = s.trial
		if s.f.bar[e] >= 0 {
			bar = e
		}
		if s.spent[e] != s.round {
			metres += s.f.metres[e]
			counted.edges = append(counted.edges, e)
		}
		if s.tried[far] != s.trial && s.seen[far] != s.round {
			s.tried[far] = s.trial
			if !s.ends(far) {
				s.queue = append(s.queue, far)
			}
		}
	}
	for i, e := range c.edges {
		if s.f.mask[e]>>at&1 == 1 {
			join(c.from[i])
			soak(e, int32(s.f.g.Other(e, int(c.from[i]))))
		}
	}
	for i := 0; i < len(s.queue); i++ {
		u := s.queue[i]
		*s.work++
		for _, a := range s.f.g.Incident(int(u)) {
			e := int(a.Edge)
			if !s.f.passes(e, u) {
				continue
			}
			isOpen := s.f.state(e, allowed) == open
			if s.f.gate[e] == c.valve {
				isOpen = s.f.mask[e]>>at&1 == 1
			}
			if isOpen && s.soaked[e] != s.trial {
				soak(e, a.Node)
			}
		}
	}
	sum := perWet * metres
	if twoWay && first < last {
		counted.parts = append(counted.parts, [2]int32{first, last})
		sum += s.share(first, last, false)
	}
	return sum, bar
}

// share gives what it costs at least that only a part of the flow passes between
// two places on the way, save what is counted already; mark counts it.
func (s *spread) share(first, last int32, mark bool) float64 {
	sum := 0.0
	for i := first; i < last; i++ {
		if !s.shared[i] {
			sum += (perWet - 1) * s.f.metres[s.way[i]]
		}
		s.shared[i] = s.shared[i] || mark
	}
	for i, t := range s.things {
		if t[0] >= first && t[1] < last {
			if !s.divided[i] {
				sum += perShare
			}
			s.divided[i] = s.divided[i] || mark
		}
	}
	return sum
}

// least gives the cheapest option that reaches nothing barred; false if all do.
func (c *contact) least() (option, bool) {
	ok := slices.DeleteFunc(slices.Clone(c.options), func(o option) bool { return o.bar >= 0 })
	if len(ok) == 0 {
		return option{}, false
	}
	return slices.MinFunc(ok, func(a, b option) int {
		switch {
		case a.least < b.least:
			return -1
		case a.least > b.least:
			return 1
		}
		return 0
	}), true
}
