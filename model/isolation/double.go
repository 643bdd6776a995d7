package isolation

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/graph"
)

// doubleUp looks for a second barrier, and a bleed between the two, behind every
// single valve that holds off something dangerous.
func (f *field) doubleUp(pl *Plan, c *cut) {
	if f.ask.Policy.Single {
		return
	}
	wet := f.g.Reach(f.noWalls(f.opened(c.at)), f.work, graph.Either, f.closedTo(pl.Empty))
	for _, b := range pl.Barriers {
		if b.Double || b.Pinned || !f.touches(b, wet) {
			continue // what only heats the work through a wall is held off well enough by one
		}
		i := slices.IndexFunc(b.Holds, dangerous)
		if i < 0 {
			continue
		}
		second, why := f.second(b, c, pl.Empty)
		if why != "" {
			pl.Unmet = append(pl.Unmet, Unmet{Valve: b.Valve, Medium: b.Holds[i], Why: why})
			continue
		}
		for _, s := range second {
			if !slices.ContainsFunc(pl.Second, func(o Barrier) bool { return o.Valve == s.Valve }) {
				pl.Second = append(pl.Second, s)
			}
		}
	}
}

// touches says whether a barrier lies at some nodes.
func (f *field) touches(b Barrier, nodes []bool) bool {
	return slices.ContainsFunc(b.Edges, func(e int) bool { return nodes[f.p.Edges[e].From] || nodes[f.p.Edges[e].To] })
}

// second finds valves that shut a barrier off from everything dangerous once more.
func (f *field) second(b Barrier, c *cut, emptied []model.ID) ([]Barrier, string) {
	open := f.opened(c.at)
	for e := f.plain; e < f.walls; e++ {
		open[e] = false
	}
	cost := slices.Clone(f.cost)
	for e := f.walls; e < len(cost); e++ {
		s := f.sources[e-f.walls]
		open[e] = dangerous(s.Medium) && !slices.Contains(emptied, s.Part)
		cost[e] = graph.Uncuttable
	}
	for id := range c.at {
		for _, e := range f.p.PartEdges(id) {
			cost[e] = graph.Uncuttable
		}
	}
	x, err := f.g.MinCut(open, []int{f.root}, b.Outside, cost)
	if err != nil || !x.Possible {
		return nil, "no second valve that may be relied on lies behind it"
	}
	further := &cut{edges: x.Edges}
	if f.settle(further) != nil {
		return nil, "the valve behind it cannot shut both ways at once"
	}
	for id, pos := range further.at {
		for _, e := range f.shutIn(id, pos) {
			open[e] = false
		}
	}
	between := f.g.Reach(f.noWalls(open), b.Outside, graph.Either, f.holds)
	if !f.bleeds(between) {
		return nil, "nothing bleeds the space between it and " + f.names(sorted(further.at))
	}
	groups := f.groups(x.Edges)
	var out []Barrier
	for _, id := range sorted(further.at) {
		out = append(out, f.barrier(id, further.at[id], groups[id], open, between, emptied))
	}
	return out, ""
}

// bleeds says whether a drain, a vent, a sampling or a leak outlet opens to the
// air among some nodes.
func (f *field) bleeds(nodes []bool) bool {
	for n := range f.p.Nodes {
		if nodes[n] && f.mouth(n) {
			return true
		}
	}
	return false
}

func (f *field) names(ids []model.ID) string {
	text := ""
	for i, id := range ids {
		switch {
		case i == 0:
		case i == len(ids)-1:
			text += " and "
		default:
			text += ", "
		}
		text += f.name(id)
	}
	return text
}
