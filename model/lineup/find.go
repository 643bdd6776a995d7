package lineup

import (
	"math"
	"slices"

	"rinsewright/model"
	"rinsewright/model/network"
)

// Weights of the cost, in metres of tube; see the package.
const (
	perWet   = 3.0
	perMove  = 2.0
	perShare = 20.0
)

// budget bounds the work of one search, in points looked at: about a tenth of a
// second.
const budget = 2_000_000

const defaultMost = 3

// Find gives the line-ups for an ask, the best first: at most Ask.Most, each with
// another way, none dearer than twice the first and 30 m. If there is none, a single
// proposal tells what is in the way. The error tells of an ask that cannot be put:
// it names a part that is not in the circuit, a position that a valve does not
// have, or more to pass than [MostFree] and [MostOrdered].
func Find(p *network.Plant, ask Ask) ([]Proposal, error) {
	f, err := newField(p, ask)
	if err != nil {
		return nil, err
	}
	if x := f.noEnds(); x != nil {
		return []Proposal{*x}, nil
	}
	open := f.passable()
	chain := f.g.Between(open, f.source, f.dest)
	if !chain.Connected {
		return []Proposal{f.noWay(open)}, nil
	}
	for i := range f.ask.Through {
		if !slices.ContainsFunc(f.edgesOf(int8(i)), chain.Contains) {
			return []Proposal{f.passesBy(i, open)}, nil
		}
	}
	s := &search{field: f, links: newLinks(f, chain), most: ask.Most, best: math.Inf(1), known: map[string]*whole{}}
	if s.most <= 0 {
		s.most = defaultMost
	}
	s.walker = newWalker(s.links, f.start, &s.work)
	s.spread = newSpread(f, &s.work)
	s.run()
	if len(s.found) == 0 {
		return []Proposal{s.missing()}, nil
	}
	out := make([]Proposal, len(s.found))
	for i, x := range s.found {
		out[i] = f.proposal(x)
	}
	return out, nil
}

// search is one run of branch and bound over the positions of the valves.
type search struct {
	*field
	links  *links
	walker *walker
	spread *spread
	most   int
	work   int
	cut    bool // the budget ended something that is therefore not proven

	shares []*share
	queue  heap
	best   float64 // cost of the best line-up so far
	known  map[string]*whole
	found  []*whole
	last   failure
}

// share is a part of all positions: what its parents allow, narrowed.
type share struct {
	parent *share
	narrow []need
	banned int32 // state that a walk must keep out of, or -1
	walk   *walk // cheapest one, once found
	way    []int // edges, once the walk is settled and what lies beside it is to be decided
	whole  *whole
}

// whole is a complete line-up.
type whole struct {
	cost   float64
	at     []int // position by valve
	way    []int
	route  *network.Route
	proven bool
}

func (s *search) push(key float64, x *share) {
	if key > s.bound() {
		return
	}
	s.shares = append(s.shares, x)
	s.queue.push(queued{key, int32(len(s.shares) - 1)})
}

// bound is the cost beyond which a line-up is of no use.
func (s *search) bound() float64 {
	if s.most == 1 {
		return s.best + 1e-9
	}
	return 2*s.best + 30
}

func (s *search) run() {
	s.push(0, &share{banned: -1})
	for len(s.queue) > 0 && len(s.found) < s.most {
		if s.work > budget {
			s.leftovers()
			return
		}
		top := s.queue.pop()
		x := s.shares[top.at]
		s.shares[top.at] = nil
		switch {
		case top.key > s.bound() || x.way != nil && s.offered(x.way):
		case x.whole != nil:
			x.whole.proven = !s.cut
			s.offer(x.whole)
		case x.way != nil:
			s.beside(x, top.key)
		default:
			s.ways(x, top.key)
		}
	}
}

// leftovers offers what had been found when the budget was used up.
func (s *search) leftovers() {
	var rest []*whole
	for _, x := range s.known {
		if x != nil {
			rest = append(rest, x)
		}
	}
	slices.SortFunc(rest, func(a, b *whole) int {
		if a.cost != b.cost {
			return int(math.Copysign(1, a.cost-b.cost))
		}
		return slices.Compare(a.at, b.at)
	})
	for _, x := range rest {
		if len(s.found) < s.most && x.cost <= s.bound() {
			s.offer(x)
		}
	}
}

func (s *search) offer(x *whole) {
	if s.offered(x.way) || slices.ContainsFunc(s.found, func(y *whole) bool { return slices.Equal(x.at, y.at) }) {
		return
	}
	s.found = append(s.found, x)
}

func (s *search) offered(way []int) bool {
	return slices.ContainsFunc(s.found, func(y *whole) bool { return slices.Equal(way, y.way) })
}

// allowed gives the positions of a share by valve, and the states banned in it.
func (s *search) allowed(x *share) ([]uint64, []int32) {
	allowed := slices.Clone(s.start)
	var banned []int32
	for ; x != nil; x = x.parent {
		for _, n := range x.narrow {
			allowed[n.valve] &= n.mask
		}
		if x.banned >= 0 {
			banned = append(banned, x.banned)
		}
	}
	return allowed, banned
}

// ways looks for the cheapest walk of a share, and divides the share where the walk
// cannot be.
func (s *search) ways(x *share, key float64) {
	allowed, banned := s.allowed(x)
	if x.walk == nil {
		if x.walk = s.walker.find(allowed, banned, s.bound()); x.walk == nil {
			return
		}
		if x.walk.cost > key+1e-9 {
			s.push(x.walk.cost, x)
			return
		}
	}
	if s.meetsItself(x, key) {
		return
	}
	needs, clash := s.needs(x.walk, allowed)
	if clash != nil {
		s.clashes(*clash, key)
		s.push(key, &share{parent: x, narrow: []need{*clash}, banned: -1})
		s.push(key, &share{parent: x, narrow: []need{{clash.valve, ^clash.mask}}, banned: -1})
		return
	}
	s.push(key, &share{parent: x, narrow: needs, banned: -1, way: s.walker.edges(x.walk)})
	s.others(x, allowed, key)
}

// meetsItself divides a share whose walk comes twice to one node, and so passes a
// thing by a way that it has to come back on: no way does both.
func (s *search) meetsItself(x *share, key float64) bool {
	before := map[int32]int32{}
	for _, st := range x.walk.states {
		n := s.walker.node(st)
		if first, twice := before[n]; twice {
			s.doubles(n, key)
			s.push(key, &share{parent: x, banned: first})
			s.push(key, &share{parent: x, banned: st})
			return true
		}
		before[n] = st
	}
	return false
}

// needs gives what a walk asks of each valve, or one need that clashes with others
// before it.
func (s *search) needs(x *walk, allowed []uint64) ([]need, *need) {
	var out []need
	at := map[int32]int{}
	for _, st := range x.steps {
		for _, n := range s.links.all[st.link].gates {
			k, known := at[n.valve]
			if !known {
				at[n.valve] = len(out)
				out = append(out, n)
				continue
			}
			if out[k].mask&n.mask&allowed[n.valve] == 0 {
				return nil, &n
			}
			out[k].mask &= n.mask
		}
	}
	return out, nil
}

// others divides what remains of a share when the line-ups that open a walk are
// taken out: the first of its valves shut, the first open and the second shut, and
// so on.
func (s *search) others(x *share, allowed []uint64, key float64) {
	var before []need
	for _, st := range x.walk.steps {
		l := &s.links.all[st.link]
		for _, n := range l.gates {
			if !l.must && allowed[n.valve]&^n.mask != 0 {
				s.push(key, &share{parent: x, narrow: append(slices.Clone(before), need{n.valve, ^n.mask}), banned: -1})
			}
			before = append(before, n)
		}
	}
}

// beside completes a way. Where what is certain beside it costs more than was
// thought, it goes back into the queue: others may come first.
func (s *search) beside(x *share, key float64) {
	allowed, _ := s.allowed(x)
	least, _ := s.least(x.way, allowed, key)
	if least > key+1e-6 && !math.IsInf(s.best, 1) {
		s.push(least, x)
		return
	}
	if w := s.complete(x.way, allowed, key); w != nil {
		s.best = min(s.best, w.cost)
		s.push(w.cost, &share{way: x.way, whole: w})
	}
}

// least gives a lower bound for a way while some positions are allowed, and the
// valves to be decided; without end if something is reached that must stay dry.
func (s *search) least(way []int, allowed []uint64, key float64) (float64, puddle) {
	p := s.spread.flood(way, allowed)
	if p.barred >= 0 {
		s.reaches(p.barred, p.by, key)
		return math.Inf(1), p
	}
	s.spread.weigh(&p, allowed)
	sum := s.onWay(way, allowed) + perWet*p.metres
	for i := range p.contacts {
		o, ok := p.contacts[i].least()
		if !ok {
			c := &p.contacts[i]
			s.reaches(c.options[0].bar, c.valve, key)
			return math.Inf(1), p
		}
		sum += o.least
	}
	return sum, p
}

// box is a part of the positions beside one way.
type box struct {
	parent *box
	narrow need
}

// perWay bounds the work spent on one way, as a share of the budget.
const perWay = budget / 4

// complete decides the valves beside a way: the cheapest position of each is tried,
// and where that costs more than the lower bound, the positions are divided. It
// gives the cheapest line-up for the way; nil if none serves or none is within the
// bound.
func (s *search) complete(way []int, start []uint64, key float64) *whole {
	var found *whole
	boxes := []*box{{}}
	queue := heap{{0, 0}}
	within := func(cost float64) bool {
		return cost <= s.bound() && (found == nil || cost < found.cost-1e-9)
	}
	until := s.work + perWay
	allowed := make([]uint64, len(start))
	for len(queue) > 0 {
		top := queue.pop()
		if !within(top.key) {
			break
		}
		if s.work > until {
			s.cut = true
			break
		}
		x := boxes[top.at]
		copy(allowed, start)
		for b := x; b.parent != nil; b = b.parent {
			allowed[b.narrow.valve] &= b.narrow.mask
		}
		least, p := s.least(way, allowed, key)
		if !within(least) {
			continue
		}
		if w := s.settle(way, allowed, p); w != nil {
			if within(w.cost) {
				found = w
			}
			if w.cost <= least+1e-6 {
				continue
			}
		}
		c := p.divide()
		if c == nil {
			continue
		}
		for _, o := range c.options {
			if o.bar < 0 {
				boxes = append(boxes, &box{x, need{c.valve, 1 << o.at}})
				queue.push(queued{least, int32(len(boxes) - 1)})
			}
		}
	}
	return found
}

// divide picks the contact whose positions differ most; nil if there is none.
func (p *puddle) divide() *contact {
	var out *contact
	most := -1.0
	for i := range p.contacts {
		c := &p.contacts[i]
		low, high := math.Inf(1), 0.0
		for _, o := range c.options {
			if o.bar < 0 {
				low, high = min(low, o.least), max(high, o.least)
			}
		}
		if high-low > most {
			out, most = c, high-low
		}
	}
	return out
}

// onWay is what a way costs and the valves that must be moved for sure.
func (s *search) onWay(way []int, allowed []uint64) float64 {
	sum := 0.0
	for _, e := range way {
		sum += s.metres[e]
	}
	for v := range allowed {
		if s.moves(int32(v), allowed[v]) {
			sum += perMove
		}
	}
	return sum
}

// settle completes a line-up with the cheapest position of each valve that liquid
// stands at, again and again as liquid gets to further ones; nil if that reaches
// what must stay dry.
func (s *search) settle(way []int, allowed []uint64, p puddle) *whole {
	allowed = slices.Clone(allowed)
	for {
		for i := range p.contacts {
			o, ok := p.contacts[i].least()
			if !ok {
				return nil
			}
			allowed[p.contacts[i].valve] = 1 << o.at
		}
		if p = s.spread.flood(way, allowed); p.barred >= 0 {
			return nil
		}
		if len(p.contacts) == 0 {
			return s.whole(way, allowed)
		}
		s.spread.weigh(&p, allowed)
	}
}

// whole works out a complete line-up; nil if liquid reaches what must stay dry.
func (s *search) whole(way []int, allowed []uint64) *whole {
	x := &whole{way: way, at: make([]int, len(allowed))}
	key := make([]byte, len(allowed))
	for v := range allowed {
		x.at[v] = s.choice(v, allowed[v])
		key[v] = byte(x.at[v])
	}
	if w, known := s.known[string(key)]; known {
		return w
	}
	l := s.lineUp(x.at)
	x.route = s.p.Route(l)
	s.work += len(s.p.Edges) / 4
	if cost, ok := s.cost(x.route, x.at); ok {
		x.cost = cost
		s.known[string(key)] = x
		return x
	}
	s.known[string(key)] = nil
	return nil
}

// lineUp is the plant with the valves in given positions.
func (f *field) lineUp(at []int) *network.LineUp {
	step := &model.Step{Source: f.ask.Source, Destination: f.ask.Destination, Positions: make(map[model.ID]string, len(at))}
	for v, i := range at {
		step.Positions[f.valves[v].id] = f.valves[v].positions[i]
	}
	return f.p.LineUp(step)
}

// cost of a line-up; false if it does not serve.
func (f *field) cost(r *network.Route, at []int) (float64, bool) {
	if !r.Found {
		return 0, false
	}
	sum := 0.0
	carried := make([]bool, len(f.ask.Through))
	for e := range f.p.Edges {
		if !r.InFlow[e] && !r.Wet[e] {
			continue
		}
		if f.bar[e] >= 0 {
			return 0, false
		}
		if r.Whole[e] {
			sum += f.metres[e]
			if f.hit[e] >= 0 {
				carried[f.hit[e]] = true
			}
		} else {
			sum += perWet * f.metres[e]
		}
	}
	for _, whole := range carried {
		if !whole {
			sum += perShare
		}
	}
	for v, i := range at {
		if i != f.valves[v].normal {
			sum += perMove
		}
	}
	return sum, true
}
