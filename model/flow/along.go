package flow

import (
	"cmp"
	"slices"

	. "rinsewright/model/quantity"
)

// leastSplit is the flow in m³/s below which a way counts as standing.
const leastSplit = 1e-9

func (w *work) reportSplits() {
	away := make([]int32, len(w.p.Nodes)) // live ways that lead flow away, by node
	for e, on := range w.live {
		if n, _, flows := w.leads(e); on && flows {
			away[n]++
		}
	}
	for n, count := range away {
		if count < 2 || w.isVessel(n) {
			continue
		}
		var list []Branch
		for _, a := range w.p.Graph().Incident(n) {
			e := int(a.Edge)
			if from, q, flows := w.leads(e); w.live[e] && flows && from == n {
				list = append(list, Branch{Edge: e, Flow: q})
			}
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

// leads gives the node that an edge leads flow away from and how much.
func (w *work) leads(e int) (node int, q Flow, flows bool) {
	q, known := w.sol.Edges[e].Flow.Get()
	switch {
	case !known || abs(float64(q)) < leastSplit:
		return 0, 0, false
	case q < 0:
		return w.p.Edges[e].To, -q, true
	}
	return w.p.Edges[e].From, q, true
}

// reportAlong lays heads and heights out along one way from source to destination.
func (w *work) reportAlong() {
	n := w.route.LineUp.Source
	at := Some(Length(0))
	w.sol.Along = make([]Point, 1, 1+len(w.route.Ways))
	w.sol.Along[0] = w.point(n, -1, at)
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
