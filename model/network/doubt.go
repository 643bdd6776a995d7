package network

import "rinsewright/model"

// Doubt is what of a route depends on where valves stand whose position nobody
// told.
type Doubt struct {
	Edges  []bool     // by edge: whether it is in the flow, or wet, depends on them
	Wet    []bool     // by edge: liquid reaches it wherever they stand
	Valves []model.ID // those that liquid may come to, in order of id
}

// Doubt finds what of the route of a line-up is in doubt; nil if nothing is. A
// line-up with a path open is wet and in flow wherever it is without, so what the
// two extremes agree on, every such path shut and every such path that some
// position opens open, holds in all positions. The other extreme may join what no
// single position joins: a little more may be called in doubt than is.
func (p *Plant) Doubt(l *LineUp) *Doubt {
	if len(l.Unknown) == 0 || l.Step == nil {
		return nil
	}
	least := p.Route(p.lineUp(l.Step, openAlways))
	most := p.Route(p.lineUp(l.Step, openSomehow))
	d := &Doubt{Edges: make([]bool, len(p.Edges)), Wet: least.Wet}
	for e := range d.Edges {
		d.Edges[e] = least.InFlow[e] != most.InFlow[e] || least.Wet[e] != most.Wet[e]
	}
	for _, id := range l.Unknown {
		if p.reached(id, most) {
			d.Valves = append(d.Valves, id)
		}
	}
	if len(d.Valves) == 0 {
		return nil
	}
	return d
}

// reached says whether liquid comes to a part or stands in it.
func (p *Plant) reached(id model.ID, r *Route) bool {
	for _, n := range p.PartNodes(id) {
		for _, a := range p.flow.Incident(n) {
			if r.Wet[a.Edge] {
				return true
			}
		}
	}
	return false
}
