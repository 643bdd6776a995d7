package graph

import "math"

// Spill is the answer of [Graph.Minimax]: how high one must rise on the way out.
type Spill struct {
	// Low and High bound the spill level of each node: the smallest possible
	// highest height over all ways to a sink, both ends counted. Low is the level
	// if every unknown height lies below all others, High if every one lies above
	// all others. Where they are equal the level is known. Low is -Inf when
	// nothing is known of some way, High is +Inf when no way has all its heights
	// known. Both are +Inf at a node from which no sink can be reached.
	Low, High []float64
	// Parent is the edge that leads from each node on towards a sink; -1 at a
	// sink and where no way leads. Following it gives a way whose highest height is
	// High, or, where High is infinite, one whose highest known height is Low.
	Parent []int32
}

// Level returns the spill level of a node and whether it is known. It is NaN when
// unknown and +Inf, known, when no sink can be reached.
func (s *Spill) Level(node int) (level float64, known bool) {
	if s.Low[node] == s.High[node] {
		return s.Low[node], true
	}
	return math.NaN(), false
}

// Unknown returns, per node, whether some value of the unknown heights would change
// the spill level. It is exact: a node beside an unknown height is still known when
// another way, or a higher point that must be passed anyhow, settles its level.
func (s *Spill) Unknown() []bool {
	u := make([]bool, len(s.Low))
	for n := range u {
		u[n] = s.Low[n] != s.High[n]
	}
	return u
}

// Minimax finds for every node the way over open edges to any of the sinks whose
// highest node is lowest. height has one entry per node, in any unit; NaN is
// unknown; +Inf is a wall. A one-way edge is passed from U to V, towards the sink.
// Between ways of the same level the one with the fewest edges is taken, among
// those that are themselves best at each node they pass; then the lowest edge id.
func (g *Graph) Minimax(open []bool, height []float64, sinks []int) *Spill {
	g.mustEdges("open", len(open), open == nil)
	g.mustNodes("height", len(height), false)
	g.mustNode(sinks...)
	high, unknown := fillNaN(height, inf)
	up := g.minimax(open, high, sinks)
	if !unknown {
		return &Spill{up.key, up.key, up.parent}
	}
	low, _ := fillNaN(height, -inf)
	down := g.minimax(open, low, sinks)
	return &Spill{down.key, up.key, merge(up, down)}
}

func (g *Graph) minimax(open []bool, height []float64, sinks []int) ways {
	return g.search(open, sinks, Upstream, nil,
		func(n int) float64 { return height[n] },
		func(key float64, a Arc) float64 {
			if h := height[a.Node]; h > key {
				return h
			}
			return key
		})
}

// fillNaN returns the values with each NaN replaced, and whether there was any. The
// slice is copied only if so.
func fillNaN(values []float64, by float64) (filled []float64, found bool) {
	for i, v := range values {
		if math.IsNaN(v) {
			if !found {
				values, found = append([]float64(nil), values...), true
			}
			values[i] = by
		}
	}
	return values, found
}
