package window

import (
	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

// passes says how much of a step's flow goes through a run.
type passes int

const (
	passesUnknown passes = iota // the line-up opens no route
	passesNothing
	passesShare // some of it: the flow has parted
	passesWhole
)

// shownLineUp is the line-up that the drawing shows, worked out once for a
// snapshot and a step.
type shownLineUp struct {
	circuit *model.Circuit
	step    *model.Step
	options draw.Options
	route   bool
	why     string // if there is no route: what is missing
	through map[model.ID]passes
}

func (l *shownLineUp) passes(run model.ID) passes {
	if l == nil || !l.route {
		return passesUnknown
	}
	return l.through[run]
}

// lineUpOf works out what a step does; step nil is the circuit at rest.
func lineUpOf(c *model.Circuit, cat *catalogue.Catalogue, step *model.Step) *shownLineUp {
	l := &shownLineUp{circuit: c, step: step, through: map[model.ID]passes{}}
	if step == nil {
		return l
	}
	plant := network.Build(c, cat)
	lineUp := plant.LineUp(step)
	route := plant.Route(lineUp)
	l.route, l.why = route.Found, route.Why
	l.options.Positions = lineUp.Positions
	l.options.Flow = map[model.ID]draw.Flow{}
	l.options.Media = map[model.ID]model.Medium{}
	medium, known := step.Medium.Get()
	for _, r := range c.Runs() {
		flow, share := flowOf(route, plant.RunEdges(r.ID))
		l.options.Flow[r.ID] = flow
		l.through[r.ID] = share
		if known && flow != draw.Dry {
			l.options.Media[r.ID] = medium
		}
	}
	return l
}

// flowOf tells what liquid does in the edges of one run.
func flowOf(route *network.Route, edges []int) (draw.Flow, passes) {
	flow, share := draw.Dry, passesNothing
	for _, e := range edges {
		switch {
		case route.InFlow[e] && route.Forward[e] < 0:
			flow = draw.Backward
		case route.InFlow[e]:
			flow = draw.Forward
		case route.Wet[e] && flow == draw.Dry:
			flow = draw.Still
		}
		switch {
		case route.Whole[e]:
			share = passesWhole
		case route.InFlow[e] && share == passesNothing:
			share = passesShare
		}
	}
	return flow, share
}
