package flow

import (
	"cmp"
	"slices"

	. "rinsewright/model/quantity"
)

// leastSplit is the flow in m³/s below which a way counts as standing.
const leastSplit = 1e-9

func (w *work) reportSplits() {
	away := map[int][]Branch{}
	var at []int
	for e, on := range w.live {
		q, known := w.sol.Edges[e].Flow.Get()
		if !on || !known || abs(float64(q)) < leastSplit {
			continue
		}
		n := w.p.Edges[e].From
		if q < 0 {
			n, q = w.p.Edges[e].To, -q
		}
		if w.isVessel(n) {
			continue
		}
		if away[n] == nil {
			at = append(at, n)
		}
		away[n] = append(away[n], Branch{Edge: e, Flow: q})
	}
	slices.Sort(at)
	for _, n := range at {
		list := away[n]
		if len(list) < 2 {
			continue
		}
		sum := Flow(0)
		for _, b := range list {
			sum += b.Flow
		}
		for i := range list {
			list[i].Share = Ratio(list[i].Flow / sum)
		}
		slices.SortStableFunc(list, func(a, b Branch) int { return cmp.Compare(b.Flow, a.Flow) })
		w.sol.Splits = append(w.sol.Splits, Split{n, list})
	}
}

// reportAlong lays heads and heights out along one way from source to destination.
func (w *work) reportAlong() {
	n := w.route.LineUp.Source
	at := Some(Length(0))
	w.sol.Along = append(w.sol.Along, w.point(n, -1, at))
	for _, e := range w.route.Ways {
		edge := &w.p.Edges[e]
		n = w.p.Other(e, n)
		here, knownHere := at.Get()
		step, known := edge.Length.Get()
		if edge.Part != "" && !known {
			step, known = 0, w.live[e] && w.sol.Edges[e].Loss.Known() // neglected, as assumed
		}
		at = Opt[Length]{}
		if knownHere && known {
			at = Some(here + step)
		}
		p := w.point(n, e, at)
		p.Break = edge.Path < 0
		w.sol.Along = append(w.sol.Along, p)
	}
}

func (w *work) point(n, e int, at Opt[Length]) Point {
	node := &w.sol.Nodes[n]
	return Point{Node: n, Edge: e, Distance: at, Elevation: w.h.Of[n], Head: node.Head, Pressure: node.Pressure}
}
