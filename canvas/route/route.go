package route

import (
	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Router finds the lines of the runs of one circuit. Not for concurrent use.
type Router struct {
	c      *model.Circuit
	cat    *catalogue.Catalogue
	number map[model.ID]int32 // of a part's box in the index
	index  *index
	leg    leg
}

// New makes a router. It reads all parts once.
func New(c *model.Circuit, cat *catalogue.Catalogue) *Router {
	r := &Router{c: c, cat: cat, number: make(map[model.ID]int32, len(c.Parts()))}
	boxes := make([]place.Rect, len(c.Parts()))
	for i, p := range c.Parts() {
		r.number[p.RecordID()] = int32(i)
		boxes[i] = obstacle(p, cat)
	}
	r.index = newIndex(boxes)
	return r
}

// obstacle gives the box that lines go round; empty for a frame, through whose
// border runs pass.
func obstacle(p model.Part, cat *catalogue.Catalogue) place.Rect {
	if p.Class() == model.ClassFrame {
		return place.Rect{}
	}
	return place.Box(p, cat.Kind(p.Meta().Kind))
}

// Line gives the line of one run: two points or more, from its From to its To,
// every piece level or upright. It leaves each port the way the port faces by at
// least 5 mm (less where two ports face each other more closely) and passes
// through the run's bends in order. Nil if an end has no place; see
// [place.EndOf]. The run need not be in the circuit.
//
// For many runs make one [Router], or use [All], which also keeps lines apart.
func Line(c *model.Circuit, cat *catalogue.Catalogue, run *model.Run) []model.Point {
	return New(c, cat).Line(run)
}

// All gives the lines of all runs, in the order of c.Runs(). Where two would lie
// on each other they have lanes of their own.
func All(c *model.Circuit, cat *catalogue.Catalogue) [][]model.Point {
	r := New(c, cat)
	out := make([][]model.Point, len(c.Runs()))
	for i, run := range c.Runs() {
		out[i] = r.Line(run)
	}
	return laned(c.Runs(), out, r.index)
}

// Line gives the line of one run; see the function [Line].
func (r *Router) Line(run *model.Run) []model.Point {
	line, _ := r.line(run)
	return line
}

// line gives also the region of the drawing on which the line depends: a box
// that changes outside it does not change the line.
func (r *Router) line(run *model.Run) ([]model.Point, place.Rect) {
	from, ok := place.EndOf(r.c, r.cat, run.From)
	if !ok {
		return nil, place.Rect{}
	}
	to, ok := place.EndOf(r.c, r.cat, run.To)
	if !ok {
		return nil, place.Rect{}
	}
	l := &r.leg
	l.r, l.a, l.b, l.seen = r, r.stopOf(from), r.stopOf(to), place.Rect{}
	if len(run.Bends) > 0 {
		return r.throughBends(l.a, run.Bends, l.b)
	}
	best := l.search()
	return l.tried[best].points(), l.seen
}
