package isolation

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/graph"
)

// joined gives the sources that could reach the work if every valve were open.
func (f *field) joined() []Source {
	reached := f.g.Reach(f.noSources(f.opened(nil)), f.work, graph.Upstream, nil)
	var out []Source
	for i, s := range f.sources {
		if reached[f.sourceNode(i)] {
			out = append(out, s)
		}
	}
	return out
}

// whyNot tells of a way from a source to the work on which nothing can be shut.
func (f *field) whyNot() Plan {
	open := make([]bool, f.g.Len())
	for e := range f.walls {
		open[e] = f.cost[e] >= graph.Uncuttable
	}
	from := map[int]graph.Arc{} // by node: edge towards the work and its far end
	front := slices.Clone(f.work)
	seen := map[int]bool{}
	for _, n := range front {
		seen[n] = true
	}
	end := -1
	for len(front) > 0 && end < 0 {
		n := front[0]
		front = front[1:]
		if i, ok := f.at[n]; ok && f.cost[f.walls+i] >= graph.Uncuttable {
			end = n
			break
		}
		for _, a := range f.g.Incident(n) {
			m := int(a.Node)
			x := f.g.Edge(int(a.Edge))
			if !open[a.Edge] || seen[m] || m == f.root || x.OneWay && x.V != n {
				continue
			}
			seen[m] = true
			from[m] = graph.Arc{Edge: a.Edge, Node: int32(n)}
			front = append(front, m)
		}
	}
	if end < 0 && f.clash != "" {
		return Plan{At: model.PlaceOf(f.clash), Why: f.name(f.clash) + " would have to shut both of its ways at once, which it cannot. Place a further valve that is moved by hand and can be locked beside it"}
	}
	if end < 0 {
		return Plan{Why: "no set of valves was found within the work allowed"}
	}
	var way []int
	for n := end; ; {
		a, ok := from[n]
		if !ok {
			break
		}
		if int(a.Edge) < f.plain {
			way = append(way, int(a.Edge))
		}
		n = int(a.Node)
	}
	slices.Reverse(way)
	return f.unshut(way, f.sources[f.at[end]].Part)
}

// unshut puts a way without a barrier into words: which valves on it do not count
// and where one would have to be placed.
func (f *field) unshut(way []int, source model.ID) Plan {
	pl := Plan{Way: way}
	text := "nothing that may be relied on shuts " + f.name(source) + " off from " + f.name(f.ask.Work[0])
	var told []model.ID
	for _, e := range way {
		id := f.p.Edges[e].Part
		if id == "" || f.why[e] == "" || slices.Contains(told, id) {
			continue
		}
		told = append(told, id)
		text += "; " + f.name(id) + ": " + f.why[e]
	}
	for _, e := range way {
		if run := f.p.Edges[e].Run; run != "" && !slices.Contains(f.ask.Work, run) {
			pl.At = model.PlaceOf(run)
			text += ". Place a valve that is moved by hand and can be locked on " + f.between(run)
			break
		}
	}
	pl.Why = text
	return pl
}

// between names a run by its ends.
func (f *field) between(id model.ID) string {
	r := f.p.Circuit.Run(id)
	end := func(e model.End) string {
		if e.Loose() {
			return "its loose end"
		}
		return f.name(e.Part)
	}
	return "the run between " + end(r.From) + " and " + end(r.To)
}
