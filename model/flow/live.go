package flow

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	. "rinsewright/model/quantity"
)

// choose finds the edges that may carry flow: all that hangs together with what
// liquid reaches, less what has no end.
func (w *work) choose() {
	p := w.p
	w.live = make([]bool, len(p.Edges))
	w.ends, w.inlets = map[int]*end{}, map[int]int{}
	w.sprayed = map[int]model.ID{}
	w.through, w.inflow = map[model.ID]bool{}, map[model.ID]Opt[Flow]{}
	for e := range p.Edges {
		if edge := &p.Edges[e]; edge.Path < 0 && w.route.InFlow[e] {
			w.through[edge.Part] = true
		}
	}
	w.flood()
	degree := make([]int32, len(p.Nodes))
	fixed := make([]bool, len(p.Nodes))
	for e, on := range w.live {
		if !on {
			continue
		}
		for _, n := range [2]int{p.Edges[e].From, p.Edges[e].To} {
			degree[n]++
			fixed[n] = fixed[n] || w.isEnd(n)
		}
	}
	var queue []int
	for n, d := range degree {
		if d == 1 && !fixed[n] {
			queue = append(queue, n)
		}
	}
	for len(queue) > 0 {
		n := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		for _, a := range p.Graph().Incident(n) {
			if !w.live[a.Edge] {
				continue
			}
			w.live[a.Edge] = false
			other := int(a.Node)
			if degree[other]--; degree[other] == 1 && !fixed[other] {
				queue = append(queue, other)
			}
		}
	}
	for e, on := range w.live {
		if on {
			w.findEnd(e, p.Edges[e].From)
			w.findEnd(e, p.Edges[e].To)
		}
	}
}

// flood marks every open edge that hangs together with what liquid reaches, also
// those that a one-way part lets pass only towards it: a second supply may press in.
// Vessels part what comes in from what goes out.
func (w *work) flood() {
	p := w.p
	passes := func(e int) bool {
		return w.route.LineUp.Open[e] && p.Edges[e].Path >= 0 && !p.Dry(e) && !w.stops(e)
	}
	seen := make([]bool, len(p.Nodes))
	var queue []int
	reach := func(n int) {
		if !seen[n] && !w.isVessel(n) {
			seen[n] = true
			queue = append(queue, n)
		}
	}
	for e := range p.Edges {
		if w.route.Wet[e] && passes(e) {
			w.live[e] = true
			reach(p.Edges[e].From)
			reach(p.Edges[e].To)
		}
	}
	for len(queue) > 0 {
		n := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		for _, a := range p.Graph().Incident(n) {
			if e := int(a.Edge); !w.live[e] && passes(e) {
				w.live[e] = true
				reach(int(a.Node))
			}
		}
	}
}

// stops says whether an edge is a pump of positive displacement that stands: it lets
// nothing through.
func (w *work) stops(e int) bool {
	pump, ok := w.p.PartOfEdge(e).(*model.Pump)
	return ok && !w.running[pump.ID] && w.kindOf(e).Has(catalogue.TraitDisplacement)
}

// isEnd says whether flow may begin or end at a node.
func (w *work) isEnd(n int) bool {
	node := &w.p.Nodes[n]
	l := w.route.LineUp
	if n == l.Source || n == l.Dest || node.Role == catalogue.RoleVessel || node.Role == catalogue.RoleAir {
		return true
	}
	if _, terminal := w.p.PartOfNode(n).(*model.Terminal); !terminal {
		return false
	}
	kind := w.p.KindOfNode(n)
	return kind != nil && len(kind.Inner) > 0 && kind.Inner[0].Name == node.Point
}
