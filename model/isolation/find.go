package isolation

import (
	"cmp"
	"container/heap"
	"fmt"
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/graph"
	"rinsewright/model/network"
)

// budget is how many cuts one ask may take.
const budget = 150

// Find gives the plans for an ask, the best first: at most Ask.Most, no two with
// the same valves. If there is none a single plan with Found false tells why. The
// error tells of an ask that cannot be put. h are the heights of the plant.
func Find(p *network.Plant, h *network.Heights, ask Ask) ([]Plan, error) {
	f, err := newField(p, ask)
	if err != nil {
		return nil, err
	}
	most := ask.Most
	if most == 0 {
		most = 3
	}
	var plans []Plan
	seen := map[string]bool{}
	for _, c := range f.cuts(2 * most) {
		if key := c.key(f); !seen[key] {
			seen[key] = true
			plans = append(plans, f.plan(c))
		}
	}
	if len(plans) == 0 {
		return []Plan{f.whyNot()}, nil
	}
	// A plan with two barriers where the policy wants them goes before a cheaper one
	// without, but not before one that empties fewer vessels.
	weight := func(pl Plan) int64 { return pl.Cost + costUnmet*int64(len(pl.Unmet)) }
	slices.SortStableFunc(plans, func(a, b Plan) int { return cmp.Compare(weight(a), weight(b)) })
	plans = plans[:min(most, len(plans))]
	for i := range plans {
		f.finish(&plans[i], h)
		if !plans[i].Proven(p, ask) {
			return nil, fmt.Errorf("isolation: a plan for %s does not hold what it promises", f.name(ask.Work[0]))
		}
	}
	return plans, nil
}

// cut is a set of shut edges that lies between all sources and the work.
type cut struct {
	value  int64
	edges  []int
	forbid []int // edges of the field that this cut was not allowed to use
	at     map[model.ID]string
}

type queue []*cut

func (q queue) Len() int           { return len(q) }
func (q queue) Less(i, j int) bool { return q[i].value < q[j].value }
func (q queue) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)        { *q = append(*q, x.(*cut)) }
func (q *queue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}

// cuts gives up to most cuts, the cheapest first. A valve that would need two
// positions at once divides the search, and so does each valve of a cut that was
// found: the next one must do without it.
func (f *field) cuts(most int) []*cut {
	q := &queue{}
	work := 0
	push := func(forbid []int) {
		if work++; work > budget {
			return
		}
		cost := slices.Clone(f.cost)
		for _, e := range forbid {
			cost[e] = graph.Uncuttable
		}
		c, err := f.g.MinCut(nil, []int{f.root}, f.work, cost)
		if err != nil || !c.Possible {
			return // costs are small: an error cannot be
		}
		heap.Push(q, &cut{value: c.Value, edges: c.Edges, forbid: forbid})
	}
	push(nil)
	var out []*cut
	for q.Len() > 0 && len(out) < most {
		c := heap.Pop(q).(*cut)
		if clash := f.settle(c); clash != nil {
			f.clash = cmp.Or(f.clash, f.p.Edges[clash[0]].Part)
			for _, e := range clash {
				push(append(slices.Clone(c.forbid), e))
			}
			continue
		}
		out = append(out, c)
		groups := f.groups(c.edges)
		for _, id := range sorted(groups) {
			push(append(slices.Clone(c.forbid), groups[id]...))
		}
	}
	return out
}

// groups sorts the edges of a cut by valve.
func (f *field) groups(edges []int) map[model.ID][]int {
	out := map[model.ID][]int{}
	for _, e := range edges {
		if e < f.plain {
			id := f.p.Edges[e].Part
			out[id] = append(out[id], e)
		}
	}
	return out
}

func sorted[V any](m map[model.ID]V) []model.ID {
	out := make([]model.ID, 0, len(m))
	for id := range m {
		out = append(out, id)
	}
	slices.Sort(out)
	return out
}

// settle finds a position for every valve of a cut; if one would need two at once
// it gives the edges of it that clash.
func (f *field) settle(c *cut) (clash []int) {
	c.at = map[model.ID]string{}
	groups := f.groups(c.edges)
	for _, id := range sorted(groups) {
		pos, ok := f.shutting(f.kindOf(id), groups[id])
		if !ok {
			return groups[id]
		}
		c.at[id] = pos
	}
	return nil
}

func (c *cut) key(f *field) string {
	var b strings.Builder
	for _, id := range sorted(c.at) {
		b.WriteString(string(id) + "=" + c.at[id] + " ")
	}
	for _, e := range c.edges {
		if e >= f.walls {
			b.WriteString("-" + string(f.sources[e-f.walls].Part))
		}
	}
	return b.String()
}

// plan makes the barriers of a cut.
func (f *field) plan(c *cut) Plan {
	pl := Plan{Found: true, Cost: c.value}
	for _, e := range c.edges {
		if e >= f.walls {
			pl.Empty = append(pl.Empty, f.sources[e-f.walls].Part)
		}
	}
	slices.Sort(pl.Empty)
	groups := f.groups(c.edges)
	open := f.opened(c.at)
	inside := f.g.Reach(f.noSources(open), f.work, graph.Either, f.closedTo(pl.Empty))
	for _, id := range sorted(c.at) {
		pl.Barriers = append(pl.Barriers, f.barrier(id, c.at[id], groups[id], open, inside, pl.Empty))
	}
	for _, id := range f.ask.Pin {
		if _, ok := c.at[id]; !ok {
			b := f.barrier(id, f.tightest(id), nil, open, inside, pl.Empty)
			b.Pinned = true
			pl.Barriers = append(pl.Barriers, b)
		}
	}
	f.doubleUp(&pl, c)
	slices.SortStableFunc(pl.Barriers, func(a, b Barrier) int {
		return cmp.Or(cmp.Compare(rank(a.Holds), rank(b.Holds)), cmp.Compare(a.Valve, b.Valve))
	})
	return pl
}

// tightest gives the position in which most ways of a valve are shut.
func (f *field) tightest(id model.ID) string {
	k := f.kindOf(id)
	best, least := "", len(k.Paths)+1
	for _, pos := range k.Positions {
		if n := waysOpen(f, id, pos); n < least {
			best, least = pos, n
		}
	}
	return best
}

func waysOpen(f *field, id model.ID, pos string) int {
	n := 0
	for _, path := range f.kindOf(id).Paths {
		if len(path.OpenIn) == 0 || slices.Contains(path.OpenIn, pos) {
			n++
		}
	}
	return n
}

// opened marks the edges of the field that are open while valves stand in the
// given positions and all others let everything through.
func (f *field) opened(at map[model.ID]string) []bool {
	open := make([]bool, f.g.Len())
	for e := range open {
		open[e] = true
	}
	for id, pos := range at {
		for _, e := range f.shutIn(id, pos) {
			open[e] = false
		}
	}
	return open
}

// shutIn gives the edges of a valve that a position shuts.
func (f *field) shutIn(id model.ID, pos string) []int {
	k := f.kindOf(id)
	var out []int
	for _, e := range f.p.PartEdges(id) {
		path := f.p.Edges[e].Path
		if path < 0 || path >= len(k.Paths) {
			continue
		}
		if in := k.Paths[path].OpenIn; len(in) > 0 && !slices.Contains(in, pos) {
			out = append(out, e)
		}
	}
	return out
}

// noWalls gives the open edges of the plant alone: liquid passes neither the wall
// of an exchanger nor comes from the node that stands for all sources.
func (f *field) noWalls(open []bool) []bool {
	out := slices.Clone(open)
	for e := f.plain; e < len(out); e++ {
		out[e] = false
	}
	return out
}

func (f *field) barrier(id model.ID, pos string, edges []int, open, inside []bool, emptied []model.ID) Barrier {
	k := f.kindOf(id)
	v := f.p.Circuit.Part(id).(*model.Valve)
	b := Barrier{Valve: id, Position: pos, Edges: edges, Double: doubles(k), Lockable: v.Lockable}
	moved, told := v.Actuation.Get()
	b.ByHand = told && moved == model.Manual
	for _, e := range edges {
		for _, n := range []int{f.p.Edges[e].From, f.p.Edges[e].To} {
			if !inside[n] {
				b.Outside = append(b.Outside, n)
			}
		}
	}
	b.Holds = f.behind(b.Outside, open, emptied)
	return b
}

// behind gives the media of the sources that reach some nodes themselves, not
// only by their heat, the most dangerous first.
func (f *field) behind(nodes []int, open []bool, emptied []model.ID) []model.Medium {
	if len(nodes) == 0 {
		return nil
	}
	reached := f.g.Reach(f.noWalls(open), nodes, graph.Upstream, f.holds)
	var out []model.Medium
	for i, s := range f.sources {
		if reached[f.sourceNode(i)] && s.Medium != "" && !slices.Contains(emptied, s.Part) && !slices.Contains(out, s.Medium) {
			out = append(out, s.Medium)
		}
	}
	slices.SortFunc(out, func(a, b model.Medium) int {
		return cmp.Or(cmp.Compare(danger(a), danger(b)), cmp.Compare(a, b))
	})
	return out
}

// closedTo marks the insides that the zone does not pass: those of all vessels,
// objects and terminals but what is emptied or worked on.
func (f *field) closedTo(emptied []model.ID) []bool {
	stop := slices.Clone(f.holds)
	for _, id := range slices.Concat(emptied, f.ask.Work) {
		for _, n := range f.p.PartNodes(id) {
			stop[n] = false
		}
	}
	return stop
}

func (f *field) noSources(open []bool) []bool {
	out := slices.Clone(open)
	for e := f.walls; e < len(out); e++ {
		out[e] = false
	}
	return out
}

func (f *field) sourceNode(i int) int { return f.g.Edge(f.walls + i).V }

// danger orders media: what is shut first counts least.
func danger(m model.Medium) int {
	order := []model.Medium{model.Steam, model.Gas, model.Acid, model.Alkali, model.Disinfect, model.Condensate, model.Product, model.Air, model.Recovered, model.Water}
	if i := slices.Index(order, m); i >= 0 {
		return i
	}
	return len(order)
}

func rank(media []model.Medium) int {
	if len(media) == 0 {
		return 99
	}
	return danger(media[0])
}
