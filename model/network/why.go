package network

import (
	"rinsewright/model"
)

// whyNot tells why no way leads from source to destination although nothing that
// can be opened is shut: over a nozzle that takes no liquid, or how far liquid
// gets and where it ends.
func (p *Plant) whyNot(r *Route, open []bool) {
	l := r.LineUp
	r.Why = "nothing joins " + p.name(l.Step.Source) + " to " + p.name(l.Step.Destination)
	if node := p.dryOnTheWay(l, open); node >= 0 {
		n := &p.Nodes[node]
		r.Why += "; " + p.portName(n.Part, n.Point) + " takes no process liquid"
		r.At = model.PlaceOfPort(n.Part, n.Point)
		return
	}
	end := p.farthestEnd(l)
	if end >= 0 {
		r.Why += "; " + p.tellEnd(l, end)
		r.At = p.placeOf(end)
	}
	if id := l.Step.Destination; len(p.Circuit.RunsAt(id)) == 0 {
		sep := "; "
		if end >= 0 {
			sep = ", and "
		} else {
			r.At = model.PlaceOf(id)
		}
		r.Why += sep + "nothing is joined to " + p.name(id)
	}
}

// dryOnTheWay gives the first port for air, steam or condensate on the way that
// needs the fewest of them; -1 if there is no such way either.
func (p *Plant) dryOnTheWay(l *LineUp, open []bool) int {
	way, ok := p.fewest(l.Source, l.Dest, func(e, node int) int {
		switch {
		case p.against(e, node) || p.Edges[e].Path < 0 && !l.Open[e]:
			return never
		case p.dry[e] && !open[e]:
			return 1
		}
		return 0
	})
	if !ok {
		return -1
	}
	for _, e := range way {
		for _, n := range []int{p.Edges[e].From, p.Edges[e].To} {
			if p.dry[e] && p.is(n, isDry) && p.Nodes[n].Part != "" {
				return n
			}
		}
	}
	return -1
}

// farthestEnd gives the end of the way farthest from the source that lacks
// something: a loose end, or a port that must have a run and has none. What is
// reached without opening a valve comes first. -1 if there is none.
func (p *Plant) farthestEnd(l *LineUp) int {
	seen := make([]bool, len(p.Nodes))
	now, later := []int32{int32(l.Source)}, []int32(nil)
	best := -1
	for len(now) > 0 {
		for i := 0; i < len(now); i++ {
			node := int(now[i])
			if seen[node] {
				continue
			}
			seen[node] = true
			if p.lacks(node) {
				best = node // in order of distance
			}
			for _, a := range p.flow.Incident(node) {
				e := int(a.Edge)
				switch {
				case seen[a.Node] || p.dry[e] || p.against(e, node):
				case l.Open[e]:
					now = append(now, a.Node)
				case p.Edges[e].Path >= 0:
					later = append(later, a.Node)
				}
			}
		}
		if best >= 0 {
			return best
		}
		now, later = later, nil
	}
	return best
}

// lacks says whether a node is a loose end, or a port without the run that it
// must have.
func (p *Plant) lacks(node int) bool {
	n := &p.Nodes[node]
	if n.Part == "" {
		return len(p.flow.Incident(node)) == 1 // joints between stretches have two
	}
	i := p.partAt[n.Part]
	s := p.shapes[i]
	if s == nil {
		return false
	}
	port, ok := s.kind.Port(n.Point)
	if !ok || !port.Required {
		return false
	}
	for _, a := range p.flow.Incident(node) {
		if p.Edges[a.Edge].Run != "" {
			return false
		}
	}
	return true
}

// tellEnd says in words where liquid ends.
func (p *Plant) tellEnd(l *LineUp, node int) string {
	n := &p.Nodes[node]
	if n.Part == "" {
		run := p.Circuit.Run(n.Run)
		from := run.From
		if from.Loose() {
			from = run.To
		}
		if from.Loose() {
			return "liquid reaches " + p.name(n.Run) + " and ends there: the run ends loose"
		}
		return "the run from " + p.portName(from.Part, from.Port) + " ends loose"
	}
	if n.Part == l.Step.Source {
		return "nothing is joined to " + p.portName(n.Part, n.Point)
	}
	return "liquid reaches " + p.name(n.Part) + " and ends there: nothing is joined to " + p.portName(n.Part, n.Point)
}

func (p *Plant) placeOf(node int) model.Place {
	if n := &p.Nodes[node]; n.Part != "" {
		return model.PlaceOfPort(n.Part, n.Point)
	}
	return model.PlaceOf(p.Nodes[node].Run)
}

// portName gives a part and its port for use in words: "T-103 Vent"; the part
// alone if it has one port without a title.
func (p *Plant) portName(part model.ID, port string) string {
	name := p.name(part)
	if s := p.shapes[p.partAt[part]]; s != nil {
		q, ok := s.kind.Port(port)
		switch {
		case ok && q.Title != "":
			return name + " " + q.Title
		case ok && len(s.kind.Ports) == 1:
			return name
		}
	}
	return name + " port " + port
}
