package lineup

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

// Emptying is the line-up in which a washed line runs empty.
type Emptying struct {
	Moved       map[model.ID]string // valves not in their normal position
	Drains      []model.ID          // sewer drains that are open, in order of id
	Destination model.ID            // of them, the one nearest behind what was washed
	Missing     string              // if no drain can be opened: why
}

// Empty gives the line-up that empties what a proposal for an ask has wetted: the
// way stays open, its source is shut off, pumps stand, and every valve at the liquid
// behind which there is nothing but a sewer drain is opened. It does not compute
// what stays behind; that is for [network.Plant.Draining].
func Empty(p *network.Plant, ask Ask, x *Proposal) (Emptying, error) {
	f, err := newField(p, ask)
	if err != nil {
		return Emptying{}, err
	}
	at := make([]int, len(f.valves))
	for v := range f.valves {
		at[v] = max(0, slices.Index(f.valves[v].positions, x.Positions[f.valves[v].id]))
	}
	f.shutSource(x.Way, at)
	wet := f.standing(x, at)
	out := Emptying{Moved: map[model.ID]string{}}
	place := map[model.ID]int{} // on the way, behind which a drain opens
	for v := range f.valves {
		if _, kept := ask.Keep[f.valves[v].id]; kept || slices.Contains(ask.Avoid, f.valves[v].id) {
			continue
		}
		for _, e := range f.valves[v].gates {
			from, to := p.Edges[e].From, p.Edges[e].To
			if f.mask[e]>>at[v]&1 == 1 || (wet[from] >= 0) == (wet[to] >= 0) {
				continue
			}
			near, far := from, to
			if wet[to] >= 0 {
				near, far = to, from
			}
			if id, ok := f.onlySewer(far, at, wet); ok {
				at[v] = f.choice(v, f.mask[e])
				place[id] = wet[near]
				out.Drains = append(out.Drains, id)
				break
			}
		}
	}
	if isSewer(p, ask.Destination) && !slices.Contains(out.Drains, ask.Destination) {
		out.Drains = append(out.Drains, ask.Destination)
		place[ask.Destination] = len(x.Way)
	}
	slices.Sort(out.Drains)
	if len(out.Drains) == 0 {
		out.Missing = "no valve at the line leads to a sewer drain and nothing else"
		return out, nil
	}
	washed := 0
	for i, e := range x.Way {
		if f.hit[e] >= 0 {
			washed = i
		}
	}
	out.Destination = slices.MinFunc(out.Drains, func(a, b model.ID) int { return behind(place[a], washed) - behind(place[b], washed) })
	for v := range f.valves {
		if at[v] != f.valves[v].normal {
			out.Moved[f.valves[v].id] = f.valves[v].positions[at[v]]
		}
	}
	return out, nil
}

// behind is how far a place lies behind another; places before it come last.
func behind(place, washed int) int {
	if place < washed {
		return 1<<30 + washed - place
	}
	return place - washed
}

func isSewer(p *network.Plant, id model.ID) bool {
	part := p.Circuit.Part(id)
	if part == nil {
		return false
	}
	k := p.Catalogue.Kind(part.Meta().Kind)
	return k != nil && k.Has(catalogue.TraitSewer)
}

// shutSource puts the first valve of a way that is shut in its normal position back
// into it.
func (f *field) shutSource(way []int, at []int) {
	for _, e := range way {
		if f.hit[e] >= 0 {
			return
		}
		if v := f.gate[e]; v >= 0 && f.mask[e]>>f.valves[v].normal&1 == 0 {
			at[v] = f.valves[v].normal
			return
		}
	}
}

// standing gives, by node, the place on the way from which liquid stands there once
// the source is shut off; -1 where none stands.
func (f *field) standing(x *Proposal, at []int) []int {
	wet := slices.Repeat([]int{-1}, len(f.p.Nodes))
	type seed struct{ node, place int }
	var queue []seed
	n := f.source
	cutOff := true // from the source, as long as no shut valve has been passed
	for i, e := range x.Way {
		if v := f.gate[e]; v >= 0 && f.mask[e]>>at[v]&1 == 0 {
			cutOff = false
		}
		n = f.g.Other(e, n)
		if !cutOff && n != f.dest {
			queue = append(queue, seed{n, i})
		}
	}
	if cutOff { // no valve shuts the source
		n = f.source
		for i, e := range x.Way {
			if n = f.g.Other(e, n); n != f.dest {
				queue = append(queue, seed{n, i})
			}
		}
	}
	for i := 0; i < len(queue); i++ {
		s := queue[i]
		if wet[s.node] >= 0 {
			continue
		}
		wet[s.node] = s.place
		for _, a := range f.g.Incident(s.node) {
			e := int(a.Edge)
			if !f.opens(e, at) || !f.passes(e, int32(s.node)) || wet[a.Node] >= 0 || f.stop[a.Node] {
				continue
			}
			queue = append(queue, seed{int(a.Node), s.place})
		}
	}
	return wet
}

func (f *field) opens(e int, at []int) bool {
	if v := f.gate[e]; v >= 0 {
		return f.mask[e]>>at[v]&1 == 1
	}
	return f.base[e]
}

// onlySewer gives the sewer drain behind a node, if liquid from there gets to one and
// to nothing else.
func (f *field) onlySewer(node int, at, wet []int) (model.ID, bool) {
	var found model.ID
	seen := map[int]bool{node: true}
	queue := []int{node}
	for i := 0; i < len(queue); i++ {
		n := queue[i]
		if part := f.p.Circuit.Part(f.p.Nodes[n].Part); part != nil {
			switch part.Class() {
			case model.ClassVessel, model.ClassObject:
				return "", false
			case model.ClassTerminal:
				if !isSewer(f.p, part.RecordID()) {
					return "", false
				}
				found = part.RecordID()
			}
		}
		for _, a := range f.g.Incident(n) {
			next := int(a.Node)
			if e := int(a.Edge); f.opens(e, at) && f.passes(e, int32(n)) && !seen[next] {
				if wet[next] >= 0 {
					return "", false // it is the same line again
				}
				seen[next] = true
				queue = append(queue, next)
			}
		}
	}
	return found, found != ""
}
