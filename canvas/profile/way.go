package profile

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/network"
)

// Chain orders the edges of some runs, with those of the parts between them, to
// the longest way without a turning back, and gives the node that it begins at: the
// one that is passed first in the direction of the first run.
// Of ways of one length the one with the lower edges counts. Empty for no runs.
func Chain(p *network.Plant, runs []model.ID) (way []int, start int) {
	in := map[int]bool{}
	touched := map[model.ID]int{} // parts by how many of the runs end there
	for _, id := range runs {
		r := p.Circuit.Run(id)
		if r == nil {
			continue
		}
		for _, e := range p.RunEdges(id) {
			in[e] = true
		}
		for _, end := range []model.End{r.From, r.To} {
			if !end.Loose() {
				touched[end.Part]++
			}
		}
	}
	for _, part := range p.Circuit.Parts() {
		if touched[part.RecordID()] > 1 {
			for _, e := range p.PartEdges(part.RecordID()) {
				in[e] = true
			}
		}
	}
	edges := make([]int, 0, len(in))
	for e := range in {
		edges = append(edges, e)
	}
	slices.Sort(edges)
	seen := map[int]bool{}
	for _, e := range edges {
		if seen[e] || p.Edges[e].Run == "" {
			continue
		}
		// Twice to the farthest point: the longest way of a tree.
		far, _ := farthest(p, in, p.Edges[e].From, seen)
		end, back := farthest(p, in, far, nil)
		found := wayBack(p, back, end)
		if len(found) > len(way) {
			slices.Reverse(found)
			way, start = found, far
		}
	}
	return along(p, way, start, runs)
}

// along turns a way so that it passes the first of the runs that lies on it from
// its From end to its To end.
func along(p *network.Plant, way []int, start int, runs []model.ID) ([]int, int) {
	for _, id := range runs {
		node := start
		for _, e := range way {
			if p.Edges[e].Run == id && p.Edges[e].From == node {
				return way, start
			}
			next := p.Other(e, node)
			if p.Edges[e].Run == id {
				for _, e := range way {
					start = p.Other(e, start)
				}
				slices.Reverse(way)
				return way, start
			}
			node = next
		}
	}
	return way, start
}

// farthest gives the node that is most edges away, and by which edge each node is
// reached.
func farthest(p *network.Plant, in map[int]bool, from int, seen map[int]bool) (int, map[int]int) {
	via := map[int]int{from: -1}
	queue := []int{from}
	for i := 0; i < len(queue); i++ {
		n := queue[i]
		for _, e := range p.IncidentEdges(n) {
			if !in[e] {
				continue
			}
			if seen != nil {
				seen[e] = true
			}
			if m := p.Other(e, n); !has(via, m) {
				via[m] = e
				queue = append(queue, m)
			}
		}
	}
	return queue[len(queue)-1], via
}

func has(m map[int]int, k int) bool { _, ok := m[k]; return ok }

// wayBack gives the edges from a node back to where the search began.
func wayBack(p *network.Plant, via map[int]int, node int) []int {
	var out []int
	for via[node] >= 0 {
		e := via[node]
		out = append(out, e)
		node = p.Other(e, node)
	}
	return out
}
