package network

import (
	"math"

	. "rinsewright/model/quantity"
)

// tolerance is the height in m within which two heights are the same: what a
// surveyor's level tells apart on a pipe rack.
const tolerance = 0.001

// Heights gives the elevation of every node in m above the plant's zero, of the
// tube axis. A part with an elevation gives those of its ports and inner points;
// from there heights are derived along stretches whose rise is known, and across
// parts, whose ports' relative heights are known. A stretch of zero length does
// not rise. Of several ways to derive a height the one with the fewest links
// counts, so of a contradiction the run farthest from told heights is blamed.
func (p *Plant) Heights() *Heights {
	s := &survey{p: p, at: make([]float64, len(p.Nodes)), offset: make([]float64, len(p.Nodes)), part: make([]float64, len(p.shapes))}
	for i := range s.at {
		s.at[i], s.offset[i] = nan, nan
	}
	s.told()
	s.derive()
	h := &Heights{Of: make([]Opt[Length], len(p.Nodes))}
	for n, z := range s.at {
		if !math.IsNaN(z) {
			h.Of[n] = Some(Length(z))
		}
	}
	s.disagreements(h)
	h.Group, h.Underived = s.underived()
	return h
}

var nan = math.NaN()

// survey is the heights in the making; NaN is unknown.
type survey struct {
	p      *Plant
	at     []float64 // by node
	offset []float64 // by node, above its part's reference point
	part   []float64 // by part, of its reference point
	queue  []int32
}

// told takes the parts whose elevation was entered.
func (s *survey) told() {
	for i, part := range s.p.Circuit.Parts() {
		s.part[i] = nan
		z, known := part.Meta().Elevation.Get()
		if known {
			s.part[i] = float64(z)
		}
		first, shape := s.p.partNode[i], s.p.shapes[i]
		if shape != nil {
			for k := range shape.points {
				if h, ok := shape.points[k].height.Of(part).Get(); ok {
					s.offset[int(first)+k] = float64(h)
				}
			}
		}
		if known {
			s.place(int32(i))
		}
	}
}

// place gives heights to the nodes of a part whose own is known.
func (s *survey) place(part int32) {
	for n := s.p.partNode[part]; n < s.p.partNode[part+1]; n++ {
		s.set(n, s.part[part]+s.offset[n])
	}
}

func (s *survey) set(n int32, z float64) {
	if math.IsNaN(s.at[n]) && !math.IsNaN(z) {
		s.at[n] = z
		s.queue = append(s.queue, n)
	}
}

// derive spreads heights in rounds, so that the fewest links win.
func (s *survey) derive() {
	for i := 0; i < len(s.queue); i++ {
		n := s.queue[i]
		if part := s.p.partOf[n]; part >= 0 && math.IsNaN(s.part[part]) {
			if z := s.at[n] - s.offset[n]; !math.IsNaN(z) {
				s.part[part] = z
				s.place(part)
			}
		}
		for _, a := range s.p.flow.Incident(int(n)) {
			rise, ok := s.p.rise(int(a.Edge))
			if !ok {
				continue
			}
			if s.p.Edges[a.Edge].From != int(n) {
				rise = -rise
			}
			s.set(a.Node, s.at[n]+rise)
		}
	}
}

// rise gives the told rise of a stretch from its From to its To.
func (p *Plant) rise(edge int) (float64, bool) {
	e := &p.Edges[edge]
	if e.Part != "" {
		return 0, false
	}
	stretches := p.stretches(edge)
	if len(stretches) == 0 {
		return 0, false
	}
	s := stretches[e.Stretch]
	if z, ok := s.Rise.Get(); ok {
		return float64(z), true
	}
	if s.Length == Some(Length(0)) {
		return 0, true
	}
	return 0, false
}

func (s *survey) disagreements(h *Heights) {
	for i, r := range s.p.Circuit.Runs() {
		first, last := s.p.runEdge[i], s.p.runEdge[i+1]-1
		sum, told := 0.0, true
		for e := first; e <= last; e++ {
			rise, ok := s.p.rise(int(e))
			sum += rise
			told = told && ok
		}
		needed := s.at[s.p.Edges[last].To] - s.at[s.p.Edges[first].From]
		if told && math.Abs(sum-needed) > tolerance {
			h.Disagree = append(h.Disagree, Disagreement{Run: r.ID, Told: Length(sum), Needed: Length(needed)})
		}
	}
}

// underived groups the joined nodes without a height and names, for each group,
// the property that would give one: the measure of a part whose elevation is
// known, else the elevation of its first part, else the stretches of its run.
func (s *survey) underived() (group []int32, missing []Missing) {
	group = make([]int32, len(s.at))
	for n := range group {
		group[n] = -1
	}
	var stack []int32
	for root := range s.at {
		if group[root] >= 0 || !math.IsNaN(s.at[root]) {
			continue
		}
		id := int32(len(missing))
		best, rank := Missing{}, 0
		group[root] = id
		stack = append(stack[:0], int32(root))
		for len(stack) > 0 {
			n := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			if m, r := s.wanting(n); r > rank || r == rank && r > 0 && compareMissing(m, best) < 0 {
				best, rank = m, r
			}
			for _, a := range s.p.flow.Incident(int(n)) {
				if group[a.Node] < 0 && math.IsNaN(s.at[a.Node]) {
					group[a.Node] = id
					stack = append(stack, a.Node)
				}
			}
		}
		missing = append(missing, best)
	}
	return group, missing
}

// wanting names the property that would give a node its height, and how surely.
func (s *survey) wanting(n int32) (Missing, int) {
	node, part := &s.p.Nodes[n], s.p.partOf[n]
	switch {
	case part < 0:
		return Missing{Record: node.Run, Key: "stretches"}, 1
	case math.IsNaN(s.part[part]):
		return Missing{Record: node.Part, Key: "elevation_m"}, 2
	case s.p.shapes[part] == nil || n >= s.p.partNode[part+1]:
		return Missing{Record: node.Part, Key: "kind"}, 1
	}
	point := s.p.shapes[part].points[n-s.p.partNode[part]]
	return Missing{Record: node.Part, Key: point.height.Property}, 3
}
