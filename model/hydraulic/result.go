package hydraulic

import (
	"math"

	"rinsewright/model/quantity"
)

// Result is the solution of a network. It does not change once handed out.
type Result struct {
	Flow []quantity.Flow   // of each link, counted from From to To
	Drop []quantity.Length // of each link: head at From less head at To; NaN where unknown

	// Of each node: piezometric head, and pressure (gauge) at its elevation. NaN
	// where no fixed head holds the part that the node is in, see Afloat.
	Head     []quantity.Length
	Pressure []quantity.Pressure

	Held    []int   // one-way links and pumps that hold against pressure
	Outside []int   // pumps whose flow lies outside their curve
	Afloat  [][]int // nodes of each part that no fixed head holds: flows there are right, heads unknown

	Iterations   int             // steps of Newton's method
	HeadResidual quantity.Length // greatest disagreement of a link with its law
	MassResidual quantity.Flow   // greatest disagreement of a node with its demand
	Leak         quantity.Flow   // greatest flow back through a one-way link; 0 unless they would not settle

	karman []float64 // of each link: Re√f, a start for the next solve; 0 where unknown
}

func (s *Solver) fill(r *Result, c *conditions) {
	r.Flow = make([]quantity.Flow, len(s.elements))
	r.Drop = make([]quantity.Length, len(s.elements))
	r.karman = make([]float64, len(s.elements))
	r.Head = make([]quantity.Length, len(s.net.Nodes))
	r.Pressure = make([]quantity.Pressure, len(s.net.Nodes))
	r.Afloat = s.afloat()
	for i := range s.net.Nodes {
		head := s.points[i].head
		if s.parts.adrift && !s.parts.held[s.parts.root(int32(i))] {
			head = math.NaN()
		}
		r.Head[i] = quantity.Length(head)
		r.Pressure[i] = quantity.Pressure((head - float64(s.net.Nodes[i].Elevation)) * c.density * c.gravity)
	}
	for i := range s.elements {
		e := &s.elements[i]
		q := e.flow
		switch {
		case e.held:
			q = 0
			r.Held = append(r.Held, i)
		case e.oneWay && q < 0 && r.Leak == 0:
			q = 0 // rounding
		}
		r.Flow[i] = quantity.Flow(q)
		r.karman[i] = e.turbulent.s
		drop := s.points[e.from].head - s.points[e.to].head
		if s.parts.adrift && s.unrelated(e.from, e.to) {
			drop = math.NaN()
		}
		r.Drop[i] = quantity.Length(drop)
		if e.form == formPump && e.curve.Outside(q/e.speed) {
			r.Outside = append(r.Outside, i)
		}
	}
}

// unrelated says that the heads of two nodes cannot be compared: they are in
// different parts, of which no fixed head holds one.
func (s *Solver) unrelated(a, b int32) bool {
	a, b = s.parts.root(a), s.parts.root(b)
	return a != b && !(s.parts.held[a] && s.parts.held[b])
}
