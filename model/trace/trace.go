package trace

import (
	"cmp"
	"container/heap"
	"fmt"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// Of follows an ask. The error tells that there is no such part or run.
func Of(p *network.Plant, ask Ask) (*Trace, error) {
	t := &tracer{p: p, ask: ask, out: &Trace{Edges: make([]bool, len(p.Edges))}}
	if err := t.start(); err != nil {
		return nil, err
	}
	t.directions()
	if ask.Sense != Downstream {
		t.follow(Upstream)
	}
	if ask.Sense != Upstream {
		t.follow(Downstream)
	}
	slices.SortStableFunc(t.out.Stops, func(a, b Stop) int {
		return cmp.Or(cmp.Compare(b.Sense, a.Sense), cmp.Compare(a.Least, b.Least), cmp.Compare(a.Part, b.Part))
	})
	return t.out, nil
}

type tracer struct {
	p    *network.Plant
	ask  Ask
	out  *Trace
	own  []bool         // by edge: of what is traced
	with []bool         // by edge: may be passed from From to To
	back []bool         // by edge: may be passed from To to From
	only *network.Route // of the step, where one alone is asked for
}

func (t *tracer) start() error {
	t.own = make([]bool, len(t.p.Edges))
	nodes := slices.Clone(t.p.PartNodes(t.ask.From))
	for _, e := range t.p.RunEdges(t.ask.From) {
		nodes = append(nodes, t.p.Edges[e].From, t.p.Edges[e].To)
		t.own[e] = true
	}
	for _, e := range t.p.PartEdges(t.ask.From) {
		t.own[e] = true
	}
	if len(nodes) == 0 {
		return fmt.Errorf("trace: %q is no part or run that liquid passes", t.ask.From)
	}
	slices.Sort(nodes)
	t.out.Start = slices.Compact(nodes)
	return nil
}

// directions marks which way every edge may be passed.
func (t *tracer) directions() {
	t.with, t.back = make([]bool, len(t.p.Edges)), make([]bool, len(t.p.Edges))
	if len(t.ask.Steps) == 0 {
		for e, x := range t.p.Graph().Edges() {
			t.with[e], t.back[e] = true, !x.OneWay
		}
		return
	}
	for _, s := range t.ask.Steps {
		r := t.p.Route(t.p.LineUp(s))
		t.only = r
		if !r.Found {
			continue
		}
		for e, in := range r.InFlow {
			if in {
				t.with[e] = t.with[e] || r.Forward[e] >= 0
				t.back[e] = t.back[e] || r.Forward[e] <= 0
			}
		}
	}
}

// reached is a node on the way out.
type reached struct {
	node   int
	length Length
	whole  bool // no length on the way is unknown
	by     int  // edge; -1 at the start
}

type front []reached

func (f front) Len() int { return len(f) }
func (f front) Less(i, j int) bool {
	return cmp.Or(cmp.Compare(f[i].length, f[j].length), cmp.Compare(f[i].node, f[j].node)) < 0
}
func (f front) Swap(i, j int) { f[i], f[j] = f[j], f[i] }
func (f *front) Push(x any)   { *f = append(*f, x.(reached)) }
func (f *front) Pop() any {
	old := *f
	x := old[len(old)-1]
	*f = old[:len(old)-1]
	return x
}

// follow walks one way, nearest first; an unknown length counts as none.
func (t *tracer) follow(sense Sense) {
	by := make([]int, len(t.p.Nodes))
	done := make([]bool, len(t.p.Nodes))
	first := map[model.ID]bool{t.ask.From: true}
	f := &front{}
	// The way leaves what is traced at any of its nodes: ways within it cost nothing.
	for _, n := range t.out.Start {
		heap.Push(f, reached{node: n, whole: true, by: -1})
	}
	for f.Len() > 0 {
		x := heap.Pop(f).(reached)
		if done[x.node] {
			continue
		}
		done[x.node] = true
		by[x.node] = x.by
		part := t.p.Nodes[x.node].Part
		end := x.by >= 0 && t.ends(x.node)
		if part != "" && !first[part] && t.enters(x.node, sense) {
			first[part] = true
			t.out.Stops = append(t.out.Stops, t.stop(part, x, sense, by, end))
		} else if end && part != "" { // its port was met first: the inside tells that the way ends
			for i := range t.out.Stops {
				if s := &t.out.Stops[i]; s.Part == part && s.Sense == sense {
					s.End = true
				}
			}
		}
		if end {
			continue
		}
		for _, e := range t.p.IncidentEdges(x.node) {
			m := t.p.Other(e, x.node)
			if done[m] || t.own[e] || !t.passes(e, x.node, sense) {
				continue
			}
			t.out.Edges[e] = true
			l, known := t.p.Edges[e].Length.Get()
			heap.Push(f, reached{node: m, length: x.length + l, whole: x.whole && known, by: e})
		}
	}
}

// enters says whether a trace gets into the part at whose port it stands; one that
// only touches the outlet of a check valve, or an inlet looking upstream, does not.
func (t *tracer) enters(n int, sense Sense) bool {
	alone := true
	for _, e := range t.p.IncidentEdges(n) {
		if t.p.Edges[e].Part == "" {
			continue
		}
		alone = false
		if t.out.Edges[e] || t.passes(e, n, sense) {
			return true
		}
	}
	return alone
}

// passes says whether one gets over an edge from a node when looking one way.
func (t *tracer) passes(e, from int, sense Sense) bool {
	along := t.p.Edges[e].From == from
	if sense == Upstream {
		along = !along
	}
	if along {
		return t.with[e]
	}
	return t.back[e]
}

// ends says whether a trace stops at a node.
func (t *tracer) ends(n int) bool {
	node := t.p.Nodes[n]
	if node.Role == catalogue.RoleAir {
		return true
	}
	part := t.p.Circuit.Part(node.Part)
	if part == nil || node.Part == t.ask.From {
		return false
	}
	switch part.Class() {
	case model.ClassTerminal:
		return true
	case model.ClassVessel:
		return !t.ask.Past && (node.Point == network.Inside || node.Point == network.Draw)
	case model.ClassObject:
		return !t.ask.Past
	}
	return false
}

func (t *tracer) stop(part model.ID, x reached, sense Sense, by []int, end bool) Stop {
	s := Stop{Part: part, Node: x.node, Sense: sense, End: end, Least: x.length}
	if x.whole {
		s.Length = Some(x.length)
	}
	for n := x.node; by[n] >= 0; n = t.p.Other(by[n], n) {
		s.Way = append(s.Way, by[n])
	}
	slices.Reverse(s.Way)
	s.Volume, s.Time = t.along(s.Way)
	return s
}

// along adds up what a way holds and how long liquid is on it.
func (t *tracer) along(way []int) (Opt[Volume], Opt[Duration]) {
	var volume Volume
	var time Duration
	known, timed := true, len(t.ask.Steps) == 1
	for _, e := range way {
		v, ok := t.p.Edges[e].Volume.Get()
		known = known && ok
		volume += v
		if !timed || !ok {
			timed = false
			continue
		}
		q, ok := t.flow(e)
		if v > 0 && (!ok || q <= 0) {
			timed = false
			continue
		}
		if v > 0 {
			time += Duration(float64(v) / float64(q))
		}
	}
	if !known {
		return Opt[Volume]{}, Opt[Duration]{}
	}
	if !timed {
		return Some(volume), Opt[Duration]{}
	}
	return Some(volume), Some(time)
}

func (t *tracer) flow(e int) (Flow, bool) {
	s := t.ask.Steps[0]
	if t.ask.Flow != nil {
		if q, ok := t.ask.Flow(s, e); ok {
			return q, true
		}
	}
	if !t.only.Found || !t.only.Whole[e] {
		return 0, false
	}
	return s.Flow.Get()
}
